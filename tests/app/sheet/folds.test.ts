import { describe, expect, it } from 'vitest';
import { foldsOf, leftOutRows } from '../../../app/_sheet/folds.ts';
import { groupsOf } from '../../../app/_sheet/groups.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import type { Edit } from '../../../lib/core/edit/edit.ts';
import { rowsOf } from '../../../lib/core/handover/sheetRows.ts';
import { barAt, cueAt, cutOut, fadeAt, micros, planOf } from '../../kit/board.ts';

function folded(edit: Edit) {
  const plan = planOf({}, { edit, cues: [cueAt('c', barAt(48), 'harbour')] });
  const score = boardScore(plan)!;
  const rows = rowsOf(score, 32);
  return { plan, score, rows, folds: foldsOf(plan, score, rows, null, null) };
}

describe('what is left out', () => {
  it('names the sections and their length, between the rows that meet', () => {
    const { folds } = folded(cutOut(barAt(48), barAt(88)));
    expect(folds).toEqual([
      {
        from: barAt(48),
        to: barAt(88),
        id: 'left out 1',
        after: 5,
        words: 'left out: verse 2, pre-chorus 2 and chorus 2, 1:20',
        join: { words: 'join: on the beat', clean: true },
      },
    ]);
  });

  it('lies below the row that a join runs through', () => {
    const { folds } = folded(cutOut(barAt(44), barAt(84)));
    expect(folds[0]).toMatchObject({ after: 5 });
    expect(folds[0]!.words).toContain('part of chorus 1');
  });

  it('says how a join is off', () => {
    const missing = folded(cutOut(barAt(48), barAt(88) + 2 / 3)).folds[0]!.join!;
    expect(missing).toMatchObject({ clean: false, words: 'join: 1 count missing in the bar' });
    const late = folded(cutOut(barAt(48), barAt(88) - 0.12)).folds[0]!.join!;
    expect(late).toMatchObject({ clean: false, words: 'join: 120 ms off the beat' });
  });

  it('folds away what comes before the start and after a fade, joined to nothing', () => {
    const { folds, rows } = folded(fadeAt(barAt(60), 8, { start: micros(barAt(8)) }));
    expect(folds.map(({ after, join }) => [after, join])).toEqual([
      [-1, null],
      [rows.length - 1, null],
    ]);
    expect(folds[0]!.words).toBe('left out: intro, 0:16');
  });

  it('opens to the phrases of the recording that are not played', () => {
    const { plan, folds } = folded(cutOut(barAt(48), barAt(88)));
    const out = leftOutRows(plan, folds[0]!);
    expect(out.map(({ section, opens, bars }) => [section, opens, bars])).toEqual([
      ['verse 2', true, 8],
      ['verse 2', false, 8],
      ['pre-chorus 2', true, 8],
      ['chorus 2', true, 8],
      ['chorus 2', false, 8],
    ]);
    expect(out[0]).toMatchObject({ at: barAt(48), word: 'harbour' });
  });

  it('says nothing where all is played', () => {
    expect(folded(cutOut(10, 10.2)).folds).toEqual([]);
  });
});

describe('sections at the left', () => {
  it('holds rows under their section, and what is left out at its place', () => {
    const { score, rows, folds } = folded(cutOut(barAt(48), barAt(88)));
    const groups = groupsOf(score, rows, folds);
    expect(groups.map(({ name }) => name)).toEqual([
      'intro',
      'verse 1',
      'pre-chorus 1',
      'chorus 1',
      'bridge',
      'chorus 3',
    ]);
    expect(groups[3]!.items.map(({ kind }) => kind)).toEqual(['row', 'row', 'fold']);
    expect(groups.at(-1)!.items).toHaveLength(3);
  });
});
