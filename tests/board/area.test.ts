import { expect, it } from 'vitest';
import { AreaReader, applyChanges, readArea } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import { planShape } from '../../lib/core/areas/plan.ts';
import { byNobody } from '../../lib/core/song/grid.ts';
import { barAt, cueAt, gridOf } from '../kit/board.ts';

it('a register reads as the same object until it is set anew', () => {
  const doc = newArea(planShape);
  applyChanges(doc, planShape, [{ register: 'grid', value: gridOf() }]);
  const before = readArea(doc, planShape).grid;
  const { id, ...fields } = cueAt('c', barAt(4), 'slowly');
  applyChanges(doc, planShape, [{ collection: 'cues', id, fields }]);
  expect(readArea(doc, planShape).grid).toBe(before);
  applyChanges(doc, planShape, [{ register: 'grid', value: { ...gridOf(), confirmedBy: byNobody } }]);
  expect(readArea(doc, planShape).grid).toEqual({ ...before, confirmedBy: byNobody });
});

it('an entry reads as the same object until one of its fields is set, a collection until one of its entries is', () => {
  const doc = newArea(planShape);
  const reader = new AreaReader(doc, planShape);
  const put = (word: string, id: string) => {
    const { id: _, ...fields } = cueAt(id, barAt(4), word);
    applyChanges(doc, planShape, [{ collection: 'cues', id, fields }]);
  };
  put('slowly', 'a');
  put('stay', 'b');
  const before = reader.read().cues;
  applyChanges(doc, planShape, [{ register: 'grid', value: gridOf() }]);
  expect(reader.read().cues).toBe(before);
  applyChanges(doc, planShape, [{ collection: 'cues', id: 'b', fields: { word: 'until' } }]);
  const after = reader.read().cues;
  expect(after[0]).toBe(before[0]);
  expect(after.map(({ word }) => word)).toEqual(['slowly', 'until']);
  expect(before.map(({ word }) => word)).toEqual(['slowly', 'stay']);
  applyChanges(doc, planShape, [{ collection: 'cues', id: 'a', fields: null }]);
  expect(reader.read().cues).toEqual([after[1]]);
});
