'use client';

import { useEffect, useRef, useState } from 'react';
import type { FloorTime } from '@/lib/core/units.ts';
import { callAhead, type Following, momentAt } from './followed.ts';
import { CALLS, type Calls, player, usePlayer } from './player.ts';

/** Seconds by which the place goes back only where a new round begins, or somebody looks elsewhere. */
const BACK = 0.5;

/**
 * Calls each move ahead, early enough to be over before it is led: in words where this device has a voice, or by two notes; silent
 * until somebody wants it.
 */
export function useCalls(follow: Following | null, at: FloorTime | null): void {
  const { calls, loop, speed } = usePlayer();
  const given = useRef<number | null>(null);
  const last = useRef<FloorTime | null>(null);
  // A new round: what was called in the one before is called again.
  if (at === null || (last.current !== null && at < last.current - BACK)) given.current = null;
  last.current = at;
  const call = follow && at !== null ? momentAt(follow, at).call : null;
  const isDue =
    follow && call && at !== null && !(loop && call.at >= loop.to)
      ? call.at - at <= callAhead(call, follow.score, speed)
      : false;
  const due = calls !== 'silent' && isDue && call ? call : null;
  useEffect(() => {
    if (!due || given.current === due.count) return;
    given.current = due.count;
    if (calls === 'spoken') speak(due.name);
    else twoNotes();
  }, [due, calls]);
}

/** The ways of calling that this device has. */
export function useWaysToCall(): readonly Calls[] {
  const [ways, setWays] = useState<readonly Calls[]>(['silent', 'sounded']);
  useEffect(() => {
    if ('speechSynthesis' in window) setWays(CALLS);
  }, []);
  return ways;
}

/** Changes how moves are called; within a press, since a browser lets a page sound only then. */
export function callBy(calls: Calls): void {
  if (calls === 'sounded') notes ??= new AudioContext();
  if (calls === 'sounded') void notes?.resume();
  player.setCalls(calls);
}

/** Against a voice's usual speed. */
const SPEECH_RATE = 1.15;

function speak(words: string): void {
  const saying = new SpeechSynthesisUtterance(words);
  saying.rate = SPEECH_RATE;
  window.speechSynthesis.cancel();
  window.speechSynthesis.speak(saying);
}

/** Hertz of the two notes, a fourth apart and rising; how far apart and how long, seconds; how loud, of full scale. */
const PITCHES = [660, 880];
const APART = 0.16;
const LASTS = 0.14;
const LOUD = 0.22;
let notes: AudioContext | null = null;

function twoNotes(): void {
  const sound = notes;
  if (!sound) return;
  for (const [i, hertz] of PITCHES.entries()) {
    const from = sound.currentTime + i * APART;
    const level = sound.createGain();
    level.gain.setValueAtTime(LOUD, from);
    level.gain.exponentialRampToValueAtTime(0.001, from + LASTS);
    const tone = sound.createOscillator();
    tone.frequency.value = hertz;
    tone.connect(level).connect(sound.destination);
    tone.start(from);
    tone.stop(from + LASTS);
  }
}
