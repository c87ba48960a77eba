import type { Cue } from '../song/section.ts';
import { nearest } from '../song/stretches.ts';
import type { RecordTime } from '../units.ts';

/** Cues by time, of lists that are replaced and never altered. */
const sorted = new WeakMap<readonly Cue[], { cues: Cue[]; times: number[] }>();

/** The cue nearest to a moment of the recording, at most so many seconds away. */
export function cueAt(cues: readonly Cue[], at: RecordTime, within: number): Cue | undefined {
  if (cues.length === 0) return undefined;
  let known = sorted.get(cues);
  if (!known) {
    const inOrder = [...cues].sort((a, b) => a.at - b.at || (a.id < b.id ? -1 : 1));
    known = { cues: inOrder, times: inOrder.map((cue) => cue.at) };
    sorted.set(cues, known);
  }
  const cue = known.cues[nearest(known.times, at)]!;
  return Math.abs(cue.at - at) <= within ? cue : undefined;
}
