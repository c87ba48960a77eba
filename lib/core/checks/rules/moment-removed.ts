import { floorOf } from '../../dance/clock.ts';
import type { Rule } from '../finding.ts';
import { placeOfRecord, quoted } from '../words.ts';

export const rule: Rule = {
  id: 'moment-removed',
  about: 'handover',
  severity: 'warns',
  reads: ['plan', 'show'],
  what: 'The edit leaves out a moment at which others do something: lights, camera, MC.',
  why: 'The run-of-show entry cannot tell them when, so that it does not happen.',
  todo: 'Give it another moment that is played, or take it out of the run of show.',
  source: 'design',
  fixes: [],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    return board
      .show!.moments.filter(({ at }) => floorOf(plan, at) === null)
      .map(({ id, at, who, what }) => ({
        about: id,
        place: placeOfRecord(plan, danced.score, at),
        figures: { recordTime: at, who },
        sentence: `${quoted(what || who)} is at a moment that the edit leaves out, so that the run of show does not tell it.`,
      }));
  },
};
