import { Spectrum } from '../signal/fft.ts';
import type { Samples } from '../signal/samples.ts';
import { hann, nearestPowerOfTwo } from '../signal/window.ts';

/** Seconds: window of a spectrum, about how far from one to the next, and over how many steps a rise is taken. */
const WINDOW = 0.046;
const STEP = 0.006;
const RISE = 2;
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
const UNSURE = 0.01;

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
 * The beat error between two places, in plucked and bowed music as well as with drums: rises of the level in twenty bands, four
 * beats to either side, correlated between the two. Null where the beats do not agree on one answer.
 * @param from @param to places that should lie alike in the bar
 */
export function softBeatError(samples: Samples, from: Place, to: Place): SoftBeat | null {
  const beat = (from.before + from.after + to.before + to.after) / 4;
  return beatBetween(risesAt(samples, from, beat), risesAt(samples, to, beat));
}

/** The same of what was heard at the two places, by the same `beat`. */
export function beatBetween(from: Rises, to: Rises): SoftBeat | null {
  const { perBeat, search } = from;
  const { step } = to;
  const parts = Array.from({ length: 2 * BEATS }, (_, k) => sumsOf(from, to, k * perBeat));
  const near = parts.slice(BEATS - NEAR, BEATS + NEAR);
  const [all, found] = [topOf(parts, -1), topOf(near, -1)];
  if (!all || !found || all.height < ALIKE || found.height < ALIKE) return null;
  const others = near.map((_, i) => topOf(near, i)?.at);
  if (others.some((at) => at === undefined)) return null;
  const n = others.length;
  const middle = others.reduce<number>((sum, at) => sum + at! / n, 0);
  const spread = others.reduce<number>((sum, at) => sum + (at! - middle) ** 2, 0);
  const jackknife = step * Math.sqrt(((n - 1) / n) * spread);
  const uncertainty = Math.hypot(jackknife, step * (found.at - all.at), PLAYERS);
  return uncertainty > UNSURE ? null : { error: (found.at - search) * step, uncertainty };
}

/** A place in the record, and the seconds of a beat before it and after it. */
export interface Place {
  at: number;
  before: number;
  after: number;
}

/** What is heard about a place, in steps of its own beats, so that places of unlike tempo can be laid side by side. */
export interface Rises {
  /** Rises of the level in each band and, last, in all together, means taken off; `search` steps more at either end. */
  curves: Float64Array[];
  /** Steps a beat, and how many steps off the other place may be. */
  perBeat: number;
  search: number;
  /** Seconds of a step next to the place. */
  step: number;
}

interface Sums {
  ab: number;
  aa: number;
  bb: number;
}

/** Products of the beat that begins `at` steps from the first, at each lag. */
function sumsOf(a: Rises, b: Rises, at: number): Sums[] {
  const { perBeat, search } = a;
  const all = Array.from({ length: 2 * search + 1 }, () => ({ ab: 0, aa: 0, bb: 0 }));
  for (const [band, x] of a.curves.entries()) {
    const y = b.curves[band]!;
    let aa = 0;
    for (let i = search + at; i < search + at + perBeat; i++) aa += x[i]! * x[i]!;
    for (let lag = 0; lag <= 2 * search; lag++) {
      const shift = lag - search;
      let [ab, bb] = [0, 0];
      for (let i = search + at; i < search + at + perBeat; i++) {
        const value = y[i + shift]!;
        ab += x[i]! * value;
        bb += value * value;
      }
      const sums = all[lag]!;
      sums.ab += ab;
      sums.aa += aa;
      sums.bb += bb;
    }
  }
  return all;
}

/** How alike one beat is at both places, 0 to 1; `beat` from 0, those after the place from `BEATS` on. */
export function beatLikeness(a: Rises, b: Rises, beat: number): number {
  return Math.max(0, topOf([sumsOf(a, b, beat * a.perBeat)], -1)?.height ?? 0);
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

/** @param beat seconds of a beat in the whole song, which says how many steps there are to one of this place */
export function risesAt(samples: Samples, place: Place, beat: number): Rises {
  const factor = Math.max(1, Math.floor(samples.rate / RATE));
  const rate = samples.rate / factor;
  const size = nearestPowerOfTwo(rate * WINDOW);
  const perBeat = Math.round(beat / STEP);
  const search = Math.round(SEARCH / STEP);
  const reach = BEATS * perBeat + search;
  const count = 2 * reach + RISE;
  const timeOf = (i: number) => {
    const by = i - reach - RISE;
    return place.at + (by * (by < 0 ? place.before : place.after)) / perBeat;
  };
  const first = Math.round(timeOf(0) * rate) - size / 2;
  const last = Math.round(timeOf(count - 1) * rate) + size / 2;
  const signal = stretch(samples, first, last - first + 1, factor);
  const spectrum = new Spectrum(size, hann(size));
  const power = new Float32Array(size / 2 + 1);
  const edges = Array.from({ length: BANDS + 1 }, (_, k) =>
    Math.round((LOWEST * (HIGHEST / LOWEST) ** (k / BANDS) * size) / rate),
  );
  const powers = Array.from({ length: BANDS }, () => new Float64Array(count));
  for (let i = 0; i < count; i++) {
    spectrum.powers(signal, Math.round(timeOf(i) * rate) - size / 2 - first, power);
    for (let k = 0; k < BANDS; k++) {
      const end = Math.max(edges[k]! + 1, edges[k + 1]!);
      let sum = 0;
      for (let bin = edges[k]!; bin < end; bin++) sum += power[bin]!;
      powers[k]![i] = sum;
    }
  }
  const mean = powers.reduce((sum, curve) => sum + curve.reduce((a, b) => a + b, 0), 0) / count / BANDS;
  const curves = powers.map((curve) => {
    const levels = curve.map((x) => Math.log(x + FLOOR * mean + 1e-20));
    return Float64Array.from({ length: count - RISE }, (_, i) => Math.max(0, levels[i + RISE]! - levels[i]!));
  });
  const all = curves[0]!.map((_, i) => curves.reduce((sum, curve) => sum + curve[i]!, 0));
  const centred = [...curves, all].map((curve) => {
    const middle = curve.reduce((sum, x) => sum + x, 0) / curve.length;
    return curve.map((x) => x - middle);
  });
  return { curves: centred, perBeat, search, step: (place.before + place.after) / 2 / perBeat };
}

/** The mean of all channels from a place on, `by` samples taken together. */
function stretch({ channels }: Samples, first: number, length: number, by: number): Float32Array {
  const share = 1 / (channels.length * by);
  const out = new Float32Array(length);
  for (const channel of channels) {
    for (let i = 0, at = first * by; i < length; i++) {
      let sum = 0;
      for (let k = 0; k < by; k++, at++) sum += channel[at] ?? 0;
      out[i]! += sum * share;
    }
  }
  return out;
}
