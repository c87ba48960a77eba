import type { Plan } from '../areas/plan.ts';
import { suitsMetre } from '../dance/counts.ts';
import { isFigure } from '../dance/kinds.ts';
import type { Move } from '../dance/move.ts';
import { newEntry } from '../dance/newEntry.ts';
import { lay, storedAt } from '../dance/place.ts';
import type { FloorSection } from '../edit/score.ts';
import type { Danced, Fix } from './finding.ts';
import { suitsPace } from './pace.ts';
import { isFree } from './spots.ts';
import { quoted } from './words.ts';

/** Sections that begin between the first step and the ending, and that no move marks. */
export function unmarked({ score, whole, walk, ending, looked }: Danced): FloorSection[] {
  if (!walk) return [];
  const marked = new Set<number>(whole.map(({ at }) => at));
  const until = ending.ok ? ending.value.led.count : score.counts.length;
  return score.sections.filter(
    ({ counts, first }) =>
      counts > 0 &&
      first >= looked.from &&
      first <= looked.to &&
      first > walk.firstStep &&
      first < until &&
      !marked.has(first),
  );
}

/** A move on the section's first count: the one that sections of the same kind have, else the couple's others. */
export function markFixes(plan: Plan, danced: Danced, { first: at, kind }: FloorSection): Fix[] {
  const { score, grid } = danced;
  const alike = score.sections.filter((s) => s.counts > 0 && s.kind === kind).map((s) => s.first);
  const usual = danced.laid.find((laid) => alike.includes(laid.at))?.move.id;
  const fits = (move: Move) =>
    isFigure(move) &&
    suitsMetre(move, grid) &&
    suitsPace(move, danced) &&
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
