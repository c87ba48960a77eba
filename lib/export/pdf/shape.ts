import type { Font as FontFile } from 'fontkit';
import * as hb from 'harfbuzzjs';

export type Direction = 'ltr' | 'rtl';

/** Glyphs in the order in which they are seen, each with its place; lengths in the font's own units. */
export interface Shaped {
  glyphs: { id: number; letters: number[]; advanceWidth: number }[];
  positions: { xAdvance: number; yAdvance: number; xOffset: number; yOffset: number }[];
  advanceWidth: number;
}

/** Finds the glyphs of a text that runs in one direction: joined letters, marks in their place, letters that change their order. */
export interface Shaper {
  shape(text: string, direction: Direction): Shaped;
  unitsPerEm: number;
}

/** By HarfBuzz, which the browsers use, too. @param bytes of a TrueType or OpenType font. */
export function shaperOf(bytes: Uint8Array, file: FontFile): Shaper {
  const face = new hb.Face(new hb.Blob(bytes));
  const font = new hb.Font(face);
  const kept = new Map<string, Shaped>();
  return {
    unitsPerEm: face.upem,
    shape(text, direction) {
      const key = `${direction} ${text}`;
      const before = kept.get(key);
      if (before) return before;
      const buffer = new hb.Buffer();
      buffer.addText(text);
      buffer.guessSegmentProperties();
      buffer.setDirection(direction === 'rtl' ? hb.Direction.RTL : hb.Direction.LTR);
      hb.shape(font, buffer);
      const shaped = shapedOf(text, direction, file, buffer);
      // Papers are made by the dozen, of ever other words.
      if (kept.size > MOST_KEPT) kept.clear();
      kept.set(key, shaped);
      return shaped;
    },
  };
}

const MOST_KEPT = 5000;

function shapedOf(text: string, direction: Direction, file: FontFile, buffer: hb.Buffer): Shaped {
  const infos = buffer.getGlyphInfos();
  const positions = buffer.getGlyphPositions();
  const letters = readAs(text, infos, positions, direction);
  return {
    glyphs: infos.map(({ codepoint: id }, i) => ({
      id,
      letters: pointsOf(letters[i]!),
      advanceWidth: file.getGlyph(id).advanceWidth,
    })),
    positions,
    advanceWidth: positions.reduce((sum, { xAdvance }) => sum + xAdvance, 0),
  };
}

/**
 * The letters as which each glyph is read. Those that are drawn together (a cluster) go in their order to the glyphs that take room,
 * since a reader of the PDF takes room without letters for a blank; the first takes what is left.
 */
function readAs(
  text: string,
  infos: readonly hb.GlyphInfo[],
  positions: Shaped['positions'],
  direction: Direction,
): string[] {
  const found = infos.map(() => '');
  const begins = [...new Set(infos.map(({ cluster }) => cluster))].sort((a, b) => a - b);
  for (const [i, from] of begins.entries()) {
    const letters = [...text.slice(from, begins[i + 1] ?? text.length)];
    const all = infos.flatMap(({ cluster }, at) => (cluster === from ? [at] : []));
    const wide = all.filter((at) => positions[at]!.xAdvance > 0);
    const [first, ...rest] =
      direction === 'rtl' ? (wide.length > 0 ? wide : all).reverse() : wide.length > 0 ? wide : all;
    const most = Math.min(rest.length, letters.length - 1);
    found[first!] = letters.slice(0, letters.length - most).join('');
    for (const [j, letter] of letters.slice(letters.length - most).entries()) found[rest[j]!] = letter;
  }
  return found;
}

const pointsOf = (letters: string): number[] => [...letters].map((letter) => letter.codePointAt(0)!);
