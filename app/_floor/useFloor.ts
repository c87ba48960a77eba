import { useState } from 'react';
import type { Floor } from '@/lib/core/dance/floor.ts';
import { useBoard, useRoom } from '../_client/room.tsx';

/** The floor, and how to change it: one gesture, one step of undo. */
export function useFloor() {
  const room = useRoom();
  const floor = useBoard('board').board.show?.floor ?? null;
  const [problem, setProblem] = useState('');
  const keep = (value: Floor, done?: () => void): void => {
    if (value === floor) return;
    const made = room.change('plan', [], { along: [{ register: 'floor', value }], done });
    setProblem(made.ok ? '' : made.problem.sentence);
  };
  return { floor, keep, problem, may: room.mayWrite('show') };
}
