import type { Plan } from '../../areas/plan.ts';
import type { Caution } from '../../dance/move.ts';
import type { Danced, Rule } from '../finding.ts';
import { daysUntil, FITTING } from '../time.ts';
import { nameOf, nowhere, placeOfCount } from '../words.ts';

/** Days before the dance from which there is hardly a lesson left to try it in; common practice, no source. */
const LATE = 14;

type Worn = keyof NonNullable<Plan['outfit']>;
const WORN: readonly Worn[] = ['train', 'veil', 'shoes'];

/** Moves in which it shows most. */
const HARD: Record<Worn, readonly Caution[]> = {
  train: ['dress', 'dip', 'fast turn', 'lift'],
  veil: ['fast turn', 'dip', 'lift'],
  shoes: ['fast turn', 'dip', 'lift', 'floor'],
};

const SAID: Record<Worn, (where: string) => string> = {
  train: (where) => `There is a train: bustle it, and try ${where} in its real length before the day.`,
  veil: (where) =>
    `There is a veil, and it catches under a raised arm: pin it back or take it off, and try ${where} with it.`,
  shoes: (where) => `The shoes of the day are others: bring them to a lesson, and try ${where} in them.`,
};

export const rule: Rule = {
  id: 'outfit',
  about: 'moves',
  severity: 'warns',
  reads: ['plan'],
  from: FITTING,
  what: 'A train, a veil or the shoes of the day have not been danced in yet.',
  why: 'A step that goes well in trainers ends on a hem; a heel changes the balance of every turn.',
  todo: 'Bring them to a lesson, and say on the page of the party that they were tried.',
  source: 'common practice, no source',
  fixes: [],
  run({ board, danced, today }) {
    const { outfit } = board.plan;
    if (!danced || !outfit) return [];
    const days = daysUntil(board, today)!;
    return WORN.filter((worn) => outfit[worn] === 'to try').map((worn) => {
      const hard = hardIn(danced, HARD[worn]);
      return {
        about: worn,
        severity: days > LATE ? ('hints' as const) : ('warns' as const),
        place: hard ? placeOfCount(danced.score, hard.at) : nowhere,
        figures: { days },
        sentence: SAID[worn](hard ? nameOf(hard) : 'the whole dance'),
      };
    });
  },
};

const hardIn = ({ used }: Danced, cautions: readonly Caution[]) =>
  used.find(({ move }) => move.cautions.some((caution) => cautions.includes(caution)));
