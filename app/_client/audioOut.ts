'use client';

import { useEffect, useRef, useState } from 'react';
import type { Result } from '@/lib/core/result.ts';

/** Whoever plays now; asked to be silent when somebody else begins. */
let silence: (() => void) | null = null;

/** Between the pages that this browser has open: one begins, and all others fall silent. */
const LINE = 'larkstep sound';
let line: BroadcastChannel | null = null;

/** To be called by whatever is about to sound: what sounded before is stopped, in other pages of this browser too. */
export function takeTurn(stop: () => void): void {
  if (silence !== stop) silence?.();
  silence = stop;
  if (typeof document === 'undefined' || typeof BroadcastChannel === 'undefined') return;
  if (line === null) {
    line = new BroadcastChannel(LINE);
    line.onmessage = () => silence?.();
  }
  line.postMessage('begins');
}

export interface Listening {
  /** Which sound is playing, or being made ready. */
  playing: string | null;
  ready: boolean;
  /** Why the last one could not be heard. */
  problem: string | null;
  /** Plays what `make` gives; asked again for the one that plays, stops it. */
  play(key: string, make: () => Promise<Result<Blob>>): Promise<void>;
  stop(): void;
}

/** Short sounds to judge by: a join, a fade, a few bars. One at a time, and the player falls silent for it. */
export function useListening(): Listening {
  const [playing, setPlaying] = useState<string | null>(null);
  const [ready, setReady] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const sound = useRef<{ element: HTMLAudioElement; address: string } | null>(null);
  const turn = useRef(0);

  const stop = () => {
    turn.current += 1;
    sound.current?.element.pause();
    if (sound.current) URL.revokeObjectURL(sound.current.address);
    sound.current = null;
    setPlaying(null);
    setReady(false);
  };
  const latest = useRef(stop);
  latest.current = stop;
  const silent = useRef(() => latest.current());
  useEffect(() => () => latest.current(), []);

  const play = async (key: string, make: () => Promise<Result<Blob>>) => {
    const again = playing === key;
    stop();
    if (again) return;
    takeTurn(silent.current);
    const mine = turn.current;
    setPlaying(key);
    setProblem(null);
    const made = await make();
    if (mine !== turn.current) return;
    if (!made.ok) {
      stop();
      if (made.problem.code !== 'stopped') setProblem(made.problem.sentence);
      return;
    }
    const address = URL.createObjectURL(made.value);
    const element = new Audio(address);
    sound.current = { element, address };
    element.onended = stop;
    setReady(true);
    try {
      await element.play();
    } catch {
      if (mine !== turn.current) return;
      stop();
      setProblem('The browser did not let the sound start. Please press once more.');
    }
  };
  return { playing, ready, problem, play, stop };
}
