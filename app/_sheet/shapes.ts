/** Where things lie in a row's drawing, px from its top. Widths come from the page; these do not. */
export const HEIGHT = 64;
/** Base line of the words above the ribbons. */
export const WORDS = 12;
/** Middle of ribbons, basic and hold line, and half of a ribbon's height. */
export const LINE = 28;
export const HALF = 11;
/** How much higher a move lies that begins while another is danced. */
export const RAISE = 12;
export const RULER = 47;
/** The tint's least and greatest depth under the ruler. */
export const TINT = [3, 13] as const;
/** Base line of the counts' numbers. */
export const NUMBERS = 61;

/** Base line of the words that are sung in a row, under the staff as in any song sheet, and the px they add to it. */
export const SUNG = 76;
export const SUNG_HEIGHT = 14;

const LETTER = 7.2;
/** East Asian letters, and pictures, take twice the room of others; the widest of ours nearly so. */
const WIDE =
  /[MW@\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff01-\uff60\p{Extended_Pictographic}]/u;

/** Px that a text of 15 px takes, by the mean width of a character in our sans; enough to choose a place for it. */
export const widthOf = (text: string): number =>
  [...text].reduce((width, letter) => width + (WIDE.test(letter) ? 2 * LETTER : LETTER), 0);

/** Around a text of its own direction (Unicode, Annex 9: first strong isolate): what it is cut with stands at its own end. */
const [FIRST_STRONG, POP] = ['\u2068', '\u2069'];

/** As much of a text as fits in so many px; empty when that is not worth reading. */
export function fitting(text: string, px: number): string {
  if (widthOf(text) <= px) return text;
  let kept = '';
  for (const letter of text) {
    if (widthOf(kept + letter) > px - LETTER) break;
    kept += letter;
  }
  return widthOf(kept) < 4 * LETTER ? '' : `${FIRST_STRONG}${kept.trimEnd()}…${POP}`;
}

export interface Ends {
  begins: boolean;
  finishes: boolean;
  /** Ends in a point, on the closing pose. */
  points: boolean;
}

/** A ribbon from x to x around its middle: round where the move begins and ends, straight where it goes on in another row. */
export function ribbonPath(
  from: number,
  to: number,
  middle: number,
  { begins, finishes, points }: Ends,
): string {
  const r = Math.min(HALF, (to - from) / 2);
  const top = middle - HALF;
  const low = middle + HALF;
  const left = begins ? r : 0;
  const right = finishes ? r : 0;
  const end = points
    ? `H${to - 9} L${to} ${middle} L${to - 9} ${low}`
    : `H${to - right} ${right ? `A${right} ${HALF} 0 0 1 ${to - right} ${low}` : `V${low}`}`;
  const start = left ? `A${left} ${HALF} 0 0 1 ${from + left} ${top}` : `V${top}`;
  return `M${from + left} ${top} ${end} H${from + left} ${start} Z`;
}

/** The outline of what does not fit: open where it goes on. */
export function outlinePath(from: number, to: number, middle: number, { begins, finishes }: Ends): string {
  const top = middle - HALF;
  const low = middle + HALF;
  const left = begins ? `V${top}` : `M${from} ${top}`;
  const start = begins ? `M${from} ${low} ${left}` : left;
  return finishes ? `${start} H${to} V${low} H${from}` : `${start} H${to} M${to} ${low} H${from}`;
}

/** The tint under the ruler, as a closed path. */
export function tintPath(points: readonly [number, number][], unit: number): string {
  if (points.length === 0) return '';
  const depth = (level: number) => RULER + TINT[0] + level * (TINT[1] - TINT[0]);
  const below = points.map(([x, level]) => `L${round(x * unit)} ${round(depth(level))}`);
  return `M0 ${RULER} ${below.join(' ')} L${round(points.at(-1)![0] * unit)} ${RULER} Z`;
}

export const round = (x: number): number => Math.round(x * 10) / 10;
