import { type RefObject, useMemo, useRef } from 'react';
import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Fix } from '@/lib/core/checks/finding.ts';
import { laidOut, moveBy } from '@/lib/core/dance/place.ts';
import type { SheetRow } from '@/lib/core/handover/sheetRows.ts';
import { rowOf } from '@/lib/core/handover/sheetRows.ts';
import { type RecordTime, recordTime, wholeMicros } from '@/lib/core/units.ts';
import { newId } from '../_client/newId.ts';
import type { Desk } from '../_dance/desk.tsx';
import { countBeside, type KeyMeaning, meaningOf, nothing, putOnCount, timesBy } from '../_dance/hand.ts';
import type { RowHandlers } from './row.tsx';
import type { useDragging } from './useDragging.ts';

/** What the sheet tells its rows; the same object for its whole life, so that rows are not drawn anew for it. */
export function useHandlers(
  desk: Desk,
  rows: readonly SheetRow[],
  dragging: Pick<ReturnType<typeof useDragging>, 'dragged' | 'grab' | 'touchable'>,
): { handlers: RowHandlers; focusNext: RefObject<string | null> } {
  const latest = useRef({ desk, rows, dragging });
  latest.current = { desk, rows, dragging };
  /** Id of the element that gets the focus after the next drawing. */
  const focusNext = useRef<string | null>(null);

  const handlers = useMemo<RowHandlers>(() => {
    const focusCount = (at: number) => {
      const row = latest.current.rows[rowOf(latest.current.rows, at)];
      if (row) document.getElementById(`counts-${row.id}`)?.focus();
    };
    const choose = (at: number) => {
      const { desk } = latest.current;
      const done = putOnCount(desk.plan, desk.score, desk.hand, at, newId);
      desk.change(done.changes as PlanChange[], { done: () => desk.take(done.hand) });
    };
    const act = (id: string, meaning: KeyMeaning) => {
      const { desk } = latest.current;
      focusNext.current = `ribbon-${id}`;
      if (meaning.kind === 'step') {
        desk.change(moveBy(desk.plan, desk.score, id, meaning.unit, meaning.steps) as PlanChange[]);
      } else if (meaning.kind === 'times') {
        desk.change(timesBy(desk.plan, id, meaning.by) as PlanChange[]);
      } else if (meaning.kind === 'remove') {
        const laid = laidOut(desk.plan, desk.score).find((one) => one.id === id);
        const row = latest.current.rows[rowOf(latest.current.rows, laid?.at ?? 0)];
        focusNext.current = row ? `counts-${row.id}` : null;
        desk.change([{ collection: 'placed', id, fields: null }], { done: () => desk.take(nothing) });
      } else if (meaning.kind === 'let go') desk.take(nothing);
      else desk.take({ kind: 'placed', id });
    };
    return {
      onCount: choose,
      onGrab(id, event) {
        const { desk, dragging } = latest.current;
        const laid = laidOut(desk.plan, desk.score).find((one) => one.id === id);
        if (laid) dragging.grab(id, laid.at, isInHand(desk, id), event);
      },
      isBusy: () => latest.current.dragging.dragged !== null,
      onEnding: () => latest.current.desk.open('ending'),
      onCountFocus: (at) => latest.current.desk.moveCursor(at),
      touchable: (element) => latest.current.dragging.touchable(element),
      onHold: (id) => hold(latest.current.desk, id),
      onKey(id, event) {
        const meaning = meaningOf(event.key, event.shiftKey);
        if (!meaning || event.ctrlKey || event.metaKey || event.altKey) return;
        event.preventDefault();
        // In a task of its own: with the painting of what the key itself changes on the page, such as a frame, it would be a long one.
        setTimeout(() => act(id, meaning));
      },
      onCountKey(at, event) {
        const { desk } = latest.current;
        const meaning = meaningOf(event.key, event.shiftKey);
        if (!meaning || event.ctrlKey || event.metaKey || event.altKey) return;
        if (meaning.kind === 'times' || meaning.kind === 'remove') return;
        event.preventDefault();
        if (meaning.kind === 'choose') choose(at);
        else if (meaning.kind === 'let go') desk.take(nothing);
        else {
          const next = countBeside(desk.score, at, meaning.unit, meaning.steps);
          // In this order: a row that gets the focus puts the cursor on its first count.
          focusCount(next);
          desk.moveCursor(next);
        }
      },
      onWord(row, cue, word) {
        const { desk } = latest.current;
        if (cue) {
          desk.change([{ collection: 'cues', id: cue.id, fields: word ? { word } : null }]);
        } else if (word) {
          const at = momentOf(desk, row);
          if (at !== null) desk.change([{ collection: 'cues', id: newId(), fields: { at, word } }]);
        }
      },
      onFix(fix: Fix, note, row) {
        // The button goes with its note: whoever pressed it finds themselves in the row, by key on its counts.
        const byKey = document.activeElement?.matches(':focus-visible');
        latest.current.desk.change(fix.changes, {
          way: 'suggestion',
          // The note names what it is about.
          about: [note.id.slice(note.rule.length + 1)],
          done() {
            focusNext.current = row
              ? `${byKey && row.counts > 0 ? 'counts' : 'row'}-${row.id}`
              : 'phrase-sheet';
          },
        });
      },
    };
  }, []);
  return { handlers, focusNext };
}

const isInHand = ({ hand }: Desk, id: string): boolean => hand.kind === 'placed' && hand.id === id;

/** Takes a placed move in hand, unless something else is being put somewhere. */
function hold(desk: Desk, id: string): void {
  if (!isInHand(desk, id)) desk.take({ kind: 'placed', id });
}

/** Where a new word of a row lies in the recording. */
function momentOf({ score }: Desk, row: SheetRow): RecordTime | null {
  const record = row.counts > 0 ? score.counts[row.first]?.record : score.sections[row.section ?? -1]?.record;
  return record === undefined ? null : recordTime(wholeMicros(record));
}
