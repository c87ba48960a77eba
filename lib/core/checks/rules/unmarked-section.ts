import type { Plan } from '../../areas/plan.ts';
import { suitsMetre } from '../../dance/counts.ts';
import { isFigure } from '../../dance/kinds.ts';
import type { Move } from '../../dance/move.ts';
import { newEntry } from '../../dance/newEntry.ts';
import { lay, storedAt } from '../../dance/place.ts';
import { sectionWords } from '../../edit/sectionNames.ts';
import type { Danced, Fix, Rule } from '../finding.ts';
import { isFree } from '../spots.ts';
import { capital, placeOfCount, quoted, whereabouts } from '../words.ts';

export const rule: Rule = {
  id: 'unmarked-section',
  about: 'moves',
  severity: 'hints',
  reads: ['plan'],
  local: true,
  what: 'A new section begins, and no move marks it.',
  why: 'A move where the music changes is easy to remember, and looks as if it had been made for the song.',
  todo: 'Put one of the couple’s moves there.',
  source: 'common practice, no source',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    const { score, whole, walk, looked } = danced;
    const endingFrom = danced.ending.ok ? danced.ending.value.led.count : score.counts.length;
    return score.sections
      .filter((s) => s.first >= looked.from && s.first <= looked.to)
      .filter((s) => s.counts > 0 && walk !== null && s.first > walk.firstStep && s.first < endingFrom)
      .filter((s) => !whole.some((laid) => laid.at === s.first))
      .map((s) => {
        const where = whereabouts(board.plan, danced, s.first);
        const cued = where.startsWith('on ') ? ` ${where}` : '';
        return {
          about: s.id,
          place: placeOfCount(score, s.first),
          figures: { section: s.name },
          sentence: `${capital(sectionWords(s))} begins${cued}, and nothing marks it.`,
          fixes: () => marks(board.plan, danced, s.first, s.kind),
        };
      });
  },
};

/** A move on the section's first count: the one that sections of the same kind have, else the couple's others. */
function marks(plan: Plan, danced: Danced, at: number, kind: string): Fix[] {
  const { score, grid } = danced;
  const kindAt = (count: number) => score.sections.find((s) => s.counts > 0 && s.first === count)?.kind;
  const usual = danced.laid.find((laid) => kindAt(laid.at) === kind)?.move.id;
  const fits = (move: Move) =>
    isFigure(move) &&
    suitsMetre(move, grid) &&
    isFree(danced, lay(move, at, grid, { id: newEntry(at), part: 'placed' }));
  return plan.moves
    .filter(fits)
    .sort((a, b) => Number(b.id === usual) - Number(a.id === usual) || (a.id < b.id ? -1 : 1))
    .map((move) => {
      const stored = storedAt(score, at);
      return {
        words: `Put ${quoted(move.name)} there`,
        changes: [
          {
            collection: 'placed',
            id: newEntry(at),
            fields: { move: move.id, at: stored, times: 1 },
          },
        ],
      };
    });
}
