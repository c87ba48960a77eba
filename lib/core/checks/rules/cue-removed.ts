import { floorClock } from '../../dance/clock.ts';
import { listeners } from '../../dance/listeners.ts';
import type { Rule } from '../finding.ts';
import { placeOfRecord, quoted } from '../words.ts';

export const rule: Rule = {
  id: 'cue-removed',
  about: 'edit',
  severity: 'warns',
  reads: ['plan'],
  local: 'beside',
  what: 'The edit leaves out a cue word.',
  why: 'Whoever listens for it waits in vain.',
  todo: 'Nothing, unless somebody counts on it: then choose another word that is played.',
  source: 'design',
  fixes: [],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    const played = floorClock(plan);
    const cues = plan.cues.filter(({ id, at }) => id !== plan.ending?.signal && played(at) === null);
    if (cues.length === 0) return [];
    // Whoever is left out with the word has a finding of their own.
    const wait = listeners({ ...plan, cues }).filter(({ at }) => played(at) !== null);
    const waited = new Set(wait.map(({ cue }) => cue.id));
    return cues.map((cue) => ({
      about: cue.id,
      place: placeOfRecord(plan, danced.score, cue.at),
      figures: { word: cue.word },
      ...(waited.has(cue.id)
        ? {
            sentence: `${quoted(cue.word)} is in the music that the edit leaves out, and something that is danced begins or lands on it.`,
          }
        : {
            sentence: `${quoted(cue.word)} is in the music that the edit leaves out.`,
            severity: 'hints' as const,
          }),
    }));
  },
};
