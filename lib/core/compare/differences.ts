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

/** Frames of the copy, between two, that show the recording at one offset. */
interface Shown {
  from: number;
  to: number;
  offset: number;
}

/** A stretch of the recording that the copy shows as it is: seconds of each one's clock. */
export interface Stretch {
  recordFrom: RecordTime;
  recordTo: RecordTime;
  copyFrom: number;
  copyTo: number;
}

/**
 * What is missing or added before the first run, between two and after the last; and where within a run, though in time with
 * the rest, something else is played. Besides the stretches between, in order of the copy: what is too little to be told at
 * the beginning and the end of the recording belongs to the first and the last of them.
 * @param usual likeness of the copy where it is the same
 */
export function differencesOf(
  recording: Uint32Array,
  copy: Uint32Array,
  runs: readonly Run[],
  usual: number,
  { ratio, phase }: Reading,
): { differences: Difference[]; stretches: Stretch[] } {
  const differences: Difference[] = [];
  const seconds = (record: [number, number], played: [number, number]): Stretch => ({
    recordFrom: recordTime(Math.max(0, record[0] * FRAME)),
    recordTo: recordTime(Math.max(0, record[1] * FRAME)),
    copyFrom: ratio * (played[0] + phase) * FRAME,
    copyTo: ratio * (played[1] + phase) * FRAME,
  });
  const told = (record: [number, number], played: [number, number], least: number, offset?: number) => {
    // Where the copy goes back in the recording it plays something again: that is added, nothing is missing.
    const again = Math.max(0, record[0] - record[1]);
    const there: [number, number] = [record[0], Math.max(record[0], record[1])];
    const here: [number, number] = [played[0], played[1] + again];
    // What a copy hisses where the recording is silent at its beginning or end is not an addition.
    const silent = (i: number) => offset !== undefined && recording[i - Math.round(offset)] === 0;
    if (sounding(recording, there) < least && sounding(copy, here, silent) < least) return false;
    differences.push(seconds(there, here));
    return true;
  };
  const shown = shownBy(recording, copy, runs, usual);
  const stretches: Shown[] = [];
  for (const [i, stretch] of shown.entries()) {
    const before = shown[i - 1];
    if (before === undefined) {
      const { from, offset } = stretch;
      const late = told([0, from - offset], [0, from], AT_THE_ENDS, offset);
      stretches.push(late ? stretch : { ...stretch, from: offset });
      continue;
    }
    const record: [number, number] = [before.to - before.offset, stretch.from - stretch.offset];
    const parted = told(record, [before.to, stretch.from], WITHIN);
    const last = stretches.at(-1)!;
    if (parted || before.offset !== stretch.offset) stretches.push(stretch);
    else last.to = stretch.to;
  }
  const last = stretches.at(-1)!;
  const { to, offset } = last;
  if (!told([to - offset, recording.length], [to, copy.length], AT_THE_ENDS, offset))
    last.to = recording.length + offset;
  return {
    differences,
    stretches: stretches
      .map(({ from, ...rest }) => ({ from: Math.max(from, rest.offset), ...rest }))
      .filter(({ from, to }) => to > from)
      .map(({ from, to, offset }) => seconds([from - offset, to - offset], [from, to])),
  };
}

/** What each run shows, to the frame and in order of the copy, in parts where something else is played in between. */
function shownBy(recording: Uint32Array, copy: Uint32Array, runs: readonly Run[], usual: number): Shown[] {
  const shown: Shown[] = [];
  const add = ({ offset }: Run, from: number, to: number) => {
    let begins = from;
    for (const [ends, goesOn] of unlikeWithin(recording, copy, [from, to], offset, usual)) {
      shown.push({ from: begins, to: ends, offset });
      begins = goesOn;
    }
    shown.push({ from: begins, to, offset });
  };
  const [first, last] = [runs[0]!, runs.at(-1)!];
  let { begins } = edgeWithin(recording, copy, [0, first.from + BLOCK / 2], null, first.offset);
  for (let i = 1; i < runs.length; i++) {
    const [a, b] = [runs[i - 1]!, runs[i]!];
    const stretch = [Math.min(a.to, b.from) - BLOCK / 2, Math.max(a.to, b.from) + BLOCK / 2] as const;
    const edge = edgeWithin(recording, copy, stretch, a.offset, b.offset);
    add(a, begins, edge.ends);
    begins = edge.begins;
  }
  const { ends } = edgeWithin(recording, copy, [last.to - BLOCK / 2, copy.length], last.offset, null);
  add(last, begins, ends);
  return shown;
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
