import type { Board } from '../areas/board.ts';
import type { WalkOnPlan } from '../dance/walkOn.ts';

/** How long the couple need to come on, and where that time comes from, in seconds. */
export interface LeadTime {
  /** Walking and taking hold. */
  needed: number;
  /** Music before the first step. */
  music: number;
  /** Before the music, as the run of show says; null while it does not, or may not be read. */
  before: number | null;
  /** What is lacking; 0 when both together are enough. */
  missing: number;
}

/** Shorter than this nobody notices, seconds; common practice, no source. */
const UNNOTICED = 0.05;

/**
 * The one reckoning of the time for coming on: what does not fit into the music before the first step has to happen before the music.
 */
export function leadTime({ show }: Board, walk: WalkOnPlan): LeadTime {
  const before = show?.lead ?? null;
  const missing = walk.missing - (before ?? 0);
  return {
    needed: walk.seconds,
    music: walk.firstStepAt,
    before,
    missing: missing > UNNOTICED ? missing : 0,
  };
}
