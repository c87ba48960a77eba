import bidiFactory from 'bidi-js';
import { type Face, type Faces, type Look, lettersOf } from './faces.ts';
import type { Direction, Shaped } from './shape.ts';

/** Words in one font and direction, `x` points from the left of their line. */
export interface Run {
  face: Face;
  direction: Direction;
  text: string;
  shaped: Shaped;
  x: number;
  width: number;
}

export interface Line {
  runs: Run[];
  width: number;
}

/** Stands for a letter that no font has, which would else be printed as another. */
export const LOST = '_';

const bidi = bidiFactory();
const words = new Intl.Segmenter('en', { granularity: 'word' });

/** Marks of direction do their work before anything is drawn. */
const DIRECTIONS = /[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu;
/** Scripts without blanks between words: a line may end between any two of theirs. */
const WITHOUT_BLANKS = /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Thai}]/u;
/** Words of letters that run from the right; a number after them stays where the English sentence has it (left-to-right mark). */
const FROM_THE_RIGHT =
  /[\p{Script=Hebrew}\p{Script=Arabic}][\p{Script=Hebrew}\p{Script=Arabic}\p{Mn}\u200c\u200d]*(?:\s+[\p{Script=Hebrew}\p{Script=Arabic}][\p{Script=Hebrew}\p{Script=Arabic}\p{Mn}\u200c\u200d]*)*/gu;

/** Text as it is printed: composed letters, no control characters, and a blank for a letter that no font has. */
export function printable(text: string, faces: Faces): string {
  const composed = text.normalize('NFC').replace(/\p{Cc}+/gu, ' ');
  return lettersOf(composed)
    .map((letter) => (/^[\s\p{Cf}]+$/u.test(letter) || faces.faceOf(letter, 'sans') ? letter : LOST))
    .join('');
}

/** Whether some letter of a text cannot be printed. */
export const isLost = (text: string, faces: Faces): boolean =>
  printable(text.replaceAll(LOST, ''), faces).includes(LOST);

/**
 * A text in lines no wider than `width`, points; its base direction is that of the English sentence which it is part of. A word
 * that is wider than a line is cut between two letters.
 */
export function linesOf(text: string, look: Look, size: number, width: number, faces: Faces): Line[] {
  const whole = printable(text, faces).replace(FROM_THE_RIGHT, '$&\u200e').replace(/\s+/g, ' ').trim();
  const { levels } = bidi.getEmbeddingLevels(whole, 'ltr');
  const measure = (part: string) => widthOf(part, look, faces) * size;
  const ranges: [from: number, to: number][] = [];
  let from = 0;
  let to = 0;
  let used = 0;
  for (const part of breakable(whole)) {
    const wide = measure(part);
    if (to > from && used + measure(part.trimEnd()) > width) {
      ranges.push([from, to]);
      from = to;
      used = 0;
    }
    to += part.length;
    used += wide;
    if (used - wide + measure(part.trimEnd()) <= width) continue;
    // A word that is wider than a line.
    used = 0;
    let at = from;
    for (const letter of lettersOf(part)) {
      const more = measure(letter);
      if (used + more > width && at > from) {
        ranges.push([from, at]);
        from = at;
        used = 0;
      }
      at += letter.length;
      used += more;
    }
  }
  if (to > from || ranges.length === 0) ranges.push([from, to]);
  return ranges.map(([a, b]) => lineOf(whole, levels, a, b, look, size, faces));
}

/** The parts of a text between which a line may end, each with the blanks and signs that follow it. */
function breakable(text: string): string[] {
  return text.split(/(?<=[\s\u200b])(?=\S)/u).flatMap((part) => {
    if (!WITHOUT_BLANKS.test(part)) return [part];
    const parts: string[] = [];
    for (const { segment, isWordLike } of words.segment(part)) {
      if (isWordLike || parts.length === 0) parts.push(segment);
      else parts[parts.length - 1] += segment;
    }
    return parts;
  });
}

/** Width of some words at a size of 1. Joined letters are measured joined, whichever way they run. */
function widthOf(text: string, look: Look, faces: Faces): number {
  const direction = /\p{Script=Hebrew}|\p{Script=Arabic}/u.test(text) ? 'rtl' : 'ltr';
  return pieces(text, look, faces).reduce(
    (sum, [{ shaper }, letters]) => sum + shaper.shape(letters, direction).advanceWidth / shaper.unitsPerEm,
    0,
  );
}

/** Stretches of one font. A blank stays with what is before it. */
function pieces(text: string, look: Look, faces: Faces): [face: Face, letters: string][] {
  const found: [Face, string][] = [];
  for (const letter of lettersOf(text)) {
    const last = found.at(-1);
    const bare = letter.replace(DIRECTIONS, '');
    if (bare === '') continue;
    const face = faces.faceOf(bare, look) ?? last?.[0] ?? faces.faceOf(LOST, look)!;
    if (last?.[0] === face) last[1] += bare;
    else found.push([face, bare]);
  }
  return found;
}

/** One line in the order in which it is seen (Unicode Standard Annex 9, rule L2). */
function lineOf(
  text: string,
  levels: Uint8Array,
  from: number,
  to: number,
  look: Look,
  size: number,
  faces: Faces,
): Line {
  const end = from + text.slice(from, to).trimEnd().length;
  const stretches: { level: number; text: string }[] = [];
  for (let at = from; at < end; at++) {
    const level = levels[at]!;
    const last = stretches.at(-1);
    if (last?.level === level) last.text += text[at];
    else stretches.push({ level, text: text[at]! });
  }
  const most = Math.max(0, ...stretches.map(({ level }) => level));
  for (let level = most; level > 0; level--) reverseFrom(stretches, level);
  const runs: Run[] = [];
  let x = 0;
  for (const stretch of stretches) {
    const direction = stretch.level % 2 === 1 ? 'rtl' : 'ltr';
    const all = pieces(stretch.text, look, faces);
    for (const [face, letters] of direction === 'rtl' ? all.reverse() : all) {
      const shaped = face.shaper.shape(letters, direction);
      const width = (shaped.advanceWidth * size) / face.shaper.unitsPerEm;
      runs.push({ face, direction, text: letters, shaped, x, width });
      x += width;
    }
  }
  return { runs, width: x };
}

/** Reverses every stretch of neighbours whose level is at least so high. */
function reverseFrom(all: { level: number }[], level: number): void {
  for (let i = 0; i < all.length; i++) {
    let end = i;
    while (end < all.length && all[end]!.level >= level) end++;
    if (end - i > 1) all.splice(i, end - i, ...all.slice(i, end).reverse());
    i = end;
  }
}
