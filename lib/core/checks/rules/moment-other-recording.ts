import type { Rule } from '../finding.ts';
import { placeOfRecord, quoted } from '../words.ts';

export const rule: Rule = {
  id: 'moment-other-recording',
  about: 'handover',
  severity: 'warns',
  reads: ['plan', 'show'],
  what: 'Something that others do at a moment of the music was set in another recording.',
  why: 'At that second this recording has other music.',
  todo: 'Hear what is played there now, take it away, and set it anew.',
  source: 'design',
  fixes: [],
  run({ board, danced }) {
    const { plan, show } = board;
    return show!.moments
      .filter(({ recording }) => recording !== undefined && recording !== (plan.recording?.id ?? recording))
      .map(({ id, at, who, what }) => ({
        about: id,
        place: placeOfRecord(plan, danced?.score ?? null, at),
        figures: { who },
        sentence: `${who}, ${quoted(what)}: this was set in another recording.`,
      }));
  },
};
