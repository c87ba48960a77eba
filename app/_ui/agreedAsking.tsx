import type { ReactNode } from 'react';
import { answerState } from '@/lib/core/areas/answerState.ts';
import type { Board } from '@/lib/core/areas/board.ts';
import { Asking } from './asking.tsx';

/** The DJ's yes that stands, which a change of what was agreed would undo; null when there is none. */
export function standingYes(board: Board) {
  const { kind, answer } = answerState(board);
  return kind === 'yes' || kind === 'accepted' ? answer : null;
}

/** Asks before what somebody has said yes to is changed; `children` say what that means for them. */
export function AgreedAsking({
  by,
  children,
  onYes,
  onNo,
}: {
  /** Who said yes; '' for nobody by name. */
  by: string;
  children: ReactNode;
  onYes: () => void;
  onNo: () => void;
}) {
  return (
    <Asking
      title={`${by || 'The DJ'} has said yes to the present edit`}
      yes="Change it anyway"
      no="Keep what was agreed"
      onYes={onYes}
      onNo={onNo}
    >
      <p>{children}</p>
    </Asking>
  );
}
