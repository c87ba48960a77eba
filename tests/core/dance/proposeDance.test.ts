import { describe, expect, it } from 'vitest';
import { changePlan } from '../../../lib/core/areas/change.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { laidOut } from '../../../lib/core/dance/place.ts';
import { practiceLoad } from '../../../lib/core/dance/practice.ts';
import { proposeDance, worthOfChoice } from '../../../lib/core/dance/proposeDance.ts';
import { stageOf } from '../../../lib/core/dance/stations.ts';
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

  it('is the best of all ways, tried one by one', () => {
    const form: Parameters<typeof planOf>[0] = {
      form: [
        ['intro', 8],
        ['verse', 9],
        ['chorus', 8],
        ['verse', 8],
        ['chorus', 8],
        ['outro', 8],
      ],
    };
    for (const chosen of [
      ['waltz-underarm', 'waltz-whisk'],
      ['waltz-balance', 'waltz-left-box'],
      ['waltz-roll-out-and-in', 'waltz-whisk'],
    ]) {
      const plan = planOf(form, { moves: ['waltz-box', ...chosen].map(libraryMove) });
      const score = boardScore(plan)!;
      const stage = stageOf(plan, score)!;
      let best = Number.NEGATIVE_INFINITY;
      const tryAll = (choice: number[]) => {
        const options = stage.stations[choice.length]?.options;
        if (!options) best = Math.max(best, worthOfChoice(stage, choice) ?? Number.NEGATIVE_INFINITY);
        else for (let i = 0; i < options.length; i++) tryAll([...choice, i]);
      };
      tryAll([]);
      expect(stage.stations.length).toBe(4);
      expect(proposeDance(plan, score).worth).toBe(best);
    }
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
