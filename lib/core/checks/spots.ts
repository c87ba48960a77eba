import type { PlanChange } from '../areas/change.ts';
import type { Plan } from '../areas/plan.ts';
import { mayStartOn, suitsMetre } from '../dance/counts.ts';
import { isFigure } from '../dance/kinds.ts';
import type { Move } from '../dance/move.ts';
import { type LaidMove, lay, storedAt } from '../dance/place.ts';
import type { Danced, Fix } from './finding.ts';
import { suitsPace } from './pace.ts';
import { capital, many, whereabouts } from './words.ts';

/** Whether a move, laid from a count and then shifted by some, is free of all others and of what it should not run over. */
export function isFree(danced: Danced, laid: LaidMove, by = 0): boolean {
  const { score, grid, walk, taken } = danced;
  const [at, end, preparationFrom] = [laid.at + by, laid.end + by, laid.preparationFrom + by];
  const first = score.counts[at];
  const last = score.counts[end - 1];
  if (!first || !last || first.pickUp || last.assumed || preparationFrom < 0) return false;
  if (walk && preparationFrom < walk.firstStep) return false;
  if (first.phrase !== last.phrase || first.phrase < 0) return false;
  if (!mayStartOn(laid.move, first.inBar, grid)) return false;
  if (last.floor > score.musicLength) return false;
  if (score.seams.some((seam) => !seam.clean && seam.next > at && seam.next < end)) return false;
  return taken.isFree(preparationFrom, end, laid.id);
}

/** Bars from its place within which another is looked for: further away, it would be another dance. Common practice, no source. */
const FURTHEST = 48;

/** The first `most` counts at which this move could be danced, the nearest to `near` first, of two the earlier. */
function* freeSpots(
  danced: Danced,
  move: Move,
  about: { id: string; times: number },
  near: number,
  most: number,
): Generator<number> {
  const laid = lay(move, near, danced.grid, { ...about, part: 'placed' });
  const furthest = FURTHEST * danced.score.countsPerBar;
  let found = 0;
  for (let away = 0; away <= furthest; away++) {
    for (const by of away === 0 ? [0] : [-away, away]) {
      if (!isFree(danced, laid, by)) continue;
      yield near + by;
      if (++found === most) return;
    }
  }
}

/** `one bar earlier`, `two counts later`. */
export function shiftWords(delta: number, countsPerBar: number): string {
  const size = Math.abs(delta);
  const by = size % countsPerBar === 0 ? many(size / countsPerBar, 'bar') : many(size, 'count');
  return `${by} ${delta < 0 ? 'earlier' : 'later'}`;
}

/** Fixes that put a placed move on the nearest places that are free, two of them also danced once instead of more often. */
export function* shiftFixes(plan: Plan, danced: Danced, laid: LaidMove): Generator<Fix> {
  const { id, move, times } = laid;
  for (const at of freeSpots(danced, move, laid, laid.at, 4)) yield shiftFix(plan, danced, laid, at, times);
  if (times === 1) return;
  for (const at of freeSpots(danced, move, { id, times: 1 }, laid.at, 2))
    yield shiftFix(plan, danced, laid, at, 1);
}

function shiftFix(plan: Plan, danced: Danced, laid: LaidMove, at: number, times: number): Fix {
  const { score } = danced;
  const delta = at - laid.at;
  const far = Math.abs(delta) > 4 * score.countsPerBar;
  const where = far
    ? `put it ${whereabouts(plan, danced, at)}`
    : `start it ${shiftWords(delta, score.countsPerBar)}`;
  const moved = laid.removedByEdit ? `put it ${whereabouts(plan, danced, at)}` : where;
  const often =
    times < laid.times ? (delta === 0 && !laid.removedByEdit ? 'dance it once' : `${moved}, once`) : moved;
  const changes: PlanChange[] = [
    { collection: 'placed', id: laid.id, fields: { at: storedAt(score, at), times } },
  ];
  return { words: capital(often), changes };
}

/**
 * Fixes that dance another of the couple's moves in this place: one that suits the music, those first that are danced anyway, so
 * that there is no more to learn.
 */
export function* swapFixes(
  plan: Plan,
  danced: Danced,
  laid: LaidMove,
  suits: (move: Move) => boolean,
): Generator<Fix> {
  const isUsed = new Set(danced.used.map(({ move }) => move.id));
  yield* plan.moves
    .filter((move) => move.id !== laid.move.id && isFigure(move) && suits(move))
    .filter((move) => suitsMetre(move, danced.grid) && suitsPace(move, danced))
    .filter((move) => isFree(danced, lay(move, laid.at, danced.grid, { id: laid.id, part: 'placed' })))
    .sort(
      (a, b) =>
        Number(isUsed.has(b.id)) - Number(isUsed.has(a.id)) ||
        Math.abs(a.counts - laid.move.counts) - Math.abs(b.counts - laid.move.counts) ||
        (a.id < b.id ? -1 : 1),
    )
    .slice(0, 4)
    .map(
      (move): Fix => ({
        words: `Dance “${move.name}” instead of “${laid.move.name}”`,
        changes: [{ collection: 'placed', id: laid.id, fields: { move: move.id, times: 1 } }],
      }),
    );
}
