import { SIGNAL_LEAST } from '../../dance/ending.ts';
import type { Rule } from '../finding.ts';
import { placeOfCount, quoted, seconds } from '../words.ts';

export const rule: Rule = {
  id: 'signal-late',
  about: 'ending',
  severity: 'warns',
  reads: ['plan'],
  what: 'The word that tells the couple comes when the ending should already be led.',
  why: 'They hear it, and it is too late.',
  todo: 'Choose an earlier word.',
  source: 'common practice, no source',
  fixes: ['ending'],
  run({ board, danced }) {
    if (!danced?.ending.ok) return [];
    const { signal, led } = danced.ending.value;
    if (!signal || signal.proposed || signal.before >= SIGNAL_LEAST) return [];
    const behind =
      signal.before <= 0 ? `${seconds(signal.before)} after` : `only ${seconds(signal.before)} before`;
    const earlier = [...board.plan.cues]
      .filter(({ at }) => at < signal.cue.at)
      .sort((a, b) => b.at - a.at)
      .slice(0, 3);
    return [
      {
        place: placeOfCount(danced.score, led.count),
        figures: { before: signal.before },
        sentence: `${quoted(signal.cue.word)} comes ${behind} the moment at which the ending is led.`,
        fixes: () =>
          earlier.map((cue) => ({
            words: `Listen for ${quoted(cue.word)} instead`,
            changes: [{ register: 'ending' as const, value: { ...board.plan.ending!, signal: cue.id } }],
          })),
      },
    ];
  },
};
