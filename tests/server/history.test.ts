import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import * as Y from 'yjs';
import { instructorGrant } from '../../lib/access/session.ts';
import { textOf } from '../../lib/board/area.ts';
import { richTextOf } from '../../lib/board/richText.ts';
import type { AreaName } from '../../lib/core/areas/board.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import type { Instant } from '../../lib/core/calendar.ts';
import { guest } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

const AT = '2031-05-01T10:00:00.000Z';
let house: House;
let board: string;
const left: (() => void)[] = [];
beforeAll(async () => {
  house = await openHouse({ idleMs: 1 });
  board = await makeBoard(house);
});
afterAll(async () => {
  for (const leave of left) leave();
  await house.end();
});

const history = () => house.running.services.history;
const read = async () => {
  const found = await house.running.services.boards.read(board, 'instructor');
  if (!found.ok) throw new Error(found.problem.sentence);
  return found.value;
};

/** A guest with a link of their own. */
async function open<A extends AreaName>(role: Role, area: A, by?: Awaited<ReturnType<typeof invite>>) {
  const link = by ?? (await invite(house, board, role));
  const one = guest(house, { board, role, cookie: link.cookie }, area);
  left.push(one.leave);
  await one.synced();
  return { ...one, link };
}

/** An instant after all that was written so far and before all that will be. */
async function moment(): Promise<Instant> {
  await wait(3);
  const now = new Date().toISOString() as Instant;
  await wait(3);
  return now;
}

function say(
  who: { doc: Y.Doc; link: { id: string }; write: (change: never) => void },
  id: string,
  words: string,
) {
  const fields = { writer: who.link.id, name: 'Someone', role: 'couple', at: AT, about: '' };
  who.write({ collection: 'remarks', id, fields } as never);
  const paragraph = new Y.XmlElement('paragraph');
  paragraph.insert(0, [new Y.XmlText(words)]);
  textOf(who.doc, 'remarks', id)!.insert(0, [paragraph]);
}

test('what one link wrote since a time is taken back in every area, and what others wrote stays', async () => {
  const couple = await open('couple', 'plan');
  const remarks = await open('couple', 'remarks', couple.link);
  const planner = await open('planner', 'show');
  couple.write({ register: 'title', value: 'Our dance' });
  planner.write({ register: 'announcedBy', value: 'Ines' });
  say(remarks, 'r1', 'Please slowly');
  await Promise.all([couple, planner, remarks].map((one) => one.saved()));
  const since = await moment();
  const stranger = await open('couple', 'plan');
  const more = await open('couple', 'remarks', stranger.link);
  stranger.write({ register: 'title', value: 'Rubbish' }, { register: 'venue', value: 'Nowhere' });
  say(more, 'r2', 'Rubbish');
  await Promise.all([stranger.saved(), more.saved()]);
  planner.write({ register: 'announcedBy', value: 'Ines and Paul' });
  couple.write({ register: 'lessonsLeft', value: 3 });
  await couple.sees(({ venue }) => venue === 'Nowhere');
  couple.write({ register: 'venue', value: 'Old mill' });
  await Promise.all([couple.saved(), planner.saved()]);

  const grant = instructorGrant(board);
  expect(await history().takeBack(grant, stranger.link.id, since)).toEqual({
    ok: true,
    value: { undone: 2, left: ['The venue stays: somebody else has changed it since.'] },
  });
  const { plan, remarks: said, show } = await read();
  expect([plan.title, plan.venue, plan.lessonsLeft, show?.announcedBy]).toEqual([
    ...['Our dance', 'Old mill', 3, 'Ines and Paul'],
  ]);
  expect(said?.remarks.map(({ id }) => id)).toEqual(['r1']);
  // Whoever has it open sees it.
  await stranger.sees(({ title }) => title === 'Our dance');
  // It stands in the history, as the instructor's.
  const hours = await history().hours(grant);
  expect(hours.filter(({ area }) => area === 'plan').map(({ by }) => by.link)).toEqual(
    expect.arrayContaining([null, couple.link.id, stranger.link.id]),
  );
  expect(await history().takeBack(grant, stranger.link.id, since)).toMatchObject({ value: { undone: 0 } });
});

test('an area is made again what it was, with the remarks of others, and that can be undone likewise', async () => {
  const couple = await open('couple', 'remarks');
  say(couple, 'r3', 'Left foot first');
  await couple.saved();
  const before = (await read()).remarks;
  const since = await moment();
  couple.write({ collection: 'remarks', id: 'r3', fields: null });
  await couple.saved();
  const gone = await moment();
  const grant = instructorGrant(board);
  expect(await history().restore(grant, 'remarks', since)).toEqual({ ok: true, value: undefined });
  expect((await read()).remarks).toEqual(before);
  await couple.sees(({ remarks }) => remarks.some(({ id }) => id === 'r3'));
  expect(richTextOf(textOf(couple.doc, 'remarks', 'r3')!)).toMatchObject({
    content: [{ content: [{ text: 'Left foot first' }] }],
  });
  await history().restore(grant, 'remarks', gone);
  expect((await read()).remarks?.remarks.some(({ id }) => id === 'r3')).toBe(false);
});

test('what the rules of the board do not let be taken back is said in their words', async () => {
  const couple = await open('couple', 'plan');
  const since = await moment();
  couple.write({ register: 'phraseBars', value: 4 });
  await couple.saved();
  const instructor = await open('instructor', 'plan');
  instructor.write({ register: 'settled', value: { by: 'Marta', at: AT, word: '' } });
  await instructor.saved();
  const taken = await history().takeBack(instructorGrant(board), couple.link.id, since);
  expect(taken).toMatchObject({ ok: true, value: { undone: 0 } });
  expect(taken.ok && taken.value.left[0]).toMatch(/^In the plan nothing was taken back: .+settled/);
  instructor.write({ register: 'settled', value: null });
  await instructor.saved();
});

test('only the instructor may, and a link or a time that is not known is said', async () => {
  const grant = instructorGrant(board);
  const couple = { ...grant, role: 'couple' } as const;
  const since = new Date().toISOString() as Instant;
  expect(await history().hours(couple)).toEqual([]);
  for (const refused of [
    await history().takeBack(couple, 'x', since),
    await history().restore(couple, 'plan', since),
    await history().readable(couple),
  ])
    expect(refused).toMatchObject({ ok: false, problem: { code: 'no right' } });
  expect(await history().takeBack(grant, 'x', since)).toMatchObject({ problem: { code: 'not found' } });
});

test('all of a board can be taken along', async () => {
  const readable = await history().readable(instructorGrant(board));
  expect(readable).toEqual({ ok: true, value: { file: await read(), earlier: [] } });
});
