import { useMemo } from 'react';
import { changePlan } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { heardOf } from '@/lib/core/checks/heard.ts';
import { sightOf } from '@/lib/core/checks/sight.ts';
import { putAt } from '@/lib/core/dance/place.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { inkOf } from '@/lib/core/handover/sheetInk.ts';
import { columnsOf, rowCapacity, rowsOf } from '@/lib/core/handover/sheetRows.ts';
import type { SheetState } from '../_client/boardState.ts';
import { useChecked } from '../_client/useChecked.ts';
import { foldsOf } from './folds.ts';
import { hangingNotes, notesByRow } from './notes.ts';
import { HEIGHT } from './shapes.ts';
import { tintOf } from './tint.ts';
import type { Dragged } from './useDragging.ts';
import { useStable } from './useStable.ts';

/** A staff narrower than this, px, holds four bars a row. */
const NARROW = 440;
/** Ms that the pointer rests before the notes say how the move would lie there. */
const REST = 120;

/** Until the checks have spoken. */
const NO_RULES: ReadonlySet<string> = new Set();

/** Rows of a score for a width; the same while neither changes. */
export function useRows(score: FloorScore, width: number) {
  const narrow = width < NARROW;
  const rows = useMemo(() => rowsOf(score, rowCapacity(score.countsPerBar, narrow)), [score, narrow]);
  const columns = useMemo(() => columnsOf(rows), [rows]);
  return { rows, columns, narrow };
}

/** All that the sheet draws, as it would be if the dragged move were let go now. */
export function useDrawing(
  state: SheetState,
  score: FloorScore,
  rows: ReturnType<typeof rowsOf>,
  dragged: Dragged | null,
) {
  const { board, today } = state;
  const plan = useMemo(
    () => (dragged ? dragTo(board.plan, score, dragged) : board.plan),
    [board.plan, score, dragged],
  );
  // The ribbon follows the pointer at once, the notes once it rests.
  const tried = useMemo(() => (dragged ? { ...board, plan } : null), [dragged, board, plan]);
  const triedChecked = useChecked(tried, today, REST);
  const checked = triedChecked ?? state.checked;
  const mayBeFixed = checked?.mayBeFixed ?? NO_RULES;
  const heard = heardOf(board.plan);
  const tint = useMemo(() => (heard ? tintOf(score, heard) : []), [score, heard]);
  const folds = useMemo(
    () => foldsOf(board.plan, score, rows, sightOf(board, score, heard, today).danced, heard),
    [board, score, rows, today, heard],
  );
  const inks = useMemo(() => {
    const drawn = inkOf(plan, score, rows);
    return new Map(rows.map((row, i) => [row.id, drawn[i]!]));
  }, [plan, score, rows]);
  const notes = useMemo(() => notesByRow(checked?.findings ?? [], score, rows), [checked, score, rows]);
  const hanging = useMemo(
    () => hangingNotes(rows, notes.beside, HEIGHT, folds, mayBeFixed),
    [rows, notes, folds, mayBeFixed],
  );
  return {
    plan,
    tint,
    folds,
    inks: useStable(inks),
    beside: notes.beside,
    hanging,
    mayBeFixed,
    top: checked && notes.top,
  };
}

const dragTo = (plan: Plan, score: FloorScore, { id, at }: Dragged): Plan =>
  changePlan(plan, putAt(score, id, at));
