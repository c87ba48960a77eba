import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Font } from '@react-pdf/renderer';

const SANS = [
  ...['latin', 'latin-ext', 'vietnamese', 'greek', 'greek-ext', 'cyrillic', 'cyrillic-ext'],
  ...['hebrew', 'arabic'],
];
const SERIF = ['latin', 'latin-ext', 'vietnamese'];

/** Families in the order in which a letter is looked for. What the serif lacks in its line falls back to the sans. */
export const sans: string[] = SANS.map((script) => `sans-${script}`);
export const serif: string[] = [...SERIF.map((script) => `serif-${script}`), ...sans.slice(SERIF.length)];

let ready: Promise<void> | null = null;
/** Code points that some font of the sheets has. */
const known = new Set<number>();

/** Makes the fonts known to the sheet writer, once a process: it keeps one list of fonts for all documents. */
export function loadFonts(): Promise<void> {
  ready ??= load();
  return ready;
}

async function load(): Promise<void> {
  const folder = fontFolder();
  for (const script of SANS) {
    for (const fontWeight of [400, 600]) {
      Font.register({
        family: `sans-${script}`,
        src: fileOf(folder, `sans-${script}-${fontWeight}`),
        fontWeight,
      });
    }
    // Stands upright for a cue word in italics, which the serif alone has.
    const upright = fileOf(folder, `sans-${script}-400`);
    Font.register({ family: `sans-${script}`, src: upright, fontStyle: 'italic' });
  }
  for (const script of SERIF) {
    Font.register({ family: `serif-${script}`, src: join(folder, `serif-${script}-400.ttf`) });
    const italic = join(folder, `serif-${script}-400-italic.ttf`);
    Font.register({ family: `serif-${script}`, src: italic, fontStyle: 'italic' });
  }
  // Words stay whole: a name or a cue word broken over two lines is misread.
  Font.registerHyphenationCallback((word) => [word]);
  const all = [
    ...sans.flatMap((fontFamily) => [400, 600].map((fontWeight) => ({ fontFamily, fontWeight }))),
    ...SERIF.flatMap((script) =>
      (['normal', 'italic'] as const).map((fontStyle) => ({ fontFamily: `serif-${script}`, fontStyle })),
    ),
  ];
  for (const one of all) {
    const font = Font.getFont(one);
    await font.load();
    for (const letter of font.data?.characterSet ?? []) {
      known.add(letter);
      // Met first as a part of another (the e of an é), a glyph would not know its letter, and the text of the PDF would lack it.
      font.data?.glyphForCodePoint(letter);
    }
  }
}

const fileOf = (folder: string, name: string): string =>
  ['ttf', 'woff'].map((kind) => join(folder, `${name}.${kind}`)).find(existsSync) ?? join(folder, name);

/** The folder of the fonts, also from a bundle that lies elsewhere in the checkout. */
function fontFolder(): string {
  for (let here = dirname(fileURLToPath(import.meta.url)); ; here = dirname(here)) {
    for (const folder of [join(here, 'fonts'), join(here, 'lib', 'export', 'fonts')]) {
      if (existsSync(join(folder, 'sans-latin-400.ttf'))) return folder;
    }
    if (dirname(here) === here) throw new Error('the fonts of the printed sheets are missing');
  }
}

/** Stands for a letter that no font has, which would else be printed as another. */
export const LOST = '_';

/** Whether something in this text cannot be printed. */
export const isLost = (text: string): boolean =>
  [...text].some((letter) => letter !== LOST && printed(letter) === LOST);

/** What of this letter the sheets' fonts can print; nothing of what nobody sees, such as joiners that no font has. */
export function printed(letter: string): string {
  if (known.has(letter.codePointAt(0)!)) return letter;
  if (/\s/u.test(letter)) return ' ';
  return /[\p{Cf}\p{Variation_Selector}]/u.test(letter) ? '' : LOST;
}
