'use client';

import { useSyncExternalStore } from 'react';
import { AudioDesk } from './audioDesk.ts';
import type { Stage } from './audioWork.ts';
import { useBoard } from './room.tsx';

/** One desk for the board that is open in this page, kept from screen to screen so that a song is decoded once. */
let present: { key: string; desk: AudioDesk } | null = null;
function deskFor(board: string, role: string): AudioDesk {
  const key = `${board}/${role}`;
  if (present?.key !== key) {
    present?.desk.stop();
    present = {
      key,
      desk: new AudioDesk((id) => `/api/boards/${board}/audio/${id}?as=${role}`),
    };
  }
  return present.desk;
}

export function useAudio(): AudioDesk {
  const { me } = useBoard('me');
  return deskFor(me.board, me.role);
}

/** What the desk is doing just now; null while it is idle. */
export function useStage(): Stage | null {
  const desk = useAudio();
  return useSyncExternalStore(desk.subscribe, desk.getStage, desk.getStage);
}
