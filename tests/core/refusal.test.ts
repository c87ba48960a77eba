import { expect, it } from 'vitest';
import { digest } from '../../lib/core/areas/people.ts';
import { planShape } from '../../lib/core/areas/plan.ts';
import { showShape } from '../../lib/core/areas/show.ts';
import { strictOf } from '../../lib/core/areas/strict.ts';
import { wholeSong } from '../../lib/core/edit/edit.ts';
import { refusalWords } from '../../lib/core/refusal.ts';
import type { z } from '../../lib/core/zod.ts';

const { lead, announcedBy } = showShape.registers;
const { date, lessonsLeft, musicBy, target, edit } = planShape.registers;
const { cues } = planShape.collections;
const cut = { from: 9, to: 4, crossfade: 0 };

/** What a person may read when something does not fit: no word of the library's. */
it.each<[string, z.ZodType, unknown]>([
  ['at most 1800', lead, 9999],
  ['at least 0', lead, -1],
  ['a number is needed', lead, Number.NaN],
  ['at most 120 letters', announcedBy, 'a'.repeat(121)],
  ['a day and time that the calendar has', date, 'tomorrow'],
  ['it is not written as it should be', digest, 'none'],
  ['a day and time that the calendar has', date, '2027-02-30'],
  ['a whole number is needed', lessonsLeft, 2.5],
  ['one of dj, band, friend, venue is needed', musicBy, 'nobody'],
  ['length: a number is needed', target, { within: 20 }],
  ['word: it must not be empty', cues, { at: 1, word: '' }],
  ['there is no colour', strictOf(cues), { at: 1, word: 'la', colour: 'red' }],
  ['cuts.0: a cut ends after it begins', edit, { ...wholeSong, cuts: [cut] }],
])('%s', (words, schema, value) => {
  const parsed = schema.safeParse(value);
  expect(parsed.success ? '' : refusalWords(parsed.error)).toBe(words);
});
