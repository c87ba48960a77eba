import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Font } from '@react-pdf/renderer';

const SANS = ['latin', 'latin-ext', 'vietnamese', 'greek', 'greek-ext', 'cyrillic', 'cyrillic-ext'] as const;
const SERIF = ['latin', 'latin-ext', 'vietnamese'] as const;

/** Families in the order in which a letter is looked for. Greek and Cyrillic in a serif line fall back to the sans. */
export const sans: string[] = SANS.map((script) => `sans-${script}`);
export const serif: string[] = [...SERIF.map((script) => `serif-${script}`), ...sans.slice(SERIF.length)];

let registered = false;

/** Makes the fonts known to the sheet writer, once a process: it keeps one list of fonts for all documents. */
export function registerFonts(): void {
  if (registered) return;
  registered = true;
  const folder = fontFolder();
  for (const script of SANS) {
    for (const fontWeight of [400, 600]) {
      Font.register({
        family: `sans-${script}`,
        src: join(folder, `sans-${script}-${fontWeight}.ttf`),
        fontWeight,
      });
    }
    // Stands upright for a cue word in italics, which the serif alone has.
    const upright = join(folder, `sans-${script}-400.ttf`);
    Font.register({ family: `sans-${script}`, src: upright, fontStyle: 'italic' });
  }
  for (const script of SERIF) {
    Font.register({ family: `serif-${script}`, src: join(folder, `serif-${script}-400.ttf`) });
    const italic = join(folder, `serif-${script}-400-italic.ttf`);
    Font.register({ family: `serif-${script}`, src: italic, fontStyle: 'italic' });
  }
  // Words stay whole: a name or a cue word broken over two lines is misread.
  Font.registerHyphenationCallback((word) => [word]);
}

/** The folder of the fonts, also from a bundle that lies elsewhere in the checkout. */
function fontFolder(): string {
  for (let here = dirname(fileURLToPath(import.meta.url)); ; here = dirname(here)) {
    for (const folder of [join(here, 'fonts'), join(here, 'lib', 'export', 'fonts')]) {
      if (existsSync(join(folder, 'sans-latin-400.ttf'))) return folder;
    }
    if (dirname(here) === here) throw new Error('the fonts of the printed sheets are missing');
  }
}

/** Letters that the sheets' fonts do not have; the sheet is still made, and says so. */
export const hasOtherLetters = (text: string): boolean =>
  /[^\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{Script=Common}\p{Script=Inherited}]/u.test(text);
