import type { DanceStrip } from '@/lib/core/handover/danceStripShape.ts';
import { clock, type FloorTime } from '@/lib/core/units.ts';

/** What the strip of the whole dance says, to whoever cannot see it and under the pointer. */
export const WHOLE_DANCE = 'The whole dance';

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
