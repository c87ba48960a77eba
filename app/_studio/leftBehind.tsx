'use client';

import { useEffect, useState } from 'react';
import { Button } from '../_ui/button.tsx';
import { keepFile } from '../_ui/keepFile.ts';
import { Notice } from '../_ui/notice.tsx';

/** A board that was deleted, or whose link was taken back, while no page of it was open; this browser may still keep of it. */
export interface TakenBack {
  board: string;
  /** Memberships of it that this browser holds all the same. */
  live: string[];
}

/** Drops what this browser had kept of the board; the words are the person's to keep first. */
export function LeftBehind({ board, live }: TakenBack) {
  const [kept, setKept] = useState<string | null>(null);
  // By its content: the page hands in a new list whenever it is drawn.
  const others = live.join(' ');
  useEffect(() => {
    void (async () => {
      const { takeLeftBehind } = await import('../_client/leftBehind.ts');
      const words = await takeLeftBehind(board, others.split(' '));
      if (words) setKept(words);
    })().catch(() => undefined);
  }, [board, others]);
  if (kept === null) return null;
  return (
    <div className="mb-6 space-y-2">
      <Notice>
        This browser keeps nothing of that board from now on. What it had kept, with what you wrote, is yours
        to take.
      </Notice>
      <Button onClick={() => keepFile('larkstep-board-kept.json', kept)}>Keep a copy of it</Button>
    </div>
  );
}
