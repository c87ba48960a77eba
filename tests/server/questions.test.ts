import { afterAll, beforeAll, expect, test } from 'vitest';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import { type Role, role as roles } from '../../lib/core/areas/people.ts';
import { may } from '../../lib/core/areas/rights.ts';
import { papers } from '../../lib/protocol/api.ts';
import { closings } from '../../lib/protocol/close.ts';
import { askAt, setUpStudio } from './asking.ts';
import { guest } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

const AT = '2031-05-01T10:00:00.000Z' as const;
/** Words that stand nowhere else. */
const [ASKED, ANSWERED] = ['quillwort', 'sandmartin'];
const asked = {
  ...{ by: 'Ida', at: AT, words: `May I wear ${ASKED}?`, readAt: null, toldAt: null },
  ...{ answer: '', answeredBy: '', answeredAt: null, answerReadAt: null },
} as const;
const OTHERS: readonly Role[] = ['dj', 'planner', 'crew'];

let house: House;
let board: string;
let instructor: string;
const cookies = new Map<Role, string>();

beforeAll(async () => {
  house = await openHouse();
  instructor = await setUpStudio(house);
  board = await makeBoard(house);
  for (const role of roles.options) cookies.set(role, (await invite(house, board, role)).cookie);
});
afterAll(() => house.end());

const enter = <A extends AreaName>(role: Role, area: A) =>
  guest(house, { board, role, cookie: cookies.get(role)! }, area);

test('a couple’s question reaches the instructor, and the answer the couple', async () => {
  const couple = enter('couple', 'lessons');
  const teacher = enter('instructor', 'lessons');
  await Promise.all([couple.synced(), teacher.synced()]);
  couple.write({ collection: 'questions', id: 'q', fields: asked });
  await teacher.sees(({ questions }) => questions[0]?.words === asked.words);
  const list = async () =>
    (await (await askAt(house, '/api/boards', { cookie: instructor })).json()).boards[0].questions;
  expect(await list()).toEqual({ open: 1, unread: 1 });
  teacher.write({ collection: 'questions', id: 'q', fields: { readAt: AT } });
  await couple.sees(({ questions }) => questions[0]?.readAt === AT);
  await expect.poll(list).toEqual({ open: 1, unread: 0 });
  const fields = { answer: `Yes, ${ANSWERED}.`, answeredBy: 'Rosa', answeredAt: AT } as const;
  teacher.write({ collection: 'questions', id: 'q', fields });
  await couple.sees(({ questions }) => questions[0]?.answer === fields.answer);
  await expect.poll(list).toEqual({ open: 0, unread: 0 });
  for (const one of [couple, teacher]) one.leave();
});

test.each(OTHERS)('it is in no document, no paper and no list', async (role) => {
  const shut = enter(role, 'lessons');
  expect(await shut.closed).toBe(closings.noRight.code);
  shut.leave();
  const seen: string[] = [];
  for (const area of (Object.keys(areas) as AreaName[]).filter((one) => may(role, one, 'read'))) {
    const one = enter(role, area);
    await one.synced();
    seen.push(JSON.stringify(one.read()));
    one.leave();
  }
  let taken = 0;
  for (const paper of papers) {
    const address = `/api/boards/${board}/papers/${paper}?as=${role}`;
    const answer = await askAt(house, address, { cookie: cookies.get(role)! });
    if (answer.status === 200) taken += 1;
    seen.push(Buffer.from(await answer.arrayBuffer()).toString('latin1'));
  }
  for (const path of [`/api/boards`, `/api/boards/${board}/history`]) {
    const answer = await askAt(house, `${path}?as=${role}`, { cookie: cookies.get(role)! });
    expect(answer.status, path).toBeGreaterThanOrEqual(400);
    seen.push(await answer.text());
  }
  // The board's file is everybody's, each with what they may read.
  expect(taken).toBeGreaterThan(0);
  for (const text of seen) for (const word of [ASKED, ANSWERED]) expect(text).not.toContain(word);
});

test.each(['couple', 'instructor'] as const)('it is in the board’s file that the %s takes', async (role) => {
  const address = `/api/boards/${board}/papers/board.json?as=${role}`;
  const file = await (await askAt(house, address, { cookie: cookies.get(role)! })).json();
  expect(file.lessons.questions).toHaveLength(1);
});

test('one that is no question is refused', async () => {
  const couple = enter('couple', 'lessons');
  await couple.synced();
  couple.write({ collection: 'questions', id: 'q2', fields: { ...asked, words: '' } });
  expect(await couple.closed).toBe(closings.invalid.code);
  couple.leave();
});
