import type { CountLevel } from '../../song/grid.ts';
import type { Dance, DanceHold, FreeFoot, Move } from '../move.ts';
import { otherFoot, weighted } from '../stance.ts';

/** Where a figure's length comes from, in the words that stand beside it. */
export const published = (what: string): string => `published: ${what}`;
export const fromMemory = 'from memory';
export const teachingCounts = published('syllabus lists, teaching counts');

export const danceFaq = published('the answers to frequent questions of rec.arts.dance');

/** What is alike in all figures of a dance. */
export interface DanceStyle {
  dance: Dance;
  metre: Move['metre'];
  level: CountLevel;
  hold: DanceHold;
  /** Least seconds a count at which its plain figures can be danced well; from memory of social tempi. */
  leastSeconds: number;
}

type Required = 'name' | 'counts' | 'rhythm' | 'lead' | 'follow' | 'source';
type Given = Pick<Move, Required | 'id'> & Partial<Move>;

/**
 * A figure of a dance: what is not given is as in most figures of social dances. Feet follow from the steps; who takes none keeps
 * whichever is free.
 */
export function figure(style: DanceStyle, given: Given): Move {
  const [footBefore, footAfter] = feetOf(given, 'lead');
  const [followFootBefore, followFootAfter] = feetOf(given, 'follow');
  return {
    dance: style.dance,
    metre: style.metre,
    level: style.level,
    leastSeconds: style.leastSeconds,
    holdBefore: style.hold,
    holdAfter: style.hold,
    basic: false,
    startsOn: 1,
    preparation: 0,
    landsOn: null,
    footBefore,
    footAfter,
    followFootBefore,
    followFootAfter,
    positionBefore: 'facing',
    positionAfter: 'facing',
    travels: false,
    repeats: true,
    room: 2,
    difficulty: 1,
    cautions: [],
    saferForm: '',
    ...given,
  };
}

function feetOf({ steps }: Given, who: 'lead' | 'follow'): [FreeFoot, FreeFoot] {
  if (!steps) return who === 'lead' ? ['left', 'left'] : ['right', 'right'];
  const taken = weighted(steps, who);
  return taken.length === 0 ? ['either', 'either'] : [taken[0]!.foot, otherFoot(taken.at(-1)!.foot)];
}
