'use client';

import { useState } from 'react';
import type { AreaShape } from '@/lib/core/areas/area.ts';
import type { AreaName, areas } from '@/lib/core/areas/board.ts';
import { type Change, changeArea } from '@/lib/core/areas/change.ts';
import { useRoom } from '../_client/room.tsx';
import { tellOwnChange } from './ownChanges.ts';

/** Changing one area from a screen: the sentence of a refusal stands in `problem` until the next change. */
export function useChanging<N extends AreaName>(area: N) {
  const room = useRoom();
  const [problem, setProblem] = useState<string | null>(null);
  const change = (...changes: Change<(typeof areas)[N]>[]): boolean => {
    const { board } = room.getState();
    const done = room.change(area, changes);
    const was = board[area];
    if (done.ok && was !== null) {
      const now = changeArea<AreaShape>(was as never, changes as never);
      tellOwnChange(room, board, { ...board, [area]: now });
    }
    setProblem(done.ok ? null : done.problem.sentence);
    return done.ok;
  };
  return { change, problem, may: room.mayWrite(area) };
}
