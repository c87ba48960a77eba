import { join } from 'node:path';
import Database from 'libsql';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { DATABASE, openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import { guest } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

const AT = '2031-05-01T10:00:00.000Z';

let house: House;
beforeAll(async () => {
  house = await openHouse({ idleMs: 1 });
});
afterAll(() => house.end());

/** Changes rows of the stopped server's store by hand. */
function damage(sql: string, ...values: (string | number | Buffer)[]): number {
  const db = new Database(join(house.folder, DATABASE));
  try {
    return db.prepare(sql).run(values).changes;
  } finally {
    db.close();
  }
}

test('a board of which rows were damaged still opens, says so, and is written on', async () => {
  const board = await makeBoard(house);
  const { cookie } = await invite(house, board, 'couple');
  const as = { board, role: 'couple', cookie };
  const [one, other] = [guest(house, as, 'lessons'), guest(house, as, 'lessons')];
  await Promise.all([one.synced(), other.synced()]);
  const write = (who: typeof one, id: string) =>
    who.write({ collection: 'readiness', id, fields: { level: 1, at: AT } });
  write(one, 'm1');
  await one.acknowledged(2);
  write(one, 'm2');
  await one.acknowledged(3);
  write(other, 'm3');
  await other.acknowledged(2);
  one.leave();
  other.leave();
  await house.running.stop();

  const of = `board = '${board}' AND area = 'lessons'`;
  expect(damage(`UPDATE updates SET bytes = ? WHERE ${of} AND number = 3`, Buffer.from('no update'))).toBe(1);
  await house.start();

  const again = guest(house, as, 'lessons');
  await again.synced();
  expect(again.read().readiness.map(({ id }) => id)).toEqual(['m1', 'm3']);
  write(again, 'm4');
  await again.acknowledged(2);
  again.leave();
  const metrics = await (await fetch(`${house.address}/metrics`)).text();
  expect(metrics).toContain('larkstep_set_aside_total{kind="update"} 1');
  expect(house.logged.filter((line) => line.startsWith('set aside'))).toEqual([
    'set aside {"area":"lessons","kind":"update","reason":"It cannot be read."}',
  ]);
  // It is done once: the next start finds nothing wrong.
  await house.restart();
  const third = guest(house, as, 'lessons');
  await third.synced();
  expect(third.read().readiness.map(({ id }) => id)).toEqual(['m1', 'm3', 'm4']);
  third.leave();
  expect(house.logged.filter((line) => line.startsWith('set aside'))).toHaveLength(1);
  await house.running.stop();
  const store = await openEmbeddedStore(house.folder);
  expect(await store.areas.aside(board)).toMatchObject([
    {
      area: 'lessons',
      bytes: new Uint8Array(Buffer.from('no update')),
      reason: 'update: It cannot be read.',
    },
  ]);
  await store.close();
  await house.start();
});

test('a snapshot that was damaged is rebuilt from the log that it replaced, and without that people fill the area again from their devices', async () => {
  const board = await makeBoard(house);
  const { cookie } = await invite(house, board, 'couple');
  const as = { board, role: 'couple', cookie };
  const one = guest(house, as, 'lessons');
  await one.synced();
  for (let index = 0; index < 60; index++)
    one.write({ collection: 'readiness', id: `m${index}`, fields: { level: 1, at: AT } });
  await one.acknowledged(61);
  one.provider.disconnect();
  await house.running.stop();
  const of = `board = '${board}' AND area = 'lessons'`;
  expect(
    damage(`UPDATE areas SET snapshot = ? WHERE ${of} AND snapshot IS NOT NULL`, Buffer.alloc(500, 255)),
  ).toBe(1);
  await house.start();
  const found = await house.running.services.boards.read(board, 'instructor');
  expect(found.ok && found.value.lessons?.readiness).toHaveLength(60);
  const third = guest(house, as, 'lessons');
  await third.synced();
  expect(third.read().readiness).toHaveLength(60);
  third.leave();
  expect(house.logged.filter((line) => line.startsWith('set aside'))).toHaveLength(2);
  await house.running.stop();
  damage(`UPDATE areas SET snapshot = ?, trimmed = through WHERE ${of}`, Buffer.alloc(500, 255));
  damage(`DELETE FROM updates WHERE ${of}`);
  damage(`DELETE FROM bases WHERE ${of}`);
  await house.start();
  const other = guest(house, as, 'lessons');
  await other.synced();
  expect(other.read().readiness).toEqual([]);
  one.provider.connect();
  await other.sees(({ readiness }) => readiness.length === 60);
  one.leave();
  other.leave();
});
