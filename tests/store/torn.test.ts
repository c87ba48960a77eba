import { copyFile, mkdtemp, readFile, rm, stat, truncate, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { DATABASE, openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import type { EmbeddedStore } from '../../lib/store/store.ts';

/**
 * A power cut may leave the log of the database torn anywhere after what was last synced. SQLite promises (sqlite.org/wal.html,
 * "Write-Ahead Logging", and fileformat2.html, section 4.1) that a reader takes the frames up to the last commit whose checksums
 * hold, and nothing after. Every acknowledged update was synced with all of its frames, so none of those can be torn by a cut;
 * here it is torn there all the same, to see that what stands before the tear is whole.
 */
const BY = { membership: 'm', at: '2031-01-01T00:00:00.000Z' };
const COUNT = 60;
const WAL = `${DATABASE}-wal`;
let folder: string;
let store: EmbeddedStore;
/** Length of the log when each update was acknowledged. */
const lengths: number[] = [];

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'larkstep-torn-'));
  // Closed once, so that the tables and the board stand in the database itself and the log begins with the first update.
  const first = await openEmbeddedStore(folder);
  await first.boards.add('b', '2031-01-01T00:00:00.000Z', [{ area: 'plan', update: numbered(0) }]);
  await first.close();
  store = await openEmbeddedStore(folder);
  for (let number = 1; number <= COUNT; number++) {
    await store.areas.append('b', 'plan', numbered(number), [{ client: number, membership: 'm' }], BY);
    lengths.push((await stat(join(folder, WAL))).size);
  }
});
afterAll(async () => {
  await store.close();
  await rm(folder, { recursive: true });
});

/** Of different lengths, so that tears fall everywhere in a page. */
function numbered(number: number): Uint8Array {
  return new Uint8Array(40 + 97 * number).fill(number);
}

/** The updates' numbers in a copy of the folder, as a dead process leaves it, whose log was damaged. */
async function keptAfter(damage: (log: string) => Promise<void>): Promise<number[]> {
  const copy = await mkdtemp(join(tmpdir(), 'larkstep-torn-copy-'));
  for (const name of [DATABASE, WAL]) await copyFile(join(folder, name), join(copy, name));
  await damage(join(copy, WAL));
  const opened = await openEmbeddedStore(copy);
  const { updates, head, claims } = await opened.areas.load('b', 'plan');
  // It can be written again, on what is left.
  expect(await opened.areas.append('b', 'plan', numbered(99), [], BY)).toBe(head + 1);
  await opened.close();
  await rm(copy, { recursive: true });
  expect(head).toBe(updates.length);
  expect(claims).toHaveLength(updates.length - 1);
  expect(updates.every((update, index) => update.every((byte) => byte === index))).toBe(true);
  return updates.map((update) => update[0]!);
}
const upTo = (number: number) => Array.from({ length: number + 1 }, (_, index) => index);
/** The updates acknowledged while the log was not longer than this. */
const acknowledgedBy = (length: number) => upTo(lengths.filter((one) => one <= length).length);

test('whole, the log holds every update that was acknowledged', async () => {
  expect(await keptAfter(async () => undefined)).toEqual(upTo(COUNT));
});

test.each([0, 0.11, 0.27, 0.5, 0.733, 0.9, 0.999])(
  'torn off after %f of it, it holds every update acknowledged before, and no half one',
  async (share) => {
    const length = Math.floor(share * lengths.at(-1)!);
    expect(await keptAfter((log) => truncate(log, length))).toEqual(acknowledgedBy(length));
  },
);

test.each([0.08, 0.31, 0.66, 0.97])(
  'with one byte turned after %f of it, it holds what was acknowledged before that byte',
  async (share) => {
    const at = Math.floor(share * lengths.at(-1)!);
    const turn = async (log: string) => {
      const bytes = await readFile(log);
      bytes[at]! ^= 0x55;
      await writeFile(log, bytes);
    };
    expect(await keptAfter(turn)).toEqual(acknowledgedBy(at));
  },
);
