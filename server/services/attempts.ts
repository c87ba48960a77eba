import { bad, good, type Result } from '../../lib/core/result.ts';

/** Guesses at a secret: a few at once, then one every ten seconds; for one address, and ten times that for all. */
const AT_ONCE = 5;
const SECONDS_EACH = 10;
const FOR_ALL = 10;
const MOST_PEERS = 10_000;

export class Attempts {
  private readonly used = new Map<string, { count: number; at: number }>();

  constructor(private readonly now: () => number) {}

  take(peer: string): Result<true> {
    if (this.used.size > MOST_PEERS) this.used.clear();
    const fine =
      this.count(peer, AT_ONCE, SECONDS_EACH) && this.count('', AT_ONCE * FOR_ALL, SECONDS_EACH / FOR_ALL);
    return fine ? good(true) : bad('too often', 'That was too often. Please wait a minute and try again.');
  }

  private count(key: string, most: number, seconds: number): boolean {
    const now = this.now();
    const before = this.used.get(key) ?? { count: 0, at: now };
    const count = Math.max(0, before.count - (now - before.at) / (seconds * 1000)) + 1;
    if (count > most) return false;
    this.used.set(key, { count, at: now });
    return true;
  }
}
