import { type RecordTime, recordTime } from '../units.ts';
import { BLOCK } from './blocks.ts';
import { edgeWithin } from './edges.ts';
import { FRAME } from './imprint.ts';
import type { Reading } from './words.ts';

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

/** What is missing or added: before the first run, between two, and after the last. */
export function differencesOf(
  recording: Uint32Array,
  copy: Uint32Array,
  runs: readonly Run[],
  { ratio, phase }: Reading,
): Difference[] {
  const found: Difference[] = [];
  const tell = (record: [number, number], played: [number, number], least: number) => {
    // Where the copy goes back in the recording it plays something again: that is added, nothing is missing.
    const again = Math.max(0, record[0] - record[1]);
    const there: [number, number] = [record[0], Math.max(record[0], record[1])];
    const here: [number, number] = [played[0], played[1] + again];
    if (sounding(recording, there) < least && sounding(copy, here) < least) return;
    found.push({
      recordFrom: recordTime(Math.max(0, there[0] * FRAME)),
      recordTo: recordTime(Math.max(0, there[1] * FRAME)),
      copyFrom: ratio * (here[0] + phase) * FRAME,
      copyTo: ratio * (here[1] + phase) * FRAME,
    });
  };
  const first = runs[0]!;
  const { begins } = edgeWithin(recording, copy, [0, first.from + BLOCK / 2], null, first.offset);
  tell([0, begins - first.offset], [0, begins], AT_THE_ENDS);
  for (let i = 1; i < runs.length; i++) {
    const [a, b] = [runs[i - 1]!, runs[i]!];
    const stretch = [Math.min(a.to, b.from) - BLOCK / 2, Math.max(a.to, b.from) + BLOCK / 2] as const;
    const edge = edgeWithin(recording, copy, stretch, a.offset, b.offset);
    tell([edge.ends - a.offset, edge.begins - b.offset], [edge.ends, edge.begins], WITHIN);
  }
  const last = runs.at(-1)!;
  const { ends } = edgeWithin(recording, copy, [last.to - BLOCK / 2, copy.length], last.offset, null);
  tell([ends - last.offset, recording.length], [ends, copy.length], AT_THE_ENDS);
  return found;
}

/** Seconds of a stretch of frames in which something sounds. */
function sounding(words: Uint32Array, [from, to]: [number, number]): number {
  let frames = 0;
  for (let i = Math.max(0, Math.round(from)); i < Math.min(words.length, Math.round(to)); i++) {
    if (words[i] !== 0) frames++;
  }
  return frames * FRAME;
}
