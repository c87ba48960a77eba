'use client';

import { useState } from 'react';
import type { Plan } from '@/lib/core/areas/plan.ts';
import type { Me } from '../_client/boardState.ts';
import { keepMyName, myName } from '../_client/myName.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { roleWords } from '../_ui/roles.ts';

/** How this person signs: the name they gave here before, else their account's, else who they come as. */
export function useMyName(): [string, (name: string) => void] {
  const { me, board } = useBoard('me', 'board');
  const room = useRoom();
  const [given, setGiven] = useState(() => myName(me));
  const keep = (name: string) => {
    keepMyName(me, name);
    setGiven(name);
    room.callMe(name);
  };
  return [given || usualName(me, board.plan), keep];
}

function usualName(me: Me, plan: Plan): string {
  if (me.role === 'couple' && plan.couple) return `${plan.couple.one.name} & ${plan.couple.other.name}`;
  return `The ${roleWords[me.role]}`;
}
