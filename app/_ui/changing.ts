'use client';

import { useState } from 'react';
import type { AreaName, areas } from '@/lib/core/areas/board.ts';
import type { Change } from '@/lib/core/areas/change.ts';
import { useRoom } from '../_client/room.tsx';

/** Changing one area from a screen: the sentence of a refusal stands in `problem` until the next change. */
export function useChanging<N extends AreaName>(area: N) {
  const room = useRoom();
  const [problem, setProblem] = useState<string | null>(null);
  const change = (...changes: Change<(typeof areas)[N]>[]): boolean => {
    const done = room.change(area, changes);
    setProblem(done.ok ? null : done.problem.sentence);
    return done.ok;
  };
  return { change, problem, may: room.mayWrite(area) };
}
