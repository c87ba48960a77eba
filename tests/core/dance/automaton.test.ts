import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { holdServes, lacksFor, stanceAfter } from '../../../lib/core/dance/automaton.ts';
import { feetThroughBasic } from '../../../lib/core/dance/basicRun.ts';
import { onBoard } from '../../../lib/core/dance/counts.ts';
import { type DancedThrough, dancedThrough } from '../../../lib/core/dance/dancedThrough.ts';
import { links } from '../../../lib/core/dance/library/links.ts';
import { standardMoves } from '../../../lib/core/dance/library/standard.ts';
import { mendingOf, shortestLinks } from '../../../lib/core/dance/mending.ts';
import type { Move } from '../../../lib/core/dance/move.ts';
import { lay } from '../../../lib/core/dance/place.ts';
import { anyFeet, freeFoot, type Stance, standing } from '../../../lib/core/dance/stance.ts';
import { gridOf, libraryMove } from '../../kit/board.ts';

const grid = gridOf();
const left: Stance = { feet: 1, hold: 'closed', position: 'facing' };
const right: Stance = { ...left, feet: 2 };
const box = libraryMove('waltz-box');

/**
 * The same dance walked through by two pairs of feet, step by step, without any set: every foot that may be free at first is tried, and
 * every place where the basic may be begun. True where somebody can dance it all.
 */
function canWalk(
  moves: { move: Move; at: number }[],
  basic: Move,
  from: { lead: string; follow: string },
): boolean {
  type Feet = { lead: string; follow: string };
  const swap = (foot: string) => (foot === 'left' ? 'right' : 'left');
  const steps = (move: Move, who: 'lead' | 'follow', mirror: boolean) =>
    move
      .steps!.filter((s) => s.how !== 'touch' && (s.who === 'both' || s.who === who))
      .map((s) => {
        const own = s.who === 'both' && who === 'follow' ? swap(s.foot) : (s.foot as string);
        return { at: s.begins, foot: mirror ? swap(own) : own };
      });
  const walk = (feet: Feet, list: { lead: { foot: string }[]; follow: { foot: string }[] }): Feet | null => {
    const after = { ...feet };
    for (const who of ['lead', 'follow'] as const) {
      for (const { foot } of list[who]) {
        if (after[who] !== foot) return null;
        after[who] = swap(foot);
      }
    }
    return after;
  };
  const whole = (feet: Feet, move: Move): Feet[] =>
    [false, ...(move.eitherFoot ? [true] : [])].flatMap((mirror) => {
      const after = walk(feet, { lead: steps(move, 'lead', mirror), follow: steps(move, 'follow', mirror) });
      return after ? [after] : [];
    });
  const filled = (feet: Feet, counts: number): Feet[] =>
    [0, basic.counts / 2].flatMap((entry) => {
      const part = (who: 'lead' | 'follow') =>
        Array.from({ length: Math.ceil((entry + counts) / basic.counts) + 1 }, (_, round) =>
          steps(basic, who, false).map(({ at, foot }) => ({ at: at + round * basic.counts, foot })),
        )
          .flat()
          .filter(({ at }) => at >= entry && at < entry + counts);
      const after = walk(feet, { lead: part('lead'), follow: part('follow') });
      return after ? [after] : [];
    });
  let all: Feet[] = [from];
  let at = 0;
  for (const next of moves) {
    if (next.at > at) all = all.flatMap((feet) => filled(feet, next.at - at));
    all = all.flatMap((feet) => whole(feet, next.move));
    at = next.at + next.move.counts;
  }
  return all.length > 0;
}

const run = (moves: { move: Move; at: number }[], basic: Move | null = box, on = grid): DancedThrough =>
  dancedThrough({
    grid: on,
    basic,
    first: 0,
    laid: moves.map(({ move, at }, i) => lay(move, at, on, { id: `p${i}`, part: 'placed' })),
  });

describe('the automaton', () => {
  it('knows which foot a half box leaves free', () => {
    // Arithmetic: three steps of left, right, left leave the right foot free.
    expect(feetThroughBasic(left.feet, box, 3)).toBe(right.feet);
    expect(feetThroughBasic(left.feet, box, 6)).toBe(left.feet);
    expect(feetThroughBasic(right.feet, box, 3)).toBe(left.feet);
    // Four slow, slow, quick, quick of two, two, one, one: after five counts the right foot is free.
    expect(feetThroughBasic(left.feet, libraryMove('foxtrot-basic'), 5)).toBe(right.feet);
    expect(feetThroughBasic(right.feet, libraryMove('foxtrot-basic'), 6)).toBe(0);
  });

  it('names the count on which the basic leaves the wrong foot free, and a bar of waiting that mends it', () => {
    const { breaks } = run([
      { move: libraryMove('waltz-underarm'), at: 9 },
      { move: libraryMove('waltz-natural-turn'), at: 24 },
    ]);
    // After nine counts of box from standing either half may come first; then fifteen and nine leave what is needed or not.
    expect(breaks).toEqual([]);
    const two = run([
      { move: libraryMove('waltz-underarm'), at: 0 },
      { move: libraryMove('waltz-underarm'), at: 15 },
    ]);
    expect(two.breaks).toMatchObject([{ at: 15, lacks: ['feet'] }]);
    expect(freeFoot(two.breaks[0]!.from, 'lead')).toBe('right');
    const mending = mendingOf(two.breaks[0]!, box, grid)!;
    expect(mending).toMatchObject({ basic: 6, counts: 3, fits: true });
    expect(mending.links.map(({ name }) => name)).toEqual(['Wait a bar']);
  });

  it('raises no alarm for what nobody said', () => {
    const { steps: _s, positionBefore: _b, positionAfter: _a, ...rest } = libraryMove('waltz-whisk');
    const old: Move = { ...rest, footBefore: 'either', footAfter: 'either' };
    delete old.followFootBefore;
    delete old.followFootAfter;
    expect(lacksFor(right, old)).toEqual([]);
    expect(stanceAfter(right, old)).toMatchObject({ feet: anyFeet, position: null });
    expect(
      run([
        { move: old, at: 0 },
        { move: libraryMove('waltz-chasse'), at: 3 },
      ]).breaks,
    ).toEqual([]);
    expect(
      run(
        [
          { move: libraryMove('waltz-underarm'), at: 7 },
          { move: libraryMove('waltz-chasse'), at: 26 },
        ],
        null,
      ).breaks,
    ).toEqual([]);
  });

  it('tells a hold that changes during the basic from one that has no time to', () => {
    const [open, four] = [libraryMove('rumba-open-break'), gridOf({ beatsPerBar: 4 })];
    const rumba = libraryMove('rumba-box');
    const then = (at: number) =>
      run(
        [
          { move: open, at: 0 },
          { move: libraryMove('rumba-underarm'), at },
        ],
        rumba,
        four,
      );
    expect(then(8).breaks).toMatchObject([{ at: 8, lacks: ['hold'] }]);
    expect(then(16)).toMatchObject({ breaks: [], changes: [{ at: 8, side: 'into basic' }] });
    expect(
      shortestLinks(then(8).breaks[0]!.from, libraryMove('rumba-underarm'), four)!.map(({ id }) => id),
    ).toEqual(['link-close-four']);
    expect([holdServes('two hands', 'one hand'), holdServes('one hand', 'two hands')]).toEqual([true, false]);
  });

  it('agrees with feet walked one by one, on 1500 random dances', () => {
    const known = standardMoves.filter(
      (move) =>
        move.metre === 3 &&
        move.landsOn === null &&
        move.positionBefore === 'facing' &&
        move.positionAfter === 'facing',
    );
    let broken = 0;
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(known.length - 1), fc.integer({ min: 0, max: 14 })), {
          minLength: 1,
          maxLength: 4,
        }),
        (chosen) => {
          let at = 0;
          const moves = chosen.map(([n, gap]) => {
            const one = { move: known[n]!, at: at + gap };
            at = one.at + one.move.counts;
            return one;
          });
          const feet = ['left', 'right'] as const;
          const walked = feet.some((lead) => feet.some((follow) => canWalk(moves, box, { lead, follow })));
          expect(run(moves).breaks.length === 0).toBe(walked);
          broken += walked ? 0 : 1;
        },
      ),
      { seed: 20270616, numRuns: 1500 },
    );
    expect(broken).toBeGreaterThan(150);
  });
});

describe('the shortest links', () => {
  const usable = links.filter(({ metre }) => metre === 3);
  /** All chains of up to three links, tried one by one. */
  function cheapest(from: Stance, next: Move): number | null {
    let best: number | null = null;
    const tryAll = (stance: Stance, counts: number, depth: number): void => {
      if (lacksFor(stance, next).length === 0 && (best === null || counts < best)) best = counts;
      if (depth === 3) return;
      for (const link of usable)
        if (lacksFor(stance, link).length === 0)
          tryAll(stanceAfter(stance, link), counts + onBoard(link, link.counts, grid), depth + 1);
    };
    tryAll(from, 0, 0);
    return best;
  }

  it('take the fewest counts of all chains, from each stance to each figure', () => {
    const figures = standardMoves.filter(({ metre }) => metre === 3);
    const stances = figures.map((move) => stanceAfter(standing, move));
    const different = [...new Map(stances.map((stance) => [JSON.stringify(stance), stance])).values()];
    let mended = 0;
    for (const from of [
      ...different,
      { ...left, hold: 'one hand' as const },
      { ...right, hold: 'open' as const },
    ]) {
      for (const next of figures) {
        const way = shortestLinks(from, next, grid);
        const counts = way?.reduce((sum, link) => sum + onBoard(link, link.counts, grid), 0);
        expect(counts ?? null).toBe(cheapest(from, next));
        mended += way && way.length > 0 ? 1 : 0;
      }
    }
    expect(mended).toBeGreaterThan(50);
  });
});
