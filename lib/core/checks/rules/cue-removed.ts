import { floorOf } from '../../dance/clock.ts';
import type { Rule } from '../finding.ts';
import { placeOfRecord, quoted } from '../words.ts';

export const rule: Rule = {
  id: 'cue-removed',
  about: 'edit',
  severity: 'hints',
  reads: ['plan'],
  what: 'The edit leaves out a cue word.',
  why: 'Whoever listens for it waits in vain; when it is the ending’s signal, the ending is missed.',
  todo: 'Choose another word that is played.',
  source: 'design',
  fixes: ['ending'],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    return plan.cues
      .filter(({ at }) => floorOf(plan, at) === null)
      .map((cue) => {
        const isSignal = plan.ending?.signal === cue.id;
        const place = placeOfRecord(plan, danced.score, cue.at);
        if (!isSignal) {
          const sentence = `${quoted(cue.word)} is in the music that the edit leaves out.`;
          return { about: cue.id, place, figures: { word: cue.word }, sentence };
        }
        // Another signal ends the warning about the ending; the word itself stays left out.
        return {
          about: `signal-${cue.id}`,
          severity: 'warns' as const,
          place,
          figures: { word: cue.word },
          sentence: `${quoted(cue.word)} is the signal for the ending, and the edit leaves it out.`,
          fixes: () => [
            {
              words: 'Let the last word before the ending be the signal',
              changes: [{ register: 'ending' as const, value: { ...plan.ending!, signal: null } }],
            },
          ],
        };
      });
  },
};
