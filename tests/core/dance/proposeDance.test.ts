import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changePlan } from '../../../lib/core/areas/change.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { basicOf, wholeDance } from '../../../lib/core/dance/basics.ts';
import { dancedThrough } from '../../../lib/core/dance/dancedThrough.ts';
import { manners } from '../../../lib/core/dance/manners.ts';
import { laidOut } from '../../../lib/core/dance/place.ts';
import type { DancePlan } from '../../../lib/core/dance/plan.ts';
import { practiceLoad } from '../../../lib/core/dance/practice.ts';
import { bestWays, proposeDances, proposing, settingOf } from '../../../lib/core/dance/proposeDance.ts';
import { stageOf } from '../../../lib/core/dance/stations.ts';
import { planWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { finished, type Setting, stepOn, type Way } from '../../../lib/core/dance/ways.ts';
import type { FloorScore } from '../../../lib/core/edit/score.ts';
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
function bestOf(setting: Setting): { best: number | null; tried: number } {
  const { stations } = setting.stage;
  let best: number | null = null;
  let tried = 0;
  const tryAll = (way: Way | null, i: number): void => {
    const station = stations[i];
    if (station && way) for (const option of station.options) tryAll(stepOn(way, option, i, setting), i + 1);
    if (station && way) return;
    tried += 1;
    if (!way) return;
    const { worth } = finished(way, setting);
    if (best === null || worth > best) best = worth;
  };
  tryAll(setting.begin, 0);
  return { best, tried };
}

function searched(setting: Setting, beam?: number) {
  const search = bestWays(setting, beam);
  let step = search.next();
  while (!step.done) step = search.next();
  return step.value;
}

/** All that the automaton says against a dance. */
function breaksOf(plan: DancePlan, score: FloorScore) {
  const walk = planWalkOn(plan, score);
  const first = walk.ok ? walk.value.firstStep : 0;
  return dancedThrough({ grid: plan.grid!, basic: basicOf(plan), first, laid: wholeDance(plan, score) })
    .breaks;
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

describe('proposeDances', () => {
  it('marks every section change, the same change with the same move', () => {
    const plan = planOf({}, { moves, ending });
    const score = boardScore(plan)!;
    const [remembered] = proposeDances(plan, score).dances;
    const laid = laidOut(changePlan(plan, remembered!.changes), score);
    const at = (i: number) => laid.find((one) => one.at === score.sections[i]!.first)?.move.id;
    // The first verse has the first step.
    for (const i of [2, 3, 4, 5, 6, 7, 8]) expect(at(i)).toBeDefined();
    expect(at(2)).toBe(at(5));
    expect(new Set([at(3), at(6), at(8)]).size).toBe(1);
    // The most demanding move is on the last chorus, and so on all.
    expect(at(8)).toBe('waltz-left-box');
    expect(remembered!.words.join(' ')).toContain('Left turning box: chorus 1, chorus 2 and chorus 3.');
  });

  it('gives three different dances, each in one sentence', () => {
    const plan = planOf({}, { moves, ending });
    const { dances } = proposeDances(plan, boardScore(plan)!);
    expect(dances.map(({ manner }) => manner)).toEqual([...manners]);
    expect(new Set(dances.map(({ changes }) => JSON.stringify(changes))).size).toBe(3);
    for (const { sentence } of dances) expect(sentence).toMatch(/^[A-Z].*\.$/);
    // Each of the couple's moves that has a place is danced.
    const varied = dances[1]!.changes.flatMap((c) =>
      'collection' in c && c.fields && 'move' in c.fields ? [c.fields.move] : [],
    );
    expect(new Set(varied)).toEqual(
      new Set(
        ['waltz-underarm', 'waltz-left-box', 'waltz-balance', 'waltz-whisk'].concat(
          varied.filter((id) => id!.startsWith('link-')) as string[],
        ),
      ),
    );
  });

  it('is the best of all ways, tried one by one, in each manner on 150 small random boards', () => {
    let choices = 0;
    let withMoves = 0;
    let exactly = 0;
    let atBest = 0;
    fc.assert(
      fc.property(
        small,
        fc.constantFrom(...manners),
        fc.option(fc.integer({ min: 1, max: 4 })),
        (plan, manner, lessonsLeft) => {
          const score = boardScore(plan)!;
          const setting = settingOf(stageOf(plan, score)!, plan, score, { lessonsLeft }, manner);
          const { best, tried } = bestOf(setting);
          choices += tried;
          const all = searched(setting, Number.POSITIVE_INFINITY);
          expect(all.exact).toBe(true);
          // Where a person's own moves overlap there may be no way at all.
          expect(all.ways[0]?.worth ?? null).toBe(best);
          const bounded = searched(setting);
          if (bounded.exact) expect(bounded.ways[0]?.worth ?? null).toBe(best);
          exactly += bounded.exact ? 1 : 0;
          atBest += (bounded.ways[0]?.worth ?? null) === best ? 1 : 0;
          const { ways } = all;
          withMoves += ways[0]?.used ? 1 : 0;
        },
      ),
      { seed: 20270613, numRuns: 150 },
    );
    expect(withMoves).toBeGreaterThan(75);
    expect(choices).toBeGreaterThan(10_000);
    // Bounded to the best so far it seldom misses the best of all.
    expect(exactly).toBeGreaterThan(75);
    expect(atBest).toBeGreaterThan(140);
  });

  it('is danceable: the automaton finds no break that a person did not place', () => {
    fc.assert(
      fc.property(small, (board) => {
        const plan = { ...board, placed: [] };
        const score = boardScore(plan)!;
        for (const { changes } of proposeDances(plan, score).dances)
          expect(breaksOf(changePlan(plan, changes), score)).toEqual([]);
      }),
      { seed: 20270614, numRuns: 60 },
    );
  });

  it('keeps to the floor, and to what can still be learned', () => {
    const plan = planOf({}, { moves: [...moves, libraryMove('waltz-progressive')], ending });
    const score = boardScore(plan)!;
    const used = (wishes: Parameters<typeof proposeDances>[2]) =>
      new Set(
        proposeDances(plan, score, wishes).dances.flatMap(({ changes }) =>
          changePlan(plan, changes).placed.map(({ move }) => move),
        ),
      );
    expect(used({}).has('waltz-progressive')).toBe(true);
    expect(used({ across: 4 }).has('waltz-progressive')).toBe(false);
    // Two lessons: one new move; the ending's lean is the other thing to learn, so none is left.
    expect(used({ lessonsLeft: 2 }).size).toBe(0);
    const readiness = [
      { id: 'lean-three', level: 2 as const },
      { id: 'waltz-underarm', level: 3 as const },
    ];
    expect(used({ lessonsLeft: 1, readiness })).toEqual(new Set(['waltz-underarm']));
  });

  it('stops where it is told to, and says how far it is', () => {
    const plan = planOf({}, { moves, ending });
    const shares = [...proposing(plan, boardScore(plan)!)];
    expect(shares.length).toBeGreaterThan(10);
    expect(shares.every((share, i) => share > 0 && share <= 1 && share >= (shares[i - 1] ?? 0))).toBe(true);
  });

  it('leaves what a person placed where it is, and takes its move for the same change', () => {
    const mine = placed('mine', 'waltz-balance', barAt(32));
    const plan = planOf({}, { moves, ending, placed: [mine] });
    const score = boardScore(plan)!;
    const after = changePlan(plan, proposeDances(plan, score).dances[0]!.changes);
    expect(after.placed).toContainEqual(mine);
    const chorus = laidOut(after, score).filter((laid) =>
      score.sections.some((s) => s.kind === 'chorus' && s.first === laid.at),
    );
    expect(chorus.map(({ move }) => move.id)).toEqual(['waltz-balance', 'waltz-balance', 'waltz-balance']);
  });

  it('proposes nothing that the checks would block or warn of among moves', () => {
    const board = boardOf({}, { moves, ending });
    for (const { changes } of proposeDances(board.plan, boardScore(board.plan)!).dances) {
      const found = checkBoard({ ...board, plan: changePlan(board.plan, changes) }, '2027-01-01');
      const about = [
        'overlap',
        'preparation',
        'runs-over',
        'start-count',
        'cannot-be-danced',
        'ending-overlap',
      ];
      expect(found.filter(({ rule }) => about.includes(rule))).toEqual([]);
    }
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
