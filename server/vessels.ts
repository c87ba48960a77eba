import type { Measure } from '../lib/store/store.ts';

const MOST_KEYS = 10_000;

/** A vessel for each key that fills by one at each take and leaks with time. */
export class Vessels {
  private readonly filled = new Map<string, { level: number; at: number }>();

  constructor(
    private readonly measure: Measure,
    private readonly now: () => number,
  ) {}

  /** Seconds until there is room for one more; 0 when there is now. */
  waitOf(key: string): number {
    return Math.max(0, this.levelOf(key) + 1 - this.measure.atOnce) * this.measure.secondsEach;
  }

  take(key: string): void {
    const level = this.levelOf(key) + 1;
    // Anew at the end, so that the first key is the one that was longest without a take.
    this.filled.delete(key);
    this.filled.set(key, { level, at: this.now() });
    if (this.filled.size > MOST_KEYS) this.filled.delete(this.filled.keys().next().value as string);
  }

  private levelOf(key: string): number {
    const { level, at } = this.filled.get(key) ?? { level: 0, at: 0 };
    return Math.max(0, level - (this.now() - at) / 1000 / this.measure.secondsEach);
  }
}
