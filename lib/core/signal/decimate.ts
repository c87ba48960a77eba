import { BLOCK } from './samples.ts';

/** The low-pass reaches this many output samples to either side. */
const REACH = 6;

/**
 * Keeps every `factor`-th sample after a Blackman-windowed sinc low-pass at 0.4 of the new rate, or at 0.5 by a factor of 2 (so that
 * every second tap is nothing). The filter is symmetric: output i stands at the time of input i * factor, with no delay. Made for
 * listening, not for playing: stop band about -60 dB.
 */
export function decimate(signal: Float32Array, factor: number): Float32Array {
  const decimator = new Decimator(signal.length, factor);
  for (let from = 0; from < signal.length; from += BLOCK)
    decimator.add(signal.subarray(from, Math.min(signal.length, from + BLOCK)));
  return decimator.end();
}

/** The same for a signal that comes block by block, at most BLOCK values in each. */
export class Decimator {
  private readonly taps: Float64Array;
  private readonly reach: number;
  private readonly out: Float32Array;
  private readonly held: Float64Array;
  /** The place in `held` of the next value to come, and of the middle of the next output. */
  private filled: number;
  private centre: number;
  private made = 0;

  /** @param length samples that will come in all */
  constructor(
    length: number,
    private readonly factor: number,
  ) {
    this.taps = halfOfLowPass(factor);
    this.reach = this.taps.length - 1;
    this.out = new Float32Array(Math.ceil(length / factor));
    this.held = new Float64Array(BLOCK + 3 * this.reach + factor);
    this.filled = this.reach;
    this.centre = this.reach;
  }

  add(block: Float32Array | Float64Array): void {
    this.held.set(block, this.filled);
    this.filled += block.length;
    this.make();
  }

  end(): Float32Array {
    this.held.fill(0, this.filled, this.filled + this.reach);
    this.filled += this.reach;
    this.make();
    return this.out;
  }

  private make(): void {
    const { taps, reach, out, held, factor, made } = this;
    const ready = Math.ceil((this.filled - reach - this.centre) / factor);
    const n = Math.max(0, Math.min(out.length - made, ready));
    if (factor === 2) halve(held, this.centre, taps, out, made, n);
    else lowPass(held, this.centre, factor, taps, out, made, n);
    const used = this.centre + n * factor - reach;
    held.copyWithin(0, used, this.filled);
    this.made += n;
    this.filled -= used;
    this.centre = reach;
  }
}

/**
 * `lowPass` by a factor of 2 written out, as the usual 44.1 and 48 kHz need it: a quarter of the time, for every second tap of a
 * half-band filter but the middle one is nothing.
 */
function halve(
  x: Float64Array,
  first: number,
  taps: Float64Array,
  out: Float32Array,
  at: number,
  n: number,
): void {
  const [t0, t1, t3, t5] = [taps[0]!, taps[1]!, taps[3]!, taps[5]!];
  const [t7, t9, t11] = [taps[7]!, taps[9]!, taps[11]!];
  for (let i = 0, c = first; i < n; i++, c += 2) {
    out[at + i] =
      t0 * x[c]! +
      (t1 * (x[c - 1]! + x[c + 1]!) + t3 * (x[c - 3]! + x[c + 3]!) + t5 * (x[c - 5]! + x[c + 5]!)) +
      (t7 * (x[c - 7]! + x[c + 7]!) + t9 * (x[c - 9]! + x[c + 9]!) + t11 * (x[c - 11]! + x[c + 11]!));
  }
}

function lowPass(
  x: Float64Array,
  first: number,
  factor: number,
  taps: Float64Array,
  out: Float32Array,
  at: number,
  n: number,
): void {
  const middle = taps[0]!;
  const count = taps.length;
  for (let i = 0, centre = first; i < n; i++, centre += factor) {
    let y = middle * x[centre]!;
    // The reach is a multiple of six.
    for (let j = 1, a = centre - 1, b = centre + 1; j < count; j += 6, a -= 6, b += 6)
      y +=
        taps[j]! * (x[a]! + x[b]!) +
        taps[j + 1]! * (x[a - 1]! + x[b + 1]!) +
        taps[j + 2]! * (x[a - 2]! + x[b + 2]!) +
        (taps[j + 3]! * (x[a - 3]! + x[b + 3]!) +
          taps[j + 4]! * (x[a - 4]! + x[b + 4]!) +
          taps[j + 5]! * (x[a - 5]! + x[b + 5]!));
    out[at + i] = y;
  }
}

/** Of the old rate's half: each second tap of a sinc falls on its zeros. */
const HALF_BAND = 0.5;

/** The middle tap and those to one side of it; with both sides they add up to 1. */
function halfOfLowPass(factor: number): Float64Array {
  if (factor === 1) return Float64Array.of(1);
  const reach = REACH * factor;
  const cutoff = factor === 2 ? HALF_BAND : 0.8 / factor;
  const taps = new Float64Array(reach + 1);
  let sum = 0;
  for (let j = 0; j <= reach; j++) {
    const x = Math.PI * j * cutoff;
    const phase = (Math.PI * j) / reach;
    const window = 0.42 + 0.5 * Math.cos(phase) + 0.08 * Math.cos(2 * phase);
    taps[j] = window * (j === 0 ? 1 : Math.sin(x) / x);
    sum += (j === 0 ? 1 : 2) * taps[j]!;
  }
  return taps.map((tap) => tap / sum);
}
