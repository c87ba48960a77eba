import { expect, it } from 'vitest';
import { applyChanges, readArea } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import { planShape } from '../../lib/core/areas/plan.ts';
import { barAt, cueAt, gridOf } from '../kit/board.ts';

it('a register reads as the same object until it is set anew', () => {
  const doc = newArea(planShape);
  applyChanges(doc, planShape, [{ register: 'grid', value: gridOf() }]);
  const before = readArea(doc, planShape).grid;
  const { id, ...fields } = cueAt('c', barAt(4), 'slowly');
  applyChanges(doc, planShape, [{ collection: 'cues', id, fields }]);
  expect(readArea(doc, planShape).grid).toBe(before);
  applyChanges(doc, planShape, [{ register: 'grid', value: { ...gridOf(), confirmedBy: 'Kim' } }]);
  expect(readArea(doc, planShape).grid).toEqual({ ...before, confirmedBy: 'Kim' });
});
