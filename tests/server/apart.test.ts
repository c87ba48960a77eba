import { join } from 'node:path';
import Database from 'libsql';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges, textOf } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { closings } from '../../lib/protocol/close.ts';
import { DATABASE } from '../../lib/store/embedded/open.ts';
import { hopeless } from '../kit/hopeless.ts';
import { remark } from '../kit/remark.ts';
import { guest } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

let house: House;
let beside: string;
beforeAll(async () => {
  house = await openHouse({ idleMs: 1 });
  beside = await makeBoard(house);
});
afterAll(() => house.end());

function changeRows(sql: string, ...values: Buffer[]): number {
  const db = new Database(join(house.folder, DATABASE));
  try {
    return db.prepare(sql).run(values).changes;
  } finally {
    db.close();
  }
}

/** Puts this in place of all that is stored of an area. */
async function stored(board: string, area: string, snapshot: Uint8Array): Promise<void> {
  await house.running.stop();
  const of = `board = '${board}' AND area = '${area}'`;
  changeRows(`DELETE FROM updates WHERE ${of}`);
  expect(changeRows(`UPDATE areas SET snapshot = ?, through = head WHERE ${of}`, Buffer.from(snapshot))).toBe(
    1,
  );
  await house.start();
}

/** As the version before let it in: a remark with quotations without end, and one with an element that it had no name for. */
function damaged(): Uint8Array {
  const doc = newArea(areas.remarks);
  for (const id of ['deep', 'odd', 'fine']) {
    applyChanges(doc, areas.remarks, [{ collection: 'remarks', id, fields: remark }]);
    const paragraph = new Y.XmlElement('paragraph');
    textOf(doc, 'remarks', id)!.insert(0, [paragraph]);
    paragraph.insert(0, [new Y.XmlText(`Words of ${id}`)]);
  }
  textOf(doc, 'remarks', 'odd')!.insert(1, [new Y.XmlElement('constructor')]);
  let at: Y.XmlFragment = textOf(doc, 'remarks', 'deep')!;
  for (let level = 0; level < 5000; level++) {
    const quote = new Y.XmlElement('blockquote');
    at.insert(0, [quote]);
    at = quote;
  }
  return Y.encodeStateAsUpdate(doc);
}

const metrics = async () => (await fetch(`${house.address}/metrics`)).text();

describe('an area that earlier versions let be damaged', () => {
  test('is mended where it can be: all remarks are there, and what was taken out is set aside', async () => {
    const board = await makeBoard(house);
    const { cookie } = await invite(house, board, 'couple');
    await stored(board, 'remarks', damaged());
    const { services } = house.running;
    const before = await services.boards.read(board, 'instructor');
    expect(before.ok && before.value.remarks?.remarks.map(({ id }) => id)).toEqual(['deep', 'fine', 'odd']);
    const one = guest(house, { board, role: 'couple', cookie }, 'remarks');
    await one.synced();
    const texts = one
      .read()
      .remarks.map(({ id, text }) => [id, JSON.stringify(text).includes(`Words of ${id}`)]);
    expect(texts).toEqual([
      ['deep', true],
      ['fine', true],
      ['odd', true],
    ]);
    one.leave();
    expect(await metrics()).toContain('larkstep_set_aside_total{kind="value"} 2');
    await house.restart();
    expect(await metrics()).not.toContain('larkstep_set_aside');
  });

  test('is set apart where it cannot be, and nothing else of its board or of others is', async () => {
    const board = await makeBoard(house);
    const { cookie } = await invite(house, board, 'couple');
    await stored(board, 'remarks', hopeless());
    const as = { board, role: 'couple', cookie };
    const apart = guest(house, as, 'remarks');
    expect(await apart.closed).toBe(closings.apart.code);
    const plan = guest(house, as, 'plan');
    await plan.synced();
    plan.write({ register: 'venue', value: 'Barn' });
    await plan.saved();
    const { boards } = house.running.services;
    expect((await boards.read(beside, 'instructor')).ok).toBe(true);
    expect(await metrics()).toMatch(/larkstep_apart_total\{area="remarks"\} [1-9]/);
    expect(house.logged.filter((line) => line.startsWith('set apart'))).toHaveLength(1);
    plan.leave();
    apart.leave();
  });
});
