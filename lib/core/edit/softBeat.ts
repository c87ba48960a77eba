import { powerSpectrum } from '../signal/fft.ts';
import type { Samples } from '../signal/samples.ts';
import { hann, nearestPowerOfTwo } from '../signal/window.ts';

/** Seconds: window of a spectrum, step from one to the next, and over how many steps a rise is taken. */
const WINDOW = 0.046;
const STEP = 0.002;
const RISE = 5;
/** Hertz at which it is listened, and the edges of the bands. */
const RATE = 11_000;
const BANDS = 20;
const [LOWEST, HIGHEST] = [90, 5000];
/** Beats to either side, and how far off the second place may be, seconds. */
export const BEATS = 4;
/** So many of them tell the error, where a wrong tempo matters least; the others, how far they can be trusted. */
const NEAR = 2;
/** Seconds by which good players stray from the beat together: no measurement is surer of where it is. */
const PLAYERS = 0.002;
const SEARCH = 0.06;
/** Powers this far below the stretch's mean are not heard as notes. */
const FLOOR = 1e-3;
/** Below this likeness, or above this uncertainty in seconds, nothing is said. */
const ALIKE = 0.25;
const UNSURE = 0.008;

export interface SoftBeat {
  /** Seconds by which the notes about the second place come later than those about the first. */
  error: number;
  /**
   * Seconds, one standard deviation: from leaving out one beat after the other (jackknife), what beats farther off say, and
   * how exactly people play.
   */
  uncertainty: number;
}

/**
 * The beat error where no clear attacks are, as in plucked and bowed music: rises of the level in twenty bands, four beats to either
 * side, correlated between the two places. Null where the beats do not agree on one answer.
 * @param from @param to places that should lie alike in the bar
 */
export function softBeatError(samples: Samples, from: Place, to: Place): SoftBeat | null {
  const beat = (from.before + from.after) / 2;
  const reach = Math.round((BEATS * beat) / STEP);
  const search = Math.round(SEARCH / STEP);
  const a = rises(samples, from, beat, reach);
  const b = rises(samples, to, beat, reach + search);
  const perBeat = Math.round(beat / STEP);
  const parts: Sums[][] = [];
  for (let at = 0; at + perBeat <= 2 * reach + 1; at += perBeat) {
    parts.push(sumsOf(a, b, at, at + perBeat, 2 * search + 1));
  }
  const near = parts.slice(BEATS - NEAR, BEATS + NEAR);
  const [all, found] = [topOf(parts, -1), topOf(near, -1)];
  if (!all || !found || all.height < ALIKE || found.height < ALIKE) return null;
  const others = near.map((_, i) => topOf(near, i)?.at);
  if (others.some((at) => at === undefined)) return null;
  const n = others.length;
  const middle = others.reduce<number>((sum, at) => sum + at! / n, 0);
  const spread = others.reduce<number>((sum, at) => sum + (at! - middle) ** 2, 0);
  const jackknife = STEP * Math.sqrt(((n - 1) / n) * spread);
  const uncertainty = Math.hypot(jackknife, STEP * (found.at - all.at), PLAYERS);
  return uncertainty > UNSURE ? null : { error: (found.at - search) * STEP, uncertainty };
}

/** A place in the record, and the seconds of a beat before it and after it. */
export interface Place {
  at: number;
  before: number;
  after: number;
}

interface Sums {
  ab: number;
  aa: number;
  bb: number;
}

/** Products of one beat at each lag. */
function sumsOf(a: Float64Array[], b: Float64Array[], from: number, to: number, lags: number): Sums[] {
  return Array.from({ length: lags }, (_, lag) => {
    const sums = { ab: 0, aa: 0, bb: 0 };
    for (const [band, curve] of a.entries()) {
      const other = b[band]!;
      for (let i = from; i < to; i++) {
        const [x, y] = [curve[i]!, other[i + lag]!];
        sums.ab += x * y;
        sums.aa += x * x;
        sums.bb += y * y;
      }
    }
    return sums;
  });
}

/** The lag, in steps, at which all beats but one are likest; null where that is at either end of those tried. */
function topOf(parts: readonly Sums[][], without: number): { at: number; height: number } | null {
  const curve = parts[0]!.map((_, lag) => {
    const total = { ab: 0, aa: 0, bb: 0 };
    for (const [i, part] of parts.entries()) {
      if (i === without) continue;
      total.ab += part[lag]!.ab;
      total.aa += part[lag]!.aa;
      total.bb += part[lag]!.bb;
    }
    return total.ab / (Math.sqrt(total.aa * total.bb) + 1e-12);
  });
  const top = curve.indexOf(Math.max(...curve));
  const [before, height, after] = [curve[top - 1], curve[top]!, curve[top + 1]];
  if (before === undefined || after === undefined) return null;
  const bend = before - 2 * height + after;
  return { at: top + (bend === 0 ? 0 : (before - after) / 2 / bend), height };
}

/** Rises of the level in each band and, last, in all together, means taken off; step i stands for (i - reach) steps from `at`. */
function rises(samples: Samples, place: Place, beat: number, reach: number): Float64Array[] {
  const factor = Math.max(1, Math.floor(samples.rate / RATE));
  const rate = samples.rate / factor;
  const size = nearestPowerOfTwo(rate * WINDOW);
  const count = 2 * reach + 1 + RISE;
  // Within the search of the place time runs as it is; farther out, as if both places had one tempo.
  const timeOf = (step: number) => {
    const by = (step - reach - RISE) * STEP;
    const beyond = Math.max(0, Math.abs(by) - SEARCH);
    const pace = (by < 0 ? place.before : place.after) / beat;
    return place.at + Math.sign(by) * (Math.min(Math.abs(by), SEARCH) + beyond * pace);
  };
  const first = Math.round(timeOf(0) * rate) - size / 2;
  const last = Math.round(timeOf(count - 1) * rate) + size / 2;
  const signal = stretch(samples, first, last - first + 1, factor);
  const spectrum = powerSpectrum(size, hann(size));
  const power = new Float32Array(size / 2 + 1);
  const edges = Array.from({ length: BANDS + 1 }, (_, k) =>
    Math.round((LOWEST * (HIGHEST / LOWEST) ** (k / BANDS) * size) / rate),
  );
  const powers = Array.from({ length: BANDS }, () => new Float64Array(count));
  for (let i = 0; i < count; i++) {
    spectrum(signal, Math.round(timeOf(i) * rate) - size / 2 - first, power);
    for (const [k, curve] of powers.entries()) {
      for (let bin = edges[k]!; bin < Math.max(edges[k]! + 1, edges[k + 1]!); bin++) {
        curve[i]! += power[bin] ?? 0;
      }
    }
  }
  const mean = powers.reduce((sum, curve) => sum + curve.reduce((a, b) => a + b, 0), 0) / count / BANDS;
  const curves = powers.map((curve) => {
    const levels = curve.map((x) => Math.log(x + FLOOR * mean + 1e-20));
    return Float64Array.from({ length: count - RISE }, (_, i) => Math.max(0, levels[i + RISE]! - levels[i]!));
  });
  const all = curves[0]!.map((_, i) => curves.reduce((sum, curve) => sum + curve[i]!, 0));
  return [...curves, all].map((curve) => {
    const middle = curve.reduce((sum, x) => sum + x, 0) / curve.length;
    return curve.map((x) => x - middle);
  });
}

/** The mean of all channels from a place on, `by` samples taken together. */
function stretch({ channels }: Samples, first: number, length: number, by: number): Float32Array {
  const share = 1 / (channels.length * by);
  return Float32Array.from({ length }, (_, i) => {
    let sum = 0;
    for (const channel of channels) {
      for (let k = 0; k < by; k++) sum += channel[(first + i) * by + k] ?? 0;
    }
    return sum * share;
  });
}
