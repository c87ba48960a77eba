import { afterAll, beforeAll, expect, test } from 'vitest';
import { ZONE } from '../../lib/access/session.ts';
import { emptyBoard } from '../../lib/core/areas/empty.ts';
import { dayAfter } from '../../lib/core/dayCount.ts';
import { boardsAnswer } from '../../lib/protocol/api.ts';
import { wallAt } from '../kit/wall.ts';
import { type House, makeBoard, openHouse } from './house.ts';

/** 25 hours apart (UTC+14 and UTC-11): it is never the same day in both. */
const [FIRST, LAST] = ['Pacific/Kiritimati', 'Pacific/Pago_Pago'];
const DAY_MS = 86_400_000;

let house: House;
let [there, anywhere] = ['', ''];
beforeAll(async () => {
  house = await openHouse();
  const board = emptyBoard();
  const made = await house.running.services.boards.makeFrom({
    ...board,
    show: { ...board.show!, zone: FIRST },
  });
  if (!made.ok) throw new Error(made.problem.sentence);
  there = made.value;
  anywhere = await makeBoard(house);
});
afterAll(() => house.end());

const daysFor = async (reader: string | null) => {
  const { boards } = await house.running.services.boards.list(reader, { from: 0, count: 50 });
  return [there, anywhere].map((id) => boards.find((board) => board.id === id)!.today);
};
const dayNow = (zone: string, ahead = 0) => wallAt(zone, Date.now() + ahead).slice(0, 10);

test('today is the day where the party is, else where the reader is, else where the server is', async () => {
  const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
  expect(await daysFor(LAST)).toEqual([dayNow(FIRST), dayNow(LAST)]);
  expect(await daysFor(FIRST)).toEqual([dayNow(FIRST), dayNow(FIRST)]);
  for (const none of [null, '', 'Nowhere/Land', '../../etc'])
    expect(await daysFor(none)).toEqual([dayNow(FIRST), dayNow(here)]);
});

test('the list is made anew once the day has turned, though nothing was written', async () => {
  const [before] = await daysFor(LAST);
  house.setClock(DAY_MS);
  expect(await daysFor(LAST)).toEqual([dayAfter(before!, 1), dayNow(LAST, DAY_MS)]);
  house.setClock(-DAY_MS);
});

test('a browser says in which zone it reads', async () => {
  const setUp = await fetch(`${house.address}/api/set-up`, {
    method: 'POST',
    headers: { origin: house.address, 'content-type': 'application/json' },
    body: JSON.stringify({
      code: house.running.setUpCode,
      name: 'Marta',
      passphrase: 'a dance at the mill',
    }),
  });
  expect(setUp.status).toBe(200);
  const session = setUp.headers.get('set-cookie')!.split(';')[0]!;
  const answer = await fetch(`${house.address}/api/boards`, {
    headers: { cookie: `${session}; ${ZONE}=${LAST}` },
  });
  const { boards } = boardsAnswer.parse(await answer.json());
  expect(boards.find(({ id }) => id === anywhere)!.today).toBe(dayNow(LAST));
});
