import type { LaidMove } from '../dance/place.ts';

/** First index at which an ascending list is at least so much. */
export function firstFrom(ascending: ArrayLike<number>, least: number): number {
  let [low, high] = [0, ascending.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (ascending[middle]! < least) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The furthest of some moves, and the furthest of all others: so that one of them can be looked away from. */
interface Furthest {
  at: number;
  id: string;
  besides: number;
}

/** Which counts a dance's moves take. Asking costs the logarithm of their number. */
export class Taken {
  private readonly starts: number[];
  /** Up to each move: the latest end. */
  private readonly ends: Furthest[] = [];
  private readonly latest: LaidMove[] = [];
  /** From each move on: the earliest count on which one is led. */
  private readonly led: Furthest[];

  /** @param whole moves in the order in which they begin */
  constructor(readonly whole: readonly LaidMove[]) {
    this.starts = whole.map(({ at }) => at);
    let end: Furthest = { at: Number.NEGATIVE_INFINITY, id: '', besides: Number.NEGATIVE_INFINITY };
    for (const laid of whole) {
      end = further(end, laid.end, laid.id, Math.max);
      this.ends.push(end);
      this.latest.push(laid.end >= (this.latest.at(-1)?.end ?? 0) ? laid : this.latest.at(-1)!);
    }
    let led: Furthest = { at: Number.POSITIVE_INFINITY, id: '', besides: Number.POSITIVE_INFINITY };
    this.led = new Array(whole.length);
    for (let i = whole.length - 1; i >= 0; i--) {
      led = further(led, whole[i]!.preparationFrom, whole[i]!.id, Math.min);
      this.led[i] = led;
    }
  }

  /** Whether no move but this one is danced or led between the counts [from, to), when it is itself led from there. */
  isFree(from: number, to: number, but: string): boolean {
    const next = firstFrom(this.starts, to);
    return besides(this.ends[next - 1], but, from) <= from && besides(this.led[next], but, to) >= to;
  }

  /**
   * The moves that are danced or led within the counts [from, to], with `beside` more on each side, and of all before them the one
   * that is danced longest.
   */
  near(from: number, to: number, beside: number): LaidMove[] {
    let first = 0;
    let high = this.ends.length;
    while (first < high) {
      const middle = (first + high) >> 1;
      if (this.ends[middle]!.at <= from) first = middle + 1;
      else high = middle;
    }
    const after = firstFrom(this.starts, to + 1);
    const begin = Math.max(0, Math.min(first, after) - beside);
    return [...this.latest.slice(Math.max(0, begin - 1), begin), ...this.whole.slice(begin, after + beside)];
  }
}

function further(of: Furthest, at: number, id: string, choose: (a: number, b: number) => number): Furthest {
  if (choose(of.at, at) === at && at !== of.at) return { at, id, besides: of.at };
  return { ...of, besides: choose(of.besides, at) };
}

const besides = (of: Furthest | undefined, but: string, none: number): number =>
  of === undefined ? none : of.id === but ? of.besides : of.at;
