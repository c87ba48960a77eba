'use client';

import { useEffect, useRef, useState } from 'react';
import type { FloorTime } from '@/lib/core/units.ts';
import { type Following, momentAt, whenWords } from './followed.ts';

/** Bars ahead of which a call is spoken. */
const AHEAD = 2;

/** Speaks each call two bars ahead, where this device has a voice; off until somebody wants it. */
export function useCalls(follow: Following | null, at: FloorTime | null) {
  const [on, setOn] = useState(false);
  const [possible, setPossible] = useState(false);
  const spoken = useRef<number | null>(null);
  useEffect(() => setPossible('speechSynthesis' in window), []);
  const call = follow && at !== null ? momentAt(follow, at).call : null;
  const ahead =
    follow && call && at !== null
      ? call.at - at <= (AHEAD + 0.1) * follow.score.countsPerBar * follow.score.interval
      : false;
  const due = on && ahead && call ? call : null;
  useEffect(() => {
    if (!due || !follow || at === null || spoken.current === due.count) return;
    spoken.current = due.count;
    const words = `${due.name} ${whenWords(due, at, follow.score)}${due.on ? `, on ${due.on}` : ''}`;
    const saying = new SpeechSynthesisUtterance(words);
    saying.rate = 1.15;
    window.speechSynthesis.cancel();
    window.speechSynthesis.speak(saying);
  }, [due, follow, at]);
  useEffect(() => {
    if (at === null) spoken.current = null;
  }, [at]);
  return { on, possible, toggle: () => setOn((was) => !was) };
}
