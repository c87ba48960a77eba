'use client';

import { useEffect, useRef, useState } from 'react';
import type { FloorTime } from '@/lib/core/units.ts';
import { type Following, momentAt, whenWords } from './followed.ts';
import { CALLS, type Calls, player, usePlayer } from './player.ts';

/** Bars ahead of which a call is given. */
const AHEAD = 2;

/** Gives each call two bars ahead, in words where this device has a voice or by two notes; silent until somebody wants it. */
export function useCalls(follow: Following | null, at: FloorTime | null): void {
  const { calls } = usePlayer();
  const given = useRef<number | null>(null);
  const call = follow && at !== null ? momentAt(follow, at).call : null;
  const ahead =
    follow && call && at !== null
      ? call.at - at <= (AHEAD + 0.1) * follow.score.countsPerBar * follow.score.interval
      : false;
  const due = calls !== 'silent' && ahead && call ? call : null;
  useEffect(() => {
    if (!due || !follow || at === null || given.current === due.count) return;
    given.current = due.count;
    if (calls === 'spoken')
      speak(`${due.name} ${whenWords(due, at, follow.score)}${due.on ? `, on ${due.on}` : ''}`);
    else twoNotes();
  }, [due, follow, at, calls]);
  useEffect(() => {
    if (at === null) given.current = null;
  }, [at]);
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

function speak(words: string): void {
  const saying = new SpeechSynthesisUtterance(words);
  saying.rate = 1.15;
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
