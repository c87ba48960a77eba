import { dice } from '../../kit/synth.ts';

/** The same choices at every run of a seed. */
export class Random {
  /** From 0 up to but not including 1. */
  readonly next: () => number;

  constructor(seed: number) {
    this.next = dice(seed);
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
