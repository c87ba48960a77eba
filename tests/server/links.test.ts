import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { instructorGrant } from '../../lib/access/session.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import { linksAnswer, newLinkAnswer } from '../../lib/protocol/api.ts';
import { closings, FROZEN } from '../../lib/protocol/close.ts';
import { type Asked, askAt } from './asking.ts';
import { guest } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

let house: House;
let board: string;
beforeAll(async () => {
  house = await openHouse();
});
beforeEach(async () => {
  board = await makeBoard(house);
});
afterAll(() => house.end());

const ask = (cookie: string, role: Role, path = '', asked: Asked = {}) =>
  askAt(house, `/api/boards/${board}/links${path}${path.includes('?') ? '&' : '?'}as=${role}`, {
    cookie,
    ...asked,
  });
const make = (cookie: string, role: Role, guestRole: Role, days: number | null = null) =>
  ask(cookie, role, '', { method: 'POST', json: { role: guestRole, days } });
const list = async (cookie: string, role: Role) =>
  linksAnswer.parse(await (await ask(cookie, role)).json()).links;
const all = () => house.running.services.links.of(instructorGrant(board));

/** A link that is made with another, and the browser that joined by it. */
async function inviteWith(cookie: string, role: Role, guestRole: Role, days: number | null = null) {
  const made = newLinkAnswer.parse(await (await make(cookie, role, guestRole, days)).json());
  const joined = await fetch(made.url, { headers: { accept: 'text/html' }, redirect: 'manual' });
  return { id: made.id, cookie: joined.headers.get('set-cookie')!.split(';')[0]! };
}
const join = async (role: Role, cookie: string) => {
  const one = guest(house, { board, role, cookie }, 'plan');
  await one.synced();
  return one;
};

describe('a link that was made with another', () => {
  test('names it, and ends no later', async () => {
    const couple = await invite(house, board, 'couple', 10);
    const ends = (await all()).find(({ id }) => id === couple.id)!.endsAt!;
    for (const [days, expected] of [
      [null, ends],
      [30, ends],
      [3, null],
    ] as const) {
      const made = await inviteWith(couple.cookie, 'couple', 'planner', days);
      const found = (await list(couple.cookie, 'couple')).find(({ id }) => id === made.id)!;
      expect(found.parent).toBe(couple.id);
      if (expected === null) expect(found.endsAt! < ends).toBe(true);
      else expect(found.endsAt).toBe(expected);
    }
    expect((await all()).find(({ id }) => id === couple.id)!.parent).toBeNull();
  });

  test('is taken back with it, however far down, and at once', async () => {
    const other = await invite(house, board, 'instructor');
    const couple = await inviteWith(other.cookie, 'instructor', 'couple');
    const planner = await inviteWith(couple.cookie, 'couple', 'planner');
    const beside = await invite(house, board, 'planner');
    const root = async (cookie: string, role: Role) => {
      const grant = await house.running.services.grants.of(cookie.split('=')[1]!, board, role);
      return grant.ok && grant.value.root;
    };
    expect(await root(planner.cookie, 'planner')).toBe(other.id);
    expect(await root(beside.cookie, 'planner')).toBe(beside.id);
    const one = await join('planner', planner.cookie);
    const stays = await join('planner', beside.cookie);
    await house.running.services.links.revoke(instructorGrant(board), other.id);
    expect(await one.closed).toBe(closings.revoked.code);
    expect((await all()).map(({ id }) => id)).toEqual([beside.id]);
    expect((await ask(couple.cookie, 'couple')).status).toBe(410);
    expect(stays.provider.wsconnected).toBe(true);
    for (const guestHere of [one, stays]) guestHere.leave();
  });

  test('is taken back in the very moment in which somebody comes by it, and lets nobody in', async () => {
    const couple = await invite(house, board, 'couple');
    const planner = await inviteWith(couple.cookie, 'couple', 'planner');
    const { grants, links } = house.running.services;
    const original = grants.of;
    let asked = 0;
    grants.of = async (...words) => {
      const found = await original(...words);
      // The second time is the last look before somebody is let in.
      if (++asked === 2) await links.revoke(instructorGrant(board), couple.id);
      return found;
    };
    try {
      const one = guest(house, { board, role: 'planner', cookie: planner.cookie }, 'plan');
      expect(await one.closed).toBe(closings.revoked.code);
      expect(asked).toBeGreaterThan(2);
      one.leave();
    } finally {
      grants.of = original;
    }
  });

  test('may be kept by the instructor as their own, and by nobody else', async () => {
    const couple = await invite(house, board, 'couple');
    const planner = await inviteWith(couple.cookie, 'couple', 'planner');
    const own = await invite(house, board, 'instructor');
    const one = await join('planner', planner.cookie);
    const end = (cookie: string, role: Role, id: string, what: string) =>
      ask(cookie, role, `/${id}?madeWith=${what}`, { method: 'DELETE' });
    expect((await end(couple.cookie, 'couple', planner.id, 'keep')).status).toBe(403);
    expect((await end(own.cookie, 'instructor', couple.id, 'sell')).status).toBe(400);
    expect((await end(own.cookie, 'instructor', couple.id, 'keep')).status).toBe(200);
    expect((await all()).find(({ id }) => id === planner.id)!.parent).toBeNull();
    expect((await ask(couple.cookie, 'couple')).status).toBe(410);
    expect(one.provider.wsconnected).toBe(true);
    one.leave();
  });

  test('is one of twelve at most, also when they are asked for at once', async () => {
    const couple = await invite(house, board, 'couple');
    for (let n = 0; n < 10; n++) await make(couple.cookie, 'couple', 'crew', 1);
    const answers = await Promise.all(
      Array.from({ length: 8 }, () => make(couple.cookie, 'couple', 'crew', 1)),
    );
    const refused = answers.filter(({ status }) => status === 409);
    expect(refused.length).toBeGreaterThanOrEqual(6);
    expect((await refused[0]!.json()).sentence).toBe(
      'With your link 12 others are given out, and more cannot be. Take back those that nobody needs.',
    );
    expect((await all()).filter(({ parent }) => parent === couple.id).length).toBeLessThanOrEqual(12);
    // Those that have ended, or were taken back, count no more.
    const [first] = (await all()).filter(({ parent }) => parent === couple.id);
    expect((await ask(couple.cookie, 'couple', `/${first!.id}`, { method: 'DELETE' })).status).toBe(200);
    expect((await make(couple.cookie, 'couple', 'crew', 1)).status).toBe(200);
  });

  test('counts among sixty of a board', async () => {
    const { links } = house.running.services;
    for (let n = 0; n < 59; n++) await links.make(instructorGrant(board), 'crew', 1);
    const couple = await invite(house, board, 'couple', 5);
    const refused = await make(couple.cookie, 'couple', 'crew', 1);
    expect([refused.status, (await refused.json()).sentence]).toEqual([
      409,
      '60 links to this board are given out, and more cannot be. Take back those that nobody needs.',
    ]);
    house.setClock(2 * 86_400_000);
    expect((await make(couple.cookie, 'couple', 'crew', 1)).status).toBe(200);
    house.setClock(-2 * 86_400_000);
  });
});

describe('a link that the instructor stopped from writing', () => {
  const freeze = (cookie: string, role: Role, id: string, frozen: boolean) =>
    ask(cookie, role, `/${id}`, { method: 'PUT', json: { frozen } });

  test('reads on, writes nothing and invites nobody, with all that were made with it; then it may again', async () => {
    const instructor = await invite(house, board, 'instructor');
    const couple = await invite(house, board, 'couple');
    const planner = await inviteWith(couple.cookie, 'couple', 'planner');
    const one = await join('couple', couple.cookie);
    one.write({ register: 'venue', value: 'Barn' });
    await one.saved();
    const dropped = new Promise<number>((resolve) => {
      one.provider.once('connection-close', (event) => resolve(event?.code ?? 0));
    });
    expect((await freeze(instructor.cookie, 'instructor', couple.id, true)).status).toBe(200);
    expect(await dropped).toBe(closings.changed.code);
    await one.synced();
    const frozen = (await all()).filter(({ frozenAt }) => frozenAt !== null).map(({ id }) => id);
    expect(frozen.sort()).toEqual([couple.id, planner.id].sort());
    // It still sees what others write.
    const other = await join('instructor', instructor.cookie);
    other.write({ register: 'title', value: 'First dance' });
    await one.sees(({ title }) => title === 'First dance');
    const reason = new Promise<string>((resolve) => {
      one.provider.once('connection-close', (event) => resolve(event?.reason ?? ''));
    });
    one.write({ register: 'venue', value: 'Mill' });
    expect(await one.closed).toBe(closings.noRight.code);
    expect(await reason).toBe(FROZEN);
    expect(other.read().venue).toBe('Barn');
    for (const answer of [
      await make(couple.cookie, 'couple', 'dj'),
      await ask(couple.cookie, 'couple', `/${planner.id}`, { method: 'DELETE' }),
      await askAt(house, `/api/boards/${board}/audio?as=couple`, {
        ...{ method: 'POST', cookie: couple.cookie, body: 'no song' },
      }),
    ])
      expect([answer.status, (await answer.json()).sentence]).toEqual([403, FROZEN]);
    expect((await ask(couple.cookie, 'couple')).status).toBe(200);
    expect((await freeze(instructor.cookie, 'instructor', couple.id, false)).status).toBe(200);
    const again = await join('couple', couple.cookie);
    again.write({ register: 'venue', value: 'Hall' });
    await again.saved();
    for (const guestHere of [one, other, again]) guestHere.leave();
  });

  test('is the instructor’s doing alone, and not done to oneself', async () => {
    const instructor = await invite(house, board, 'instructor');
    const second = await inviteWith(instructor.cookie, 'instructor', 'instructor');
    const couple = await invite(house, board, 'couple');
    expect((await freeze(couple.cookie, 'couple', couple.id, true)).status).toBe(403);
    expect((await freeze(second.cookie, 'instructor', second.id, true)).status).toBe(403);
    expect((await freeze(second.cookie, 'instructor', instructor.id, true)).status).toBe(403);
    expect((await freeze(second.cookie, 'instructor', 'nobody', true)).status).toBe(404);
    expect((await freeze(instructor.cookie, 'instructor', second.id, true)).status).toBe(200);
    // Whoever was stopped frees neither themselves nor anybody, and removes nothing.
    expect((await freeze(second.cookie, 'instructor', couple.id, true)).status).toBe(403);
    const removed = await askAt(house, `/api/boards/${board}?as=instructor`, {
      ...{ method: 'DELETE', cookie: second.cookie },
    });
    expect(removed.status).toBe(403);
    const json = { link: couple.id, since: '2031-01-01T00:00:00.000Z' };
    const history = await askAt(house, `/api/boards/${board}/history/take-back?as=instructor`, {
      ...{ method: 'POST', cookie: second.cookie, json },
    });
    expect([history.status, (await history.json()).sentence]).toEqual([403, FROZEN]);
  });
});
