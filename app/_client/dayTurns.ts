/** Milliseconds, at most, for which a page shows yesterday. */
const LOOK = 20_000;

/**
 * Tells when a day becomes another, and gives what ends that. It looks again and again: a timer to midnight would come late on a
 * device that has slept, or was carried into another zone.
 */
export function whenDayTurns(day: () => string, turned: () => void): () => void {
  let known = day();
  const timer = setInterval(() => {
    const now = day();
    if (now === known) return;
    known = now;
    turned();
  }, LOOK);
  return () => clearInterval(timer);
}
