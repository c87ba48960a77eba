import type { RowInk } from './ink.ts';
import { widthOf } from './shapes.ts';

type X = (at: number) => number;

/** Words that found no place in the drawing stand under it. */
export function captionsOf(ink: RowInk, x: X, width: number): { words: string; gold: boolean }[] {
  const captions: { words: string; gold: boolean }[] = [];
  const { walkWords, landing } = ink;
  if (walkWords && widthOf(walkWords.words) > width - 8)
    captions.push({ words: walkWords.words, gold: false });
  if (landing && !landingSide(ink, x, width)) captions.push({ words: landing.words, gold: true });
  return captions;
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
