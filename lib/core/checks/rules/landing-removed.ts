import { floorOf } from '../../dance/clock.ts';
import type { Rule } from '../finding.ts';
import { landingFixes } from '../landings.ts';
import { placeOfRecord } from '../words.ts';

export const rule: Rule = {
  id: 'landing-removed',
  about: 'edit',
  severity: 'blocks',
  reads: ['plan'],
  what: 'The edit leaves out the moment that the closing pose should land on.',
  why: 'The couple would wait for a word that never comes.',
  todo: 'Choose another word or count for the closing pose.',
  source: 'design',
  fixes: ['ending'],
  run({ board, danced }) {
    const { plan } = board;
    if (!danced || !plan.ending || floorOf(plan, plan.ending.target.at) !== null) return [];
    if (danced.ending.ok || danced.ending.problem.code !== 'target-left-out') return [];
    return [
      {
        place: placeOfRecord(plan, danced.score, plan.ending.target.at),
        figures: { recordTime: plan.ending.target.at },
        sentence: 'The edit leaves out the moment that the closing pose should land on.',
        fixes: () => landingFixes(plan, danced),
      },
    ];
  },
};
