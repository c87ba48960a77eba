/** How a stretch is practised round by round. */
export interface Rounds {
  /** Slow first, and each round a little faster up to full speed. */
  buildsUp: boolean;
  /** From a phrase to its section to all, once it was danced at full speed. */
  grows: boolean;
}

/** Share of full speed of the first round, and what each round adds; common practice in teaching, no source. */
export const SLOW = 0.7;
const FASTER = 0.1;
/** Rounds at full speed before the stretch grows. */
const SURE_AFTER = 2;

export interface Round {
  /** Share of full speed. */
  speed: number;
  /** Rounds danced at full speed, of this stretch. */
  atFull: number;
}

/** What comes after a round was danced to its end: at which speed the next one is, and whether the stretch grows first. */
export function nextRound({ speed, atFull }: Round, { buildsUp, grows }: Rounds): Round & { grow: boolean } {
  const isFull = !buildsUp || speed >= 1 - 1e-9;
  if (!isFull) {
    // In whole hundredths, so that it ends at exactly full speed.
    const faster = Math.min(1, Math.round((speed + FASTER) * 100) / 100);
    return { speed: faster, atFull: 0, grow: false };
  }
  const danced = atFull + 1;
  if (!grows || danced < SURE_AFTER) return { speed, atFull: danced, grow: false };
  return { speed: buildsUp ? SLOW : speed, atFull: 0, grow: true };
}
