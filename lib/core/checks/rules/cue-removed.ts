import { floorOf } from '../../dance/clock.ts';
import type { Rule } from '../finding.ts';
import { placeOfRecord, quoted } from '../words.ts';

export const rule: Rule = {
  id: 'cue-removed',
  about: 'edit',
  severity: 'hints',
  reads: ['plan'],
  what: 'The edit leaves out a cue word.',
  why: 'Whoever listens for it waits in vain.',
  todo: 'Nothing, unless somebody counts on it: then choose another word that is played.',
  source: 'design',
  fixes: [],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    return plan.cues
      .filter(({ id, at }) => id !== plan.ending?.signal && floorOf(plan, at) === null)
      .map((cue) => ({
        about: cue.id,
        place: placeOfRecord(plan, danced.score, cue.at),
        figures: { word: cue.word },
        sentence: `${quoted(cue.word)} is in the music that the edit leaves out.`,
      }));
  },
};
