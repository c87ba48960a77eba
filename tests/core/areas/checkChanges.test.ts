import { expect, it } from 'vitest';
import { checkChanges } from '../../../lib/core/areas/checkChanges.ts';
import { planShape } from '../../../lib/core/areas/plan.ts';
import { recordTime } from '../../../lib/core/units.ts';
import { barAt, cueAt, planOf } from '../../kit/board.ts';

it('a change to what somebody else has removed meanwhile says so; an entry that is not valid says why', () => {
  const plan = { ...planOf({}, {}), cues: [cueAt('c', barAt(4), 'slowly')] };
  const set = (id: string, fields: { at?: typeof at; word: string }) =>
    checkChanges(planShape, plan, [{ collection: 'cues', id, fields }]);
  const at = recordTime(1);
  expect(set('c', { word: 'stay' }).ok).toBe(true);
  expect(set('gone', { word: 'stay' })).toMatchObject({ ok: false, problem: { code: 'gone' } });
  expect(set('new', { at, word: 'x'.repeat(1000) })).toMatchObject({
    ok: false,
    problem: { code: 'invalid' },
  });
});
