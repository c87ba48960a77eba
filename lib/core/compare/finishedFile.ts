import { compileEdit } from '../edit/compile.ts';
import type { Edit } from '../edit/edit.ts';
import { median } from '../signal/statistics.ts';
import { floorTime, recordTime } from '../units.ts';
import { type Comparison, compareImprints } from './compare.ts';
import { type Hold, holdAgainst, type PlayedFrame } from './held.ts';
import { FRAME, type Imprint } from './imprint.ts';
import { slidingLikeness, stretchesBelow } from './unlike.ts';

/** How a copy lies against one edit; the comparison's "recording" is the edit as played. */
export interface EditComparison extends Comparison {
  /** The copy is our own rendering of this edit: nothing in it is unlike. */
  finishedFile: boolean;
  /** Of the copy to what the edit plays, frame by frame: 1 the same, 0 chance. */
  likeness: number;
}

/** A file that runs faster or slower than this has been changed by somebody. */
const SAME_SPEED = 1e-3;
/**
 * What counts as unlike, by the likeness that this copy has elsewhere. Over 0.8 s: nearer to chance than to that. Over 4 s: by more than
 * the same music ever was in MP3s from 96 kbit/s (0.14) and less than from one chorus to the next of the same backing (0.23).
 */
const SHORT = { half: Math.round(0.4 / FRAME), limit: (usual: number) => Math.min(0.35, usual / 2) };
const LONG = { half: Math.round(2 / FRAME), limit: (usual: number) => usual - 0.18 };
/** Gains of a fade below which the coder's noise may be louder than the music, for the short window and the long. */
const [FAINT, SOFT] = [0.02, 0.2];
/** Seconds of sound before the beginning or after the end that the edit does not have; the window smears less than this. */
const BEYOND = 0.2;

/** The imprint that a rendering of this edit would have, from the recording's alone. */
export function editedImprint(recording: Imprint, edit: Edit): Imprint {
  const { length, toRecord } = compileEdit(edit, recording);
  const words = Uint32Array.from({ length: Math.floor(length / FRAME) }, (_, i) => {
    return recording.words[Math.round(toRecord(floorTime(i * FRAME)) / FRAME)] ?? 0;
  });
  return { duration: length, words };
}

/**
 * Whether a copy is our own rendering of this edit. It is first aligned as any copy is; then each frame of the recording is held against
 * the copy at the moment at which the edit plays it, so that another part of the same song is seen, however well the lengths agree.
 * Where several edits are known, ask `finishedFileAmong`. The imprint knows no level: two fades with one end are alike to it.
 */
export function compareWithEdit(recording: Imprint, copy: Imprint, edit: Edit): EditComparison {
  const comparison = compareImprints(editedImprint(recording, edit), copy);
  const { verdict, ratio } = comparison;
  const inTime = verdict === 'same' || (verdict === 'shifted' && Math.abs(ratio - 1) < SAME_SPEED);
  if (!inTime) return { ...comparison, finishedFile: false, likeness: 0 };
  const hold = likestHold(recording, copy, edit, comparison);
  const clock = (floor: number) => floor * hold.ratio + hold.offset;
  const differences = unlikeIn(hold, copy, clock).map(([from, to]) => ({
    ...{ recordFrom: recordTime(Math.max(0, from)), recordTo: recordTime(to) },
    ...{ copyFrom: Math.max(0, clock(from)), copyTo: clock(to) },
  }));
  return {
    ...comparison,
    ...(differences.length > 0 ? { verdict: 'cut differently', differences } : {}),
    finishedFile: differences.length === 0,
    likeness: hold.likeness,
  };
}

/** Which of several edits a copy is our rendering of: of those that fit, the likest; of equals, the first. Null for none. */
export function finishedFileAmong(
  recording: Imprint,
  copy: Imprint,
  edits: readonly Edit[],
): { index: number; comparison: EditComparison } | null {
  let best: { index: number; comparison: EditComparison } | null = null;
  for (const [index, edit] of edits.entries()) {
    const comparison = compareWithEdit(recording, copy, edit);
    if (comparison.finishedFile && !(best && comparison.likeness <= best.comparison.likeness)) {
      best = { index, comparison };
    }
  }
  return best;
}

/** The hold, near the offset that was found, that is likest; at the speed that was found or the recording's own. */
function likestHold(recording: Imprint, copy: Imprint, edit: Edit, found: Comparison): Hold {
  const offsets = Array.from({ length: 13 }, (_, i) => found.offsetMs / 1000 + ((i - 6) * FRAME) / 8);
  const holds = [...new Set([1, found.ratio])].flatMap((ratio) =>
    offsets.map((offset) => holdAgainst(recording, copy, edit, { offset, ratio })),
  );
  return holds.reduce((best, hold) => (hold.likeness > best.likeness ? hold : best));
}

/** Stretches of floor time, in order, in which the copy plays something else, or sounds where the edit is over. */
function unlikeIn(
  { frames, movedSeams }: Hold,
  copy: Imprint,
  clock: (floor: number) => number,
): [number, number][] {
  const shown = frames.filter(({ seam, sounds, gain }) => sounds && !seam && gain >= FAINT);
  const strong = shown.filter(({ gain }) => gain >= SOFT);
  const usual = median(likenessOf(shown, SHORT.half));
  const found = below(shown, SHORT, usual);
  // Where one way of seeing it has found something, the less exact ones add nothing.
  for (const part of [...movedSeams, ...below(strong, LONG, usual)]) {
    if (found.every(([from, to]) => to <= part[0] || from >= part[1])) found.push(part);
  }
  const length = (frames.at(-1)?.at ?? 0) + FRAME;
  const before = soundIn(copy, 0, clock(0) - BEYOND);
  if (before > BEYOND) found.push([-before, 0]);
  const after = soundIn(copy, clock(length) + BEYOND, copy.duration);
  if (after > 0) found.push([length, length + BEYOND + after]);
  return found.sort((a, b) => a[0] - b[0]);
}

const likenessOf = (frames: readonly PlayedFrame[], half: number): Float64Array =>
  slidingLikeness(
    frames.map(({ differ }) => differ),
    half,
  );

function below(frames: readonly PlayedFrame[], how: typeof SHORT, usual: number): [number, number][] {
  const likeness = likenessOf(frames, how.half).map((value, i) =>
    // At either end a window holds too little to judge by.
    i < how.half / 2 || i >= frames.length - how.half / 2 ? 1 : value,
  );
  return stretchesBelow(likeness, how.limit(usual), how.half).map(([from, to]) => [
    frames[from]!.at,
    frames[to - 1]!.at + FRAME,
  ]);
}

/** Seconds of sound in a stretch of the copy. */
function soundIn({ words }: Imprint, from: number, to: number): number {
  const part = words.subarray(Math.max(0, Math.ceil(from / FRAME)), Math.max(0, Math.floor(to / FRAME)));
  return part.reduce((frames, word) => frames + (word === 0 ? 0 : 1), 0) * FRAME;
}
