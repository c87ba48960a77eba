import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { entryFacts } from '../../lib/core/agreed/entry.ts';
import type { Board } from '../../lib/core/areas/board.ts';
import { closingOf } from '../../lib/protocol/close.ts';
import { boardOf, cutOut } from '../kit/board.ts';
import {
  clusterMissing,
  STARTING_MS,
  startPostgres,
  startRedis,
  type TestPostgres,
  type TestRedis,
} from '../kit/cluster.ts';
import { enterAt, type Node, openNode } from './node.ts';

const AT = '2031-05-01T10:00:00.000Z' as const;
const SETTLED = { by: 'Marta', at: AT, word: '' };

describe.skipIf(clusterMissing !== null)(
  'what is agreed at one of two nodes',
  { timeout: STARTING_MS },
  () => {
    let postgres: TestPostgres;
    let redis: TestRedis;
    let [one, other]: Node[] = [];
    let board: string;
    const guests: { leave(): void }[] = [];
    beforeAll(async () => {
      [postgres, redis] = await Promise.all([startPostgres(), startRedis()]);
      const places = { databaseUrl: await postgres.newDatabase(), redisUrl: redis.url };
      [one, other] = await Promise.all([openNode(places), openNode(places, { idleMs: 5 })]);
    }, STARTING_MS);
    afterAll(async () => {
      await Promise.all([one?.stop(), other?.stop()]);
      await Promise.all([postgres?.end(), redis?.stop()]);
    });
    beforeEach(async () => {
      const made = await one!.running.services.boards.makeFrom(boardOf());
      if (!made.ok) throw new Error(made.problem.sentence);
      board = made.value;
    });
    afterEach(() => {
      for (const guest of guests.splice(0)) guest.leave();
    });

    const enter: typeof enterAt = async (node, of, role, area) => {
      const entered = await enterAt(node, of, role, area);
      guests.push(entered);
      return entered;
    };
    async function kept({ running }: Node): Promise<Board> {
      const read = await running.services.boards.read(board, 'instructor');
      if (!read.ok) throw new Error(read.problem.sentence);
      return read.value;
    }

    test('is held fast at the other', async () => {
      const instructor = await enter(one!, board, 'instructor', 'plan');
      const couple = await enter(other!, board, 'couple', 'plan');
      instructor.write({ register: 'settled', value: SETTLED });
      await couple.sees(({ settled }) => settled !== null);
      couple.write({ register: 'edit', value: cutOut(40, 60) });
      expect(closingOf(await couple.closed)).toBe('invalid');
      for (const node of [one!, other!])
        expect((await kept(node)).plan).toMatchObject({ settled: SETTLED, edit: boardOf().plan.edit });
    });

    test('is what a word at the other is judged by, and nothing keeps its rooms open when all have left', async () => {
      const planner = await enter(other!, board, 'planner', 'show');
      const couple = await enter(one!, board, 'couple', 'plan');
      const { digest, facts } = entryFacts(await kept(one!));
      const looking = await enter(other!, board, 'couple', 'plan');
      couple.write({ register: 'venue', value: 'Barn' });
      await looking.sees(({ venue }) => venue === 'Barn');
      looking.leave();
      planner.write({ register: 'final', value: { digest, facts, at: AT, by: 'Pia' } });
      expect(closingOf(await planner.closed)).toBe('outdated');
      expect((await kept(one!)).show?.final).toBeNull();
      const again = await enter(other!, board, 'planner', 'show');
      const now = entryFacts(await kept(other!));
      again.write({ register: 'final', value: { digest: now.digest, facts: now.facts, at: AT, by: 'Pia' } });
      await again.saved();
      expect(entryFacts(await kept(one!)).final?.outdated).toBe(false);
      for (const guest of guests.splice(0)) guest.leave();
      await expect.poll(() => other!.running.services.metrics()).toMatch(/rooms 0\b/);
    });
  },
);
