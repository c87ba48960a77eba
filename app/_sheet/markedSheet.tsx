import { useMemo } from 'react';
import { planAt } from '@/lib/core/areas/marks.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { boardScore } from '@/lib/core/areas/score.ts';
import { useBoard } from '../_client/room.tsx';
import { useChecked } from '../_client/useChecked.ts';
import { useDesk } from '../_dance/desk.tsx';
import { GoBack } from '../_dance/goBack.tsx';
import { instantWords } from '../_studio/dates.ts';
import { Button } from '../_ui/button.tsx';
import { clearOfTop } from '../_ui/clearOf.ts';
import { Sheet } from './sheet.tsx';

/** The sheet as it was at a mark: to look at, with the way back to the present and the way to return to it. */
export function MarkedSheet({ mark }: { mark: Plan['marks'][number] }) {
  const state = useBoard('board', 'checked', 'isChecked', 'people', 'today');
  const { lookAt } = useDesk();
  const { board, today } = state;
  const then = useMemo(() => {
    const plan = planAt(board.plan, mark.state);
    const score = plan && boardScore(plan);
    if (!plan || !score) return null;
    return { board: { ...board, plan }, score };
  }, [board, mark.state]);
  const checked = useChecked(then?.board ?? null, today);
  return (
    <>
      <section
        ref={clearOfTop}
        aria-label="A mark"
        className="no-print sticky top-0 z-10 -mx-4 mb-3 flex flex-wrap items-center justify-between gap-x-6 gap-y-1 border-b border-edge bg-paper-2 px-4 py-2 md:-mx-10 md:mb-6 md:px-10"
      >
        <p role="status">
          As it was at <bdi className="font-semibold">{mark.name}</bdi>, {instantWords(mark.at)}
        </p>
        <p className="flex flex-wrap gap-2">
          {then ? <GoBack then={then.board.plan} look="main" /> : null}
          <Button autoFocus onClick={() => lookAt(null)}>
            Back to the present
          </Button>
        </p>
      </section>
      {then ? (
        <Sheet state={{ ...state, ...then, checked }} score={then.score} fixed />
      ) : (
        <p className="sung text-2xl">Nothing of the song was known then.</p>
      )}
    </>
  );
}
