import { dayWords } from '../../areas/days.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'day-past',
  about: 'handover',
  severity: 'hints',
  reads: ['plan'],
  afterwards: true,
  what: 'The day of the party has gone by, so that the checks say nothing more.',
  why: 'Nobody needs advice for a dance that was danced; but a wrong year would silence it all.',
  todo: 'Nothing; or set the right day.',
  source: 'design',
  fixes: [],
  run({ board: { plan } }) {
    const sentence = `The party was on ${dayWords(plan.date)}: the checks rest now. If that day is wrong, set the right one.`;
    return [{ place: nowhere, figures: { date: plan.date! }, sentence }];
  },
};
