import type { Samples } from '../signal/samples.ts';

/** Seconds about each place that are compared, and how far off the second may be. */
const REACH = 0.2;
const SEARCH = 0.06;
/** Hertz at which the waveform is first compared; the loudest moments of a note are told apart well below it. */
const COARSE = 11_000;
/** Below this likeness neither waveform nor attacks say where the second place lies. */
const TRUSTED = 0.5;
/** Attacks are compared in steps of this many seconds, over this many beats to either side. */
const STEP = 0.001;
const BEATS = 2;

export interface Alignment {
  /** Seconds by which the sound at the second place is later than its grid says, within 60 ms. */
  shift: number;
  /** Likeness found there, -1 to 1. */
  likeness: number;
}

/**
 * Where the sound about `to` goes on from the sound about `from`: cross-correlation of the waveforms, coarse and then to the
 * sample, together with that of their attacks; attacks alone where the waveforms are unlike; no shift where both are.
 * @param from @param to places in seconds of record time that should sound alike, as two bar lines
 * @param beat seconds a beat
 */
export function align(samples: Samples, from: number, to: number, beat: number): Alignment {
  const { rate } = samples;
  const factor = Math.max(1, Math.floor(rate / COARSE));
  const search = Math.round((SEARCH * rate) / factor);
  const window = (at: number, reach: number, by: number) =>
    monoAround(samples, at * rate, Math.round(reach * rate), by);
  const a = window(from, REACH, factor);
  const b = window(to, REACH + (search * factor) / rate, factor);
  const waves = correlations(a, b);
  const attacks = attackLags(samples, from, to, beat);
  let best = 0;
  let score = Number.NEGATIVE_INFINITY;
  for (const [i, wave] of waves.entries()) {
    const lag = ((i - search) * factor) / rate;
    const together = wave + (attacks[Math.round((lag + SEARCH) / STEP)] ?? 0);
    if (together > score) {
      score = together;
      best = i;
    }
  }
  const shift = ((best - search) * factor) / rate;
  if (waves[best]! >= TRUSTED) {
    const fine = correlations(
      monoAround(samples, from * rate, Math.round(REACH * rate), 1),
      monoAround(samples, (to + shift) * rate, Math.round(REACH * rate) + 2 * factor, 1),
    );
    const peak = fine.indexOf(Math.max(...fine));
    return { shift: shift + (peak - 2 * factor) / rate, likeness: fine[peak]! };
  }
  const loudest = attacks.indexOf(Math.max(...attacks));
  const alike = attacks[loudest] ?? 0;
  return alike >= TRUSTED
    ? { shift: loudest * STEP - SEARCH, likeness: alike }
    : { shift: 0, likeness: alike };
}

/**
 * Seconds by which the attacks about `to` come later than those about `from` (negative: earlier); null where they are too
 * unlike to tell. Good to a fifth of a millisecond: the top of the correlation is placed between its steps by a parabola.
 */
export function beatError(samples: Samples, from: number, to: number, beat: number): number | null {
  const attacks = attackLags(samples, from, to, beat);
  const top = attacks.indexOf(Math.max(...attacks));
  if ((attacks[top] ?? 0) < TRUSTED) return null;
  const [before, at, after] = [attacks[top - 1], attacks[top]!, attacks[top + 1]];
  if (before === undefined || after === undefined) return null;
  const bend = before - 2 * at + after;
  return (top + (bend === 0 ? 0 : (before - after) / 2 / bend)) * STEP - SEARCH;
}

/** Normalised correlation of the attacks at lags of -60 to 60 ms, a step a millisecond. */
function attackLags(samples: Samples, from: number, to: number, beat: number): number[] {
  const reach = BEATS * beat;
  return correlations(attacksAround(samples, from, reach), attacksAround(samples, to, reach + SEARCH));
}

/** Rises of the level, a step a millisecond, the middle of the list at `at`. */
function attacksAround(samples: Samples, at: number, reach: number): Float64Array {
  const { rate } = samples;
  const steps = Math.round(reach / STEP);
  const half = Math.max(1, Math.round(0.004 * rate));
  const levels = new Float64Array(2 * steps + 2);
  const whole = monoAround(samples, at * rate, Math.round(reach * rate) + 2 * half + rate * STEP, 1);
  const middle = (whole.length - 1) / 2;
  const sums = new Float64Array(whole.length + 1);
  for (let i = 0; i < whole.length; i++) sums[i + 1] = sums[i]! + whole[i]! * whole[i]!;
  for (let k = 0; k < levels.length; k++) {
    const centre = middle + Math.round((k - steps - 1) * STEP * rate);
    const power = sums[Math.min(whole.length, centre + half)]! - sums[Math.max(0, centre - half)]!;
    levels[k] = Math.log(1e-7 + power / (2 * half));
  }
  const rises = new Float64Array(2 * steps + 1);
  for (let k = 0; k < rises.length; k++) rises[k] = Math.max(0, levels[k + 1]! - levels[k]!);
  return rises;
}

/** Normalised correlation of `a` with every stretch of its length within the longer `b`, both with their means taken off. */
function correlations(a: Float64Array, b: Float64Array): number[] {
  const n = a.length;
  const mean = a.reduce((sum, x) => sum + x, 0) / n;
  const centred = a.map((x) => x - mean);
  const power = centred.reduce((sum, x) => sum + x * x, 0);
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < n; i++) {
    sum += b[i]!;
    squares += b[i]! * b[i]!;
  }
  const found: number[] = [];
  for (let lag = 0; lag + n <= b.length; lag++) {
    let product = 0;
    for (let i = 0; i < n; i++) product += centred[i]! * b[lag + i]!;
    const spread = squares - (sum * sum) / n;
    found.push(product / (Math.sqrt(power * Math.max(0, spread)) + 1e-12));
    const [gone, come] = [b[lag]!, b[lag + n] ?? 0];
    sum += come - gone;
    squares += come * come - gone * gone;
  }
  return found;
}

/** The mean of all channels from `reach` samples before a place to as many after it, each `by` samples taken together. */
function monoAround(samples: Samples, at: number, reach: number, by: number): Float64Array {
  const centre = Math.round(at);
  const half = Math.round(reach / by);
  const out = new Float64Array(2 * half + 1);
  const share = 1 / (samples.channels.length * by);
  for (const channel of samples.channels) {
    for (let k = 0; k < out.length; k++) {
      const start = centre + (k - half) * by;
      let total = 0;
      for (let i = 0; i < by; i++) total += channel[start + i] ?? 0;
      out[k]! += total * share;
    }
  }
  return out;
}
