import type { Cue } from '../song/section.ts';
import type { RecordTime } from '../units.ts';
import type { DancePlan } from './plan.ts';

/** A word this near to what begins there is the word for it, seconds; common practice, no source. */
const NEAR = 0.2;

/** Something of the dance that waits for a word, and the moment of the recording at which it is danced. */
export interface Listener {
  cue: Cue;
  at: RecordTime;
}

/**
 * Who listens for a word: the ending for its signal and for the word that its pose lands on, the first step and each placed move for
 * the words at their place.
 */
export function listeners(plan: Pick<DancePlan, 'cues' | 'ending' | 'walkOn' | 'placed'>): Listener[] {
  const { cues, ending, walkOn, placed } = plan;
  const named = ending
    ? cues.flatMap((cue) =>
        [ending.signal, ending.target.cue].includes(cue.id) ? [{ cue, at: ending.target.at }] : [],
      )
    : [];
  const begins = [walkOn?.firstStep ?? [], ...placed.map(({ at }) => at)].flat();
  const near = begins.flatMap((at) =>
    cues.flatMap((cue) => (Math.abs(cue.at - at) <= NEAR ? [{ cue, at }] : [])),
  );
  return [...named, ...near];
}
