import { bad, good, type Result } from '../../lib/core/result.ts';
import type { AttemptTable, Measure } from '../../lib/store/store.ts';
import { Vessels } from '../vessels.ts';

const GUESSES: Measure = { atOnce: 5, secondsEach: 10 };
const GUESSES_OF_ALL: Measure = { atOnce: 50, secondsEach: 1 };
/** Who guesses from many addresses at once makes everybody wait, but locks nobody out before this. */
const LONGEST_WAIT_S = 20;
/** A whole party may stand behind one address: so only what leads nowhere counts, and more of it. */
const STRAY_LINKS: Measure = { atOnce: 20, secondsEach: 3 };
/** Key of the vessel that all fill. */
const ALL = 'all';

export const TOO_OFTEN = bad('too often', 'That was too often. Please wait a minute and try again.');

/**
 * Guesses at the passphrase or the first code. One address is refused after a few; all together are not refused but made to
 * wait their turn, so that nobody can lock the instructor out from many addresses. A browser that was signed in here before
 * waits for nobody.
 */
export class Guesses {
  /** `attempts`: of several nodes, all count in the same vessels. */
  constructor(
    private readonly attempts: AttemptTable,
    private readonly wait: (ms: number) => Promise<void> = (ms) =>
      new Promise((resolve) => setTimeout(resolve, ms)),
  ) {}

  /** `known`: a name for the browser that was signed in here before; null for any other. */
  async take(peer: string, known: string | null): Promise<Result<true>> {
    if ((await this.attempts.take(`one ${known ?? peer}`, GUESSES, 0)) === null) return TOO_OFTEN;
    if (known !== null) return good(true);
    const seconds = await this.attempts.take(ALL, GUESSES_OF_ALL, LONGEST_WAIT_S);
    if (seconds === null) return TOO_OFTEN;
    if (seconds > 0) await this.wait(seconds * 1000);
    return good(true);
  }
}

/**
 * For a server that is the only one. `ticks`: milliseconds of a clock that only goes on, because the time of day may be set
 * back, and a vessel would take that for an hour in which nothing leaked.
 */
export function attemptsInMemory(ticks: () => number): AttemptTable {
  const vessels = new Map<Measure, Vessels>();
  return {
    async take(key, measure, longest) {
      const own = vessels.get(measure) ?? new Vessels(measure, ticks);
      vessels.set(measure, own);
      const seconds = own.waitOf(key);
      if (seconds > longest) return null;
      own.take(key);
      return seconds;
    },
  };
}

/** Links that lead nowhere, by the address that asks. A link cannot be guessed; this keeps a flood from the store. */
export class StrayLinks {
  private readonly vessels: Vessels;

  /** `ticks`: milliseconds of a clock that only goes on. */
  constructor(ticks: () => number) {
    this.vessels = new Vessels(STRAY_LINKS, ticks);
  }

  allowed(peer: string): Result<true> {
    return this.vessels.waitOf(peer) > 0 ? TOO_OFTEN : good(true);
  }

  count(peer: string): void {
    this.vessels.take(peer);
  }
}
