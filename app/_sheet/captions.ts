import type { RowInk } from './ink.ts';
import { widthOf } from './shapes.ts';

/** Words that found no place in the drawing stand under it. */
export function captionsOf(
  ink: RowInk,
  x: (at: number) => number,
  width: number,
): { words: string; gold: boolean }[] {
  const captions: { words: string; gold: boolean }[] = [];
  if (ink.walkWords && widthOf(ink.walkWords.words) > width - 8)
    captions.push({ words: ink.walkWords.words, gold: false });
  const { landing } = ink;
  if (landing && !landingSide(x(landing.at), landing.words, width))
    captions.push({ words: landing.words, gold: true });
  return captions;
}

/** On which side of the fermata its words fit. */
export function landingSide(at: number, words: string, width: number): 'right' | 'left' | null {
  const needs = widthOf(words) + 20;
  if (at + needs <= width + 20) return 'right';
  return at - needs >= 0 ? 'left' : null;
}
