import { Spectrum } from '../signal/fft.ts';
import { monoFrom, type Samples } from '../signal/samples.ts';
import { mean, runningSums } from '../signal/statistics.ts';
import { hann, nearestPowerOfTwo } from '../signal/window.ts';

/** Seconds: window of a spectrum, about how far from one to the next, and over how many steps a rise is taken. */
const WINDOW = 0.046;
const STEP = 0.012;
const RISE = 2;
/** Hertz at which it is listened, and the edges of the bands. */
const RATE = 11_000;
const BANDS = 20;
const [LOWEST, HIGHEST] = [90, 5000];
/** Seconds to either side that are laid side by side, but so many beats at least and at most; nearer ones weigh more. */
const REACH = 3;
const [FEWEST, MOST] = [5, 12];
/** How far off the second place may be, seconds. */
const SEARCH = 0.06;
/** Seconds by which good players stray from the beat together: no measurement is surer of where it is. */
const PLAYERS = 0.002;
/** Powers this far below the stretch's mean are not heard as notes. */
const FLOOR = 1e-3;
/** Below this likeness, or above this uncertainty in seconds, nothing is said. */
const ALIKE = 0.25;
const UNSURE = 0.01;

/** A place in a song's grid. */
export interface Place {
  /** Seconds of record time so many whole beats after it, or before it where negative. */
  timeAt(beats: number): number;
}

export interface SoftBeat {
  /** Seconds by which the notes about the second place come later than those about the first. */
  error: number;
  /**
   * Seconds, one standard deviation: from leaving out one beat after the other (jackknife), what the nearer half of the beats
   * says, and how exactly people play.
   */
  uncertainty: number;
}

/** Beats to either side of a place that are laid side by side, in a song of such beats. */
export function reachOf(beat: number): number {
  return Math.max(FEWEST, Math.min(MOST, Math.round(REACH / beat)));
}

/**
 * The beat error between two places, in plucked and bowed music as well as with drums: rises of the level in twenty bands, for
 * `reachOf` beats to either side, correlated between the two. Null where the beats do not agree on one answer.
 * @param from @param to places that should lie alike in the bar
 * @param beat seconds of a beat in the whole song
 */
export function softBeatError(samples: Samples, from: Place, to: Place, beat: number): SoftBeat | null {
  const reach = reachOf(beat);
  return beatBetween(risesAt(samples, from, beat, reach, reach), risesAt(samples, to, beat, reach, reach));
}

/** The same of what was heard about the two places, as many beats before them as after. */
export function beatBetween(from: Rises, to: Rises): SoftBeat | null {
  const { perBeat, search, before: reach } = from;
  const { step } = to;
  const parts = Array.from({ length: 2 * reach }, (_, k) => sumsOf(from, to, k * perBeat));
  const weights = parts.map((_, k) => 1 - Math.abs(k + 0.5 - reach) / (reach + 1));
  const near = weights.map((weight, k) => (Math.abs(k + 0.5 - reach) < reach / 2 ? weight : 0));
  const [all, nearer] = [topOf(parts, weights), topOf(parts, near)];
  if (!all || !nearer || all.height < ALIKE || nearer.height < ALIKE) return null;
  const others: number[] = [];
  for (let k = 0; k < parts.length; k++) {
    const top = topOf(
      parts,
      weights.map((weight, i) => (i === k ? 0 : weight)),
    );
    if (!top) return null;
    others.push(top.at);
  }
  const n = others.length;
  const middle = others.reduce((sum, at) => sum + at / n, 0);
  const spread = others.reduce((sum, at) => sum + (at - middle) ** 2, 0);
  const jackknife = step * Math.sqrt(((n - 1) / n) * spread);
  const uncertainty = Math.hypot(jackknife, step * (all.at - nearer.at), PLAYERS);
  return uncertainty > UNSURE ? null : { error: (all.at - search) * step, uncertainty };
}

/** What is heard about a place, in steps of its own beats, so that places of unlike tempo can be laid side by side. */
export interface Rises {
  /** Rises of the level in each band and, last, in all together, means taken off; `search` steps more at either end. */
  curves: Float64Array[];
  /** Beats before the place with which they begin. */
  before: number;
  /** Steps a beat, and how many steps off the other place may be. */
  perBeat: number;
  search: number;
  /** Seconds of a step next to the place. */
  step: number;
}

/** Of the products at each lag. */
interface Sums {
  ab: Float64Array;
  bb: Float64Array;
  aa: number;
}

/** Products of the beat that begins `at` steps from the first, at each lag. */
function sumsOf(a: Rises, b: Rises, at: number): Sums {
  const { perBeat, search } = a;
  const ab = new Float64Array(2 * search + 1);
  const bb = new Float64Array(2 * search + 1);
  let aa = 0;
  for (let band = 0; band < a.curves.length; band++)
    aa += addProducts(a.curves[band]!, b.curves[band]!, at, perBeat, search, ab, bb);
  return { ab, bb, aa };
}

/** Adds those of one band; returns the sum of the squares of the first. */
function addProducts(
  x: Float64Array,
  y: Float64Array,
  at: number,
  count: number,
  search: number,
  xy: Float64Array,
  yy: Float64Array,
): number {
  let square = 0;
  for (let i = search + at; i < search + at + count; i++) square += x[i]! * x[i]!;
  for (let lag = 0; lag <= 2 * search; lag++) {
    let [product, other] = [0, 0];
    for (let i = search + at, j = at + lag; j < at + lag + count; i++, j++) {
      const value = y[j]!;
      product += x[i]! * value;
      other += value * value;
    }
    xy[lag]! += product;
    yy[lag]! += other;
  }
  return square;
}

/** How alike one beat is at both places, 0 to 1; 0 is the one that begins at the place, -1 the one before. */
export function beatLikeness(a: Rises, b: Rises, beat: number): number {
  const sums = sumsOf(a, b, (a.before + beat) * a.perBeat);
  return Math.max(0, topOf([sums], [1])?.height ?? 0);
}

/** The lag, in steps, at which the beats are likest by their weights; null where that is at either end of those tried. */
function topOf(parts: readonly Sums[], weights: readonly number[]): { at: number; height: number } | null {
  const curve = parts[0]!.ab.map((_, lag) => {
    let [ab, aa, bb] = [0, 0, 0];
    for (let k = 0; k < parts.length; k++) {
      const part = parts[k]!;
      ab += weights[k]! * part.ab[lag]!;
      bb += weights[k]! * part.bb[lag]!;
      aa += weights[k]! * part.aa;
    }
    return ab / (Math.sqrt(aa * bb) + 1e-12);
  });
  const top = curve.indexOf(Math.max(...curve));
  const [before, height, after] = [curve[top - 1], curve[top]!, curve[top + 1]];
  if (before === undefined || after === undefined) return null;
  const bend = before - 2 * height + after;
  return { at: top + (bend === 0 ? 0 : (before - after) / 2 / bend), height };
}

/**
 * @param beat seconds of a beat in the whole song, which says how many steps there are to one of this place
 * @param before @param after whole beats that are listened to
 */
export function risesAt(samples: Samples, place: Place, beat: number, before: number, after: number): Rises {
  const factor = Math.max(1, Math.floor(samples.rate / RATE));
  const rate = samples.rate / factor;
  const size = nearestPowerOfTwo(rate * WINDOW);
  const perBeat = Math.max(1, Math.round(beat / STEP));
  const search = Math.round(SEARCH / STEP);
  const centres = stepsAbout(place, perBeat, before * perBeat + search + RISE, after * perBeat + search).map(
    (time) => Math.round(time * rate),
  );
  const begin = centres[0]! - size / 2;
  const signal = monoFrom(samples, begin * factor, centres.at(-1)! + size / 2 - begin, factor);
  const levels = levelsAt(
    signal,
    centres.map((centre) => centre - size / 2 - begin),
    new Spectrum(size, hann(size)),
    rate,
  );
  const curves = levels.map(rising);
  const all = Float64Array.from(curves[0]!, (_, i) => curves.reduce((sum, curve) => sum + curve[i]!, 0));
  const step = (place.timeAt(1) - place.timeAt(-1)) / 2 / perBeat;
  return { curves: [...curves, all].map(centred), before, perBeat, search, step };
}

/** Seconds of record time of so many steps before a place and from it on, even within each beat. */
function stepsAbout(place: Place, perBeat: number, before: number, after: number): number[] {
  const times: number[] = [];
  for (let beat = Math.floor(-before / perBeat); beat < after / perBeat; beat++) {
    const [from, to] = [place.timeAt(beat), place.timeAt(beat + 1)];
    for (let step = 0; step < perBeat; step++) {
      const i = beat * perBeat + step;
      if (i >= -before && i < after) times.push(from + (step / perBeat) * (to - from));
    }
  }
  return times;
}

/** The level in each band, natural logarithm of the power, in spectra that begin at such places. */
function levelsAt(
  signal: Float32Array,
  starts: readonly number[],
  spectrum: Spectrum,
  rate: number,
): Float64Array[] {
  const { size } = spectrum;
  const power = new Float32Array(size / 2 + 1);
  const below = new Float64Array(power.length + 1);
  const edges = Array.from({ length: BANDS + 1 }, (_, k) =>
    Math.round((LOWEST * (HIGHEST / LOWEST) ** (k / BANDS) * size) / rate),
  );
  const bands = Array.from({ length: BANDS }, () => new Float64Array(starts.length));
  let total = 0;
  for (let i = 0; i < starts.length; i++) {
    spectrum.powers(signal, starts[i]!, power);
    runningSums(power, below);
    for (let k = 0; k < BANDS; k++) {
      const sum = below[Math.max(edges[k]! + 1, edges[k + 1]!)]! - below[edges[k]!]!;
      bands[k]![i] = sum;
      total += sum;
    }
  }
  const floor = (FLOOR * total) / starts.length / BANDS + 1e-20;
  return bands.map((band) => band.map((x) => Math.log(x + floor)));
}

/** By how much it has risen in RISE steps. */
function rising(levels: Float64Array): Float64Array {
  const rises = new Float64Array(levels.length - RISE);
  for (let i = 0; i < rises.length; i++) rises[i] = Math.max(0, levels[i + RISE]! - levels[i]!);
  return rises;
}

function centred(curve: Float64Array): Float64Array {
  const middle = mean(curve);
  return curve.map((x) => x - middle);
}
