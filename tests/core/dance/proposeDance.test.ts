import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changePlan } from '../../../lib/core/areas/change.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { laidOut } from '../../../lib/core/dance/place.ts';
import { practiceLoad } from '../../../lib/core/dance/practice.ts';
import { proposeDance, worthOfChoice } from '../../../lib/core/dance/proposeDance.ts';
import { type Stage, stageOf } from '../../../lib/core/dance/stations.ts';
import { barAt, boardOf, endingOn, libraryMove, placed, planOf } from '../../kit/board.ts';

const moves = [
  'waltz-box',
  'waltz-underarm',
  'waltz-left-box',
  'waltz-balance',
  'waltz-whisk',
  'lean-three',
].map(libraryMove);
const ending = endingOn(barAt(111), ['lean-three']);

/** The most that any choice is worth, all being tried; null where none fits. */
function bestOf(stage: Stage): { best: number | null; tried: number } {
  let best: number | null = null;
  let tried = 0;
  const tryAll = (choice: number[]) => {
    const options = stage.stations[choice.length]?.options;
    if (options) {
      for (let i = 0; i < options.length; i++) tryAll([...choice, i]);
      return;
    }
    tried += 1;
    const worth = worthOfChoice(stage, choice);
    if (worth !== null && (best === null || worth > best)) best = worth;
  };
  tryAll([]);
  return { best, tried };
}

/** Small songs in three: up to five changes, sections that come again, odd lengths, up to three moves, some placed already. */
const small = fc
  .record({
    parts: fc.array(
      fc.tuple(
        fc.constantFrom<'verse' | 'chorus' | 'bridge'>('verse', 'chorus', 'bridge'),
        fc.integer({ min: 3, max: 10 }),
      ),
      { minLength: 3, maxLength: 6 },
    ),
    figures: fc.uniqueArray(
      fc.constantFrom(
        ...['waltz-underarm', 'waltz-left-box', 'waltz-balance', 'waltz-whisk', 'waltz-chasse'],
        ...['waltz-progressive', 'waltz-roll-out-and-in'],
      ),
      { minLength: 1, maxLength: 3 },
    ),
    basic: fc.boolean(),
    mine: fc.array(fc.tuple(fc.integer({ min: 8, max: 40 }), fc.nat(2)), { maxLength: 2 }),
    ends: fc.option(fc.integer({ min: 14, max: 40 })),
  })
  .map(({ parts, figures, basic, mine, ends }) =>
    planOf(
      { form: [['intro', 8], ...parts] },
      {
        moves: [...(basic ? ['waltz-box'] : []), ...figures, 'lean-three'].map(libraryMove),
        placed: mine.map(([bar, i], n) => placed(`mine-${n}`, figures[i % figures.length]!, barAt(bar))),
        ending: ends === null ? null : endingOn(barAt(ends), ['lean-three']),
      },
    ),
  );

describe('proposeDance', () => {
  it('marks every section change, the same change with the same move', () => {
    const plan = planOf({}, { moves, ending });
    const score = boardScore(plan)!;
    const { changes, words } = proposeDance(plan, score);
    const laid = laidOut(changePlan(plan, changes), score);
    const at = (i: number) => laid.find((one) => one.at === score.sections[i]!.first)?.move.id;
    // The first verse has the first step; the other seven changes have a move each.
    expect(laid.length).toBe(7);
    expect(at(2)).toBe(at(5));
    expect(new Set([at(3), at(6), at(8)]).size).toBe(1);
    expect(words.join(' ')).toContain('chorus 1, chorus 2 and chorus 3');
  });

  it('is the best of all ways, tried one by one, on 200 small random boards', () => {
    let choices = 0;
    let withMoves = 0;
    fc.assert(
      fc.property(small, (plan) => {
        const score = boardScore(plan)!;
        const { best, tried } = bestOf(stageOf(plan, score)!);
        const proposal = proposeDance(plan, score);
        choices += tried;
        withMoves += proposal.changes.length > 0 ? 1 : 0;
        // Where a person's own moves overlap there is no way at all.
        expect(proposal.worth).toBe(best ?? 0);
        const after = changePlan(plan, proposal.changes);
        expect(after.placed.length).toBe(plan.placed.length + proposal.changes.length);
      }),
      { seed: 20270613, numRuns: 200 },
    );
    expect(withMoves).toBeGreaterThan(100);
    expect(choices).toBeGreaterThan(10_000);
  });

  it('leaves what a person placed where it is, and takes its move for the same change', () => {
    const mine = placed('mine', 'waltz-balance', barAt(32));
    const plan = planOf({}, { moves, ending, placed: [mine] });
    const score = boardScore(plan)!;
    const after = changePlan(plan, proposeDance(plan, score).changes);
    expect(after.placed).toContainEqual(mine);
    const chorus = laidOut(after, score).filter((laid) =>
      score.sections.some((s) => s.kind === 'chorus' && s.first === laid.at),
    );
    expect(chorus.map(({ move }) => move.id)).toEqual(['waltz-balance', 'waltz-balance', 'waltz-balance']);
  });

  it('proposes nothing that the checks would block or warn of among moves', () => {
    const board = boardOf({}, { moves, ending });
    const plan = changePlan(board.plan, proposeDance(board.plan, boardScore(board.plan)!).changes);
    const found = checkBoard({ ...board, plan }, '2027-01-01');
    const about = [
      'overlap',
      'preparation',
      'runs-over',
      'start-count',
      'hold-connects',
      'ending-overlap',
      'unmarked-section',
    ];
    expect(found.filter(({ rule }) => about.includes(rule))).toEqual([]);
  });
});

describe('practiceLoad', () => {
  it('counts different moves that still need help against the lessons left', () => {
    const two = moves.slice(1, 3);
    const load = practiceLoad([...two, ...two], [{ id: 'waltz-underarm', level: 3 }], 1);
    expect(load).toMatchObject({ toLearn: ['waltz-left-box'], most: 0, over: 1 });
    expect(load.distinct.length).toBe(2);
    expect(practiceLoad(two, [], 3).over).toBe(0);
  });
});
