import type { DanceStrip } from '@/lib/core/handover/danceStripShape.ts';
import { clock, type FloorTime } from '@/lib/core/units.ts';

/** What the strip of the whole dance says, to whoever cannot see it and under the pointer. */
export const WHOLE_DANCE = 'The whole dance';

/** What its parts say under the pointer. */
export const onStrip = {
  at: (what: string, seconds: FloorTime): string => `${what}, ${clock(seconds)}`,
  firstStep: 'first step',
  pose: 'closing pose',
  fades: (from: FloorTime): string => `the music fades from ${clock(from)}`,
  leftOut: (what: string): string => `left out: ${what}`,
} as const;

/** "The whole dance, 3:04 as played: 9 parts; 14 phrases; 6 moves; closing pose at 2:58." */
export function stripSentence({ musicLength, parts, phrases, moves, pose, leftOut }: DanceStrip): string {
  const facts = [
    plural(parts.length, 'part'),
    plural(phrases.length, 'phrase'),
    moves.length === 0 ? 'no moves yet' : plural(moves.length, 'move'),
    ...leftOut.map(({ words }) => `left out: ${words}`),
    pose ? `closing pose at ${clock(pose.from)}` : 'no closing pose yet',
  ];
  return `${WHOLE_DANCE}, ${clock(musicLength)} as played: ${facts.join('; ')}.`;
}

/** Where somebody is on the strip: "chorus 2, 1:43, “stay until”: underarm turn" */
export function phraseSentence(strip: DanceStrip, phrase: number): string {
  const here = strip.phrases[phrase];
  if (!here) return '';
  const { from, to, part, word } = here;
  const moves = strip.moves.filter((move) => move.from < to - 0.01 && move.to > from + 0.01);
  const pose = strip.pose && strip.pose.from >= from && strip.pose.from < to ? ['closing pose'] : [];
  const danced = [...moves.map(({ name }) => name.toLowerCase()), ...pose];
  const place = [strip.parts[part]?.name ?? '', clock(from), word ? `“${word}”` : ''];
  return `${place.filter(Boolean).join(', ')}${danced.length > 0 ? `: ${danced.join(', ')}` : ''}`;
}

/** The phrase that is heard at a moment: the last that has begun; the first before that. -1 without phrases. */
export function phraseAt({ phrases }: DanceStrip, at: FloorTime): number {
  const last = phrases.findLastIndex(({ from }) => from <= at + 0.01);
  return phrases.length === 0 ? -1 : Math.max(0, last);
}

const plural = (n: number, word: string): string => `${n} ${word}${n === 1 ? '' : 's'}`;

/** The frame around every page of a board. */
export const frame = {
  toThePage: 'To the page',
  allCouples: 'All couples',
  pages: 'Pages of this board',
  stages: 'What is settled and what is owed',
  firstDance: 'First dance',
  danceOf: (named: boolean): string => (named ? 'first dance of' : 'of'),
  music: (length: string): string => `music as played ${length}`,
  recording: (length: string): string => `recording ${length}`,
  looking: 'Seeing what is settled…',
  noNetwork: 'What is settled shows once there is a network.',
  /** Of how many stages this person owes something, and of how many others do. */
  open(mine: number, others: number): string {
    if (mine > 0) return `${mine} ${mine === 1 ? 'thing' : 'things'} for you to do`;
    return others > 0 ? `Nothing for you; ${others} with others` : 'All is settled';
  },
  /** Who has to do something that this person need not. */
  with: (who: string, todo: string | undefined): string => ` (${who}${todo ? ` ${todo}` : ''})`,
  todo: (todo: string): string => `, ${todo}`,
  peopleHere: 'Here now',
  notHere: 'not here',
  you: '(you)',
} as const;

/** What this page did last, with the way back. */
export const gesture = {
  undo: 'Undo that',
  more: (n: number): string => ` And ${n} more.`,
  goOn: 'All right',
} as const;
