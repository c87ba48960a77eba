import type { RowInk } from '@/lib/core/handover/sheetInk.ts';
import { widthOf } from './shapes.ts';

type X = (at: number) => number;

/** Words that found no place in the drawing stand over it, `from` px into the row: at what they are of, or as near as they fit. */
export function captionsOf(
  ink: RowInk,
  x: X,
  width: number,
): { words: string; gold: boolean; from: number }[] {
  const { walkWords, landing } = ink;
  const caption = ({ at, words }: { at: number; words: string }, gold: boolean) => ({
    ...{ words, gold },
    from: Math.max(0, Math.min(x(at), width - widthOf(words))),
  });
  return [
    ...(walkWords && widthOf(walkWords.words) > width - 8 ? [caption(walkWords, false)] : []),
    ...(landing && !landingSide(ink, x, width) ? [caption(landing, true)] : []),
  ];
}

/** On which side of the fermata its words fit; null where there is no room, or other words stand there already. */
export function landingSide(ink: RowInk, x: X, width: number): 'right' | 'left' | null {
  const { landing, ribbons } = ink;
  if (!landing || ribbons.some(({ raised }) => raised)) return null;
  const needs = widthOf(landing.words) + 20;
  const at = x(landing.at);
  if (at + needs <= width + 20) return 'right';
  if (at - needs < 0) return null;
  const above = ribbons.some(
    (ribbon) =>
      x(ribbon.to) - x(ribbon.from) < widthOf(ribbon.label) + 20 &&
      x(ribbon.from) + widthOf(ribbon.label) > at - needs &&
      x(ribbon.from) < at,
  );
  return above ? null : 'left';
}

/** Nothing stands above the line of this row, so that on a narrow page it may move up to its word. */
export function isQuietAbove(ink: RowInk, x: X): boolean {
  const { walkWords, firstStep, landing, seams, ribbons } = ink;
  return (
    walkWords === null &&
    firstStep === null &&
    landing === null &&
    seams.length === 0 &&
    ribbons.every((ribbon) => !ribbon.raised && x(ribbon.to) - x(ribbon.from) >= widthOf(ribbon.label) + 20)
  );
}
