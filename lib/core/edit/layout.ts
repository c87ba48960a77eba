import { durationOf, type Samples } from '../signal/samples.ts';
import { compileEdit, fadeStart } from './compile.ts';
import { likeness } from './crossfade.ts';
import type { Edit } from './edit.ts';

/** A stretch of samples that is kept, and how it takes over from the one before. */
export interface Piece {
  /** First sample of the recording, and the one after the last. */
  from: number;
  to: number;
  /** Sample of the kept music, before its speed is changed, at which it begins. */
  at: number;
  /** Samples of the crossfade, wholly before `at`. */
  crossfade: number;
  correlation: number;
}

/** Where everything of a rendered edit lies, in whole samples. */
export interface Layout {
  pieces: Piece[];
  /** Samples of the music that is kept, and of the same at the edit's speed. */
  kept: number;
  length: number;
  /** Sample of the floor at which the fade begins, or null; it is silent at `length`. */
  fade: number | null;
  soft: boolean;
  /** Samples of the fade-in where the edit begins inside the recording. */
  fadeIn: number;
}

/** Seconds. */
const FADE_IN = 0.005;

/**
 * Each part begins at the nearest sample of the recording and at the nearest of the floor, so that roundings never add up however
 * many joins there are.
 */
export function layoutOf(samples: Samples, edit: Edit): Layout {
  const { rate } = samples;
  const compiled = compileEdit(edit, { duration: durationOf(samples) });
  const kept = Math.round(compiled.length * edit.speed * rate);
  const begins = compiled.spans.map(({ floor }) => Math.round(floor * edit.speed * rate));
  const pieces: Piece[] = [];
  for (const [i, span] of compiled.spans.entries()) {
    const at = begins[i]!;
    const from = Math.round(span.from * rate);
    const to = from + (begins[i + 1] ?? kept) - at;
    const before = pieces.at(-1);
    // The cut whose end this span begins at; cuts that touch make one seam.
    const cut = i === 0 ? undefined : edit.cuts.findLast((c) => c.to <= span.from);
    const wanted = Math.round((cut?.crossfade ?? 0) * rate);
    const crossfade = before ? Math.min(wanted, before.to - before.from, from) : 0;
    const correlation = before ? likeness(samples, before.to, from, crossfade) : 0;
    pieces.push({ from, to, at, crossfade, correlation });
  }
  const fades = fadeStart(edit, compiled);
  return {
    pieces,
    kept,
    length: Math.round(compiled.length * rate),
    fade: fades === null ? null : Math.round(fades * rate),
    soft: edit.end.kind === 'fade' && edit.end.shape === 'soft',
    fadeIn: (pieces[0]?.from ?? 0) > 0 ? Math.round(FADE_IN * rate) : 0,
  };
}
