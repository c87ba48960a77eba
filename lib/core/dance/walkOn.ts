import { nearestCount } from '../edit/nearestCount.ts';
import type { FloorPhrase, FloorScore, FloorSection } from '../edit/score.ts';
import { sectionWords } from '../edit/sectionNames.ts';
import { bad, good, type Result } from '../result.ts';
import { type Count, type FloorTime, floorTime } from '../units.ts';
import type { WalkOn } from './move.ts';
import { storedAt } from './place.ts';
import type { DanceChange, DancePlan } from './plan.ts';

/** A walk-on as new boards have it: pace is the lower end of comfortable gait, 127 to 146 cm/s (Bohannon 1997). */
export const usualWalkOn: WalkOn = {
  how: 'walk on',
  from: '',
  metres: 8,
  pace: 1.27,
  takeHold: 4,
  firstStep: null,
  signal: '',
  lastWords: '',
};

/** Seconds from the first pace to being in dance hold. In place, only taking hold remains. */
export const walkSeconds = (walk: Pick<WalkOn, 'how' | 'metres' | 'pace' | 'takeHold'>): number =>
  (walk.how === 'in place' ? 0 : walk.metres / walk.pace) + walk.takeHold;

export interface WalkOnPlan {
  /** Walking and taking hold, seconds, and counts of this music (rounded up). */
  seconds: number;
  counts: number;
  /** The first step: a person's, else the proposed one. */
  firstStep: Count;
  proposed: Count;
  firstStepAt: FloorTime;
  /** When they leave their place, so as not to stand and wait on the floor; never before the music. */
  comeOnAt: FloorTime;
  /** Seconds by which the walk does not fit before the first step; 0 when it does. */
  missing: number;
  /** Seconds they stand on the floor waiting, when they set off with the music. */
  standStill: number;
  words: string;
}

/**
 * Plans the walk-on and proposes the first step: as the first verse begins, or, where the walk does not fit before it, in its
 * middle, else with the first phrase that leaves time. Problem: `no-counts`.
 */
export function planWalkOn(plan: DancePlan, score: FloorScore): Result<WalkOnPlan> {
  if (score.counts.length === 0)
    return bad('no-counts', 'No counts are known yet: let the song be heard first.');
  const walk = plan.walkOn ?? usualWalkOn;
  const seconds = walkSeconds(walk);
  const { at: proposed, why } = proposeFirstStep(score, seconds);
  const set = walk.firstStep === null ? null : nearestCount(score, walk.firstStep);
  const first = set ?? score.counts[proposed]!;
  const room = first.floor - seconds;
  return good({
    seconds,
    counts: score.interval > 0 ? Math.ceil(seconds / score.interval - 1e-9) : 0,
    firstStep: first.index,
    proposed,
    firstStepAt: first.floor,
    comeOnAt: floorTime(Math.max(0, room)),
    missing: Math.max(0, -room),
    standStill: Math.max(0, room),
    words: why,
  });
}

function proposeFirstStep(score: FloorScore, seconds: number): { at: Count; why: string } {
  const fits = (at: number) => score.counts[at]!.floor >= seconds - 1e-6;
  const verse = firstVerse(score);
  // By its name: whether anybody sings there is not known.
  if (verse && fits(verse.first)) return { at: verse.first, why: `As ${sectionWords(verse)} begins.` };
  const middle = verse
    ? middleOf(
        score,
        score.phrases.filter((p) => p.section === verse.index),
      )
    : null;
  if (verse && middle !== null && fits(middle)) {
    return {
      at: middle,
      why: `The walk does not fit before ${sectionWords(verse)}, so in the middle of it.`,
    };
  }
  const phrase = score.phrases.find((p) => fits(p.first));
  if (phrase)
    return {
      at: phrase.first,
      why: 'With the first phrase that leaves time for the walk.',
    };
  const late = score.counts.find((c) => fits(c.index)) ?? score.counts.at(-1)!;
  return { at: late.index, why: 'As soon as the walk is over.' };
}

/** Where the dance would begin: the first section that is sung, as its kind says; in a song all played, the first after the intro. */
function firstVerse({ sections }: FloorScore): FloorSection | undefined {
  const middle = sections.filter((s) => s.kind !== 'intro' && s.kind !== 'outro' && s.counts > 0);
  return middle.find((s) => s.kind !== 'instrumental') ?? middle[0];
}

/** The phrase nearest the middle; of a verse of one phrase the bar at its half. */
function middleOf(score: FloorScore, phrases: FloorPhrase[]): Count | null {
  if (phrases.length === 0) return null;
  if (phrases.length > 1) return phrases[Math.floor(phrases.length / 2)]!.first;
  const { first, counts } = phrases[0]!;
  const bars = Math.floor(counts / score.countsPerBar / 2);
  return (first + bars * score.countsPerBar) as Count;
}

/** The change that sets the first step on a count. */
export const setFirstStep = (plan: DancePlan, score: FloorScore, at: number): DanceChange[] =>
  score.counts[at]
    ? [
        {
          register: 'walkOn',
          value: {
            ...(plan.walkOn ?? usualWalkOn),
            firstStep: storedAt(score, at),
          },
        },
      ]
    : [];
