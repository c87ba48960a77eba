/** mulberry32, a public-domain generator by T. Ettinger: the same choices at every run of a seed. */
export class Random {
  private state: number;

  constructor(seed: number) {
    this.state = seed;
  }

  /** From 0 up to but not including 1. */
  next(): number {
    this.state = (this.state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(this.state ^ (this.state >>> 15), 1 | this.state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  }

  /** A whole number below this. */
  below(count: number): number {
    return Math.floor(this.next() * count);
  }

  one<T>(list: readonly T[]): T {
    return list[this.below(list.length)]!;
  }

  /** One of these by its weight. */
  weighted<T extends string>(weights: Record<T, number>): T {
    const entries = Object.entries(weights) as [T, number][];
    let left = this.next() * entries.reduce((sum, [, weight]) => sum + weight, 0);
    for (const [name, weight] of entries) {
      left -= weight;
      if (left < 0) return name;
    }
    return entries.at(-1)![0];
  }
}
