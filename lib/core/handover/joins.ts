import { playedEdit } from '../areas/answerState.ts';
import type { Plan } from '../areas/plan.ts';
import type { PlayClock } from './clocks.ts';

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

/** The joins of the edit, in order. */
export function joinsOf(plan: Plan, clocks: PlayClock): DjJoin[] {
  const { cuts } = playedEdit(plan);
  return cuts.map((cut) => {
    const cues = [...plan.cues].sort((a, b) => a.at - b.at);
    const last = cues.findLast(({ at }) => at < cut.from && at > cut.from - NEAR_JOIN);
    const first = cues.find(({ at }) => at >= cut.to - 1 && at < cut.to + NEAR_JOIN);
    const goOn = clocks.ofRecord(cut.to) ?? 0;
    return {
      leave: clocks.plays === 'finished file' ? goOn : (clocks.ofRecord(cut.from) ?? 0),
      goOn,
      lastWord: last?.word ?? null,
      firstWord: first?.word ?? null,
      leftOut: cut.to - cut.from,
    };
  });
}
