import type { Me } from '../_client/boardState.ts';
import { Button } from './button.tsx';
import { historyAddress } from './roles.ts';

/** What helps where a part of the board was set apart: its history for the instructor; for all, to open it again once it is right. */
export function PutRight({ me }: { me: Me }) {
  return (
    <p className="my-4 flex flex-wrap items-center gap-x-4 gap-y-2">
      {me.role === 'instructor' ? <a href={historyAddress(me.board)}>Open its history</a> : null}
      <Button onClick={() => window.location.reload()}>Look again</Button>
    </p>
  );
}
