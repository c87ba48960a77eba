import { expect, test } from 'vitest';
import { Losses } from '../../../app/_client/losses.ts';
import type { Lost } from '../../../lib/core/areas/lost.ts';
import { boardOf, cueAt } from '../../kit/board.ts';

const board = boardOf({}, { cues: [cueAt('bell', 17, 'bell')] });
const lost = (value: string, of: Partial<Lost> = {}): Lost => ({
  ...{ collection: 'cues', id: 'bell', field: 'word' },
  ...{ lost: value, stands: 'bell', mine: true, entry: null, ...of },
});
const said = (losses: Losses) => losses.all.map((one) => one.lost);

test('are the same on the next page of the board, and only on that board', () => {
  new Losses('one/m').tell('plan', [lost('harp')]);
  expect(said(new Losses('one/m'))).toEqual(['harp']);
  expect(said(new Losses('two/m'))).toEqual([]);
});

test('of an area of rich texts, or of the DJ’s answers, nothing is told', () => {
  const losses = new Losses('areas/m');
  for (const area of ['lessons', 'remarks', 'answer'] as const) losses.tell(area, [lost('harp')]);
  expect(said(losses)).toEqual([]);
});

test('the list is the same while nothing changes', () => {
  const losses = new Losses('same/m');
  expect(losses.now(board)).toBe(losses.now(board));
  losses.tell('plan', [lost('harp')]);
  expect(losses.now(board)).toBe(losses.now(board));
});

test('what is lost again is told once, what is left is told no more, and what stands after all neither', () => {
  const losses = new Losses('again/m');
  losses.tell('plan', [lost('harp')]);
  losses.tell('plan', [lost('harp'), lost('gong')]);
  expect(said(losses)).toEqual(['harp', 'gong']);
  losses.dismiss(losses.all[0]!);
  expect(said(losses)).toEqual(['gong']);
  const now = boardOf({}, { cues: [cueAt('bell', 17, 'gong')] });
  expect(losses.now(now)).toEqual([]);
});

test('whoever writes on the place has decided', () => {
  const losses = new Losses('decided/m');
  losses.tell('plan', [lost('harp')]);
  losses.changed('show', [{ register: 'word', value: null as never }]);
  losses.changed('plan', [{ collection: 'cues', id: 'bell', fields: { at: 3 } as never }]);
  expect(said(losses)).toEqual(['harp']);
  losses.changed('plan', [{ collection: 'cues', id: 'bell', fields: { word: 'drum' } as never }]);
  expect(said(losses)).toEqual([]);
});
