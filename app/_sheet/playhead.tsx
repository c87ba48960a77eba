import { type RefObject, useEffect, useRef } from 'react';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { player } from '../_practice/player.ts';
import { countAtTime, rowOf, type SheetRow } from './layout.ts';

interface Props {
  score: FloorScore;
  rows: readonly SheetRow[];
  columns: number;
  sheet: RefObject<HTMLDivElement | null>;
}

/** A line through the row where the music is. Moved past React: it changes many times a second and nothing else does. */
export function Playhead({ score, rows, columns, sheet }: Props) {
  const line = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const show = () => {
      const element = line.current;
      const { at, playing } = player.getState();
      if (!element || !sheet.current) return;
      const place = at === null || at < 0 ? -1 : countAtTime(score, at);
      const row = rows[rowOf(rows, Math.floor(place))];
      const staff = row && sheet.current.querySelector(`[data-row="${row.id}"] svg`);
      element.hidden = !staff || at === null;
      if (!staff || !row) return;
      const box = staff.getBoundingClientRect();
      const origin = sheet.current.getBoundingClientRect();
      const x = box.left - origin.left + ((place - row.first) / columns) * box.width;
      element.style.height = `${box.height}px`;
      element.style.transform = `translate(${x}px, ${box.top - origin.top}px)`;
      element.classList.toggle('opacity-40', !playing);
    };
    show();
    return player.subscribe(show);
  }, [score, rows, columns, sheet]);
  return (
    <div
      ref={line}
      hidden
      aria-hidden="true"
      className="no-print pointer-events-none absolute top-0 left-0 w-0.5 bg-ink"
    />
  );
}
