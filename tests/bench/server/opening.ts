import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as Y from 'yjs';
import { newArea } from '../../../lib/board/layout.ts';
import { areaUpdate } from '../../../lib/board/write.ts';
import { areas } from '../../../lib/core/areas/board.ts';
import { openEmbeddedStore } from '../../../lib/store/embedded/open.ts';
import type { Store } from '../../../lib/store/store.ts';
import { Rooms } from '../../../server/sync/rooms.ts';
import { planOf } from '../../kit/board.ts';
import { judge, load, printTable, quantile } from './figures.ts';
import { Hand } from './hand.ts';
import type { Words } from './words.ts';

const BAR_MS = 60;
/** Changes that one opened page makes before the next one begins, with a client id of its own. */
const A_PAGE = 250;
const AT_ONCE = 200;
const TIMES = 15;

/**
 * How long the server takes until somebody who opens a board with a long past has its state: through the room as people write
 * it, and after a kill in the midst of writing; beside the whole log, applied as a stock server with a log would.
 */
export async function opening(words: Words): Promise<void> {
  const count = words.count ?? 50_000;
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-bench-'));
  const store = await openEmbeddedStore(folder);
  const silent = { info: () => undefined, error: () => undefined };
  try {
    await store.boards.add('b', '2031-01-01T00:00:00.000Z', [
      { area: 'plan', update: areaUpdate(areas.plan, planOf()) },
    ]);
    const log = await store.areas.load('b', 'plan').then(({ updates }) => updates);
    const rooms = new Rooms(store, silent);
    const room = await rooms.enter('b', 'plan');
    let hand = new Hand();
    let longest = 0;
    for (let made = 0; made < count; made++) {
      if (made % A_PAGE === 0) hand = new Hand();
      const { update } = hand.next();
      log.push(update);
      const written = room.write(update, 'm', null);
      if (!written.ok) throw new Error(written.problem.sentence);
      if (made % AT_ONCE === 0) {
        await written.value;
        longest = Math.max(longest, (await store.areas.load('b', 'plan')).loose);
      }
    }
    await room.settled;
    const killed = await store.areas.load('b', 'plan');
    const afterKill = await timesOf(store, false);
    await rooms.stop();
    const kept = await store.areas.load('b', 'plan');
    const afterEnd = await timesOf(store, true);
    const before = performance.now();
    const doc = newArea(areas.plan);
    for (const update of log) Y.applyUpdate(doc, update);
    Y.encodeStateAsUpdate(doc);
    const whole = performance.now() - before;
    process.stdout.write(
      `a plan with ${count} past changes by ${Math.ceil(count / A_PAGE)} pages, ${load()}\n`,
    );
    printTable([
      ['opened', 'updates', 'kB', 'p50 ms', 'longest ms'],
      ['the whole log', log.length, kilobytes(log), whole, whole],
      [
        'after a kill while writing',
        killed.updates.length,
        kilobytes(killed.updates),
        quantile(afterKill, 0.5),
        Math.max(...afterKill),
      ],
      [
        'after everybody left',
        kept.updates.length,
        kilobytes(kept.updates),
        quantile(afterEnd, 0.5),
        Math.max(...afterEnd),
      ],
    ]);
    process.stdout.write(`the longest log beside a snapshot, while people wrote: ${longest} updates\n`);
    const slowest = Math.max(quantile(afterKill, 0.5), quantile(afterEnd, 0.5));
    judge(`opened in ${slowest.toFixed(1)} <= ${BAR_MS} ms`, slowest <= BAR_MS);
  } finally {
    await store.close();
    await rm(folder, { recursive: true });
  }

  async function timesOf(of: Store, ends: boolean): Promise<number[]> {
    const times: number[] = [];
    for (let time = 0; time < TIMES; time++) {
      const rooms = new Rooms(of, silent);
      const before = performance.now();
      const room = await rooms.enter('b', 'plan');
      Y.encodeStateAsUpdate(room.doc);
      times.push(performance.now() - before);
      // Ending writes a snapshot, which a kill does not.
      if (ends) await rooms.stop();
    }
    return times;
  }
}

const kilobytes = (updates: readonly Uint8Array[]): number =>
  Math.round(updates.reduce((sum, { length }) => sum + length, 0) / 1000);
