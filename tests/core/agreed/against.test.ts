import { describe, expect, test } from 'vitest';
import { against } from '../../../lib/core/agreed/against.ts';
import { currentDigest } from '../../../lib/core/agreed/answerState.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import type { PlanChange } from '../../../lib/core/areas/change.ts';
import { barAt, boardOf, cueAt, cutOut, endingOn, libraryMove, placed } from '../../kit/board.ts';

const board = boardOf(
  {},
  {
    edit: cutOut(30, 60),
    moves: ['waltz-box', 'waltz-whisk', 'lean-three'].map(libraryMove),
    placed: [placed('p', 'waltz-box', barAt(8))],
    cues: [cueAt('c', barAt(108), 'lantern'), cueAt('d', barAt(4), 'bell')],
    ending: endingOn(barAt(108), ['lean-three'], { signal: 'c' }),
  },
);
const edit: PlanChange = { register: 'edit', value: cutOut(30, 61) };
const title: PlanChange = { register: 'title', value: 'Lantern Lane' };
const without = (collection: 'moves' | 'cues', id: string): PlanChange => ({ collection, id, fields: null });

describe('against taking back one’s own changes stands', () => {
  test('nothing, where nobody relies on them', () => {
    for (const change of [edit, title, without('moves', 'waltz-whisk'), without('cues', 'd')])
      expect(against(board, [change])).toBe('');
  });
  test('that song and edit are settled', () => {
    const settled = { by: 'Mara', at: '2027-05-01T10:00:00.000Z' as const, word: '' };
    const held: Board = { ...board, plan: { ...board.plan, settled } };
    expect(against(held, [edit])).toBe('song and edit are settled');
    expect(against(held, [title])).toBe('');
  });
  test('the DJ’s yes to the present edit', () => {
    const { plan, answer } = board;
    const yes = {
      ...{
        id: 'a',
        kind: 'yes' as const,
        at: '2027-05-01T10:00:00.000Z' as const,
        by: 'Rui',
        words: '',
        proposal: null,
      },
      ...{ plays: 'finished file' as const, digest: currentDigest(plan)!, edit: plan.edit! },
    };
    const agreed: Board = { ...board, answer: { ...answer!, plays: 'finished file', answers: [yes] } };
    expect(against(agreed, [edit])).toMatch(/^Rui has said yes to the present edit/);
    expect(against(agreed, [title])).toBe('');
  });
  test('that a move is danced, and that the ending listens for a word', () => {
    expect(against(board, [without('moves', 'waltz-box')])).toMatch(/is danced on the sheet$/);
    expect(against(board, [without('moves', 'lean-three')])).toMatch(/is danced on the sheet$/);
    expect(
      against(board, [without('moves', 'waltz-box'), { collection: 'placed', id: 'p', fields: null }]),
    ).toBe('');
    expect(against(board, [without('cues', 'c')])).toBe('the ending listens for “lantern”');
  });
});
