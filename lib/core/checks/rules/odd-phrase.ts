import { sectionWords } from '../../edit/sectionNames.ts';
import type { Rule } from '../finding.ts';
import { many, placeOfCount, whereabouts } from '../words.ts';

export const rule: Rule = {
  id: 'odd-phrase',
  about: 'song',
  severity: 'hints',
  reads: ['plan'],
  what: 'A phrase is longer or shorter than the others, by the song itself or by the edit.',
  why: 'Whoever counts the phrases by heart arrives too early or too late there.',
  todo: 'Nothing is wrong: know the place, and listen for the word that follows it.',
  source: 'Harmonix Set (Nieto et al. 2019): 39 % of sections are no multiple of four bars',
  fixes: [],
  run({ board, danced }) {
    if (!danced) return [];
    const { score } = danced;
    return score.phrases
      .filter((phrase) => phrase.odd || phrase.counts !== phrase.full)
      .map((phrase) => {
        const bars = phrase.counts / score.countsPerBar;
        const size = Number.isInteger(bars) ? many(bars, 'bar') : many(phrase.counts, 'count');
        const next = score.phrases[phrase.index + 1];
        const then = next
          ? `; ${next.section === phrase.section ? 'the next one' : sectionWords(score.sections[next.section]!)} follows`
          : '';
        return {
          about: `${score.sections[phrase.section]!.id}-${phrase.first}`,
          place: placeOfCount(score, phrase.first),
          figures: { counts: phrase.counts, before: phrase.full },
          sentence: `The phrase ${whereabouts(board.plan, danced, phrase.first)} has ${size}, unlike the others${then}.`,
        };
      });
  },
};
