'use client';

import { useBoard } from '../_client/room.tsx';
import { roleWords } from '../_ui/roles.ts';

/** By which name this person confirms something: their own, else what they are to this board. */
export function useMyName(): string {
  const { me, board } = useBoard();
  const { couple } = board.plan;
  if (me.name !== '') return me.name;
  if (me.role === 'couple' && couple) return `${couple.one.name} & ${couple.other.name}`;
  return `the ${roleWords[me.role]}`;
}
