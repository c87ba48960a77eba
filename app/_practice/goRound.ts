'use client';

import { useEffect, useRef } from 'react';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { nextRound, type Rounds, SLOW } from '@/lib/core/handover/rounds.ts';
import { runUpTo, type Stretch, wider } from '@/lib/core/handover/stretch.ts';
import { player } from './player.ts';

/** Plays this again and again, each round from its run-up on; null for on and on. */
export function goRound(score: FloorScore, stretch: Stretch | null): void {
  const { runUp } = player.getState();
  player.setLoop(stretch && { ...stretch, start: runUp ? runUpTo(score, stretch.from) : stretch.from });
}

/** The same, where a press means that it is to be heard. */
export function practiseStretch(score: FloorScore, stretch: Stretch): void {
  goRound(score, stretch);
  const { loop } = player.getState();
  if (loop) player.seek(loop.start);
  void player.play();
}

/** Whether rounds begin before the stretch; what goes round already does so from its next round on. */
export function setRunUp(score: FloorScore, runUp: boolean): void {
  player.setRunUp(runUp);
  goRound(score, player.getState().loop);
}

/** To build up begins slow, and to end it is at full speed again. */
export function setRounds(rounds: Rounds): void {
  const before = player.getState().rounds;
  player.setRounds(rounds);
  if (rounds.buildsUp !== before.buildsUp) player.setSpeed(rounds.buildsUp ? SLOW : 1);
}

/** Makes each next round faster or wider where that is wished. For one place in a page: the bar at its foot. */
export function useRounds(score: FloorScore | null): void {
  const latest = useRef(score);
  latest.current = score;
  useEffect(() => {
    let atFull = 0;
    let of: Stretch['from'] | null = null;
    player.onRound = () => {
      const { loop, speed, rounds } = player.getState();
      const score = latest.current;
      if (!loop || !score) return;
      if (of !== loop.from) atFull = 0;
      of = loop.from;
      const next = nextRound({ speed, atFull }, rounds);
      atFull = next.atFull;
      const grown = next.grow ? wider(score, loop) : null;
      // All of it is danced already: it goes on at full speed.
      if (!next.grow || grown) player.setSpeed(next.speed);
      if (grown) {
        goRound(score, grown);
        of = grown.from;
      }
    };
    return () => {
      player.onRound = null;
    };
  }, []);
}
