import type { SeamFigures } from '@/lib/core/edit/seam.ts';
import { signed } from '@/lib/core/units.ts';

/** A figure of a seam: what it is about, a word, and the number behind the word. */
export interface SeamFact {
  about: string;
  word: string;
  figure: string;
  /** Nobody will notice it. */
  fine: boolean;
}

/** Displaced beats are noticed from 6 ms, or 2.5 % of the interval where that is more (Friberg & Sundberg 1995). */
const BEAT_MS = 6;
const BEAT_SHARE = 0.025;
/** A step of a few LU at a section change is usual; more is heard as a jump. Common practice, no source. */
const LEVEL = 3;

/** @param interval seconds a beat around the seam */
export function seamFacts(seam: SeamFigures, interval: number): SeamFact[] {
  const noticed = Math.max(BEAT_MS, BEAT_SHARE * interval * 1000);
  const step = Math.abs(seam.levelStepLu);
  return [
    seam.beatErrorMs === null
      ? { about: 'beat', word: 'beat not measured', figure: '', fine: true }
      : {
          about: 'beat',
          word: Math.abs(seam.beatErrorMs) <= noticed ? 'on the beat' : 'off the beat',
          figure: beatFigure(seam.beatErrorMs, noticed),
          fine: Math.abs(seam.beatErrorMs) <= noticed,
        },
    {
      about: 'level',
      word: step < 1 ? 'same level' : seam.levelStepLu > 0 ? 'louder after it' : 'softer after it',
      figure: `${signed(seam.levelStepLu, 1)} LU`,
      fine: step <= LEVEL,
    },
    likeness('harmony', seam.harmony),
    likeness('sound', seam.timbre),
  ];
}

/** Distances are in the song's own usual bar-to-bar step: 1 is as usual. */
function likeness(about: string, distance: number): SeamFact {
  const word =
    distance <= 1 ? `${about} goes on` : distance <= 2 ? `${about} changes a little` : `${about} changes`;
  return { about, word, figure: `${distance.toFixed(1)} (1 is usual)`, fine: distance <= 2 };
}

/** On the beat only its size says anything: an aligned join is measured no finer than its beats agree. */
const beatFigure = (ms: number, noticed: number): string => {
  const size = Math.abs(ms).toFixed(1);
  if (Math.abs(ms) <= noticed) return `within ${size} ms`;
  return `${size} ms ${ms > 0 ? 'late' : 'early'}`;
};
