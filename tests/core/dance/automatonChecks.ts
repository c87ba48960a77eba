import { deepEqual, equal, ok } from 'node:assert/strict';
import fc from 'fast-check';
import { footworkOf, holdServes, lacksFor, stanceAfter } from '../../../lib/core/dance/automaton.ts';
import { entriesOf, feetThroughBasic } from '../../../lib/core/dance/basicRun.ts';
import { onBoard } from '../../../lib/core/dance/counts.ts';
import {
  type DancedThrough,
  dancedThrough,
  joinOf,
  stanceAfterLaid,
  throughBasic,
} from '../../../lib/core/dance/dancedThrough.ts';
import { links } from '../../../lib/core/dance/library/links.ts';
import { standardMoves } from '../../../lib/core/dance/library/standard.ts';
import { mendingOf, shortestLinks } from '../../../lib/core/dance/mending.ts';
import type { DanceHold, Move, Position } from '../../../lib/core/dance/move.ts';
import { lay } from '../../../lib/core/dance/place.ts';
import {
  anyFeet,
  BETWEEN,
  beginOf,
  endOf,
  feetOf,
  freeFoot,
  mirrored,
  otherFoot,
  PAIRS,
  pairsIn,
  type Stance,
  setOf,
  standing,
  weighted,
} from '../../../lib/core/dance/stance.ts';
import { gridOf, libraryMove } from '../../kit/board.ts';

/**
 * What holds of the automaton, a function each that throws where it does not. They stand apart from the tests that run them, so that
 * `npm run bench:mutation` can run them on a spoilt automaton, too.
 */

const grid = gridOf();
const four = gridOf({ beatsPerBar: 4 });
const left: Stance = { feet: 1, hold: 'closed', position: 'facing' };
const right: Stance = { ...left, feet: 2 };
const box = libraryMove('waltz-box');
const rumba = libraryMove('rumba-box');
const foxtrot = libraryMove('foxtrot-basic');
const linkOf = (id: string): Move => links.find((link) => link.id === id)!;

type Feet = { lead: string; follow: string };
const swap = (foot: string) => (foot === 'left' ? 'right' : 'left');

/** Steps of one of the two that take weight, written down once more by hand. */
const stepsOf = (move: Move, who: 'lead' | 'follow', mirror: boolean) =>
  move
    .steps!.filter((s) => s.how !== 'touch' && (s.who === 'both' || s.who === who))
    .map((s) => {
      const own = s.who === 'both' && who === 'follow' ? swap(s.foot) : (s.foot as string);
      return { at: s.begins, foot: mirror ? swap(own) : own };
    });

type Walked = Record<'lead' | 'follow', { foot: string }[]>;
function walk(feet: Feet, list: Walked): Feet | null {
  const after = { ...feet };
  for (const who of ['lead', 'follow'] as const) {
    for (const { foot } of list[who]) {
      if (after[who] !== foot) return null;
      after[who] = swap(foot);
    }
  }
  return after;
}

const whole = (feet: Feet, move: Move): Feet[] =>
  [false, ...(move.eitherFoot ? [true] : [])].flatMap((mirror) => {
    const list = { lead: stepsOf(move, 'lead', mirror), follow: stepsOf(move, 'follow', mirror) };
    const after = walk(feet, list);
    return after ? [after] : [];
  });

/** So many counts of a basic, begun wherever it may be, on whichever foot. */
const filled = (feet: Feet, { move, entries }: Basic, counts: number): Feet[] =>
  entries.flatMap((entry) =>
    [false, ...(move.eitherFoot ? [true] : [])].flatMap((mirror) => {
      const part = (who: 'lead' | 'follow') =>
        Array.from({ length: Math.ceil((entry + counts) / move.counts) + 1 }, (_, round) =>
          stepsOf(move, who, mirror).map(({ at, foot }) => ({ at: at + round * move.counts, foot })),
        )
          .flat()
          .filter(({ at }) => at >= entry && at < entry + counts);
      const after = walk(feet, { lead: part('lead'), follow: part('follow') });
      return after ? [after] : [];
    }),
  );

/** A basic, and where in itself it may be begun: its half is the same with the other foot, or it is not. */
interface Basic {
  move: Move;
  entries: number[];
}

interface Danced {
  move: Move;
  at: number;
}

/**
 * The same dance walked through by two pairs of feet, step by step, without any set: every foot that may be free at first is tried, and
 * every place where the basic may be begun. True where somebody can dance it all.
 */
function canWalk(moves: readonly Danced[], basic: Basic): boolean {
  const feet = ['left', 'right'];
  let all: Feet[] = feet.flatMap((lead) => feet.map((follow) => ({ lead, follow })));
  let at = 0;
  for (const next of moves) {
    if (next.at > at) all = all.flatMap((one) => filled(one, basic, next.at - at));
    all = all.flatMap((one) => whole(one, next.move));
    at = next.at + next.move.counts;
  }
  return all.length > 0;
}

/** Which hold serves which, written down once more: nobody needs time to let go of a hand. */
const serves = (has: DanceHold, needs: DanceHold): boolean =>
  has === needs ||
  (has === 'two hands' && (needs === 'open' || needs === 'one hand')) ||
  (has === 'open' && needs === 'one hand');

interface Told {
  breaks: string[];
  changes: string[];
}

/** The holds and places of a dance gone through move by move: where there is no time for a change, and where one comes in the basic. */
function holdsOf(moves: readonly Danced[], basic: Move, bar: number): Told {
  const told: Told = { breaks: [], changes: [] };
  let hold: DanceHold | null = null;
  let position: Position | null = null;
  let at = 0;
  for (const [i, { move, at: begins }] of moves.entries()) {
    const isTime = begins - at >= bar;
    if (isTime) {
      const other = hold !== null && (hold !== basic.holdBefore || position !== basic.positionBefore);
      if (other) told.changes.push(`${at} into basic p${i - 1}`);
      hold = basic.holdAfter;
      position = basic.positionAfter!;
    }
    const lacks = [
      ...(hold !== null && !serves(hold, move.holdBefore) ? ['hold'] : []),
      ...(position !== null && position !== move.positionBefore ? ['position'] : []),
    ];
    if (lacks.length > 0 && isTime) told.changes.push(`${begins} out of basic p${i}`);
    if (lacks.length > 0 && !isTime) told.breaks.push(`${begins} ${lacks.join()} p${i}`);
    hold = move.holdAfter;
    position = move.positionAfter!;
    at = begins + move.counts;
  }
  return told;
}

const laidOf = (moves: readonly Danced[], on = grid) =>
  moves.map(({ move, at }, i) => lay(move, at, on, { id: `p${i}`, part: 'placed' }));

const run = (moves: readonly Danced[], basic: Move | null = box, on = grid): DancedThrough =>
  dancedThrough({ grid: on, basic, first: 0, laid: laidOf(moves, on) });

/** Up to four figures in a row, with up to so many counts between. */
const dances = (known: readonly Move[], most: number): fc.Arbitrary<Danced[]> =>
  fc
    .array(fc.tuple(fc.nat(known.length - 1), fc.integer({ min: 0, max: most })), {
      minLength: 1,
      maxLength: 4,
    })
    .map((chosen) => {
      let at = 0;
      return chosen.map(([n, gap]) => {
        const one = { move: known[n]!, at: at + gap };
        at = one.at + one.move.counts;
        return one;
      });
    });

const basics: Record<string, { basic: Basic; on: typeof grid; of: string[]; least: number }> = {
  'a box in three': { basic: { move: box, entries: [0, 3] }, on: grid, of: [], least: 100 },
  'a box in four': { basic: { move: rumba, entries: [0, 4] }, on: four, of: ['rumba'], least: 20 },
  'a basic of six counts in four': {
    basic: { move: foxtrot, entries: [0] },
    on: four,
    of: ['foxtrot'],
    least: 20,
  },
};

const facing = (move: Move): boolean =>
  move.landsOn === null && move.positionBefore === 'facing' && move.positionAfter === 'facing';

/** A figure of which no steps are told, but the feet it begins and ends with. */
function told(of: Partial<Move>): Move {
  const { steps: _s, followFootBefore: _b, followFootAfter: _a, ...rest } = libraryMove('waltz-whisk');
  return { ...rest, ...of };
}

const stance = (feet: number, hold: DanceHold | null = null, position: Position | null = null): Stance => ({
  feet,
  hold,
  position,
});

export const automatonChecks: Record<string, () => void> = {
  'has a bit for each pair of free feet, and mirrors them': () => {
    deepEqual(PAIRS, [
      ['left', 'right'],
      ['right', 'left'],
      ['left', 'left'],
      ['right', 'right'],
    ]);
    equal(anyFeet, 15);
    deepEqual([0, 1, 2, 3].map(mirrored), [1, 0, 3, 2]);
    deepEqual([otherFoot('left'), otherFoot('right')], ['right', 'left']);
    for (let feet = 0; feet <= anyFeet; feet++) equal(setOf(pairsIn(feet)), feet);
    deepEqual([pairsIn(0), pairsIn(5), pairsIn(15)], [[], [0, 2], [0, 1, 2, 3]]);
    deepEqual(standing, { feet: 15, hold: null, position: null });
    deepEqual(BETWEEN, { facing: 4, promenade: 6, 'counter promenade': 2, 'side by side': 0, shadow: 0 });
  },

  'takes the follow’s foot for the other one where nobody said, and either for what is not known': () => {
    deepEqual([feetOf('left'), feetOf('right'), feetOf('either')], [setOf([0]), setOf([1]), anyFeet]);
    deepEqual([feetOf('left', 'left'), feetOf('left', 'either')], [setOf([2]), setOf([0, 2])]);
    deepEqual([feetOf('either', 'right'), feetOf('either', 'either')], [setOf([0, 3]), anyFeet]);
    const both = (feet: number) => [freeFoot({ feet }, 'lead'), freeFoot({ feet }, 'follow')];
    deepEqual(
      [both(1), both(2), both(4), both(8)],
      [
        ['left', 'right'],
        ['right', 'left'],
        ['left', 'left'],
        ['right', 'right'],
      ],
    );
    deepEqual(
      [both(0), both(3), both(5), both(9)],
      [
        ['either', 'either'],
        ['either', 'either'],
        ['left', 'either'],
        ['either', 'right'],
      ],
    );
  },

  'reads each one’s own steps, those with weight, in order': () => {
    const steps = [
      { begins: 2, lasts: 1, who: 'follow', foot: 'left', how: 'step' },
      { begins: 0, lasts: 1, who: 'both', foot: 'left', how: 'close' },
      { begins: 1, lasts: 1, who: 'lead', foot: 'right', how: 'cross behind' },
      { begins: 3, lasts: 1, who: 'both', foot: 'right', how: 'touch' },
    ].map((step) => ({ ...step, where: { along: 0, side: 0 }, turn: 0 })) as NonNullable<Move['steps']>;
    deepEqual(weighted(steps, 'lead'), [
      { at: 0, lasts: 1, foot: 'left' },
      { at: 1, lasts: 1, foot: 'right' },
    ]);
    deepEqual(weighted(steps, 'follow'), [
      { at: 0, lasts: 1, foot: 'right' },
      { at: 2, lasts: 1, foot: 'left' },
    ]);
    // The lead takes two steps and has the left foot free again; the follow takes two, and the right.
    deepEqual(footworkOf({ ...told({}), steps }), [1, 0, 0, 0]);
    deepEqual(footworkOf({ ...told({}), steps, eitherFoot: true }), [1, 2, 0, 0]);
    // A bar in which only the follow turns leaves every pair as it is.
    deepEqual(footworkOf(linkOf('link-promenade-three')), [1, 2, 4, 8]);
    // Who takes no step keeps the free foot.
    const alone = steps.filter(({ who }) => who === 'lead');
    deepEqual(footworkOf({ ...told({}), steps: alone }), [0, 4, 0, 1]);
  },

  'believes what a figure says of its feet where its steps are not told': () => {
    const one = told({ footBefore: 'left', footAfter: 'right' });
    deepEqual(footworkOf(one), [2, 0, 0, 0]);
    deepEqual(footworkOf({ ...one, eitherFoot: true }), [2, 1, 0, 0]);
    deepEqual(footworkOf({ ...one, footAfter: 'either' }), [15, 0, 0, 0]);
    deepEqual(footworkOf({ ...one, followFootBefore: 'left' }), [0, 0, 2, 0]);
    const turning = { ...one, holdAfter: 'open', positionAfter: 'promenade' } as const;
    deepEqual(beginOf({ ...turning }), { feet: 1, hold: one.holdBefore, position: one.positionBefore });
    deepEqual(endOf({ ...turning }), { feet: 2, hold: 'open', position: 'promenade' });
    const { positionBefore: _b, positionAfter: _a, ...old } = one;
    deepEqual([beginOf(old).position, endOf(old).position], [null, null]);
  },

  'agrees with feet walked one by one, from each pair of free feet, on every figure': () => {
    for (const move of [...standardMoves, ...links]) {
      const work = [0, 1, 2, 3].map((pair) => {
        const [lead, follow] = PAIRS[pair]!;
        const after = whole({ lead, follow }, move);
        return setOf([
          ...new Set(after.map((feet) => PAIRS.findIndex(([l, f]) => l === feet.lead && f === feet.follow))),
        ]);
      });
      deepEqual(footworkOf(move), work, move.id);
      for (let feet = 0; feet <= anyFeet; feet++) {
        const after = pairsIn(feet).reduce((set, pair) => set | work[pair]!, 0);
        equal(lacksFor(stance(feet), move).includes('feet'), after === 0);
        const any = work.reduce((set, one) => set | one, 0);
        equal(stanceAfter(stance(feet), move).feet, after || any);
      }
    }
  },

  'lets go of a hand in no time, and takes none': () => {
    const holds = ['closed', 'open', 'two hands', 'one hand', 'apart', 'side by side', 'shadow'] as const;
    const positions = ['facing', 'promenade', 'counter promenade', 'side by side', 'shadow'] as const;
    for (const has of holds) {
      equal(holdServes(null, has), true);
      equal(holdServes(has, null), true);
      for (const needs of holds) {
        equal(holdServes(has, needs), serves(has, needs), `${has}, ${needs}`);
        const next = told({ footBefore: 'left', holdBefore: needs, positionBefore: 'facing' });
        deepEqual(lacksFor(stance(1, has, 'facing'), next), serves(has, needs) ? [] : ['hold']);
        deepEqual(
          lacksFor(stance(1, has, 'facing'), { ...next, link: true }),
          serves(has, needs) ? [] : ['hold'],
        );
      }
    }
    for (const has of positions) {
      for (const needs of positions) {
        const next = told({ footBefore: 'left', holdBefore: 'closed', positionBefore: needs });
        deepEqual(lacksFor(stance(1, 'closed', has), next), has === needs ? [] : ['position']);
        const { positionBefore: _, ...old } = next;
        deepEqual(lacksFor(stance(1, 'closed', has), old), []);
        deepEqual(lacksFor(stance(1, 'closed'), next), []);
      }
    }
    const far = told({ footBefore: 'right', holdBefore: 'open', positionBefore: 'shadow' });
    deepEqual(lacksFor(left, far), ['feet', 'hold', 'position']);
  },

  'waits and changes weight in any hold, and leaves it; other links change it': () => {
    const shadow = stance(1, 'shadow', 'shadow');
    deepEqual(lacksFor(shadow, linkOf('link-wait-three-3')), []);
    deepEqual(stanceAfter(shadow, linkOf('link-wait-three-3')), shadow);
    deepEqual(stanceAfter(shadow, linkOf('link-weight-three-3')), { ...shadow, feet: 2 });
    deepEqual(lacksFor(shadow, linkOf('link-open-three')), ['hold', 'position']);
    deepEqual(stanceAfter(left, linkOf('link-open-three')), { ...left, hold: 'open' });
    deepEqual(stanceAfter(left, linkOf('link-promenade-three')), { ...left, position: 'promenade' });
    // What keeps the hold but is no link is danced in its own.
    deepEqual(lacksFor(shadow, box), ['hold', 'position']);
    deepEqual(stanceAfter(shadow, box), left);
  },

  'knows which foot a half box leaves free': () => {
    // Arithmetic: three steps of left, right, left leave the right foot free.
    equal(feetThroughBasic(left.feet, box, 3), right.feet);
    equal(feetThroughBasic(left.feet, box, 6), left.feet);
    equal(feetThroughBasic(right.feet, box, 3), left.feet);
    equal(feetThroughBasic(right.feet, box, 0), right.feet);
    // Four slow, slow, quick, quick of two, two, one, one: after five counts the right foot is free.
    equal(feetThroughBasic(left.feet, foxtrot, 5), right.feet);
    equal(feetThroughBasic(right.feet, foxtrot, 6), 0);
    // No counts of it are no basic: nothing has to fit.
    equal(feetThroughBasic(right.feet, foxtrot, 0), right.feet);
    deepEqual([entriesOf(box), entriesOf(foxtrot)], [[0, 3], [0]]);
  },

  'knows a basic that tells no steps at its ends only': () => {
    const { steps: _, ...untold } = box;
    equal(feetThroughBasic(1, untold, 6), 1);
    equal(feetThroughBasic(1, untold, 12), 1);
    equal(feetThroughBasic(3, untold, 18), 1);
    equal(feetThroughBasic(1, untold, 5), anyFeet);
    equal(feetThroughBasic(2, untold, 6), 0);
    equal(feetThroughBasic(2, { ...untold, eitherFoot: true }, 5), anyFeet);
    // The same of one that tells the steps of one of the two only; half of it is no half of both.
    const alone = { ...box, steps: box.steps!.map((step) => ({ ...step, who: 'lead' as const })) };
    deepEqual([feetThroughBasic(1, alone, 6), feetThroughBasic(1, alone, 3)], [1, anyFeet]);
    deepEqual(
      entriesOf({ ...box, steps: alone.steps.map((step) => ({ ...step, who: 'follow' as const })) }),
      [0],
    );
    // One step each, both on the left foot, and then both on the right.
    const [step] = box.steps!;
    const lefts = ['lead', 'follow'].map((who) => ({ ...step!, who, foot: 'left' })) as NonNullable<
      Move['steps']
    >;
    const same: Move = { ...box, counts: 2, eitherFoot: true, steps: lefts };
    deepEqual(
      [1, 2, 4].map((counts) => feetThroughBasic(4, same, counts)),
      [8, 8, 4],
    );
    deepEqual([feetThroughBasic(8, same, 1), feetThroughBasic(1, same, 1)], [4, 0]);
    // One that leaves the other foot free and may not be begun with it is unknown from then on.
    const once = { ...box, counts: 3, steps: box.steps!.slice(0, 3) };
    equal(feetThroughBasic(1, once, 2), 1);
    equal(feetThroughBasic(1, once, 3), anyFeet);
    equal(feetThroughBasic(2, once, 3), 0);
    const goesOn = { ...once, eitherFoot: true };
    deepEqual(
      [1, 2, 3, 4, 5, 6, 9].map((counts) => feetThroughBasic(1, goesOn, counts)),
      [2, 1, 2, 1, 2, 1, 2],
    );
    equal(feetThroughBasic(2, goesOn, 3), 1);
  },

  'keeps the hold short of a bar of basic, and knows nothing without one': () => {
    const open: Stance = { ...left, hold: 'open', position: 'promenade' };
    deepEqual(throughBasic(open, box, 2, grid), { stance: open, lacks: [] });
    deepEqual(throughBasic(open, box, 3, grid), { stance: right, lacks: [] });
    deepEqual(throughBasic(stance(2, 'closed', 'facing'), foxtrot, 6, four), {
      stance: stance(feetThroughBasic(anyFeet, foxtrot, 6), 'closed', 'facing'),
      lacks: ['feet'],
    });
    deepEqual(throughBasic(open, null, 6, grid), { stance: stance(anyFeet), lacks: [] });
    // Bars of four with a basic that is counted in halves of them: two of its counts are four of the board's.
    const slow: Move = { ...box, level: 'half', metre: 4, counts: 2, steps: box.steps!.slice(0, 2) };
    deepEqual(throughBasic(left, slow, 2, four), { stance: stance(2, 'closed', 'facing'), lacks: [] });
    deepEqual(throughBasic(left, slow, 4, four), { stance: left, lacks: [] });
  },

  'names the count on which the basic leaves the wrong foot free, and a bar of waiting that mends it': () => {
    const { breaks } = run([
      { move: libraryMove('waltz-underarm'), at: 9 },
      { move: libraryMove('waltz-natural-turn'), at: 24 },
    ]);
    // After nine counts of box from standing either half may come first; then fifteen and nine leave what is needed or not.
    deepEqual(breaks, []);
    const two = run([
      { move: libraryMove('waltz-underarm'), at: 0 },
      { move: libraryMove('waltz-underarm'), at: 15 },
    ]);
    const [one] = two.breaks;
    equal(two.breaks.length, 1);
    deepEqual([one!.at, one!.lacks, one!.gap, one!.before?.id, one!.next.id], [15, ['feet'], 9, 'p0', 'p1']);
    deepEqual([one!.of, one!.from, one!.after], [libraryMove('waltz-underarm'), right, left]);
    equal(freeFoot(one!.from, 'lead'), 'right');
    const { links: way, ...mending } = mendingOf(one!, box, grid)!;
    deepEqual(mending, { basic: 6, counts: 3, fits: true });
    deepEqual(
      way.map(({ name }) => name),
      ['Wait a bar'],
    );
  },

  'names the basic itself where that cannot be begun': () => {
    const { breaks } = run([{ move: libraryMove('foxtrot-sway'), at: 0 }], foxtrot, four);
    deepEqual(breaks, []);
    const change = { ...libraryMove('waltz-change'), eitherFoot: false };
    const six: Move = { ...box, steps: foxtrot.steps!, counts: 6 };
    // After a change step the right foot is free; this basic begins with the left, and only there.
    const then = run(
      [
        { move: change, at: 0 },
        { move: libraryMove('waltz-underarm'), at: 9 },
      ],
      six,
    );
    deepEqual(
      then.breaks.map(({ at, of, lacks, next, gap }) => [at, of, lacks, next.id, gap]),
      [[3, six, ['feet'], 'p1', 6]],
    );
    deepEqual(then.breaks[0]!.from, right);
    deepEqual(then.breaks[0]!.after, right);
  },

  'raises no alarm for what nobody said': () => {
    const {
      positionBefore: _b,
      positionAfter: _a,
      ...rest
    } = told({ footBefore: 'either', footAfter: 'either' });
    const old: Move = rest;
    deepEqual(lacksFor(right, old), []);
    const after = stanceAfter(right, old);
    deepEqual([after.feet, after.position], [anyFeet, null]);
    const chasse = libraryMove('waltz-chasse');
    deepEqual(
      run([
        { move: old, at: 0 },
        { move: chasse, at: 3 },
      ]).breaks,
      [],
    );
    const without = run(
      [
        { move: libraryMove('waltz-underarm'), at: 7 },
        { move: chasse, at: 26 },
      ],
      null,
    );
    deepEqual([without.breaks, without.changes], [[], []]);
    // Nothing lies between moves that touch: there the feet are known without a basic, too.
    const touching = run(
      [
        { move: libraryMove('waltz-underarm'), at: 0 },
        { move: libraryMove('waltz-natural-turn'), at: 6 },
      ],
      null,
    );
    deepEqual(
      touching.breaks.map(({ at, lacks }) => [at, lacks]),
      [[6, ['feet']]],
    );
  },

  'knows nothing after moves that overlap, and counts no gap between them': () => {
    const { breaks, stances } = run([
      { move: libraryMove('waltz-underarm'), at: 0 },
      { move: libraryMove('waltz-natural-turn'), at: 3 },
      { move: libraryMove('waltz-underarm'), at: 9 },
    ]);
    deepEqual(stances.slice(0, 2), [standing, stance(anyFeet)]);
    deepEqual(
      breaks.map(({ next, lacks, gap }) => [next.id, lacks, gap]),
      [['p2', ['feet'], 0]],
    );
    // A first move before the first step is another matter, too.
    const early = dancedThrough({
      ...{ grid, basic: box, first: 6 },
      laid: laidOf([{ move: libraryMove('waltz-natural-turn'), at: 3 }]),
    });
    deepEqual([early.breaks, early.stances], [[], [standing]]);
  },

  'tells a hold that changes during the basic from one that has no time to': () => {
    const open = libraryMove('rumba-open-break');
    const then = (at: number) =>
      run(
        [
          { move: open, at: 0 },
          { move: libraryMove('rumba-underarm'), at },
        ],
        rumba,
        four,
      );
    deepEqual(
      then(8).breaks.map(({ at, lacks }) => [at, lacks]),
      [[8, ['hold']]],
    );
    const { breaks, changes, end } = then(16);
    deepEqual(breaks, []);
    deepEqual(
      changes.map(({ at, side, laid, from, to }) => [at, side, laid.id, from.hold, to.hold]),
      [[8, 'into basic', 'p0', 'open', 'closed']],
    );
    deepEqual(end, left);
    const close = run(
      [
        { move: libraryMove('rumba-underarm'), at: 0 },
        { move: libraryMove('rumba-close-in'), at: 16 },
      ],
      rumba,
      four,
    );
    deepEqual(
      close.changes.map(({ at, side, laid, from, to }) => [at, side, laid.id, from.hold, to.hold]),
      [[16, 'out of basic', 'p1', 'closed', 'open']],
    );
    const way = shortestLinks(then(8).breaks[0]!.from, libraryMove('rumba-underarm'), four)!;
    deepEqual(
      way.map(({ id }) => id),
      ['link-close-four'],
    );
    // Three counts are no bar of four: the feet are known by then, the hands are where they were.
    const short = joinOf(stance(1, 'open', 'facing'), 3, libraryMove('rumba-close-in'), rumba, four);
    deepEqual(
      [short.stance.hold, short.intoBasic, short.outOfBasic, short.ofMove],
      ['open', false, false, []],
    );
    const long = joinOf(stance(1, 'open', 'facing'), 4, libraryMove('rumba-close-in'), rumba, four);
    deepEqual(
      [long.stance.hold, long.intoBasic, long.outOfBasic, long.ofMove],
      ['closed', true, true, ['feet']],
    );
    const none = joinOf(stance(1, 'open', 'promenade'), 8, libraryMove('rumba-close-in'), null, four);
    deepEqual(
      [none.stance, none.intoBasic, none.outOfBasic, none.ofMove],
      [stance(anyFeet), false, false, []],
    );
    const beside = joinOf(stance(1, 'closed', 'promenade'), 8, libraryMove('rumba-underarm'), rumba, four);
    deepEqual([beside.intoBasic, beside.outOfBasic], [true, false]);
    deepEqual(joinOf(stance(1), 8, libraryMove('rumba-underarm'), rumba, four).intoBasic, false);
  },

  'dances a move as often as it is placed, with the basic between where it may not follow itself': () => {
    const often = (move: Move, times: number) =>
      stanceAfterLaid(right, lay(move, 0, grid, { id: 'p', part: 'placed', times }), box, grid).feet;
    const change = libraryMove('waltz-change');
    deepEqual(
      [1, 2, 3].map((times) => often(change, times)),
      [1, 2, 1],
    );
    // What may follow itself does, however long it takes to lead it at first.
    equal(often({ ...change, preparation: 3 }, 2), 2);
    const alone = lay(change, 0, grid, { id: 'p', part: 'placed', times: 2 });
    equal(stanceAfterLaid(right, alone, null, grid).feet, 2);
    // One count of basic between changes the foot; so do three.
    equal(often({ ...change, repeats: false, preparation: 1 }, 2), 1);
    const led = { ...change, repeats: false, preparation: 3 };
    deepEqual(
      [1, 2, 3].map((times) => often(led, times)),
      [1, 1, 1],
    );
    const one = { ...change, eitherFoot: false, steps: change.steps!.slice(0, 3) };
    deepEqual(
      [1, 2].map((times) => often({ ...one, footBefore: 'right' }, times)),
      [2, anyFeet],
    );
    const still = { ...led, preparation: 0 };
    deepEqual(
      [1, 2].map((times) => often(still, times)),
      [1, 2],
    );
  },

  'mends in whole basics where it can, then in whole bars, with the fewest counts; and says where there is no room':
    () => {
      const underarm = libraryMove('waltz-underarm');
      const mend = (after: Stance, gap: number, next: Move, basic: Move | null = box, on = grid) => {
        const { stance: from } = joinOf(after, gap, next, basic, on);
        const mending = mendingOf({ after, gap, from, next: { move: next } }, basic, on);
        return mending && [mending.basic, mending.counts, mending.fits, ...mending.links.map(({ id }) => id)];
      };
      // Twelve counts: nine of box and a bar, though one count would do for the feet.
      deepEqual(mend(right, 12, underarm), [9, 3, true, 'link-wait-three-3']);
      deepEqual(mend(left, 9, underarm), [6, 3, true, 'link-wait-three-3']);
      // Two counts have room for no bar.
      deepEqual(mend(right, 2, underarm), [0, 2, true, 'link-wait-three-1', 'link-weight-three-1']);
      deepEqual(mend(right, 1, underarm), [0, 1, true, 'link-weight-three-1']);
      // None at all: they would have to come between.
      deepEqual(mend(right, 0, underarm), [0, 1, false, 'link-weight-three-1']);
      deepEqual(mend(stance(2, 'open', 'facing'), 0, underarm), [
        0,
        4,
        false,
        'link-weight-three-1',
        'link-close-three',
      ]);
      // Where no link leads to the hold, nothing mends it.
      equal(mend(left, 0, { ...underarm, holdBefore: 'apart' }), null);
      equal(mend(left, 0, underarm)?.[1], 0);
      // Without a basic nobody dances on until then: the links fill what there is, or whole bars of it.
      deepEqual(mend(stance(2, 'closed', 'facing'), 3, underarm, null), [0, 3, true, 'link-weight-three-3']);
      // Whole bars before any other number, where there is no basic; whole basics before whole bars, where that takes nine counts.
      const closed = stance(2, 'closed', 'facing');
      deepEqual(mend(closed, 5, libraryMove('rumba-underarm'), null, four), [1, 4, true, 'link-wait-four-4']);
      deepEqual(mend(left, 15, libraryMove('rumba-close-in'), foxtrot, four)?.slice(0, 3), [6, 9, true]);
      // A basic that cannot be begun is danced on no further: not six counts of it, and a bar of links.
      deepEqual(mend(closed, 10, libraryMove('rumba-underarm'), foxtrot, four)?.slice(0, 3), [0, 10, true]);
      deepEqual(mend(stance(2, 'closed', 'facing'), 4, libraryMove('rumba-underarm'), foxtrot, four), [
        ...[0, 4, true, 'link-weight-four-4'],
      ]);
    },

  // The dearest come last: most of what is spoilt is noticed before.
  'agrees with feet walked one by one through every basic, however long it is danced': () => {
    for (const move of standardMoves.filter(({ basic }) => basic)) {
      const half = move.counts / 2;
      const [first, second] = [0, half].map((from) =>
        stepsOf(move, 'lead', false).filter(({ at }) => at >= from && at < from + half),
      );
      const isMirror =
        first!.length > 0 &&
        first!.map(({ at, foot }) => `${at} ${foot}`).join() ===
          second!.map(({ at, foot }) => `${at - half} ${swap(foot)}`).join();
      deepEqual(entriesOf(move), isMirror ? [0, half] : [0], move.id);
      for (let counts = 1; counts <= 3 * move.counts; counts += 0.5) {
        for (let feet = 1; feet <= anyFeet; feet++) {
          const after = pairsIn(feet).flatMap((pair) => {
            const [lead, follow] = PAIRS[pair]!;
            return filled({ lead, follow }, { move, entries: isMirror ? [0, half] : [0] }, counts);
          });
          const pairs = after.map((one) => PAIRS.findIndex(([l, f]) => l === one.lead && f === one.follow));
          // A basic that does not come round to its own first foot is not known beyond its end.
          const [begins] = filled({ lead: 'left', follow: 'right' }, { move, entries: [0] }, move.counts);
          const comesRound = begins?.lead === 'left' && begins.follow === 'right';
          if (!comesRound && !move.eitherFoot && counts >= move.counts) continue;
          equal(
            feetThroughBasic(feet, move, counts),
            setOf([...new Set(pairs)]),
            `${move.id} ${counts} ${feet}`,
          );
        }
      }
    }
  },

  'agrees with feet walked one by one, on random dances': () => {
    for (const [name, { basic, on, of, least }] of Object.entries(basics)) {
      const known = standardMoves.filter(
        (move) =>
          move.metre === basic.move.metre &&
          facing(move) &&
          (of.length === 0 || of.includes(move.dance)) &&
          (of.length === 0 || (move.holdBefore === 'closed' && move.holdAfter === 'closed')),
      );
      let broken = 0;
      fc.assert(
        fc.property(dances(known, 14), (moves) => {
          const walked = canWalk(moves, basic);
          equal(run(moves, basic.move, on).breaks.length === 0, walked);
          broken += walked ? 0 : 1;
        }),
        { seed: 20270616, numRuns: 500 },
      );
      ok(broken > least, `${name}: ${broken} of 500 cannot be danced`);
    }
  },

  'agrees with holds and places gone through by hand, on random dances': () => {
    for (const [basic, on, metre] of [
      [box, grid, 3],
      [rumba, four, 4],
    ] as const) {
      const known = standardMoves.filter((move) => move.metre === metre && move.landsOn === null);
      let [breaks, changes] = [0, 0];
      fc.assert(
        fc.property(dances(known, 6), (moves) => {
          const is = run(moves, basic, on);
          const was = holdsOf(moves, basic, metre);
          deepEqual(
            is.breaks.flatMap(({ at, lacks, next }) => {
              const those = lacks.filter((lack) => lack !== 'feet');
              return those.length > 0 ? [`${at} ${those.join()} ${next.id}`] : [];
            }),
            was.breaks,
          );
          deepEqual(
            is.changes.map(({ at, side, laid }) => `${at} ${side} ${laid.id}`),
            was.changes,
          );
          breaks += was.breaks.length;
          changes += was.changes.length;
        }),
        { seed: 20270617, numRuns: 900 },
      );
      ok(breaks > 12 && changes > 40, `${breaks} breaks and ${changes} changes in ${metre}`);
    }
  },

  'finds links that take the fewest counts of all chains, from each stance to each figure': () => {
    for (const on of [grid, four]) fewestIn(on);
    // Counted in halves, a link of one beat would end within a count.
    const halves = gridOf({ beatsPerBar: 4, countLevel: 'half' });
    const way = shortestLinks(stance(2, 'closed', 'facing'), libraryMove('rumba-underarm'), halves);
    deepEqual(
      way!.map(({ id }) => id),
      ['link-weight-four-2'],
    );
  },
};

/** The links of every chain, tried one by one, against those that are found. */
function fewestIn(on: typeof grid): void {
  const metre = on.beatsPerBar;
  const usable = links.filter((link) => link.metre === metre);
  const sizeOf = (link: Move) => onBoard(link, link.counts, on);
  const connects = (from: Stance, next: Move) => lacksFor(from, next).length === 0;
  /** Every chain of up to three links that leads to a move, tried one by one: its counts, and how many they are. */
  function chains(from: Stance, next: Move): [counts: number, links: number][] {
    const found: [number, number][] = [];
    const tryAll = (here: Stance, counts: number, depth: number): void => {
      if (connects(here, next)) found.push([counts, depth]);
      if (depth === 3) return;
      for (const link of usable)
        if (connects(here, link)) tryAll(stanceAfter(here, link), counts + sizeOf(link), depth + 1);
    };
    tryAll(from, 0, 0);
    return found;
  }
  const figures = standardMoves.filter((move) => move.metre === metre);
  const stances = figures.map((move) => stanceAfter(standing, move));
  const different = [...new Map(stances.map((one) => [JSON.stringify(one), one])).values()];
  let mended = 0;
  for (const from of [...different, stance(1, 'one hand', 'facing'), stance(2, 'open', 'facing')]) {
    for (const next of figures.filter((_, i) => i % metre === 0)) {
      const all = chains(from, next);
      const fewest = (of: [number, number][]) => {
        const least = Math.min(...of.map(([counts]) => counts));
        return of.length === 0
          ? null
          : [least, Math.min(...of.filter(([counts]) => counts === least).map(([, n]) => n))];
      };
      const told = (way: Move[] | null) => {
        if (!way) return null;
        // It is a chain that can be danced, and leads there.
        const end = way.reduce((here, link) => {
          ok(connects(here, link));
          return stanceAfter(here, link);
        }, from);
        ok(connects(end, next));
        return [way.reduce((sum, link) => sum + sizeOf(link), 0), way.length];
      };
      deepEqual(told(shortestLinks(from, next, on)), fewest(all));
      mended += all.length > 0 ? 1 : 0;
      for (const exactly of [1, 2, 3, 4, 6, 9, 10])
        deepEqual(
          told(shortestLinks(from, next, on, exactly)),
          fewest(all.filter(([counts]) => counts === exactly)),
        );
    }
  }
  ok(mended > 30, `${mended} mended`);
}
