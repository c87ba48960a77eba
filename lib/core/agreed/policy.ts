import type { AreaData, AreaShape } from '../areas/area.ts';
import { type AreaName, areas, type Board } from '../areas/board.ts';
import { type Change, changeArea } from '../areas/change.ts';
import { checkChanges } from '../areas/checkChanges.ts';
import { emptyArea } from '../areas/empty.ts';
import { may } from '../areas/rights.ts';
import { bad, good, type Problem, type Result } from '../result.ts';
import type { Gesture } from './gesture.ts';
import { heldFast, LIFTED } from './heldFast.ts';
import { type Loss, lossesOf } from './losses.ts';
import { staleWord } from './staleWord.ts';

/**
 * - `allowed`: nothing that was agreed, placed or said is touched
 * - `refused`: it may not be, and why. Codes: `no right`, `invalid`, `gone`, `settled`, `not current`
 * - `asks`: it may be once the person has said yes to what is lost; `changes` are then to be made in place of those asked about,
 *   since what was settled is lifted by the same change
 */
export type Verdict<N extends AreaName = AreaName> =
  | { kind: 'allowed' }
  | { kind: 'refused'; problem: Problem }
  | { kind: 'asks'; losses: Loss[]; changes: readonly Change<(typeof areas)[N]>[] };

/**
 * Whether a gesture may happen, must not, or somebody must be asked first: the one place where that is decided. Pages ask it before
 * every change, whichever way it comes, and the server for every update that arrives.
 */
export function judge<N extends AreaName>(
  board: Board,
  area: N,
  changes: readonly Change<(typeof areas)[N]>[],
  gesture: Gesture,
): Verdict<N> {
  const { role, way, along = [] } = gesture;
  let after = board;
  for (const part of [
    { area, changes },
    { area: 'show' as const, changes: along },
  ]) {
    if (part.changes.length === 0) continue;
    if (way !== 'import' && !may(role, part.area, 'write'))
      return refused('no right', `Your link lets you read the ${part.area}, not change it.`);
    const made = changed(after, part.area, part.changes as readonly Change<AreaShape>[]);
    if (!made.ok) return { kind: 'refused', problem: made.problem };
    after = made.value;
  }
  if (way === 'import') return { kind: 'allowed' };
  const stale = staleWord(board, after, area, gesture);
  if (stale !== null) return refused('not current', stale);
  const held = heldFast(board, after);
  if (way === 'arrived') return held === null ? { kind: 'allowed' } : refused('settled', held);
  const losses = lossesOf(board, after, area, gesture, held !== null);
  if (losses.length === 0) return { kind: 'allowed' };
  return {
    kind: 'asks',
    losses,
    changes: held === null ? changes : [...changes, LIFTED as (typeof changes)[number]],
  };
}

/** The board with changes to one area, where they fit its shape. */
function changed(board: Board, area: AreaName, changes: readonly Change<AreaShape>[]): Result<Board> {
  const shape: AreaShape = areas[area];
  const before = (board[area] ?? emptyArea(shape)) as unknown as AreaData<AreaShape>;
  const fits = checkChanges(shape, before, changes);
  return fits.ok ? good({ ...board, [area]: changeArea(before, changes) }) : fits;
}

const refused = (code: string, sentence: string): { kind: 'refused'; problem: Problem } => ({
  kind: 'refused',
  problem: bad(code, sentence).problem,
});
