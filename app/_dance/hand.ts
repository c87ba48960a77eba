import type { Plan } from '@/lib/core/areas/plan.ts';
import { usualEnding } from '@/lib/core/dance/ending.ts';
import type { Ending } from '@/lib/core/dance/move.ts';
import { placeAt, storedAt } from '@/lib/core/dance/place.ts';
import type { DanceChange } from '@/lib/core/dance/plan.ts';
import { setFirstStep } from '@/lib/core/dance/walkOn.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';

/** What a person at the sheet has in hand. */
export type Hand =
  | { kind: 'nothing' }
  /** A placed move, chosen on the sheet. */
  | { kind: 'placed'; id: string }
  /** A count, for which something is to be chosen. */
  | { kind: 'count'; at: number }
  /** A move of the board, for which a count is to be chosen. */
  | { kind: 'move'; move: string }
  | { kind: 'first step' }
  | { kind: 'landing' };

export const nothing: Hand = { kind: 'nothing' };

/** The parts of the desk that open, in the order in which they stand. */
export const drawers = ['moves', 'walk-on', 'ending', 'proposal', 'marks'] as const;
export type Drawer = (typeof drawers)[number];

/** What choosing a count does with what is in hand: changes to the plan, and what is in hand then. */
export function putOnCount(
  plan: Plan,
  score: FloorScore,
  hand: Hand,
  at: number,
  newId: () => string,
): { changes: DanceChange[]; hand: Hand } {
  if (!score.counts[at]) return { changes: [], hand };
  switch (hand.kind) {
    case 'move': {
      // Somebody else may have taken it off the list meanwhile.
      if (!plan.moves.some((move) => move.id === hand.move)) return { changes: [], hand };
      const id = newId();
      return { changes: placeAt(score, hand.move, at, id), hand: { kind: 'placed', id } };
    }
    case 'first step':
      return { changes: setFirstStep(plan, score, at), hand: nothing };
    case 'landing':
      return { changes: landOn(plan, score, at), hand: nothing };
    default:
      return { changes: [], hand: { kind: 'count', at } };
  }
}

/** The change that makes a count the one on which the closing pose lands; on a cue word when one lies there. */
export function landOn(plan: Plan, score: FloorScore, at: number): DanceChange[] {
  const count = score.counts[at];
  if (!count) return [];
  const near = plan.cues.find((cue) => Math.abs(cue.at - count.record) <= score.interval / 2);
  const target: Ending['target'] = near
    ? { kind: 'cue word', at: near.at, cue: near.id }
    : { kind: 'time', at: storedAt(score, at), cue: null };
  return [{ register: 'ending', value: { ...(plan.ending ?? usualEnding), target } }];
}

/** What a key does to a placed move, or to the count that has the focus; null for a key that means nothing here. */
export type KeyMeaning =
  | { kind: 'step'; unit: 'count' | 'bar' | 'phrase'; steps: 1 | -1 }
  | { kind: 'times'; by: 1 | -1 }
  | { kind: 'remove' }
  | { kind: 'let go' }
  | { kind: 'choose' };

export function meaningOf(key: string, shift: boolean): KeyMeaning | null {
  switch (key) {
    case 'ArrowLeft':
      return { kind: 'step', unit: shift ? 'bar' : 'count', steps: -1 };
    case 'ArrowRight':
      return { kind: 'step', unit: shift ? 'bar' : 'count', steps: 1 };
    case 'ArrowUp':
      return { kind: 'step', unit: 'phrase', steps: -1 };
    case 'ArrowDown':
      return { kind: 'step', unit: 'phrase', steps: 1 };
    case '+':
    case '=':
      return { kind: 'times', by: 1 };
    case '-':
      return { kind: 'times', by: -1 };
    case 'Delete':
    case 'Backspace':
      return { kind: 'remove' };
    case 'Escape':
      return { kind: 'let go' };
    case 'Enter':
    case ' ':
      return { kind: 'choose' };
    default:
      return null;
  }
}

/** Most times in a row, as the plan allows. */
const MOST_TIMES = 16;

/** The change that dances a placed move more or less often; none at either end. */
export function timesBy(plan: Plan, id: string, by: number): DanceChange[] {
  const placed = plan.placed.find((one) => one.id === id);
  if (!placed) return [];
  const times = placed.times + by;
  return times < 1 || times > MOST_TIMES ? [] : [{ collection: 'placed', id, fields: { times } }];
}

/** The count a step away: by a phrase to the same place in the phrase before or after. Stays within the song. */
export function countBeside(
  score: FloorScore,
  at: number,
  unit: 'count' | 'bar' | 'phrase',
  steps: number,
): number {
  const last = score.counts.length - 1;
  const within = (count: number) => Math.max(0, Math.min(last, count));
  if (unit !== 'phrase') return within(at + steps * (unit === 'bar' ? score.countsPerBar : 1));
  const here = score.counts[at]!;
  const there = score.phrases[here.phrase + steps];
  if (here.phrase < 0) return within(at + steps * score.countsPerBar);
  return there ? there.first + Math.min(here.inPhrase, there.counts - 1) : at;
}
