import type { Frames } from './frames.ts';

/** Beats considered at all: 50 to 230 a minute. */
const SHORTEST = 60 / 230;
const LONGEST = 60 / 50;
/** Shortest subdivision whose period may hint at a beat. */
const SHORTEST_HINT = 0.12;
const LONGEST_LAG = 5;
const PERIODS = 10;
const RELATIONS = [1, 2, 3, 4, 1 / 2, 1 / 3, 2 / 3, 3 / 2, 4 / 3, 3 / 4];
interface Play {
  tightness: number;
  widest: number;
  wait?: number;
  unheard?: number;
}

/**
 * Cost of an interval that differs from the pace: tightness x (interval / pace - 1)^2, against onsets of deviation 1 (Ellis 2007). First
 * loosely about one pace for the whole song, then tightly about the pace that was found locally, so that the chain follows
 * a drifting tempo but cannot creep over to the off-beat.
 */
const LOOSE: Play = { tightness: 300, widest: 0.2 };
const TIGHT: Play = { tightness: 2500, widest: 0.08 };
/**
 * For music that follows no clock: about the pace of a few beats, and only upon a curve that shows little but beats. A held note or a breath
 * costs `wait`; a beat at which nothing is heard costs `unheard`, so that none is laid into it. By trial on songs of the fit's side.
 */
const FREE: Play = { tightness: 30, widest: 0.45, wait: 2.5, unheard: 0.8 };
const FREELY: Play = { tightness: 60, widest: 0.4, wait: 2.5, unheard: 0.8 };
const FREE_PACE_OVER = 4;
/** No wait is longer than so many beats. */
const LONGEST_WAIT = 2.6;
/** A chain begins and ends within a period and this share of it of the curve's ends. */
const WIDEST_STEP = 0.25;
/** The local pace is the median interval of so many beats to either side. */
const PACE_OVER = 16;

/** Seconds between beats that a curve suggests (onsets, or beats as the learned ear hears them), the best supported first, at most PERIODS, 4 % apart or more. */
export function periodsOf(curve: Float32Array, rate: number): number[] {
  const lagged = autocorrelation(curve, Math.ceil(LONGEST_LAG * rate));
  const strongest = (lag: number): number => {
    let best = -1;
    const reach = Math.max(1, lag * 0.015);
    for (let l = Math.floor(lag - reach); l <= Math.ceil(lag + reach); l++)
      best = Math.max(best, lagged[l] ?? -1);
    return best;
  };
  const support = (period: number): number => {
    const lag = period * rate;
    let sum = 0;
    for (let n = 1; n <= 4; n++) sum += strongest(n * lag);
    return sum / 4;
  };
  const peaks: { lag: number; height: number }[] = [];
  for (let l = Math.floor(SHORTEST_HINT * rate); l < 2.5 * rate; l++) {
    const [a, b, c] = [lagged[l - 1]!, lagged[l]!, lagged[l + 1]!];
    if (b <= a || b < c || b <= 0) continue;
    peaks.push({ lag: l + (a - c) / (2 * (a - 2 * b + c)), height: b });
  }
  peaks.sort((a, b) => b.height - a.height);
  const candidates = peaks
    .slice(0, 8)
    .flatMap(({ lag }) => RELATIONS.map((relation) => (lag * relation) / rate))
    .filter((period) => period >= SHORTEST && period <= LONGEST)
    .map((period) => ({ period, support: support(period) }))
    .sort((a, b) => b.support - a.support);
  const kept: number[] = [];
  for (const { period } of candidates) {
    if (kept.length === PERIODS) break;
    if (kept.every((other) => Math.abs(Math.log(period / other)) > 0.04)) kept.push(period);
  }
  return kept;
}

/** Correlation of a curve with itself at lags 0 .. `lags`, mean taken off, 1 at lag 0. */
function autocorrelation(curve: Float32Array, lags: number): Float64Array {
  let mean = 0;
  for (let i = 0; i < curve.length; i++) mean += curve[i]! / curve.length;
  const count = curve.length;
  const centred = new Float64Array(count + lags + 3);
  for (let i = 0; i < count; i++) centred[i] = curve[i]! - mean;
  const out = new Float64Array(lags + 1);
  // Three lags at a time, with silence after the end: each sum's next step waits for the one before.
  for (let l = 0; l <= lags; l += 3) {
    let [a, b, c] = [0, 0, 0];
    for (let i = 0, at = l; i < count; i++, at++) {
      const x = centred[i]!;
      a += x * centred[at]!;
      b += x * centred[at + 1]!;
      c += x * centred[at + 2]!;
    }
    out.set([a, b, c].slice(0, lags + 1 - l), l);
  }
  for (let l = 0; l <= lags; l++) out[l]! /= Math.max(1, count - l);
  const scale = 1 / (out[0]! || 1);
  for (let l = 0; l <= lags; l++) out[l]! *= scale;
  return out;
}

/**
 * The chain of moments, about a period apart, that gathers most onset: dynamic programming after Ellis 2007, in two passes.
 * @param curve onsets, see `widened`, at `rate` a second
 * @param period seconds
 * @returns seconds of record time, ascending, over the whole curve
 */
export function track(curve: Float32Array, rate: number, period: number): number[] {
  const step = period * rate;
  const loose = bestChain(curve, () => step, step, LOOSE);
  const tight = bestChain(curve, localPace(loose, step), step, TIGHT);
  return tight.map((i) => i / rate);
}

/** The same where the tempo goes up and down within a phrase. */
export function trackFreely(curve: Float32Array, rate: number, period: number): number[] {
  const step = period * rate;
  const first = bestChain(curve, () => step, step, FREE);
  const second = bestChain(curve, localPace(first, step, FREE_PACE_OVER), step, FREELY);
  return second.map((i) => i / rate);
}

/** Median interval about each beat of a chain, as a function of the frame. */
function localPace(chain: number[], step: number, over = PACE_OVER): (frame: number) => number {
  const intervals = chain.slice(1).map((at, i) => at - chain[i]!);
  const paces = intervals.map((_, i) => {
    const around = intervals.slice(Math.max(0, i - over), i + over + 1);
    // Intervals are whole frames: the mean of the middle half is finer than the median.
    const sorted = around.sort((a, b) => a - b);
    const middle = sorted.slice(Math.floor(sorted.length / 4), Math.ceil((3 * sorted.length) / 4));
    return middle.reduce((sum, x) => sum + x, 0) / Math.max(1, middle.length);
  });
  let place = 0;
  return (frame) => {
    while (place > 0 && chain[place]! > frame) place--;
    while (place + 1 < chain.length && chain[place + 1]! <= frame) place++;
    return paces[Math.min(place, paces.length - 1)] ?? step;
  };
}

function bestChain(
  curve: Float32Array,
  pace: (frame: number) => number,
  step: number,
  { tightness, widest, wait, unheard = 0 }: Play,
): number[] {
  const longest = wait === undefined ? 1 + widest : LONGEST_WAIT;
  const far = Math.ceil(step * (1 + WIDEST_STEP));
  const score = new Float64Array(curve.length);
  const from = new Int32Array(curve.length).fill(-1);
  let local = 0;
  let shortest = 1;
  let costs: Float64Array = new Float64Array(0);
  for (let i = 0; i < curve.length; i++) {
    const now = pace(i);
    if (now !== local) {
      local = now;
      shortest = Math.max(1, Math.floor(local * (1 - widest)));
      costs = costsOf(shortest, Math.ceil(local * longest), local, tightness, wait);
    }
    const count = Math.min(costs.length, i - shortest + 1);
    let best = i < far ? 0 : Number.NEGATIVE_INFINITY;
    let back = -1;
    for (let k = 0, before = i - shortest; k < count; k++, before--) {
      const s = score[before]! - costs[k]!;
      if (s > best) {
        best = s;
        back = before;
      }
    }
    from[i] = back;
    score[i] = best + Math.min(curve[i]!, 4) - unheard;
  }
  let at = curve.length - 1;
  for (let i = Math.max(0, curve.length - far); i < curve.length; i++) if (score[i]! > score[at]!) at = i;
  const chain: number[] = [];
  for (; at >= 0; at = from[at]!) chain.push(at);
  return chain.reverse();
}

/** What intervals of `shortest` to `longest` frames cost at a pace. */
function costsOf(
  shortest: number,
  longest: number,
  pace: number,
  tightness: number,
  wait = Number.POSITIVE_INFINITY,
): Float64Array {
  return Float64Array.from({ length: Math.max(0, longest - shortest + 1) }, (_, k) => {
    const off = (shortest + k) / pace - 1;
    const cost = tightness * off * off;
    return off > 0 ? Math.min(cost, wait) : cost;
  });
}

/** A little blur, so that onsets 10 ms off the pulse still count. */
export function widened(curve: Float32Array): Float32Array {
  const out = new Float32Array(curve.length);
  for (let i = 0; i < out.length; i++) {
    const before = i > 0 ? curve[i - 1]! : 0;
    const after = i + 1 < out.length ? curve[i + 1]! : 0;
    out[i] = 0.5 * curve[i]! + 0.25 * (before + after);
  }
  return out;
}

/** The times at `share` of the way from each beat to the next. */
export function between(beats: readonly number[], share: number): number[] {
  const out: number[] = [];
  for (let i = 0; i + 1 < beats.length; i++) out.push(beats[i]! + share * (beats[i + 1]! - beats[i]!));
  return out;
}

/** Correlation of the onsets a beat, two, three and four beats on that noise and speech stay under, and that music exceeds. */
const CLEAR_FROM = 0.05;
const CLEAR_AT = 0.12;

/** How clearly the onsets come back at the beats' interval: 0 for noise and speech, 1 for any song with an audible pulse. */
export function clarityOf(frames: Frames, beats: readonly number[]): number {
  const value = recurrence(frames, beats);
  return Math.min(1, Math.max(0, (value - CLEAR_FROM) / (CLEAR_AT - CLEAR_FROM)));
}

/** Correlation of the onset curve along the beats with itself one to four beats on, the mean of the four. */
function recurrence(frames: Frames, beats: readonly number[]): number {
  const parts = 12;
  const curve = new Float32Array(Math.max(0, beats.length - 1) * parts);
  for (let i = 0; i + 1 < beats.length; i++) {
    for (let p = 0; p < parts; p++) {
      const at = (beats[i]! + (p / parts) * (beats[i + 1]! - beats[i]!)) * frames.onsetRate;
      for (let k = -2; k <= 2; k++) curve[i * parts + p]! += frames.onset[Math.round(at) + k] ?? 0;
    }
  }
  const lagged = autocorrelation(curve, 4 * parts);
  return (lagged[parts]! + lagged[2 * parts]! + lagged[3 * parts]! + lagged[4 * parts]!) / 4;
}
