import { bad, good, type Result } from '../../lib/core/result.ts';

/** So many at once, then one every so many seconds. */
interface Measure {
  atOnce: number;
  secondsEach: number;
}

const GUESSES: Measure = { atOnce: 5, secondsEach: 10 };
const GUESSES_OF_ALL: Measure = { atOnce: 50, secondsEach: 1 };
/** Who guesses from many addresses at once makes everybody wait, but locks nobody out before this. */
const LONGEST_WAIT_S = 20;
/** A whole party may stand behind one address: so only what leads nowhere counts, and more of it. */
const STRAY_LINKS: Measure = { atOnce: 20, secondsEach: 3 };
const MOST_KEYS = 10_000;

const TOO_OFTEN = bad('too often', 'That was too often. Please wait a minute and try again.');

/** A vessel for each key that fills by one at each take and leaks with time. */
class Vessels {
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

/**
 * Guesses at the passphrase or the first code. One address is refused after a few; all together are not refused but made to
 * wait their turn, so that nobody can lock the instructor out from many addresses. A browser that was signed in here before
 * waits for nobody.
 */
export class Guesses {
  private readonly each: Vessels;
  private readonly all: Vessels;

  constructor(
    now: () => number,
    private readonly wait: (ms: number) => Promise<void> = (ms) =>
      new Promise((resolve) => setTimeout(resolve, ms)),
  ) {
    this.each = new Vessels(GUESSES, now);
    this.all = new Vessels(GUESSES_OF_ALL, now);
  }

  /** `known`: a name for the browser that was signed in here before; null for any other. */
  async take(peer: string, known: string | null): Promise<Result<true>> {
    const key = known ?? peer;
    if (this.each.waitOf(key) > 0) return TOO_OFTEN;
    const seconds = known === null ? this.all.waitOf('') : 0;
    if (seconds > LONGEST_WAIT_S) return TOO_OFTEN;
    this.each.take(key);
    if (known === null) this.all.take('');
    if (seconds > 0) await this.wait(seconds * 1000);
    return good(true);
  }
}

/** Links that lead nowhere, by the address that asks. A link cannot be guessed; this keeps a flood from the store. */
export class StrayLinks {
  private readonly vessels: Vessels;

  constructor(now: () => number) {
    this.vessels = new Vessels(STRAY_LINKS, now);
  }

  allowed(peer: string): Result<true> {
    return this.vessels.waitOf(peer) > 0 ? TOO_OFTEN : good(true);
  }

  count(peer: string): void {
    this.vessels.take(peer);
  }
}
