'use client';

import { useRouter } from 'next/navigation';
import { useEffect } from 'react';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import type { Stretch } from '@/lib/core/handover/stretch.ts';
import type { FloorTime } from '@/lib/core/units.ts';
import type { Me } from '../_client/boardState.ts';
import { practiseStretch } from '../_practice/goRound.ts';
import { BEFORE_ALL, player } from '../_practice/player.ts';
import { askForScreen } from '../_practice/useAlone.ts';
import { boardAddress } from '../_ui/roles.ts';

/** Ways to practice by one press: the music begins within it, as browsers want it, and the page follows. */
export function usePractise(me: Me) {
  const router = useRouter();
  const address = boardAddress(me.board, 'practise', me.role);
  useEffect(() => router.prefetch(address), [router, address]);
  const go = () => {
    askForScreen();
    router.push(address);
  };
  const from = (at: FloorTime) => {
    player.setLoop(null);
    player.seek(at);
    void player.play();
    go();
  };
  return {
    all: () => from(BEFORE_ALL),
    from,
    stretch(score: FloorScore, stretch: Stretch) {
      practiseStretch(score, stretch);
      go();
    },
  };
}
