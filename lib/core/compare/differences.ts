import { type RecordTime, recordTime } from '../units.ts';
import { BLOCK } from './blocks.ts';
import { edgeWithin } from './edges.ts';
import { FRAME } from './imprint.ts';
import { sharpened, slidingLikeness, stretchesBelow } from './unlike.ts';
import { ones, type Reading } from './words.ts';

/** A part that only one of the two has, or where they differ. Seconds of each one's clock. */
export interface Difference {
  recordFrom: RecordTime;
  recordTo: RecordTime;
  copyFrom: number;
  copyTo: number;
}

/** A stretch of the copy that shows the recording at one offset; frames at the recording's speed. */
export interface Run {
  from: number;
  to: number;
  offset: number;
  offsets: number[];
  likenesses: number[];
}

/** Seconds of sound that a difference in the middle, or at the beginning or end, must have to be worth telling. */
const WITHIN = 0.15;
const AT_THE_ENDS = 1.5;
/** Something else in time with the rest shows from this many seconds on, below half the copy's usual likeness and never above `most`. */
const UNLIKE = { least: 2, share: 0.5, most: 0.35 };
/** Shifts about a run's offset, in frames, of which the likest is taken: the offset is a middle one. */
const SHIFTS = [-1, 0, 1];

/**
 * What is missing or added before the first run, between two and after the last; and where within a run, though in time with
 * the rest, something else is played.
 * @param usual likeness of the copy where it is the same
 */
export function differencesOf(
  recording: Uint32Array,
  copy: Uint32Array,
  runs: readonly Run[],
  usual: number,
  { ratio, phase }: Reading,
): Difference[] {
  const found: Difference[] = [];
  const tell = (record: [number, number], played: [number, number], least: number, offset?: number) => {
    // Where the copy goes back in the recording it plays something again: that is added, nothing is missing.
    const again = Math.max(0, record[0] - record[1]);
    const there: [number, number] = [record[0], Math.max(record[0], record[1])];
    const here: [number, number] = [played[0], played[1] + again];
    // What a copy hisses where the recording is silent at its beginning or end is not an addition.
    const silent = (i: number) => offset !== undefined && recording[i - Math.round(offset)] === 0;
    if (sounding(recording, there) < least && sounding(copy, here, silent) < least) return;
    found.push({
      recordFrom: recordTime(Math.max(0, there[0] * FRAME)),
      recordTo: recordTime(Math.max(0, there[1] * FRAME)),
      copyFrom: ratio * (here[0] + phase) * FRAME,
      copyTo: ratio * (here[1] + phase) * FRAME,
    });
  };
  const first = runs[0]!;
  const { begins } = edgeWithin(recording, copy, [0, first.from + BLOCK / 2], null, first.offset);
  tell([0, begins - first.offset], [0, begins], AT_THE_ENDS, first.offset);
  let sameFrom = begins;
  const tellUnlike = (run: Run, until: number) => {
    for (const [from, to] of unlikeWithin(recording, copy, [sameFrom, until], run.offset, usual)) {
      tell([from - run.offset, to - run.offset], [from, to], WITHIN);
    }
  };
  for (let i = 1; i < runs.length; i++) {
    const [a, b] = [runs[i - 1]!, runs[i]!];
    const stretch = [Math.min(a.to, b.from) - BLOCK / 2, Math.max(a.to, b.from) + BLOCK / 2] as const;
    const edge = edgeWithin(recording, copy, stretch, a.offset, b.offset);
    tellUnlike(a, edge.ends);
    tell([edge.ends - a.offset, edge.begins - b.offset], [edge.ends, edge.begins], WITHIN);
    sameFrom = edge.begins;
  }
  const last = runs.at(-1)!;
  const { ends } = edgeWithin(recording, copy, [last.to - BLOCK / 2, copy.length], last.offset, null);
  tellUnlike(last, ends);
  tell([ends - last.offset, recording.length], [ends, copy.length], AT_THE_ENDS, last.offset);
  return found;
}

/** Frames of the copy, between two, that are unlike the recording at one offset. */
function unlikeWithin(
  recording: Uint32Array,
  copy: Uint32Array,
  [first, last]: readonly [number, number],
  offset: number,
  usual: number,
): [number, number][] {
  const from = Math.max(0, Math.round(first));
  const frames = Math.min(copy.length, Math.round(last)) - from;
  const half = Math.round(UNLIKE.least / FRAME);
  if (frames <= 2 * half) return [];
  const differ = SHIFTS.map((by) => {
    const shift = Math.round(offset) + by;
    return Array.from({ length: frames }, (_, i) =>
      ones(copy[from + i]! ^ (recording[from + i - shift] ?? 0)),
    );
  }).reduce((best, other) => (total(other) < total(best) ? other : best));
  const limit = Math.min(UNLIKE.most, UNLIKE.share * usual);
  return stretchesBelow(slidingLikeness(differ, half), limit, half)
    .map((found) => sharpened(differ, found, half, usual))
    .map(([a, b]) => [from + a, from + b]);
}

const total = (values: readonly number[]): number => values.reduce((sum, x) => sum + x, 0);

/** Seconds of a stretch of frames in which something sounds, those left out that do not count. */
function sounding(
  words: Uint32Array,
  [from, to]: [number, number],
  leftOut: (i: number) => boolean = () => false,
): number {
  let frames = 0;
  for (let i = Math.max(0, Math.round(from)); i < Math.min(words.length, Math.round(to)); i++) {
    if (words[i] !== 0 && !leftOut(i)) frames++;
  }
  return frames * FRAME;
}
