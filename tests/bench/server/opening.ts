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
    room.join({ send: () => undefined, close: () => undefined });
    let hand = new Hand();
    let longest = 0;
    for (let made = 0; made < count; made++) {
      if (made % A_PAGE === 0) hand = new Hand();
      const { update } = hand.next();
      log.push(update);
      const written = room.write(update, { membership: 'm', role: 'couple' }, null);
      if (!written.ok) throw new Error(written.problem.sentence);
      if (made % AT_ONCE === 0) {
        await written.value;
        longest = Math.max(longest, (await store.areas.load('b', 'plan')).loose);
      }
    }
    await room.settled;
    const killed = await store.areas.load('b', 'plan');
    const afterKill = await timesOf(store, killed.updates, false);
    await rooms.stop();
    const kept = await store.areas.load('b', 'plan');
    const afterEnd = await timesOf(store, kept.updates, true);
    const before = performance.now();
    const processor = process.cpuUsage();
    const doc = newArea(areas.plan);
    for (const update of log) Y.applyUpdate(doc, update);
    Y.encodeStateAsUpdate(doc);
    const whole = performance.now() - before;
    const wholeUsed = process.cpuUsage(processor).user / 1000;
    process.stdout.write(
      `a plan with ${count} past changes by ${Math.ceil(count / A_PAGE)} pages, ${load()}\n`,
    );
    printTable([
      ['opened', 'updates', 'kB', 'p50 ms', 'longest ms', 'processor ms', 'plain yjs p50 ms'],
      ['the whole log', log.length, kilobytes(log), whole, whole, wholeUsed, whole],
      [
        'after a kill while writing',
        killed.updates.length,
        kilobytes(killed.updates),
        quantile(afterKill.waited, 0.5),
        Math.max(...afterKill.waited),
        quantile(afterKill.used, 0.5),
        quantile(afterKill.plain, 0.5),
      ],
      [
        'after everybody left',
        kept.updates.length,
        kilobytes(kept.updates),
        quantile(afterEnd.waited, 0.5),
        Math.max(...afterEnd.waited),
        quantile(afterEnd.used, 0.5),
        quantile(afterEnd.plain, 0.5),
      ],
    ]);
    process.stdout.write(`the longest log beside a snapshot, while people wrote: ${longest} updates\n`);
    const slowest = Math.max(quantile(afterKill.waited, 0.5), quantile(afterEnd.waited, 0.5));
    judge(`opened in ${slowest.toFixed(1)} <= ${BAR_MS} ms`, slowest <= BAR_MS);
  } finally {
    await store.close();
    await rm(folder, { recursive: true });
  }

  async function timesOf(of: Store, updates: readonly Uint8Array[], ends: boolean): Promise<Opened> {
    const times: Opened = { waited: [], used: [], plain: [] };
    for (let time = 0; time < TIMES; time++) {
      const began = performance.now();
      const plain = new Y.Doc();
      for (const update of updates) Y.applyUpdate(plain, update);
      Y.encodeStateAsUpdate(plain);
      times.plain.push(performance.now() - began);
      const rooms = new Rooms(of, silent);
      const before = performance.now();
      const processor = process.cpuUsage();
      const room = await rooms.enter('b', 'plan');
      Y.encodeStateAsUpdate(room.doc);
      const { user, system } = process.cpuUsage(processor);
      times.waited.push(performance.now() - before);
      times.used.push((user + system) / 1000);
      // Ending writes a snapshot, which a kill does not.
      if (ends) await rooms.stop();
    }
    return times;
  }
}

/** Milliseconds on the clock, and those that a processor worked for it: on a busy machine the first are longer. */
interface Opened {
  waited: number[];
  used: number[];
  /** The least that it takes with this library: the same bytes on the clock, no store, no checks. */
  plain: number[];
}

const kilobytes = (updates: readonly Uint8Array[]): number =>
  Math.round(updates.reduce((sum, { length }) => sum + length, 0) / 1000);
