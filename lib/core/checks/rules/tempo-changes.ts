import type { FloorPhrase, FloorScore } from '../../edit/score.ts';
import { median } from '../../signal/statistics.ts';
import type { Rule } from '../finding.ts';
import { placeOfCount, whereabouts } from '../words.ts';

/** 3 % is just noticed over six intervals (Drake & Botte 1993); twice that has to be danced otherwise: common practice, no source. */
const CHANGE = 0.06;
/** Fewer counts say nothing certain about the speed of a phrase. */
const ENOUGH = 6;

export const rule: Rule = {
  id: 'tempo-changes',
  about: 'song',
  severity: 'warns',
  reads: ['plan'],
  what: 'The song itself becomes faster or slower from one phrase to the next.',
  why: 'The basic that was in step is not any more, until both have found the new speed.',
  todo: 'Practise that change by itself, and mark it with a move or a pause that both know.',
  source:
    'Drake & Botte 1993: 3 % is just noticeable over six intervals; twice that: common practice, no source',
  fixes: [],
  run({ board, danced }) {
    if (!danced) return [];
    const { score } = danced;
    // A song that slows down for its end is heard as an end.
    const phrases = score.phrases.slice(0, -1).flatMap((phrase) => {
      const interval = intervalIn(score, phrase);
      return interval === null ? [] : [{ phrase, interval }];
    });
    return phrases.slice(1).flatMap(({ phrase, interval }, i) => {
      const before = phrases[i]!;
      const ratio = before.interval / interval;
      if (Math.abs(ratio - 1) <= CHANGE || isAfterJoin(score, before.phrase, phrase)) return [];
      const percent = Math.round(100 * Math.abs(ratio - 1));
      return [
        {
          about: `${score.sections[phrase.section]!.id}-${phrase.record}`,
          place: placeOfCount(score, phrase.first),
          figures: { before: 60 / before.interval, after: 60 / interval },
          sentence: `The music goes ${percent} % ${ratio > 1 ? 'faster' : 'slower'} ${whereabouts(board.plan, danced, phrase.first)}: practise the basic across that place.`,
        },
      ];
    });
  },
};

/** Median seconds a count within a phrase; null where there are too few to tell. */
function intervalIn({ counts }: FloorScore, { first, counts: size }: FloorPhrase): number | null {
  if (size < ENOUGH) return null;
  const own = counts.slice(first, first + size);
  return median(own.slice(1).map((count, i) => count.floor - own[i]!.floor));
}

/** A join between the two is another matter, with a rule of its own. */
const isAfterJoin = ({ seams }: FloorScore, before: FloorPhrase, after: FloorPhrase): boolean =>
  seams.some(({ next }) => next > before.first && next <= after.first + after.counts);
