import { describe, expect, it } from 'vitest';
import { offer } from '../../../app/_settle/words.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import { changePlan, type PlanChange } from '../../../lib/core/areas/change.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { fixAll, mayBeTaken, together } from '../../../lib/core/checks/settle.ts';
import { Standing } from '../../../lib/core/checks/standing.ts';
import { barAt, boardOf, endingOn, libraryMove, micros, placed } from '../../kit/board.ts';
import { today } from './boards.ts';
import { disturbed } from './sensible.ts';

const changed = (board: Board, changes: readonly PlanChange[]): Board => ({
  ...board,
  plan: changePlan(board.plan, changes),
});
const count = (board: Board) => {
  const found = checkBoard(board, today);
  const of = (severity: string) => found.filter((finding) => finding.severity === severity).length;
  return [of('blocks'), of('warns')] as const;
};
const isFewer = ([a, b]: readonly [number, number], [c, d]: readonly [number, number]) =>
  a < c || (a === c && b < d);

/** Every board that up to so many of the offered fixes lead to, one after the other, whatever they add. */
function* reached(board: Board, most: number): Generator<Board> {
  if (most === 0) return;
  for (const { severity, fixes } of Standing.of(board, today).found) {
    if (severity === 'hints') continue;
    for (const { changes } of fixes()) {
      const next = changed(board, changes);
      yield next;
      yield* reached(next, most - 1);
    }
  }
}

const seeds = Array.from({ length: 24 }, (_, i) => 7000 + i);

describe('the fixes of a board together', () => {
  it('leave what they say, settle something, and leave less to settle each time until nothing more is offered', () => {
    let settled = 0;
    for (const seed of seeds) {
      let board = disturbed(seed);
      for (let round = 0; ; round++) {
        expect(round).toBeLessThan(5);
        const { steps, changes, left } = fixAll(board, today);
        const next = changed(board, changes);
        const pressing = checkBoard(next, today).filter(({ severity }) => severity !== 'hints');
        expect(left.map(({ id }) => id)).toEqual(pressing.map(({ id }) => id));
        if (steps.length === 0) break;
        expect(isFewer(count(next), count(board))).toBe(true);
        expect(next.plan.placed.length).toBeGreaterThanOrEqual(board.plan.placed.length);
        settled += steps.length;
        board = next;
      }
    }
    expect(settled).toBeGreaterThan(10);
  }, 120_000);

  it('are the least where they say so: no smaller set of the offered fixes leaves as little (every one is tried)', () => {
    let compared = 0;
    for (let seed = 7100; seed < 7150; seed++) {
      const board = disturbed(seed);
      const { steps, changes, isLeast } = fixAll(board, today);
      if (!isLeast || steps.length === 0 || steps.length > 2) continue;
      const from = { standing: Standing.of(board, today) };
      const after = count(changed(board, changes));
      for (const other of reached(board, steps.length - 1)) {
        const may = mayBeTaken(from, { standing: Standing.of(other, today) });
        expect(may && !isFewer(after, count(other))).toBe(false);
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(10);
  }, 120_000);

  it('tell each change beside the note that it settles', () => {
    const board = boardOf(
      {},
      {
        moves: ['waltz-box', 'waltz-underarm', 'embrace-three'].map(libraryMove),
        date: '2027-08-28',
        placed: [placed('a', 'waltz-underarm', barAt(24) + 0.667)],
        ending: endingOn(barAt(108), ['embrace-three'], { hold: 1 }),
      },
    );
    const { steps, left, isLeast } = fixAll(board, today);
    expect(steps.map(({ finding }) => finding.id).sort()).toEqual(['pose-kept-short', 'start-count:a']);
    expect(steps.map(({ fix }) => fix.words)).toContain('Keep it for 4 s');
    expect([left, isLeast]).toEqual([[], true]);
    expect(offer(steps.length, left.length)).toBe('Two changes, and nothing is left to settle.');
    expect(offer(1, 2)).toBe('One change, and two notes are left.');
  });

  it('are one change: of an entry the fields together, of a register the last value', () => {
    const at = micros(3);
    expect(
      together([
        { collection: 'placed', id: 'a', fields: { at } },
        { register: 'musicBy', value: 'band' },
        { collection: 'placed', id: 'a', fields: { times: 2 } },
        { register: 'musicBy', value: 'dj' },
      ]),
    ).toEqual([
      { collection: 'placed', id: 'a', fields: { at, times: 2 } },
      { register: 'musicBy', value: 'dj' },
    ]);
  });
});
