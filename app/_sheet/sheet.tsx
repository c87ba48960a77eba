import { useLayoutEffect, useMemo, useRef } from 'react';
import { onBoard } from '@/lib/core/dance/counts.ts';
import { putAt } from '@/lib/core/dance/place.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { useDesk } from '../_dance/desk.tsx';
import { FoldStrip } from './foldStrip.tsx';
import { groupsOf } from './groups.ts';
import type { Ribbon } from './ink.ts';
import { rowOf, type SheetRow } from './layout.ts';
import { MarginNotes } from './marginNotes.tsx';
import { Playhead } from './playhead.tsx';
import { handsOf } from './presence.tsx';
import { Row } from './row.tsx';
import { saidOf } from './saidOf.ts';
import { useDragging } from './useDragging.ts';
import { useDrawing, useRows } from './useDrawing.ts';
import { useHandlers } from './useHandlers.ts';
import { useWidth } from './useWidth.ts';

/** The phrase sheet: the song down the page like a poem, and on it the dance. */
export function Sheet({ score }: { score: FloorScore }) {
  const state = useBoard();
  const room = useRoom();
  const desk = useDesk();
  const sheet = useRef<HTMLDivElement>(null);
  const [probe, width] = useWidth();
  const { rows, columns } = useRows(score, width);
  const { dragged, grab, touchable } = useDragging(
    sheet,
    rows,
    columns,
    (id, at) => desk.change(putAt(score, id, at)),
    (id) => document.getElementById(`ribbon-${id}`)?.focus(),
  );
  const { plan, tint, folds, inks, beside, hanging, top } = useDrawing(state, score, rows, dragged);
  const { handlers, focusNext } = useHandlers(desk, rows, { grab, touchable }, (at) => room.lookAt(at));
  const groups = useMemo(() => groupsOf(score, rows, folds), [score, rows, folds]);
  const hands = handsOf(state.people);
  const { hand, mayWrite } = desk;

  // A ribbon that went to another row is another element there: the focus goes with it.
  useLayoutEffect(() => {
    if (focusNext.current === null) return;
    document.getElementById(focusNext.current)?.focus();
    focusNext.current = null;
  });

  const placing = placingCounts(desk);
  const cursorRow = desk.cursor === null ? -1 : rowOf(rows, desk.cursor);
  const chosen = hand.kind === 'placed' ? hand.id : null;
  return (
    <div ref={sheet} className="relative">
      {top.length > 0 ? (
        <section aria-label="Notes on the whole" className="no-print mb-6 max-w-3xl">
          <MarginNotes notes={top} onFix={mayWrite ? handlers.onFix : null} most={3} />
        </section>
      ) : null}
      <p id="ribbon-keys" className="sr-only">
        Left and right arrow keys move it by a count, with shift by a bar, up and down by a phrase. Plus and
        minus dance it more or less often, Delete takes it away.
      </p>
      <div className="md:grid md:grid-cols-[10.5rem_minmax(0,1fr)] md:gap-x-4 md:pl-4 xl:grid-cols-[10.5rem_minmax(0,1fr)_17rem] xl:gap-x-6">
        <div ref={probe} className="md:col-start-2" />
      </div>
      {width > 0
        ? groups.map((group) => (
            <section key={group.key} className="mb-3 border-l-2 border-rule pl-3 md:pl-4">
              {group.name ? <h3 className="small-caps -mb-1 font-sans text-ink">{group.name}</h3> : null}
              <ol>
                {group.items.map((item) =>
                  item.kind === 'fold' ? (
                    <li key={`fold-${item.fold.from}`}>
                      <FoldStrip fold={item.fold} plan={state.board.plan} />
                    </li>
                  ) : (
                    <Row
                      key={item.row.id}
                      score={score}
                      row={item.row}
                      ink={inks.get(item.row.id)!}
                      tint={tint}
                      width={width}
                      columns={columns}
                      notes={beside.get(item.row.id) ?? NONE}
                      hanging={hanging.has(item.row.id)}
                      placing={placing}
                      cursor={rows[cursorRow] === item.row ? desk.cursor : null}
                      chosen={inks.get(item.row.id)!.ribbons.some(({ id }) => id === chosen) ? chosen : null}
                      here={handsIn(hands, item.row, inks.get(item.row.id)!.ribbons)}
                      handlers={mayWrite ? handlers : null}
                    />
                  ),
                )}
              </ol>
            </section>
          ))
        : null}
      <Playhead score={score} rows={rows} columns={columns} sheet={sheet} />
      <p className="sr-only" aria-live="polite">
        {saidOf(plan, score, dragged?.id ?? chosen)}
      </p>
    </div>
  );
}

const NONE: [] = [];

/** Counts that what is in hand will take, 1 for what is a moment; null when nothing is to be put on a count. */
function placingCounts({ hand, plan }: ReturnType<typeof useDesk>): number | null {
  if (hand.kind === 'first step' || hand.kind === 'landing') return 1;
  const move = hand.kind === 'move' ? plan.moves.find(({ id }) => id === hand.move) : undefined;
  return move && plan.grid ? onBoard(move, move.counts, plan.grid) : null;
}

/** Names of those who have a row or something in it in hand; a phrase in several rows shows them in its first. */
function handsIn(hands: Map<string, string>, row: SheetRow, ribbons: Ribbon[]): string {
  if (hands.size === 0) return '';
  const things = ribbons.filter(({ begins }) => begins).map(({ id }) => id);
  if (row.opens) things.push(row.phrase === null ? row.id : `phrase:${row.phrase}`);
  const names = things.flatMap((at) => hands.get(at) ?? []);
  return [...new Set(names.flatMap((name) => name.split('|')))].join('|');
}
