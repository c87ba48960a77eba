import { monoFrom, type Samples } from '../signal/samples.ts';

/** Seconds about each place that are compared, and how far off the second may be. */
const REACH = 0.2;
const SEARCH = 0.006;
/** Hertz at which the waveforms are compared one after the other, before at all their samples: about its best place each time. */
const ROUGHLY = [2_750, 11_000];
/** Below this likeness the two are not one sound played twice, and its waves say nothing of where the beat is. */
const SAME_SOUND = 0.8;
/** The same at the roughest, which may lie between two of its steps. */
const DOUBTFUL = 0.6;

/**
 * Seconds by which the same sound about `to` comes later than about `from`, by cross-correlation of the waveforms, coarse and then
 * to the sample, at most 6 ms either way; null where it is not the same sound. Music played anew is never the same sound: there
 * one note's waves drew the beat of all others off by up to 20 ms in trials.
 * @param from @param to places in seconds of record time that should sound alike, as two bar lines
 */
export function sameSoundAt(samples: Samples, from: number, to: number): number | null {
  const { rate } = samples;
  const reach = Math.round(REACH * rate);
  let shift = 0;
  let search = SEARCH;
  for (const hertz of [...ROUGHLY, rate]) {
    const by = Math.max(1, Math.floor(rate / hertz));
    const steps = Math.ceil((search * rate) / by);
    const found = correlations(
      monoAround(samples, from * rate, reach, by),
      monoAround(samples, (to + shift) * rate, reach + steps * by, by),
    );
    const best = found.indexOf(Math.max(...found));
    if (found[best]! < (hertz === ROUGHLY[0] ? DOUBTFUL : SAME_SOUND)) return null;
    shift += ((best - steps) * by) / rate;
    search = (2 * by) / rate;
  }
  return shift;
}

/** Normalised correlation of `a` with every stretch of its length within the longer `b`, both with their means taken off. */
function correlations(a: Float32Array, b: Float32Array): number[] {
  const n = a.length;
  const mean = a.reduce((sum, x) => sum + x, 0) / n;
  const centred = Float64Array.from(a, (x) => x - mean);
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
function monoAround(samples: Samples, at: number, reach: number, by: number): Float32Array {
  const half = Math.round(reach / by);
  return monoFrom(samples, Math.round(at) - half * by, 2 * half + 1, by);
}
