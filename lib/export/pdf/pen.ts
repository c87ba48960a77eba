import type { Face, Faces, Look } from './faces.ts';
import { type Line, linesOf } from './lines.ts';

/** Colours of the printed programme; the paper is the printer's own. */
export const INK = '#26221c';
export const SOFT = '#6d6455';
export const RULE = '#d9cfba';
export const EDGE = '#8f836d';
export const WINE = '#8a2b3a';
export const GOLD = '#7d601a';

type Doc = PDFKit.PDFDocument;

/** How some words are set: look, size in points, colour. */
export interface Type {
  look: Look;
  size: number;
  color?: string;
}

/** Height of a line against the size of its letters, and where in it they stand. */
const LEADING = 1.35;
const BASELINE = 1.0;

/** Puts words and lines on the page; lengths in points from its top left corner. */
export class Pen {
  private readonly fonts = new Map<string, object>();

  constructor(
    readonly doc: Doc,
    readonly faces: Faces,
  ) {}

  /** Words in lines that fit, top down. @returns the height that they take */
  words(lines: readonly Line[], x: number, y: number, { size, color = INK }: Type): number {
    for (const [i, line] of lines.entries()) {
      const base = y + i * size * LEADING + size * BASELINE;
      for (const run of line.runs) {
        this.font(run.face, size);
        this.doc.fillColor(color).text(run.text, x + run.x, base, {
          lineBreak: false,
          baseline: 'alphabetic',
          features: [run.direction] as unknown as PDFKit.Mixins.OpenTypeFeatures[],
        });
      }
    }
    return heightOf(lines, size);
  }

  /** One line at a place, cut where it does not fit. @param base of its letters */
  line(text: string, x: number, base: number, type: Type, width = Number.POSITIVE_INFINITY): number {
    const [first] = linesOf(text, type.look, type.size, width, this.faces);
    if (!first) return 0;
    this.words([first], x, base - type.size * BASELINE, type);
    return first.width;
  }

  /** Words that end at a place, set smaller where they do not fit, down to half; then cut. */
  wordBefore(text: string, right: number, base: number, type: Type, most: number): void {
    const wide = this.widthOf(text, type);
    const size = Math.max(type.size / 2, Math.min(type.size, (type.size * most) / wide));
    const [line] = linesOf(text, type.look, size, most, this.faces);
    if (line) this.words([line], right - line.width, base - size * BASELINE, { ...type, size });
  }

  widthOf(text: string, { look, size }: Type): number {
    return linesOf(text, look, size, Number.POSITIVE_INFINITY, this.faces)[0]?.width ?? 0;
  }

  rule(x: number, y: number, width: number, color: string, weight: number): void {
    this.doc
      .save()
      .lineWidth(weight)
      .strokeColor(color)
      .moveTo(x, y)
      .lineTo(x + width, y)
      .stroke()
      .restore();
  }

  private font(face: Face, size: number): void {
    const font = this.fonts.get(face.name) ?? shapedByUs(face);
    this.fonts.set(face.name, font);
    this.doc.font(font as unknown as PDFKit.Mixins.PDFFontSource, face.name, size);
  }
}

export const heightOf = (lines: readonly Line[], size: number): number => lines.length * size * LEADING;

/** Of a font file's subset, what the PDF writer uses and fontkit's types do not tell. */
interface Subset {
  glyphs: number[];
  includeGlyph(glyph: number | string): number;
}

/**
 * The font as the PDF takes it, but for its shaping, and under a name of its own: two parts of one family are two fonts. A glyph
 * that is read as other letters in another place is taken once for each, so that what is copied out of the PDF is what was written.
 */
function shapedByUs({ file, shaper, name }: Face): object {
  const asRead: { id: number; letters: number[]; advanceWidth: number }[] = [];
  const numbers = new Map<string, string>();
  const numberOf = (glyph: (typeof asRead)[number]): string => {
    const key = `${glyph.id} ${glyph.letters.join(' ')}`;
    const number = numbers.get(key) ?? String(asRead.push(glyph) - 1);
    numbers.set(key, number);
    return number;
  };
  return Object.create(file, {
    postscriptName: { value: name },
    layout: {
      value: (text: string, [direction = 'ltr']: ('ltr' | 'rtl')[] = []) => {
        const { glyphs, positions, advanceWidth } = shaper.shape(text, direction);
        return {
          glyphs: glyphs.map((glyph) => ({
            id: numberOf(glyph),
            codePoints: glyph.letters,
            advanceWidth: glyph.advanceWidth,
          })),
          // The writer scales them in place.
          positions: positions.map((one) => ({ ...one })),
          advanceWidth,
        };
      },
    },
    createSubset: {
      value: () => {
        const subset = file.createSubset() as unknown as Subset;
        const include = subset.includeGlyph.bind(subset);
        const taken = new Map<string, number>();
        // By our number from a text, as text; by the file's own from a glyph that is made of others.
        subset.includeGlyph = (glyph) => {
          if (typeof glyph === 'number') return include(glyph);
          const place = taken.get(glyph) ?? subset.glyphs.push(asRead[Number(glyph)]!.id) - 1;
          taken.set(glyph, place);
          return place;
        };
        return subset;
      },
    },
  }) as object;
}
