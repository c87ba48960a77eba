import type { FloorTime } from '@/lib/core/units.ts';

/** Of rounding, seconds: a row that begins at a moment holds it. */
const SLACK = 0.01;

/** Brings the row that holds a moment into view; `focus` leads whoever came by key to its counts, or to its first button. */
export function goTo(at: FloorTime, focus = false): void {
  const rows = [...document.querySelectorAll<HTMLElement>('[data-row], [data-rows]')];
  const row = rows.findLast(({ dataset }) => Number(dataset.from) <= at + SLACK) ?? rows[0];
  if (!row) return;
  const isCalm = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
  if (focus) {
    const counts = row.querySelector<SVGElement>('[role="slider"]');
    (counts ?? row.querySelector('button'))?.focus({ preventScroll: true });
  }
  row.scrollIntoView({ block: 'center', behavior: isCalm ? 'auto' : 'smooth' });
}
