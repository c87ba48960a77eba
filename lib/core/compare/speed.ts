import { median } from '../signal/statistics.ts';
import { BLOCK, blocksOf, likenesses, refined, sounds } from './blocks.ts';
import type { Imprint } from './imprint.ts';
import { likeliestPath, type Matched } from './path.ts';
import { type Reading, read, readLate, thirdsOf } from './words.ts';

/** Speeds that are tried when the copy does not fit as it is: a tenth to either side in steps of half a percent. */
const SPEEDS = Array.from({ length: 41 }, (_, i) => 0.9 + i * 0.005);
/** Blocks that a speed is tried with, and the likeness at which the copy's own speed is taken without trying others. */
const TRIED = 6;
const FITS = 0.5;
/** Re-reading the copy at the speed just measured, until it changes no more. */
const ROUNDS = 8;
const ENOUGH = 3e-6;
/** A speed so nearly right that what is left of the offsets tells whether the copy lies between the frames. */
const STEADY = 2e-5;
/** A speed that was this far off may have hidden where some blocks come from. */
const FAR = 1e-4;

export interface Aligned {
  reading: Reading;
  /** The copy as if played at the recording's speed. */
  copy: Uint32Array;
  path: Matched[];
}

/** Finds at which speed the copy shows the recording, and where each of its blocks comes from. */
export function aligned(recording: Uint32Array, imprint: Imprint): Aligned {
  const first = searched(recording, imprint, roughReading(recording, imprint));
  const settled = settle(recording, imprint, first);
  if (Math.abs(settled.reading.ratio / first.reading.ratio - 1) < FAR) return settled;
  return settle(recording, imprint, searched(recording, imprint, settled.reading));
}

/** Every block looked for in the whole recording. */
function searched(recording: Uint32Array, imprint: Imprint, reading: Reading): Aligned {
  const copy = read(imprint, reading);
  const path = likeliestPath(blocksOf(recording, copy)).map(({ at, place }) => ({
    at,
    place: place && { ...place, offset: place.offset + late(imprint, reading, copy, recording, at) },
  }));
  return { reading, copy, path };
}

/** The same blocks measured again about their places, at the speed and phase that the last measure gave. */
function settle(recording: Uint32Array, imprint: Imprint, found: Aligned): Aligned {
  let now = found;
  for (let round = 0; round < ROUNDS; round++) {
    const { reading, path } = now;
    const drift = driftOf(path);
    const between = imprint.finer && reading.phase === 0 && Math.abs(drift) < STEADY && liesBetween(path);
    if (Math.abs(drift) < ENOUGH && !between) break;
    const phase = between ? 0.5 : reading.phase;
    const next: Reading = { ...reading, ratio: reading.ratio * (1 + drift), phase };
    const copy = read(imprint, next);
    const length = Math.min(BLOCK, copy.length, recording.length);
    const measured = path.map(({ at, place }): Matched => {
      if (!place) return { at, place };
      const offset = place.offset - drift * at + reading.phase - phase;
      const lateness = late(imprint, next, copy, recording, at);
      const near = refined(recording, copy, at, Math.round(at - offset + lateness), length);
      return { at, place: { ...near, offset: near.offset + lateness } };
    });
    now = { reading: next, copy, path: measured };
  }
  return now;
}

const late = (imprint: Imprint, reading: Reading, copy: Uint32Array, recording: Uint32Array, at: number) =>
  readLate(imprint, reading, at, Math.min(BLOCK, copy.length, recording.length));

function roughReading(recording: Uint32Array, imprint: Imprint): Reading {
  const asItIs = fitOf(recording, imprint.words);
  let best: Reading & { fit: number } = { ratio: 1, tuned: false, phase: 0, fit: asItIs + 0.05 };
  if (asItIs >= FITS) return best;
  for (const ratio of SPEEDS) {
    for (const tuned of thirdsOf(ratio) === 0 ? [false] : [false, true]) {
      const reading: Reading = { ratio, tuned, phase: 0 };
      const value = fitOf(recording, read(imprint, reading), best.fit);
      if (value > best.fit) best = { ...reading, fit: value };
    }
  }
  return best;
}

/** Most blocks lie nearer to the middle between two frames of the recording than to one of them. */
function liesBetween(path: readonly Matched[]): boolean {
  const placed = path.flatMap(({ place }) =>
    place ? [Math.abs(place.offset - Math.round(place.offset))] : [],
  );
  return median(placed) > 0.25;
}

/** Middle likeness of a few blocks at their best places; 0 as soon as it cannot be more than `least`: most of what is tried fits nowhere. */
function fitOf(recording: Uint32Array, copy: Uint32Array, least = 0): number {
  const length = Math.min(BLOCK, copy.length, recording.length);
  const hop = Math.max(1, Math.floor((copy.length - length) / TRIED));
  const blocks: number[] = [];
  for (let at = Math.floor(hop / 2); at + length <= copy.length; at += hop) {
    if (sounds(copy, at, length)) blocks.push(at);
  }
  const found: number[] = [];
  let below = 0;
  for (const at of blocks) {
    const most = likenesses(recording, copy, at, length, 2).reduce((most, x) => Math.max(most, x), 0);
    found.push(most);
    if (most <= least && ++below > blocks.length / 2) return 0;
  }
  return median(found);
}

/** Median slope of the offset over the recording's time, over pairs of blocks of one run (Theil and Sen). */
function driftOf(path: readonly Matched[]): number {
  const slopes: number[] = [];
  for (const [i, { at, place }] of path.entries()) {
    for (let k = i + 1; place && k < path.length; k++) {
      const [next, before] = [path[k]!, path[k - 1]!];
      if (!next.place || !before.place || Math.abs(next.place.offset - before.place.offset) > 1) break;
      // Near neighbours share most of their sound and say little about a slope.
      const apart = next.at - at;
      const change = next.place.offset - place.offset;
      if (apart >= BLOCK) slopes.push(change / (apart - change));
    }
  }
  return median(slopes);
}
