import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Board } from '../../../lib/core/areas/board.ts';
import { changePlan, type PlanChange } from '../../../lib/core/areas/change.ts';
import { findingsOf } from '../../../lib/core/checks/checkBoard.ts';
import type { Fix, Severity } from '../../../lib/core/checks/finding.ts';
import { ORDER, type Reported, Standing } from '../../../lib/core/checks/standing.ts';
import { links as library } from '../../../lib/core/dance/library/links.ts';
import { micros } from '../../kit/board.ts';
import { boards, today } from './boards.ts';

/** A few links, so that one that is missing is often the one that comes. */
const links = library.slice(0, 3);

/** The same difference, by running every rule on all of both boards. */
function byAll(board: Board, changes: readonly PlanChange[]) {
  const severities = (of: Board) =>
    new Map(Standing.of(of, today).found.map(({ id, severity }) => [id, severity]));
  const was = severities(board);
  const is = severities({ ...board, plan: changePlan(board.plan, changes) });
  const isWorse = (id: string, severity: Severity) => !was.has(id) || ORDER[severity] < ORDER[was.get(id)!];
  return {
    gone: [...was.keys()].filter((id) => !is.has(id)).sort(),
    added: [...is].filter(([id, severity]) => isWorse(id, severity)).sort(),
  };
}

/** The fix that is offered for a finding, chosen by running every rule on all of the board after each. */
function chosenByAll(board: Board, { id, severity, fixes }: Reported): Fix | null {
  let best: { fix: Fix; adds: number } | null = null;
  for (const fix of fixes()) {
    const { gone, added } = byAll(board, fix.changes);
    if (!gone.includes(id) || added.some(([, one]) => ORDER[one] <= ORDER[severity])) continue;
    if (!best || added.length < best.adds) best = { fix, adds: added.length };
  }
  return best?.fix ?? null;
}

const byNear = (board: Board, changes: readonly PlanChange[]) => {
  const { gone, added } = Standing.of(board, today).after(changes);
  return { gone: [...gone].sort(), added: [...added].sort() };
};

/** Anything that could be done to the moves of a board: put elsewhere, danced otherwise, taken away, added, a link put there. */
const gestures = fc.array(
  fc.record({
    what: fc.constantFrom('shift', 'swap', 'times', 'take away', 'add', 'link'),
    which: fc.nat(20),
    beat: fc.integer({ min: 0, max: 460 }),
    near: fc.integer({ min: -6, max: 6 }),
    times: fc.integer({ min: 1, max: 4 }),
  }),
  { minLength: 1, maxLength: 2 },
);

function changesOf({ plan }: Board, done: readonly Gesture[]) {
  const interval = plan.grid!.beats[1]! - plan.grid!.beats[0]!;
  return done.flatMap(({ what, which, beat, near, times }, i): PlanChange[] => {
    const entry = plan.placed[which % Math.max(1, plan.placed.length)];
    const move = plan.moves[which % plan.moves.length]!.id;
    const at = micros(plan.grid!.beats[beat % plan.grid!.beats.length]!);
    if (what === 'link') {
      const { id, ...fields } = links[which % links.length]!;
      const joins: PlanChange = { collection: 'placed', id: `link${i}`, fields: { move: id, at, times: 1 } };
      return plan.moves.some((one) => one.id === id) ? [joins] : [{ collection: 'moves', id, fields }, joins];
    }
    if (what === 'add' || !entry)
      return [{ collection: 'placed', id: `added${i}`, fields: { move, at, times } }];
    const { id } = entry;
    if (what === 'take away') return [{ collection: 'placed', id, fields: null }];
    if (what === 'swap') return [{ collection: 'placed', id, fields: { move } }];
    if (what === 'times') return [{ collection: 'placed', id, fields: { times } }];
    const shifted = micros(Math.max(0, entry.at + near * interval));
    return [{ collection: 'placed', id, fields: { at: beat % 3 === 0 ? at : shifted } }];
  });
}
interface Gesture {
  what: string;
  which: number;
  beat: number;
  near: number;
  times: number;
}

/** Boards on which a link is missing that somebody placed or ends with, and the closing pose is danced in its safer form. */
const odd = fc
  .record({ board: boards, missing: fc.nat(20), safer: fc.boolean(), ends: fc.boolean() })
  .map(({ board, missing, safer, ends }): Board => {
    const { plan } = board;
    const { id } = links[missing % links.length]!;
    const moves = ends ? [id, ...(plan.ending?.moves ?? [])] : (plan.ending?.moves ?? []);
    const ending = plan.ending && { ...plan.ending, safer, moves };
    const placed = plan.placed.map((entry, i) => (i === 0 ? { ...entry, move: id } : entry));
    return { ...board, plan: { ...plan, ending, placed } };
  });

describe('what a change does to the findings', () => {
  it.each([
    { of: 'any board', given: boards, seed: 11, numRuns: 500, least: 1000 },
    { of: 'one with missing links, and a pose in two forms', given: odd, seed: 13, numRuns: 400, least: 800 },
  ])(
    'is the same by the moves near it as by all of the board: $of',
    ({ given, seed, numRuns, least }) => {
      let changed = 0;
      fc.assert(
        fc.property(given, gestures, (board, done) => {
          const changes = changesOf(board, done);
          const all = byAll(board, changes);
          changed += all.gone.length + all.added.length;
          expect(byNear(board, changes)).toEqual(all);
        }),
        { seed, numRuns },
      );
      expect(changed).toBeGreaterThan(least);
    },
    120_000,
  );

  it('decides which fix is offered, as all of the board would', () => {
    let [offered, refused] = [0, 0];
    fc.assert(
      fc.property(boards, (board) => {
        const standing = Standing.of(board, today);
        const found = findingsOf(standing);
        for (const reported of standing.found) {
          const chosen = chosenByAll(board, reported);
          expect(found.find(({ id }) => id === reported.id)!.fix).toEqual(chosen);
          offered += chosen ? 1 : 0;
          refused += chosen ? 0 : 1;
        }
      }),
      { seed: 14, numRuns: 20 },
    );
    expect(offered).toBeGreaterThan(100);
    expect(refused).toBeGreaterThan(100);
  }, 120_000);

  it('is the same of every fix that a rule has, of whatever it is', () => {
    let parts = 0;
    fc.assert(
      fc.property(boards, (board) => {
        for (const { fixes } of Standing.of(board, today).found) {
          for (const { changes } of [...fixes()].slice(0, 2)) {
            expect(byNear(board, changes)).toEqual(byAll(board, changes));
            parts += 1;
          }
        }
      }),
      { seed: 12, numRuns: 25 },
    );
    expect(parts).toBeGreaterThan(200);
  }, 120_000);
});
