import type { AreaName } from '@/lib/core/areas/board.ts';
import type { Me } from '../_client/boardState.ts';
import { Button } from './button.tsx';
import { areaWords, historyAddress } from './roles.ts';

/**
 * Which parts of the board were set apart, and what helps: its history for the instructor; for all, to open them again once they
 * are right.
 * @param apart their names, parted by spaces
 */
export function PutRight({ me, apart }: { me: Me; apart: string }) {
  const words = (apart.split(' ') as AreaName[]).map((area) => areaWords[area]).join(', ');
  return (
    <div role="alert" className="mb-6 border-l-[3px] border-wine py-1 pl-3">
      <p className="text-wine">
        Damaged and set apart: {words}. The instructor can open it as of an earlier hour; the rest of the
        board works.
      </p>
      <p className="mt-2 flex flex-wrap items-center gap-x-4 gap-y-2">
        {me.role === 'instructor' ? <a href={historyAddress(me.board)}>Open its history</a> : null}
        <Button onClick={() => window.location.reload()}>Look again</Button>
      </p>
    </div>
  );
}
