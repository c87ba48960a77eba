import { useCallback, useEffect, useLayoutEffect, useMemo, useRef } from 'react';
import { onBoard } from '@/lib/core/dance/counts.ts';
import { putAt } from '@/lib/core/dance/place.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { rowOf, type SheetRow } from '@/lib/core/handover/sheetRows.ts';
import type { SheetState } from '../_client/boardState.ts';
import { useRoom } from '../_client/room.tsx';
import { useDesk } from '../_dance/desk.tsx';
import { later } from '../_ui/later.tsx';
import { BasicFold } from './basicFold.tsx';
import { isBasic, withBasicRows } from './basicRows.ts';
import { FoldStrip } from './foldStrip.tsx';
import { groupsOf } from './groups.ts';
import { Playhead } from './playhead.tsx';
import { handsOf, heldIn, namesAt, placeOf } from './presence.tsx';
import { Row } from './row.tsx';
import { saidOf } from './saidOf.ts';
import { useCountsFocus } from './useCountsFocus.ts';
import { useDragging } from './useDragging.ts';
import { useDrawing, useRows } from './useDrawing.ts';
import { useHandlers } from './useHandlers.ts';
import { useShown } from './useShown.ts';
import { MEASURED, useWidth } from './useWidth.ts';
import { WholeNotes } from './wholeNotes.tsx';

/** Comes after what is first seen. */
const SettleAll = later(async () => (await import('../_settle/settleAll.tsx')).SettleAll);

/**
 * The phrase sheet: the song down the page like a poem, and on it the dance.
 * @param fixed it shows another state than the board's present one: to look at, not to change or to hear
 */
export function Sheet({
  state,
  score,
  fixed = false,
}: {
  state: SheetState;
  score: FloorScore;
  fixed?: boolean;
}) {
  const desk = useDesk();
  const sheet = useRef<HTMLDivElement>(null);
  const [probe, width] = useWidth();
  const { rows, columns, narrow } = useRows(score, width);
  const { dragged, grab, touchable } = useDragging(
    sheet,
    rows,
    columns,
    (id, at) => desk.change(putAt(score, id, at)),
    (id) => document.getElementById(`ribbon-${id}`)?.focus(),
  );
  const { plan, tint, folds, inks, beside, hanging, mayBeFixed, top } = useDrawing(
    state,
    score,
    rows,
    dragged,
  );
  const { handlers: all, focusNext } = useHandlers(desk, rows, { dragged, grab, touchable });
  const shown = useShown(rows.length);
  const groups = useMemo(() => groupsOf(score, rows.slice(0, shown), folds), [score, rows, shown, folds]);
  const hands = useMemo(() => handsOf(state.people), [state.people]);
  const onLook = useLooking(fixed);
  const handlers = desk.mayWrite && !fixed ? all : null;

  // A ribbon that went to another row is another element there: the focus goes with it.
  useLayoutEffect(() => {
    const id = focusNext.current;
    focusNext.current = null;
    if (id !== null && document.activeElement?.id !== id) document.getElementById(id)?.focus();
  });

  const placing = handlers ? placingCounts(desk) : null;
  useCountsFocus(sheet, placing !== null);
  const cursorRow = desk.cursor === null || !handlers ? -1 : rowOf(rows, desk.cursor);
  const chosen = desk.hand.kind === 'placed' && handlers ? desk.hand.id : null;
  // On a phone; but while something is to be put on a count, every count is there.
  const isFolded = (each: SheetRow) =>
    narrow &&
    placing === null &&
    rows[cursorRow] !== each &&
    !beside.has(each.id) &&
    isBasic(inks.get(each.id)!);
  const row = (each: SheetRow) => {
    const ink = inks.get(each.id)!;
    return (
      <Row
        key={each.id}
        {...{ score, row: each, ink, tint, width, columns, placing, handlers, mayBeFixed, onLook }}
        notes={beside.get(each.id) ?? NONE}
        room={hanging.get(each.id)?.room ?? null}
        down={hanging.get(each.id)?.down ?? 0}
        isCut={hanging.get(each.id)?.isCut ?? false}
        cursor={rows[cursorRow] === each ? desk.cursor : null}
        chosen={ink.ribbons.some(({ id }) => id === chosen) ? chosen : null}
        here={fixed ? '' : namesAt(hands, each, ink.ribbons)}
        held={fixed ? '' : heldIn(hands, ink.ribbons)}
        played={!fixed}
      />
    );
  };
  return (
    <div
      ref={sheet}
      id="phrase-sheet"
      tabIndex={-1}
      className="relative outline-none"
      aria-busy={shown < rows.length || (!fixed && !state.isChecked)}
    >
      <WholeNotes
        notes={top}
        mayBeFixed={mayBeFixed}
        onFix={handlers && ((fix, note) => handlers.onFix(fix, note, null))}
        isBusy={handlers?.isBusy ?? null}
      />
      <p id="ribbon-keys" className="sr-only">
        Left and right arrow keys move it by a count, with shift by a bar, up and down by a phrase. Plus and
        minus dance it more or less often, Delete takes it away.
      </p>
      <div className={MEASURED.row}>
        <div ref={probe} className={MEASURED.staff} />
      </div>
      {width > 0
        ? groups.map((group) => (
            <section key={group.key} className="relative mb-3 border-l-2 border-rule pl-3 md:mb-1 md:pl-4">
              {group.name ? (
                <h3
                  title={group.name}
                  className="small-caps z-1 -mb-1 break-after-avoid font-sans leading-none text-ink md:absolute md:top-0.5 md:left-4 md:mb-0 md:max-w-[10.5rem] md:truncate"
                >
                  {group.name}
                </h3>
              ) : null}
              <ol>
                {withBasicRows(group.items, isFolded).map((item) =>
                  item.kind === 'basic' ? (
                    <BasicFold
                      key={item.rows[0]!.id}
                      rows={item.rows}
                      heard={item.rows.flatMap(({ id }) => inks.get(id)?.cue?.word ?? [])}
                    >
                      {() => item.rows.map(row)}
                    </BasicFold>
                  ) : item.kind === 'fold' ? (
                    <li key={item.fold.id}>
                      <FoldStrip fold={item.fold} plan={state.board.plan} />
                    </li>
                  ) : (
                    row(item.row)
                  ),
                )}
              </ol>
            </section>
          ))
        : null}
      {handlers && state.checked && state.isChecked && !dragged ? (
        <SettleAll board={state.board} today={state.today} findings={state.checked.findings} />
      ) : null}
      {fixed ? null : (
        <Playhead score={score} rows={rows} columns={columns} sheet={sheet} held={dragged !== null} />
      )}
      <p className="sr-only" aria-live="polite">
        {saidOf(plan, score, dragged?.id ?? chosen)}
      </p>
    </div>
  );
}

/** Tells the others at which row or move this person is, as long as the sheet is open. */
function useLooking(off: boolean): (row: SheetRow, target: Element) => void {
  const room = useRoom();
  useEffect(() => () => room.lookAt(''), [room]);
  return useCallback(
    (row, target) => {
      if (off) return;
      const id = target.closest('[id^="ribbon-"]')?.id;
      room.lookAt(id ? id.slice('ribbon-'.length) : placeOf(row));
    },
    [room, off],
  );
}

const NONE: [] = [];

/** Counts that what is in hand will take, 1 for what is a moment; null when nothing is to be put on a count. */
function placingCounts({ hand, plan }: ReturnType<typeof useDesk>): number | null {
  if (hand.kind === 'first step' || hand.kind === 'landing') return 1;
  const move = hand.kind === 'move' ? plan.moves.find(({ id }) => id === hand.move) : undefined;
  return move && plan.grid ? onBoard(move, move.counts, plan.grid) : null;
}
