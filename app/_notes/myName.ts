'use client';

import { useState } from 'react';
import type { Plan } from '@/lib/core/areas/plan.ts';
import type { Me } from '../_client/boardClient.ts';
import { useBoard } from '../_client/room.tsx';
import { roleWords } from '../_ui/roles.ts';

/** How this person signs: their account's name, else the name they gave here before, else who they come as. */
export function useMyName(): [string, (name: string) => void] {
  const { me, board } = useBoard();
  const key = `larkstep.name/${me.board}/${me.role}`;
  const [given, setGiven] = useState(() => localStorage.getItem(key));
  const keep = (name: string) => {
    localStorage.setItem(key, name);
    setGiven(name);
  };
  return [given || usualName(me, board.plan), keep];
}

function usualName(me: Me, plan: Plan): string {
  if (me.name) return me.name;
  if (me.role === 'couple' && plan.couple) return `${plan.couple.one.name} & ${plan.couple.other.name}`;
  return `The ${roleWords[me.role]}`;
}
