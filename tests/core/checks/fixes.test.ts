import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changePlan } from '../../../lib/core/areas/change.ts';
import { checkBoard, rulesNotRun } from '../../../lib/core/checks/checkBoard.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { barAt, boardOf, libraryMove, micros, placed } from '../../kit/board.ts';
import { boards, fixOnAndOn, today, tryFixes } from './boards.ts';

describe('fixes', () => {
  it('end their finding, add none as severe, keep every move, and leave a plan that its area accepts', () => {
    let fixes = 0;
    fc.assert(
      fc.property(boards, (board) => {
        const tried = tryFixes(board);
        fixes += tried.fixes;
        expect(tried.failures).toEqual([]);
      }),
      // More of them: `npm run bench:fixes`.
      { seed: 20270612, numRuns: 40 },
    );
    // The property says nothing when no board has a fix.
    expect(fixes).toBeGreaterThan(200);
  }, 120_000);

  it('come to an end, whoever goes on taking them: the number of findings falls, at the severity of each and above', () => {
    let presses = 0;
    fc.assert(
      fc.property(boards, (board) => {
        const done = fixOnAndOn(board);
        presses += done.presses;
        expect(done.ends).toBe(true);
      }),
      { seed: 3, numRuns: 25 },
    );
    expect(presses).toBeGreaterThan(60);
  }, 120_000);

  it('findings are the same from run to run, in the order of the song, each with an id of its own', () => {
    fc.assert(
      fc.property(boards, (board) => {
        const found = checkBoard(board, today);
        expect(checkBoard(structuredClone(board), today)).toEqual(found);
        expect(new Set(found.map(({ id }) => id)).size).toBe(found.length);
        const times = found.map(({ place }) => place.floorTime ?? -1);
        expect(times).toEqual([...times].sort((a, b) => a - b));
        for (const { sentence } of found)
          expect(sentence).not.toMatch(/\b(he|she|his|her|him|bride|groom|undefined|NaN)\b/);
      }),
      { seed: 7, numRuns: 8 },
    );
  }, 120_000);
});

describe('a section that nothing marks', () => {
  it('is marked with the links that make the move fit', () => {
    const board = boardOf(
      {},
      {
        moves: ['waltz-box', 'waltz-natural-turn', 'waltz-underarm'].map(libraryMove),
        walkOn: { ...usualWalkOn, firstStep: micros(barAt(8)) },
        // The right turn leaves the right foot free, and the box goes on so; the underarm turn begins with the left.
        placed: [placed('a', 'waltz-natural-turn', barAt(24)), placed('b', 'waltz-underarm', barAt(72))],
      },
    );
    const found = checkBoard(board, today);
    const { fix } = found.find(({ id }) => id === 'unmarked-section:s3')!;
    expect(fix!.words).toBe('Put “Underarm turn” there, joined by “Wait a bar”');
    const after = checkBoard({ ...board, plan: changePlan(board.plan, fix!.changes) }, today);
    expect(found.map(({ rule }) => rule)).toContain('cannot-be-danced');
    expect(after.map(({ rule }) => rule)).not.toContain('cannot-be-danced');
  });
});

describe('rules that somebody may not have run', () => {
  it('are named with the area that is missing, and find nothing', () => {
    const board = { ...boardOf(), lessons: null, answer: null };
    const missing = rulesNotRun(board);
    expect(missing.map(({ rule }) => rule.id)).toEqual(
      expect.arrayContaining(['not-ready', 'too-many-moves', 'dj-not-asked']),
    );
    expect(missing.every(({ rule, missing }) => missing.length > 0 && rule.reads.includes(missing[0]!))).toBe(
      true,
    );
    expect(checkBoard(board, today).some(({ rule }) => rule === 'dj-not-asked')).toBe(false);
    expect(rulesNotRun(boardOf())).toEqual([]);
  });
});
