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

/** Times that a file in memory is read before it counts as not to be played. */
const READINGS = 3;

/**
 * Begins to play. WebKitGTK 2.50 now and then says of a file in memory that it cannot be read, and reads it the next time: once in 15
 * on a page that does nothing but play a tone.
 * @throws DOMException as `HTMLMediaElement.play` does
 */
export async function sound(element: HTMLAudioElement, readings = READINGS): Promise<void> {
  if (element.error) element.load();
  try {
    await element.play();
  } catch (error) {
    const isUnread = error instanceof DOMException && error.name === 'NotSupportedError';
    // Somebody may have pressed Pause meanwhile.
    if (!isUnread || element.paused || readings <= 1) throw error;
    element.load();
    await sound(element, readings - 1);
  }
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
  const held = useRef<{ element: HTMLAudioElement; address: string } | null>(null);
  const turn = useRef(0);

  const stop = () => {
    turn.current += 1;
    held.current?.element.pause();
    if (held.current) URL.revokeObjectURL(held.current.address);
    held.current = null;
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
    held.current = { element, address };
    element.onended = stop;
    setReady(true);
    try {
      await sound(element);
    } catch {
      if (mine !== turn.current) return;
      stop();
      setProblem('The browser did not let the sound start. Please press once more.');
    }
  };
  return { playing, ready, problem, play, stop };
}
