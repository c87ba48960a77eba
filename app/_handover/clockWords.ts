import type { PlayClock } from '../../lib/core/agreed/clocks.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';
import { wholeMicros } from '../../lib/core/units.ts';

/** Whose clock times are on, as its reader says it. */
export const clockWords = (name: PlayClock['name'], dj: boolean): string =>
  name === 'your own copy' && !dj ? 'the DJ’s own copy' : name;

/**
 * Seconds from a time as people type it: `3:05`, `3:05.4`, `3:05,4` or plain seconds (`185`).
 * Problem `not a time`.
 */
export function secondsFrom(typed: string): Result<number> {
  const words = typed.trim().replace(',', '.');
  const match = /^(?:(\d{1,2}):([0-5]?\d(?:\.\d+)?)|(\d+(?:\.\d+)?))$/.exec(words);
  if (!match) return bad('not a time', 'Please give a time in minutes and seconds, like 3:05.');
  const seconds = match[3] === undefined ? Number(match[1]) * 60 + Number(match[2]) : Number(match[3]);
  return good(wholeMicros(seconds));
}
