import type { Plan } from '../areas/plan.ts';
import { songDuration } from '../dance/clock.ts';
import { compileEdit } from '../edit/compile.ts';
import type { PlayClock } from './clocks.ts';
import { playedEdit } from './played.ts';

export interface DjJoin {
  /** On the clock of what is played: where the music leaves, and where it goes on (the same moment in the finished file). */
  leave: number;
  goOn: number;
  /** The last cue word before and the first after it; null where none is marked within 20 s. */
  lastWord: string | null;
  firstWord: string | null;
  /** Seconds of the recording left out. */
  leftOut: number;
}

/** Farther from a join than this, a word is no help, seconds. */
const NEAR_JOIN = 20;

/** The joins that are heard, in order: a part left out before the start or after the end makes none. */
export function joinsOf(plan: Plan, clocks: PlayClock): DjJoin[] {
  const { spans } = compileEdit(playedEdit(plan), { duration: songDuration(plan) });
  const cues = [...plan.cues].sort((a, b) => a.at - b.at);
  return spans.slice(1).map((after, i) => {
    const { to: leave } = spans[i]!;
    const last = cues.findLast(({ at }) => at < leave && at > leave - NEAR_JOIN);
    const first = cues.find(({ at }) => at >= after.from - 1 && at < after.from + NEAR_JOIN);
    const goOn = clocks.ofRecord(after.from) ?? 0;
    return {
      leave: clocks.plays === 'finished file' ? goOn : (clocks.ofRecord(leave) ?? 0),
      goOn,
      lastWord: last?.word ?? null,
      firstWord: first?.word ?? null,
      leftOut: after.from - leave,
    };
  });
}
