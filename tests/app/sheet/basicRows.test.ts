import { describe, expect, it } from 'vitest';
import { isBasic, withBasicRows } from '../../../app/_sheet/basicRows.ts';
import { groupsOf } from '../../../app/_sheet/groups.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { inkOf } from '../../../lib/core/handover/sheetInk.ts';
import { rowCapacity, rowsOf } from '../../../lib/core/handover/sheetRows.ts';
import { barAt, cueAt, libraryMove, micros, placed, planOf } from '../../kit/board.ts';

const plan = planOf(
  {},
  {
    moves: ['waltz-box', 'waltz-underarm'].map(libraryMove),
    cues: [cueAt('a', barAt(24), 'slowly')],
    placed: [placed('p', 'waltz-underarm', barAt(32))],
    walkOn: { ...usualWalkOn, firstStep: micros(barAt(8)) },
  },
);
const score = boardScore(plan)!;
const rows = rowsOf(score, rowCapacity(3, true));
const inks = new Map(inkOf(plan, score, rows).map((ink, i) => [rows[i]!.id, ink]));
const groups = groupsOf(score, rows, []).map(({ name, items }) => ({
  name,
  items: withBasicRows(items, ({ id }) => isBasic(inks.get(id)!)),
}));
const kindsOf = (name: string) =>
  groups
    .find((group) => group.name === name)!
    .items.map((item) => (item.kind === 'basic' ? item.rows.length : item.kind));

describe('rows of nothing but the basic, on a phone', () => {
  it('are one line, a word that opens them or not', () => {
    expect(kindsOf('verse 2')).toEqual([4]);
    expect(kindsOf('pre-chorus 2')).toEqual([2]);
  });
  it('stay rows where something else is: coming on, the first step, a move and what leads to it', () => {
    expect(kindsOf('intro')).toEqual(['row', 'row']);
    expect(kindsOf('verse 1')).toEqual(['row', 3]);
    // The underarm turn opens the chorus, and is led at the end of the row before.
    expect(kindsOf('pre-chorus 1')).toEqual(['row', 'row']);
    expect(kindsOf('chorus 1')).toEqual(['row', 3]);
  });
  it('lose no row, and change no order', () => {
    const all = groups.flatMap(({ items }) =>
      items.flatMap((item) => (item.kind === 'basic' ? item.rows : item.kind === 'row' ? [item.row] : [])),
    );
    expect(all).toEqual(rows);
  });
});
