import { changesTo } from '@/lib/core/areas/marks.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { Button } from '../_ui/button.tsx';
import { useDesk } from './desk.tsx';

/** Goes back to a mark as one new change; what that changes is asked first. */
export function GoBack({ then, look = 'quiet' }: { then: Plan; look?: 'quiet' | 'main' }) {
  const { plan, change, lookAt } = useDesk();
  const changes = changesTo(plan, then);
  if (changes.length === 0) return null;
  return (
    <Button
      look={look}
      className={look === 'quiet' ? 'px-2!' : ''}
      onClick={() => change(changes, { way: 'mark', done: () => lookAt(null) })}
    >
      Go back to it
    </Button>
  );
}
