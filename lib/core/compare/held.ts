import { compileEdit, fadeStart } from '../edit/compile.ts';
import type { Edit } from '../edit/edit.ts';
import type { CompiledEdit } from '../edit/score.ts';
import { BITS, FRAME, type Imprint } from './imprint.ts';
import { ones } from './words.ts';

/** A frame of the recording as the edit plays it. */
export interface PlayedFrame {
  /** Seconds of floor time. */
  at: number;
  /** Bits of 32 in which the copy differs there. */
  differ: number;
  /** Gain of the edit's fade, 0 to 1. */
  gain: number;
  /** The recording sounds here: what a copy hisses in a pause says nothing. */
  sounds: boolean;
  /** A seam is within the imprint's window. */
  seam: boolean;
}

/** A copy held against what an edit plays: `offset` seconds later on the copy's clock, which runs `ratio` times as long. */
export interface Hold {
  offset: number;
  ratio: number;
  frames: PlayedFrame[];
  /** Of all frames: 1 the same, 0 chance. */
  likeness: number;
  /** Where the copy's seams lie that are not where the edit has them: floor seconds from the one to the other. */
  movedSeams: [number, number][];
}

/** Seconds about a seam in which the imprint's window holds both sides. */
const AT_THE_SEAM = 0.14;
/** A seam is looked for so far to either side, seconds; and bits by which another place must be likelier to be believed. */
const LOOKED = 2;
const SURE = 40;

/**
 * Each frame of the recording against the copy at the moment at which the edit plays it: to 5 ms where the copy's imprint is that
 * of sound at hand, to 20 ms where it is a stored one.
 */
export function holdAgainst(
  recording: Imprint,
  copy: Imprint,
  edit: Edit,
  { offset, ratio }: { offset: number; ratio: number },
): Hold {
  const words = copy.finest ?? copy.words;
  const step = copy.finest ? FRAME / 4 : FRAME;
  const compiled = compileEdit(edit, recording);
  /** Bits in which a frame of the recording, played at a floor time, differs. */
  const differAt = (frame: number, at: number) =>
    ones((words[Math.round((at * ratio + offset) / step)] ?? 0) ^ (recording.words[frame] ?? 0));
  const gain = gainOf(edit, compiled);
  const frames: PlayedFrame[] = [];
  const movedSeams: [number, number][] = [];
  for (const [i, span] of compiled.spans.entries()) {
    const next = compiled.spans[i + 1];
    const crossfade = crossfadeAt(edit, span.to);
    for (let frame = Math.ceil(span.from / FRAME); frame * FRAME < span.to; frame++) {
      const at = span.floor + (frame * FRAME - span.from) / edit.speed;
      const begun = i > 0 && at - span.floor < AT_THE_SEAM;
      const ends = next !== undefined && next.floor - at < AT_THE_SEAM + crossfade;
      frames.push({
        at,
        differ: differAt(frame, at),
        gain: gain(at),
        sounds: recording.words[frame] !== 0,
        seam: begun || ends,
      });
    }
    if (!next) continue;
    const side = (record: number) => (j: number) => {
      const frame = Math.round(record / FRAME) + j;
      return differAt(frame, next.floor + (frame * FRAME - record) / edit.speed);
    };
    const frameSeconds = FRAME / edit.speed;
    const reach = (seconds: number) => Math.floor(Math.min(LOOKED, seconds) / frameSeconds);
    const place = seamPlace(side(span.to), side(next.from), [
      -reach(next.floor - span.floor),
      reach((compiled.spans[i + 2]?.floor ?? compiled.length) - next.floor),
    ]);
    const by = place * frameSeconds;
    if (by > AT_THE_SEAM) movedSeams.push([next.floor, next.floor + by]);
    if (by < -AT_THE_SEAM - crossfade) movedSeams.push([next.floor + by, next.floor]);
  }
  const differ = frames.reduce((sum, frame) => sum + frame.differ, 0);
  const likeness = 1 - (2 * differ) / BITS / Math.max(1, frames.length);
  return { offset, ratio, frames, likeness, movedSeams };
}

/** Gain of the fade by floor time. */
function gainOf(edit: Edit, compiled: CompiledEdit): (at: number) => number {
  const from = fadeStart(edit, compiled);
  if (from === null || edit.end.kind === 'own') return () => 1;
  const soft = edit.end.shape === 'soft';
  return (at) => {
    const left = Math.min(1, (compiled.length - at) / (compiled.length - from));
    return soft ? left * left : left;
  };
}

const crossfadeAt = (edit: Edit, from: number): number =>
  edit.cuts.find((cut) => cut.from === from)?.crossfade ?? 0;

/** The frame, from the seam's own at 0, before which the copy is likest to the one side and after which to the other. */
function seamPlace(
  before: (j: number) => number,
  after: (j: number) => number,
  [first, last]: readonly [number, number],
): number {
  let excess = 0;
  let best = { place: 0, excess: -SURE };
  for (let j = 0; j < last; j++) {
    excess += before(j) - after(j);
    if (excess < best.excess) best = { place: j + 1, excess };
  }
  excess = 0;
  for (let j = -1; j >= first; j--) {
    excess += after(j) - before(j);
    if (excess < best.excess) best = { place: j, excess };
  }
  return best.place;
}
