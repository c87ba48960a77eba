import { median } from '../signal/statistics.ts';
import type { Activations } from './activations.ts';

/** What is known of the beats before they are looked for. Times are seconds of record time. */
export interface Known {
  /** Seconds from beat to beat that are expected about a moment. */
  pace(at: number): number;
  /** How freely the music is played: `LOOSE` or `STRICT`. */
  play: Freedom;
  /** Where a person says that beats are, ascending. */
  beats?: readonly number[];
  /** Where beats were found before: among chains as good as each other the one through these. */
  hints?: readonly number[];
  /** Stretches without beats: [from, to]. */
  silent?: readonly (readonly [number, number])[];
}

/**
 * What unevenness costs, against activations of deviation 1: `change` x ln(interval / interval before)^2 and
 * `stray` x ln(interval / pace)^2; a wait costs `wait`.
 */
export interface Freedom {
  change: number;
  stray: number;
  wait: number;
}
export const STRICT: Freedom = { change: 400, stray: 300, wait: 12 };
export const LOOSE: Freedom = { change: 60, stray: 8, wait: 9 };

/** Intervals considered, as shares of the pace. */
const WIDEST = { from: 0.62, to: 1.6 };
/** An interval may differ from the one before by so much, as a ratio. */
const STEEPEST = 1.3;
/** A wait is longer than so many beats and shorter than so many seconds, unless a person says where it is. */
const WAIT = { beats: 1.45, seconds: 8 };
/** How much a person's beat counts at its moment, in deviations, and how far from it. Seconds. */
const SAID = { height: 5, width: 0.025 };
const HINTED = { height: 0.7, width: 0.03 };
/** No single moment counts for more, in deviations. */
const MOST = 4;
/** What a beat costs at which nothing is heard, in deviations: none is laid into a silence that it need not pass. By trial. */
const UNHEARD = 0.3;
/** What a beat in a silent stretch costs. */
const FORBIDDEN = -30;

/** Beats that were followed, ascending seconds, and the indices of those after which the counts wait. */
export interface Followed {
  beats: number[];
  waits: number[];
}

/**
 * The chain of beats that gathers most activation: Viterbi over moment and interval, so that each interval is held against the one
 * before it and the tempo may go where the music takes it (the bar-pointer model's tempo state, Whiteley, Cemgil and Godsill 2006;
 * its discrete form after Krebs, Böck and Widmer 2015), with one more state in which the beat waits. A person's beats count as
 * activation, so that the chain goes through them and is heard everywhere else.
 */
export function follow(activations: Pick<Activations, 'rate' | 'beat'>, known: Known): Followed {
  const { rate } = activations;
  const gain = gainsOf(activations, known);
  const count = gain.length;
  const paces = Float64Array.from({ length: count }, (_, i) => known.pace(i / rate) * rate);
  let [slowest, fastest] = [0, Number.POSITIVE_INFINITY];
  for (const pace of paces) {
    slowest = Math.max(slowest, pace);
    fastest = Math.min(fastest, pace);
  }
  const shortest = Math.max(2, Math.floor(fastest * WIDEST.from));
  const longest = Math.ceil(slowest * WIDEST.to);
  const width = longest - shortest + 1;
  const logs = Float64Array.from({ length: width }, (_, k) => Math.log(shortest + k));
  const { change, stray, wait } = known.play;
  const score = new Float64Array(count * width).fill(Number.NEGATIVE_INFINITY);
  /** The interval before, as a place; START or WAITED. */
  const before = new Int16Array(count * width).fill(START);
  const best = new Float64Array(count).fill(Number.NEGATIVE_INFINITY);
  const waitedFrom = new Int32Array(count).fill(-1);
  const waits = new Waits(best, known.silent ?? [], rate);
  for (let i = 0; i < count; i++) {
    const pace = Math.log(paces[i]!);
    const [from, ready] = waits.at(i, Math.ceil(WAIT.beats * paces[i]!));
    waitedFrom[i] = from;
    const afterWait = from < 0 ? Number.NEGATIVE_INFINITY : best[from]! - (ready ? 0 : wait);
    for (let k = 0; k < width; k++) {
      const off = logs[k]! - pace;
      if (off > MOST_OFF || off < -MOST_OFF) continue;
      const cost = stray * off * off;
      let most = 0;
      let via = START;
      if (afterWait > most) {
        most = afterWait;
        via = WAITED;
      }
      const at = (i - shortest - k) * width;
      if (at >= 0) {
        const reach = logs[k]!;
        for (let j = Math.max(0, lowest(k, shortest)); j < width; j++) {
          const step = logs[j]! - reach;
          if (step > STEEP) break;
          const held = score[at + j]! - change * step * step;
          if (held > most) {
            most = held;
            via = j;
          }
        }
      }
      const here = most - cost + gain[i]!;
      score[i * width + k] = here;
      before[i * width + k] = via;
      if (here > best[i]!) best[i] = here;
    }
  }
  return walkedBack({ rate, width, shortest, score, before, best, waitedFrom });
}

const START = -1;
const WAITED = -2;
const STEEP = Math.log(STEEPEST);
const MOST_OFF = Math.log(WIDEST.to);

/** Place of the shortest interval from which one may come to the k-th. */
const lowest = (k: number, shortest: number): number => Math.ceil((shortest + k) / STEEPEST) - shortest;

/** Activation in deviations over the song, less a little everywhere, with what people said of it. */
function gainsOf(
  { beat, rate }: Pick<Activations, 'rate' | 'beat'>,
  { beats = [], hints = [], silent = [] }: Known,
): Float64Array {
  let square = 0;
  for (const x of beat) square += x * x;
  const scale = 1 / Math.sqrt(square / Math.max(1, beat.length) + 1e-12);
  const gain = Float64Array.from(beat, (_, i) => {
    const near = 0.5 * beat[i]! + 0.25 * ((beat[i - 1] ?? 0) + (beat[i + 1] ?? 0));
    return Math.min(MOST, near * scale) - UNHEARD;
  });
  for (const [moments, { height, width }] of [
    [beats, SAID],
    [hints, HINTED],
  ] as const) {
    for (const at of moments) {
      const from = Math.max(0, Math.ceil((at - 4 * width) * rate));
      for (let i = from; i <= (at + 4 * width) * rate && i < gain.length; i++) {
        gain[i]! += height * Math.exp(-(((i / rate - at) / width) ** 2) / 2);
      }
    }
  }
  for (const [from, to] of silent) {
    for (let i = Math.max(0, Math.ceil(from * rate)); i < Math.min(gain.length, to * rate); i++) {
      gain[i] = FORBIDDEN;
    }
  }
  return gain;
}

/** The best beat to have waited since, for each moment in turn: the maximum of a sliding window, kept in a queue (Lemire 2006). */
class Waits {
  private readonly queue: number[] = [];
  private head = 0;
  private next = 0;

  constructor(
    private readonly best: Float64Array,
    private readonly silent: readonly (readonly [number, number])[],
    private readonly rate: number,
  ) {}

  /** @returns the frame waited from, or -1, and whether a person said that there is a stop between */
  at(i: number, shortest: number): [from: number, said: boolean] {
    const { best, queue, rate } = this;
    for (; this.next <= i - shortest; this.next++) {
      const value = best[this.next]!;
      while (queue.length > this.head && best[queue.at(-1)!]! <= value) queue.pop();
      queue.push(this.next);
    }
    // A stop that was said ends a little before here.
    const said = this.silent.find(([, to]) => i / rate >= to && i / rate < to + SAID_STOP);
    if (said) {
      const end = Math.floor(said[0] * rate);
      let from = -1;
      for (let f = Math.max(0, end - Math.ceil(SAID_STOP * rate)); f <= end; f++) {
        if (from < 0 || best[f]! > best[from]!) from = f;
      }
      if (from >= 0 && best[from]! > Number.NEGATIVE_INFINITY) return [from, true];
    }
    while (this.head < queue.length && queue[this.head]! < i - WAIT.seconds * rate) this.head++;
    const from = queue[this.head] ?? -1;
    return from >= 0 && best[from]! > Number.NEGATIVE_INFINITY ? [from, false] : [-1, false];
  }
}

/** The last beat before a stop that was said, and the first after it, lie so near its ends. Seconds. */
const SAID_STOP = 3;

function walkedBack({
  rate,
  width,
  shortest,
  score,
  before,
  best,
  waitedFrom,
}: {
  rate: number;
  width: number;
  shortest: number;
  score: Float64Array;
  before: Int16Array;
  best: Float64Array;
  waitedFrom: Int32Array;
}): Followed {
  const placeAt = (i: number): number => {
    let k = 0;
    for (let j = 1; j < width; j++) if (score[i * width + j]! > score[i * width + k]!) k = j;
    return k;
  };
  let i = 0;
  for (let f = 1; f < best.length; f++) if (best[f]! >= best[i]!) i = f;
  let k = placeAt(i);
  const frames: number[] = [];
  const waited: number[] = [];
  for (;;) {
    frames.push(i);
    const via = before[i * width + k]!;
    if (via === START) break;
    if (via === WAITED) {
      i = waitedFrom[i]!;
      k = placeAt(i);
      waited.push(frames.length);
    } else {
      i -= shortest + k;
      k = via;
    }
  }
  const last = frames.length - 1;
  return {
    beats: frames.reverse().map((frame) => frame / rate),
    waits: waited.map((place) => last - place).sort((a, b) => a - b),
  };
}

/** A rise in the onset curve is found this much after the sound begins, as in beats.ts. Seconds. */
const LATENESS = 0.005;
/** Onsets this far from a beat may draw it. */
const DRAW = 0.045;
/** Beats to either side that a beat's time is smoothed over, the widest first, and how far off such a line they may lie. Seconds. */
const OVER = [6, 3, 1];
const STRAIGHT = 0.014;

/**
 * Followed beats moved to where they sound: each onto the line through the onsets about it, over as many beats as the music is even
 * for, so that no early or late attack moves a beat and no smoothing takes the beat out of music that breathes.
 * @returns ascending seconds, as many as there were
 */
export function settled(
  { beat, rate }: Pick<Activations, 'rate' | 'beat'>,
  { beats, waits }: Followed,
): number[] {
  const ends = new Set(waits);
  const drawn = beats.map((t) => peakNear(beat, rate, t));
  const out = beats.map((_, i) => {
    for (const over of OVER) {
      let [from, to] = [i, i];
      while (from > 0 && i - from < over && !ends.has(from - 1)) from--;
      while (to + 1 < beats.length && to - i < over && !ends.has(to)) to++;
      const line = lineAt(drawn, from, to, i);
      if (line.off <= STRAIGHT || over === OVER.at(-1)) return line.at - LATENESS;
    }
    return beats[i]!;
  });
  return out.map((t, i) => Math.max(0, i > 0 && t <= out[i - 1]! ? out[i - 1]! + 1e-3 : t));
}

interface Drawn {
  at: number;
  strength: number;
}

function peakNear(curve: Float32Array, rate: number, at: number): Drawn {
  const centre = Math.round(at * rate);
  const reach = Math.round(DRAW * rate);
  let best = centre;
  for (let i = centre - reach; i <= centre + reach; i++) if ((curve[i] ?? 0) > (curve[best] ?? 0)) best = i;
  const [a, b, c] = [curve[best - 1] ?? 0, curve[best] ?? 0, curve[best + 1] ?? 0];
  const bend = a - 2 * b + c;
  const shift = bend < 0 ? (a - c) / (2 * bend) : 0;
  if (b < 0.05) return { at: at + LATENESS, strength: 0.02 };
  return { at: (best + Math.max(-0.5, Math.min(0.5, shift))) / rate, strength: b };
}

/** The weighted line through the beats from `from` to `to`, read at i, fitted again without those far off; `off`: their median distance. */
function lineAt(drawn: readonly Drawn[], from: number, to: number, i: number): { at: number; off: number } {
  if (to - from < 2) return { at: drawn[i]!.at, off: 0 };
  const reach = Math.max(i - from, to - i) + 1;
  let line = { at: drawn[i]!.at, step: (drawn[to]!.at - drawn[from]!.at) / (to - from) };
  let tolerance = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 3; round++) {
    let [w, wx, wy, wxx, wxy] = [1e-12, 0, 0, 0, 0];
    for (let j = from; j <= to; j++) {
      const { at, strength } = drawn[j]!;
      const x = j - i;
      const off = at - (line.at + line.step * x);
      const weight = (strength * (1 - (Math.abs(x) / reach) ** 3) ** 3) / (1 + (off / tolerance) ** 2);
      w += weight;
      wx += weight * x;
      wy += weight * at;
      wxx += weight * x * x;
      wxy += weight * x * at;
    }
    const spread = w * wxx - wx * wx;
    if (spread < 1e-12) break;
    const step = (w * wxy - wx * wy) / spread;
    line = { at: (wy - step * wx) / w, step };
    tolerance = 0.012;
  }
  const offs: number[] = [];
  for (let j = from; j <= to; j++) offs.push(Math.abs(drawn[j]!.at - (line.at + line.step * (j - i))));
  return { at: line.at, off: median(offs) };
}
