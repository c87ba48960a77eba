import { type RefObject, useEffect, useRef } from 'react';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { countAtTime, rowOf, type SheetRow } from '@/lib/core/handover/sheetRows.ts';
import { player } from '../_practice/player.ts';
import { freeView, scrollFor } from './inView.ts';

interface Props {
  score: FloorScore;
  rows: readonly SheetRow[];
  columns: number;
  sheet: RefObject<HTMLDivElement | null>;
  /** A move is being dragged: the page stays where it is. */
  held: boolean;
}

/**
 * A line through the row where the music is, which the page follows. Moved past React: it changes many times a second and nothing
 * else does.
 */
export function Playhead({ score, rows, columns, sheet, held }: Props) {
  const line = useRef<HTMLDivElement>(null);
  /** The row that was danced last; null while nothing plays. */
  const danced = useRef<string | null>(null);
  const isHeld = useRef(held);
  isHeld.current = held;
  useEffect(() => {
    const show = () => {
      const element = line.current;
      const { at, playing } = player.getState();
      if (!element || !sheet.current) return;
      const place = at === null || at < 0 ? -1 : countAtTime(score, at);
      const row = rows[rowOf(rows, Math.floor(place))];
      const staff = row && staffOf(sheet.current, row.id);
      element.hidden = !staff || at === null;
      if (!staff || !row) return;
      const box = staff.getBoundingClientRect();
      const origin = sheet.current.getBoundingClientRect();
      const share = staff.matches('svg') ? (place - row.first) / columns : 0;
      const x = box.left - origin.left + share * box.width;
      element.style.height = `${box.height}px`;
      element.style.transform = `translate(${x}px, ${box.top - origin.top}px)`;
      element.classList.toggle('opacity-40', !playing);
      const before = danced.current;
      danced.current = playing ? row.id : null;
      if (playing && row.id !== before && !isHeld.current && !isTyping())
        follow(sheet.current, row.id, before);
    };
    show();
    // What opens on the sheet moves the rows below it, whether anything plays or not.
    const observer = new ResizeObserver(show);
    if (sheet.current) observer.observe(sheet.current);
    const stop = player.subscribe(show);
    return () => {
      observer.disconnect();
      stop();
    };
  }, [score, rows, columns, sheet]);
  return (
    <div
      ref={line}
      data-playhead
      hidden
      aria-hidden="true"
      className="no-print pointer-events-none absolute top-0 left-0 w-0.5 bg-ink"
    />
  );
}

/** The drawing of a row; while it is folded away, the line that stands for it. */
const staffOf = (sheet: HTMLElement, id: string): Element | null =>
  sheet.querySelector(`[data-row="${id}"] svg[role=group]`) ?? sheet.querySelector(`[data-rows~="${id}"]`);

const isTyping = (): boolean =>
  document.activeElement?.matches('input, textarea, [contenteditable="true"]') ?? false;

function follow(sheet: HTMLElement, id: string, before: string | null): void {
  const all = [...sheet.querySelectorAll('[data-row]')];
  const row = all.findIndex((each) => each.getAttribute('data-row') === id);
  const extentOf = (each: Element | undefined) => each?.getBoundingClientRect() ?? null;
  const left = all.find((each) => each.getAttribute('data-row') === before);
  const down = scrollFor(freeView(), extentOf(all[row])!, extentOf(left), extentOf(all[row + 1]));
  const isCalm = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
  if (down !== 0) window.scrollBy({ top: down, behavior: isCalm ? 'auto' : 'smooth' });
}
