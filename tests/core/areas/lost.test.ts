import { describe, expect, test } from 'vitest';
import { changePlan } from '../../../lib/core/areas/change.ts';
import {
  allOf,
  askedAbout,
  isAt,
  type Lost,
  type LostPlace,
  lostNow,
  takeInstead,
} from '../../../lib/core/areas/lost.ts';
import { cueAt, planOf } from '../../kit/board.ts';

const lost = (place: LostPlace, of: Partial<Lost> = {}): Lost => ({
  ...place,
  ...{ lost: null, stands: null, mine: true, entry: null, ...of },
});
const cueWord = { collection: 'cues', id: 'bell', field: 'word' };
const plan = planOf({}, { cues: [cueAt('bell', 17, 'bell')] });

describe('what was lost, as the board is by now', () => {
  const harp = lost(cueWord, { lost: 'harp', stands: 'bell' });

  test('is the same object while nothing has changed', () => {
    expect(lostNow(harp, plan)).toBe(harp);
  });
  test('says what stands now', () => {
    const now = planOf({}, { cues: [cueAt('bell', 17, 'gong')] });
    expect(lostNow(harp, now)).toEqual({ ...harp, stands: 'gong' });
  });
  test('is no more once it stands after all, whatever the order of its keys', () => {
    expect(lostNow(harp, changePlan(plan, [takeInstead(harp)]))).toBeNull();
    const target = lost({ register: 'target' }, { lost: { within: 20, length: 185 } });
    expect(lostNow(target, { ...plan, target: { length: 185, within: 20 } })).toBeNull();
  });
  test('is no more where two said the same, though at another time', () => {
    const settled = { by: 'Marta', at: '2027-01-01T10:00:00.000Z', word: '' };
    const mine = lost({ register: 'settled' }, { lost: { ...settled, by: 'Noor' }, stands: settled });
    expect(lostNow(mine, { ...plan, settled: { ...settled } })).toBeNull();
    expect(lostNow(mine, { ...plan, settled: { ...settled, word: 'for good' } })).not.toBeNull();
  });
  test('is no more once its entry is', () => {
    expect(lostNow(harp, { ...plan, cues: [] })).toBeNull();
  });
  test('waits for an entry that was taken away to be brought back, and then for its value', () => {
    const gone = lost(cueWord, { lost: 'harp', entry: { at: 17, word: 'harp' } });
    expect(lostNow(gone, { ...plan, cues: [] })).toBe(gone);
    expect(lostNow(gone, plan)).toEqual({ ...gone, stands: 'bell', entry: null });
    const back = changePlan({ ...plan, cues: [] }, [takeInstead(gone)]);
    expect(back.cues).toEqual([{ id: 'bell', at: 17, word: 'harp' }]);
    expect(lostNow(gone, back)).toBeNull();
  });
});

describe('a recording', () => {
  const recording = lost({ register: 'recording' }, { lost: { id: 'other' } });
  const grid = lost({ register: 'grid' });
  const theirs = lost({ register: 'edit' }, { mine: false });
  const venue = lost({ register: 'venue' });

  test('takes along what was lost of it, and of that nobody is asked', () => {
    const all = [grid, recording, theirs, venue];
    expect(allOf(recording, all)).toEqual([recording, grid]);
    expect(askedAbout(all)).toEqual([recording, theirs, venue]);
  });
  test('that stands leaves its grid a question of its own', () => {
    expect(askedAbout([grid, venue])).toEqual([grid, venue]);
    expect(allOf(grid, [grid, venue])).toEqual([grid]);
  });
});

test('a change is at the place where something was lost when it writes just that, or takes its entry away', () => {
  const harp = lost(cueWord);
  const change = (fields: object | null, id = 'bell') =>
    isAt(harp, { collection: 'cues', id, fields: fields as never });
  expect(change({ word: 'gong' })).toBe(true);
  expect(change(null)).toBe(true);
  expect(change({ at: 3 })).toBe(false);
  expect(change({ word: 'gong' }, 'other')).toBe(false);
  expect(isAt(harp, { register: 'word', value: null as never })).toBe(false);
  expect(isAt(lost({ register: 'venue' }), { register: 'venue', value: null as never })).toBe(true);
});
