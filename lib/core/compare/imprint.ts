import { fromBase64, toBase64 } from '../signal/base64.ts';
import { Decimator } from '../signal/decimate.ts';
import { Spectrum } from '../signal/fft.ts';
import { durationOf, eachMixedBlock, lengthOf, type Samples } from '../signal/samples.ts';
import { runningSums } from '../signal/statistics.ts';
import { hann, nearestPowerOfTwo } from '../signal/window.ts';

/**
 * What a recording is recognised by: for each 40 ms and each of 32 pairs of neighbouring bands one bit, whether the lower
 * gained on the upper since the frame before (after Haitsma and Kalker 2002). Music cannot be heard from it. Frame i stands
 * for the moment i * FRAME; a silent one is 0.
 */
export interface Imprint {
  /** Seconds of the recording. */
  duration: number;
  words: Uint32Array;
  /**
   * The same twice as often (word 2i is that of frame i), with the bands moved by -TUNINGS to TUNINGS thirds of a band, for a copy
   * that lies between the frames or whose pitch went with its speed. Only of sound that is at hand: never stored.
   */
  finer?: Uint32Array[];
  /** Four times as often, in its own tuning: word 4i is that of frame i. After a join the music lies anywhere between the frames. */
  finest?: Uint32Array;
}

/** A tenth up or down in pitch is four thirds of a band. */
export const TUNINGS = 4;

/** Seconds a frame. */
export const FRAME = 0.04;
export const BITS = 32;
const BANDS = BITS + 1;
/** Hertz from the lowest to the highest edge; what lossy coding keeps of any song. */
const [LOWEST, HIGHEST] = [200, 3200];
/** By how much each band's edge lies above the last. */
export const BAND_STEP = (HIGHEST / LOWEST) ** (1 / BANDS);
const ANALYSIS_RATE = 11_025;
const WINDOW = 0.186;
/** A frame with less than this share of the mean power is silent. */
const SILENT = 1e-6;

/** The imprint of decoded sound, 100 bytes a second. */
export function imprintOf(samples: Samples): Imprint {
  const factor = Math.max(1, Math.floor(samples.rate / ANALYSIS_RATE));
  const lower = new Decimator(lengthOf(samples), factor);
  eachMixedBlock(samples, (block) => lower.add(block));
  const signal = lower.end();
  const rate = samples.rate / factor;
  const size = nearestPowerOfTwo(rate * WINDOW);
  const spectrum = new Spectrum(size, hann(size));
  const power = new Float32Array(size / 2 + 1);
  const count = Math.max(0, Math.floor(durationOf(samples) / FRAME));
  const sums = new Float64Array(power.length + 1);
  const tunings = Array.from({ length: 2 * TUNINGS + 1 }, (_, t) => {
    const lowest = LOWEST * BAND_STEP ** ((t - TUNINGS) / 3);
    return new BandReader(lowest, size / rate, power.length, 2 * count);
  });
  const between = new BandReader(LOWEST, size / rate, power.length, 2 * count);
  const sumsAt = (seconds: number) => {
    spectrum.powers(signal, Math.round(seconds * rate) - size / 2, power);
    runningSums(power, sums);
  };
  let whole = 0;
  for (let i = 0; i < 2 * count; i++) {
    sumsAt((i * FRAME) / 2);
    whole += sums[power.length]!;
    // What counts as silent is known only at the end; until then, a frame is silent against those before it.
    const silent = sums[power.length]! <= (SILENT * whole) / (i + 1);
    for (const tuning of tunings) tuning.read(sums, i, silent);
    sumsAt(((i + 0.5) * FRAME) / 2);
    between.read(sums, i, silent);
  }
  const finer = tunings.map(({ words }) => words);
  const own = finer[TUNINGS]!;
  const finest = Uint32Array.from(
    { length: 2 * own.length },
    (_, i) => (i % 2 === 0 ? own : between.words)[i >> 1]!,
  );
  return { duration: durationOf(samples), words: own.filter((_, i) => i % 2 === 0), finer, finest };
}

/** Reads the words of half frames one after the other from running sums of their power spectrum, each against the last but one. */
class BandReader {
  readonly words: Uint32Array;
  /** For each band the bins of the running sums at its two ends. */
  private readonly ends: Int32Array;
  private readonly begins: Int32Array;
  private earlier = new Float64Array(BITS);
  private before = new Float64Array(BITS);
  private now = new Float64Array(BITS);

  constructor(lowest: number, binsPerHertz: number, bins: number, count: number) {
    const edges = Int32Array.from({ length: BANDS + 1 }, (_, b) =>
      Math.min(bins, Math.round(lowest * BAND_STEP ** b * binsPerHertz)),
    );
    this.begins = edges.subarray(0, BANDS);
    this.ends = this.begins.map((begin, b) => Math.max(begin + 1, edges[b + 1]!));
    this.words = new Uint32Array(count);
  }

  read(sums: Float64Array, i: number, silent: boolean): void {
    const { begins, ends, earlier, before, now } = this;
    let word = 0;
    let here = sums[ends[0]!]! - sums[begins[0]!]!;
    for (let b = 0; b < BITS; b++) {
      const next = sums[ends[b + 1]!]! - sums[begins[b + 1]!]!;
      const gain = here - next;
      if (gain > earlier[b]!) word |= 1 << b;
      now[b] = gain;
      here = next;
    }
    this.words[i] = i < 2 || silent ? 0 : word;
    this.earlier = before;
    this.before = now;
    this.now = earlier;
  }
}

/** Of the text form; another version reads as no imprint. */
const VERSION = 1;
const HEADER = 5;

/** Base64 of a version byte, the duration in microseconds, and the words: under 40 KB for a song of five minutes. */
export function encodeImprint({ duration, words }: Imprint): string {
  const bytes = new Uint8Array(HEADER + 4 * words.length);
  const view = new DataView(bytes.buffer);
  bytes[0] = VERSION;
  view.setUint32(1, Math.round(duration * 1e6));
  for (let i = 0; i < words.length; i++) view.setUint32(HEADER + 4 * i, words[i]!);
  return toBase64(bytes);
}

/** Null for a text that is no imprint of this version. */
export function decodeImprint(text: string): Imprint | null {
  const bytes = fromBase64(text);
  if (bytes.length < HEADER || bytes[0] !== VERSION || (bytes.length - HEADER) % 4 !== 0) return null;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const words = Uint32Array.from({ length: (bytes.length - HEADER) / 4 }, (_, i) =>
    view.getUint32(HEADER + 4 * i),
  );
  return { duration: view.getUint32(1) / 1e6, words };
}
