import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { create, type Font as FontFile } from 'fontkit';
import subsetFont from 'subset-font';
import { type Shaper, shaperOf } from './shape.ts';

/** How words of a paper look: the sans for facts, the serif for names and for what is sung. */
export type Look = 'sans' | 'bold' | 'serif' | 'italic';

/** One font file, of which a PDF takes the glyphs that it prints. */
export interface Face {
  /** Unique, since a PDF tells its fonts apart by their names. */
  name: string;
  file: FontFile;
  shaper: Shaper;
}

/** The fonts that one paper needs, in the order in which a letter is looked for. */
export interface Faces {
  /** The first that has a whole letter with all its marks; null where none has. */
  faceOf(letter: string, look: Look): Face | null;
}

const require = createRequire(import.meta.url);
const google = (family: string, style: string) => `@expo-google-fonts/${family}/${style}`;
const sans = (style: string) => google('source-sans-3', `${style}/SourceSans3_${style}.ttf`);
const serif = (style: string) => google('newsreader', `${style}/Newsreader_${style}.ttf`);
const noto = (script: string) => (style: string) =>
  google(`noto-sans-${script.toLowerCase()}`, `${style}/NotoSans${script}_${style}.ttf`);

/** What the serif lacks stands in the sans; in italics it stands upright, because a script without italics is not slanted. */
const LOOKS: Record<Look, { files: string[]; style: '400Regular' | '600SemiBold' }> = {
  sans: { files: [sans('400Regular')], style: '400Regular' },
  bold: { files: [sans('600SemiBold')], style: '600SemiBold' },
  serif: { files: [serif('400Regular'), sans('400Regular')], style: '400Regular' },
  italic: { files: [serif('400Regular_Italic'), sans('400Regular')], style: '400Regular' },
};

/** Scripts with a font of their own, which is read only where a paper has such letters. */
const SCRIPTS: [letters: RegExp, file: (style: string) => string][] = [
  [/\p{Script_Extensions=Hebrew}/u, noto('Hebrew')],
  [/\p{Script_Extensions=Arabic}/u, noto('Arabic')],
  [/\p{Script_Extensions=Devanagari}/u, noto('Devanagari')],
  [/\p{Script_Extensions=Thai}/u, noto('Thai')],
];

const EAST_ASIAN =
  /[\p{Script_Extensions=Han}\p{Script_Extensions=Hiragana}\p{Script_Extensions=Katakana}\p{Script_Extensions=Hangul}\p{Script_Extensions=Bopomofo}\u3000-\u303f\uff00-\uffef]/u;

/**
 * Chinese, Japanese and Korean write some of their common characters differently: a paper with kana is taken for Japanese, one
 * with Hangul for Korean, others for Chinese, in simplified forms where a character has them.
 */
function eastAsian(text: string): string[] {
  const japanese = /[\p{Script=Hiragana}\p{Script=Katakana}]/u.test(text);
  const korean = /\p{Script=Hangul}/u.test(text);
  const first = [...(japanese ? ['jp'] : []), ...(korean ? ['kr'] : [])];
  return [...new Set([...first, 'sc', 'tc', 'jp', 'kr'])];
}

/** Nobody sees these by themselves: joiners and marks of direction, which a font need not have. */
const UNSEEN = /[\p{Default_Ignorable_Code_Point}\p{Cf}]/u;
const has = (face: Face, letter: string): boolean =>
  [...letter].every((part) => UNSEEN.test(part) || face.file.hasGlyphForCodePoint(part.codePointAt(0)!));

const kept = new Map<string, Promise<Face>>();
const open = (name: string, bytes: Uint8Array): Face => {
  const file = create(Buffer.from(bytes)) as FontFile;
  return { name, file, shaper: shaperOf(bytes, file) };
};
/** A font as its package has it, read once a process. */
function whole(path: string): Promise<Face> {
  const name = path.slice(path.lastIndexOf('/') + 1, -'.ttf'.length);
  const face = kept.get(path) ?? readFile(require.resolve(path)).then((bytes) => open(name, bytes));
  kept.set(path, face);
  return face;
}

const graphemes = new Intl.Segmenter('en', { granularity: 'grapheme' });
/** Letters as people see them, each with its marks. */
export const lettersOf = (text: string): string[] =>
  Array.from(graphemes.segment(text), ({ segment }) => segment);

/** The fonts for all words of a paper. Of East Asian ones, which are large, only the letters that it prints are taken. */
export async function facesFor(text: string): Promise<Faces> {
  const letters = [...new Set(lettersOf(text))];
  const scripts = SCRIPTS.filter(([of]) => of.test(text));
  const looks = new Map<Look, Face[]>();
  for (const look of Object.keys(LOOKS) as Look[]) {
    const { files, style } = LOOKS[look];
    const all = [...files, ...scripts.map(([, file]) => file(style))];
    looks.set(look, await Promise.all(all.map(whole)));
  }
  if (EAST_ASIAN.test(text)) {
    const lacking = letters.filter(
      (letter) => EAST_ASIAN.test(letter) && !looks.get('sans')!.some((face) => has(face, letter)),
    );
    for (const family of eastAsian(text)) {
      const still = lacking.filter((letter) => !looks.get('sans')!.some((face) => has(face, letter)));
      if (still.length === 0) break;
      for (const weight of [400, 600] as const) {
        const parts = await eastAsianParts(family, weight, still.join(''));
        for (const look of Object.keys(LOOKS) as Look[])
          if ((LOOKS[look].style === '600SemiBold') === (weight === 600)) looks.get(look)!.push(...parts);
      }
    }
  }
  const found = new Map<string, Face | null>();
  return {
    faceOf(letter, look) {
      const key = `${look} ${letter}`;
      const face = found.get(key);
      if (face !== undefined) return face;
      const first = looks.get(look)!.find((one) => has(one, letter)) ?? null;
      found.set(key, first);
      return first;
    },
  };
}

/** `U+4e00-4e03,U+4e07` as pairs. */
const rangesOf = (range: string): [from: number, to: number][] =>
  range.split(',').map((part) => {
    const [from = '', to = from] = part.replace('U+', '').split('-');
    return [Number.parseInt(from, 16), Number.parseInt(to, 16)];
  });

/**
 * The letters of an East Asian family that a text has, as fonts of one weight: the package splits a family over a hundred variable
 * fonts, by how common their letters are.
 */
async function eastAsianParts(family: string, weight: 400 | 600, text: string): Promise<Face[]> {
  const folder = `@fontsource-variable/noto-sans-${family}`;
  const table = JSON.parse(await readFile(require.resolve(`${folder}/unicode.json`), 'utf8')) as Record<
    string,
    string
  >;
  const parts = Object.entries(table).flatMap(([key, range]) => {
    const ranges = rangesOf(range);
    const letters = [...new Set(text)].filter((letter) => {
      const point = letter.codePointAt(0)!;
      return ranges.some(([from, to]) => point >= from && point <= to);
    });
    return letters.length > 0 ? [{ part: key.replace(/[[\]]/g, ''), letters: letters.join('') }] : [];
  });
  return Promise.all(
    parts.map(async ({ part, letters }) => {
      const name = `noto-sans-${family}-${part}-wght-normal`;
      const bytes = await readFile(require.resolve(`${folder}/files/${name}.woff2`));
      const options = { targetFormat: 'truetype', variationAxes: { wght: weight } } as const;
      return open(`${name}-${weight}`, await subsetFont(bytes, letters, options));
    }),
  );
}
