import { type Biquad, kWeighting } from '../signal/biquad.ts';
import { lengthOf, type Samples } from '../signal/samples.ts';

/** Quarters of a gating block's step: energies are kept for every 50 ms. */
const CELL = 0.05;
const CELLS_A_BLOCK = 8;
const CELLS_A_STEP = 2;
const ABSOLUTE_GATE = -70;
const RELATIVE_GATE = -10;
/** Nothing at all reads as this, LUFS and dBTP. */
export const SILENCE = -120;

/** K-weighted energy of all channels in cells of 50 ms, from which every loudness is derived. */
export interface Energies {
  cells: Float64Array;
}

/** Surround channels weigh 1.41, the low-frequency channel nothing (BS.1770-4, table 3; order left, right, centre, low, two surrounds). */
const WEIGHTS: Record<number, readonly number[]> = { 5: [1, 1, 1, 1.41, 1.41], 6: [1, 1, 1, 0, 1.41, 1.41] };

/** One pass over the samples; NaN and infinities count as silence. */
export function energiesOf(samples: Samples): Energies {
  const length = lengthOf(samples);
  const cells = new Float64Array(Math.floor(length / samples.rate / CELL + 1e-9));
  const stages = kWeighting(samples.rate);
  const weighed = samples.channels
    .map((x, c) => ({ x, weight: WEIGHTS[samples.channels.length]?.[c] ?? 1 }))
    .filter(({ weight }) => weight > 0);
  for (let c = 0; c < weighed.length; c += 2) {
    const one = weighed[c]!;
    addEnergies(one, weighed[c + 1] ?? { ...one, weight: 0 }, samples.rate, stages, cells);
  }
  return { cells };
}

interface Weighed {
  x: Float32Array;
  weight: number;
}

/** Two channels side by side: the filter's next step waits for the one before, and one channel's step fills the other's wait. */
function addEnergies(
  one: Weighed,
  two: Weighed,
  rate: number,
  [shelf, pass]: [Biquad, Biquad],
  cells: Float64Array,
): void {
  const [x, v] = [one.x, two.x];
  const [b0, b1, b2] = shelf.b;
  const [a1, a2] = shelf.a;
  const [c1, c2] = pass.a;
  // Transposed direct form II; what a next step waits for comes last in a sum.
  let [s1, s2, p1, p2] = [0, 0, 0, 0];
  let [t1, t2, q1, q2] = [0, 0, 0, 0];
  for (let cell = 0, i = 0; cell < cells.length; cell++) {
    const end = Math.round((cell + 1) * CELL * rate);
    const begin = i;
    let [sum, sum2] = [0, 0];
    for (; i < end; i++) {
      const sample = x[i]!;
      const value = sample - sample === 0 ? sample : 0;
      const y = b0 * value + s1;
      s1 = b1 * value + s2 - a1 * y;
      s2 = b2 * value - a2 * y;
      const z = y + p1;
      p1 = p2 - 2 * y - c1 * z;
      p2 = y - c2 * z;
      sum += z * z;
      const sample2 = v[i]!;
      const value2 = sample2 - sample2 === 0 ? sample2 : 0;
      const y2 = b0 * value2 + t1;
      t1 = b1 * value2 + t2 - a1 * y2;
      t2 = b2 * value2 - a2 * y2;
      const z2 = y2 + q1;
      q1 = q2 - 2 * y2 - c1 * z2;
      q2 = y2 - c2 * z2;
      sum2 += z2 * z2;
    }
    cells[cell]! += (one.weight * sum + two.weight * sum2) / Math.max(1, end - begin);
  }
}

const lufs = (energy: number): number => (energy <= 1e-12 ? SILENCE : -0.691 + 10 * Math.log10(energy));

/** Mean energy of the 400 ms that begin at a cell; what lies outside the recording is left out of the mean. */
function blockEnergy(cells: Float64Array, from: number): number {
  let sum = 0;
  let n = 0;
  for (let c = Math.max(0, from); c < Math.min(cells.length, from + CELLS_A_BLOCK); c++, n++)
    sum += cells[c]!;
  return n === 0 ? 0 : sum / n;
}

/**
 * Integrated loudness in LUFS: 400 ms blocks, 75 % overlap, gated at -70 LUFS and then 10 LU below what is left (BS.1770-4).
 * SILENCE when no block passes.
 */
export function integratedLoudness(samples: Samples, energies: Energies = energiesOf(samples)): number {
  const { cells } = energies;
  const blocks: number[] = [];
  for (let c = 0; c + CELLS_A_BLOCK <= cells.length; c += CELLS_A_STEP) blocks.push(blockEnergy(cells, c));
  const mean = (list: number[]): number =>
    list.length === 0 ? 0 : list.reduce((sum, e) => sum + e, 0) / list.length;
  const audible = blocks.filter((e) => lufs(e) >= ABSOLUTE_GATE);
  const gate = lufs(mean(audible)) + RELATIVE_GATE;
  return lufs(mean(audible.filter((e) => lufs(e) >= gate)));
}

/** Momentary loudness (400 ms) in LUFS about the middle of every frame of `frame` seconds. */
export function momentaryLoudness(energies: Energies, frame: number): Float32Array {
  const { cells } = energies;
  const out = new Float32Array(Math.ceil((cells.length * CELL) / frame - 1e-9));
  for (let i = 0; i < out.length; i++) {
    out[i] = lufs(blockEnergy(cells, Math.round(((i + 0.5) * frame) / CELL) - CELLS_A_BLOCK / 2));
  }
  return out;
}

/** Taps to either side of a sample for each of the four phases of the interpolator. */
const REACH = 8;
const PHASES = 4;

/**
 * Highest level between the samples, dBTP: four times oversampling by a Hann-windowed sinc of 16 taps a phase (BS.1770-4 annex 2
 * prints a 12-tap one; this is a little closer to the true curve).
 */
export function truePeak(samples: Samples): number {
  const phases = [1, 2, 3].map((phase) => interpolator(phase / PHASES));
  let peak = 0;
  for (const channel of samples.channels) peak = highest(channel, phases, peak);
  return peak <= 1e-6 ? SILENCE : 20 * Math.log10(peak);
}

function interpolator(share: number): Float64Array {
  const taps = new Float64Array(2 * REACH);
  for (let j = 0; j < taps.length; j++) {
    const x = j - REACH + 1 - share;
    const window = 0.5 + 0.5 * Math.cos((Math.PI * x) / (REACH + 0.5));
    taps[j] = (window * Math.sin(Math.PI * x)) / (Math.PI * x);
  }
  return taps;
}

/**
 * The highest level of a channel, or `start` if that is higher. Between samples it is looked for only beside those that reach half
 * the peak so far and have no higher neighbour: in music the highest point lies beside the highest samples. A burst just below half
 * the sample rate could escape it. NaN and infinities count as silence.
 */
function highest(x: Float32Array, phases: readonly Float64Array[], start: number): number {
  const bits = new Int32Array(x.buffer, x.byteOffset, x.length);
  let peak = start;
  for (let i = nextAbove(peak / 2, bits, 0); i < x.length; i = nextAbove(peak / 2, bits, i + 1)) {
    const level = Math.abs(x[i]!);
    if (!(level < Number.POSITIVE_INFINITY)) continue;
    if (Math.abs(x[i - 1] ?? 0) > level || Math.abs(x[i + 1] ?? 0) > level) continue;
    peak = Math.max(peak, level);
    for (const taps of phases) peak = Math.max(peak, levelBetween(x, i - 1, taps), levelBetween(x, i, taps));
  }
  return peak;
}

/**
 * The first sample from `i` on that is higher than `level`, or no number; the length if there is none. Looked for in the bits of the
 * samples: without that of the sign, floats have the order of the whole numbers (IEEE 754). Twice as fast.
 */
function nextAbove(level: number, bits: Int32Array, i: number): number {
  LEVEL[0] = level;
  const most = LEVEL_BITS[0]!;
  let at = i;
  while (
    at + 3 < bits.length &&
    (bits[at]! & UNSIGNED) <= most &&
    (bits[at + 1]! & UNSIGNED) <= most &&
    (bits[at + 2]! & UNSIGNED) <= most &&
    (bits[at + 3]! & UNSIGNED) <= most
  )
    at += 4;
  while (at < bits.length && (bits[at]! & UNSIGNED) <= most) at++;
  return at;
}

/** All bits but the sign's. */
const UNSIGNED = 0x7fffffff;
const LEVEL = new Float32Array(1);
const LEVEL_BITS = new Int32Array(LEVEL.buffer);

/** The level at the taps' share of the way from sample `i` to the next; 0 beside NaN and infinities. */
function levelBetween(x: Float32Array, i: number, taps: Float64Array): number {
  const first = i - REACH + 1;
  let y = 0;
  if (first >= 0 && first + taps.length <= x.length) {
    for (let j = 0; j < taps.length; j++) y += taps[j]! * x[first + j]!;
  } else {
    for (let j = 0; j < taps.length; j++) y += taps[j]! * (x[first + j] ?? 0);
  }
  return y - y === 0 ? Math.abs(y) : 0;
}
