'use client';

import { useState } from 'react';
import type { AreaShape } from '@/lib/core/areas/area.ts';
import type { AreaName } from '@/lib/core/areas/board.ts';
import { changeArea } from '@/lib/core/areas/change.ts';
import type { ChangeTo, How } from '../_client/gate.ts';
import { useRoom } from '../_client/room.tsx';
import { tellOwnChange } from './ownChanges.ts';

/** Changing one area from a screen: the sentence of a refusal stands in `problem` until the next change. */
export function useChanging<N extends AreaName>(area: N) {
  const room = useRoom();
  const [problem, setProblem] = useState<string | null>(null);
  const make = (changes: readonly ChangeTo<N>[], how?: How): boolean => {
    const made = room.change(area, changes, {
      ...how,
      done() {
        // What screens show is derived anew only after this turn.
        const { board } = room.getState();
        const now = changeArea<AreaShape>(board[area] as never, changes as never);
        tellOwnChange(room, board, { ...board, [area]: now });
        how?.done?.();
      },
    });
    setProblem(made.ok ? null : made.problem.sentence);
    return made.ok;
  };
  /** What is to happen once it is made, perhaps only after a question, goes with `make`. */
  const change = (...changes: ChangeTo<N>[]): boolean => make(changes);
  return { change, make, problem, may: room.mayWrite(area) };
}
