import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';
import { emptyBoard } from '../../lib/core/areas/empty.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import { closings } from '../../lib/protocol/close.ts';
import { guest, until } from './guest.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

const AT = '2031-05-01T10:00:00.000Z';
const roles: Role[] = ['instructor', 'couple', 'dj', 'planner', 'crew'];

let house: House;
let board: string;
let guests: { leave(): void }[];
const cookies = new Map<Role, string>();

beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.end());
beforeEach(async () => {
  guests = [];
  board = await makeBoard(house);
  for (const role of roles) cookies.set(role, (await invite(house, board, role)).cookie);
});
afterEach(() => {
  for (const one of guests) one.leave();
});

async function enter<A extends AreaName>(role: Role, area: A, doc?: Y.Doc) {
  const one = guest(house, { board, role, cookie: cookies.get(role)! }, area, doc);
  guests.push(one);
  await one.synced();
  return one;
}

describe('rights on the wire', () => {
  /** One change that each area accepts. */
  const changes = {
    plan: { register: 'venue', value: 'Barn' },
    lessons: { collection: 'readiness', id: 'm1', fields: { level: 2, at: AT } },
    answer: { register: 'plays', value: 'own copy' },
    show: { register: 'announcedBy', value: 'the MC' },
  } as const;
  const writers: Record<keyof typeof changes, Role[]> = {
    plan: ['instructor', 'couple'],
    lessons: ['instructor', 'couple'],
    answer: ['dj'],
    show: ['instructor', 'planner'],
  };
  const readers: Record<keyof typeof changes, Role[]> = {
    plan: roles,
    lessons: ['instructor', 'couple'],
    answer: roles,
    show: roles,
  };

  for (const area of Object.keys(changes) as (keyof typeof changes)[])
    for (const role of roles) {
      const right = writers[area].includes(role)
        ? 'writes'
        : readers[area].includes(role)
          ? 'only reads'
          : 'has no';
      test(`${role} ${right} ${area}`, async () => {
        if (right === 'has no') {
          const one = guest(house, { board, role, cookie: cookies.get(role)! }, area);
          guests.push(one);
          expect(await one.closed).toBe(closings.noRight.code);
          return;
        }
        const one = await enter(role, area);
        one.write(changes[area] as never);
        if (right === 'writes') await one.acknowledged(2);
        else expect(await one.closed).toBe(closings.noRight.code);
        // Whoever comes now is told what the server has.
        const other = await enter(readers[area][0]!, area);
        const written = JSON.stringify(other.read()) !== JSON.stringify(one.read());
        expect(written).toBe(right === 'only reads');
      });
    }

  test('a reader who has been there before may come again', async () => {
    const couple = await enter('couple', 'plan');
    couple.write({ register: 'venue', value: 'A' });
    couple.write({ register: 'venue', value: 'B' });
    await couple.acknowledged(3);
    const dj = await enter('dj', 'plan');
    expect(dj.read().venue).toBe('B');
    dj.provider.disconnect();
    dj.provider.connect();
    await dj.synced();
    couple.write({ register: 'venue', value: 'C' });
    await dj.sees(({ venue }) => venue === 'C');
  });

  test("nobody without a link, with another board's, or in another role", async () => {
    const stranger = guest(
      house,
      { board, role: 'couple', cookie: 'larkstep=nothing-of-the-kind-at-all' },
      'plan',
    );
    const elsewhere = guest(
      house,
      { board: await makeBoard(house), role: 'dj', cookie: cookies.get('dj')! },
      'plan',
    );
    const posing = guest(house, { board, role: 'instructor', cookie: cookies.get('dj')! }, 'plan');
    guests.push(stranger, elsewhere, posing);
    for (const one of [stranger, elsewhere, posing]) expect(await one.closed).toBe(closings.unknown.code);
  });
});

describe('what the server accepts', () => {
  test('a change that does not fit closes its writer, and nobody sees it', async () => {
    const good = await enter('couple', 'plan');
    const wrong = await enter('instructor', 'plan');
    wrong.write({ register: 'phraseBars', value: 400 });
    expect(await wrong.closed).toBe(closings.invalid.code);
    good.write({ register: 'phraseBars', value: 8 });
    await good.acknowledged(2);
    expect(good.read().phraseBars).toBe(8);
    expect((await enter('dj', 'plan')).read().phraseBars).toBe(8);
  });

  test('a remark is changed by its writer only', async () => {
    const dj = await enter('dj', 'remarks');
    const { id: writer } = (await house.running.services.grants.all(cookies.get('dj')!.split('=')[1]!)).map(
      ({ membership }) => ({ id: membership }),
    )[0]!;
    const fields = { writer, name: 'Kim', role: 'dj', at: AT, about: 'song' } as const;
    dj.write({ collection: 'remarks', id: 'r1', fields });
    await dj.acknowledged(2);
    const planner = await enter('planner', 'remarks');
    expect(planner.read().remarks).toHaveLength(1);
    planner.write({ collection: 'remarks', id: 'r1', fields: { about: 'edit' } });
    expect(await planner.closed).toBe(closings.invalid.code);
    expect((await enter('couple', 'remarks')).read().remarks[0]?.about).toBe('song');
  });

  test('nobody writes under the client id of somebody else', async () => {
    const couple = await enter('couple', 'plan');
    couple.write({ register: 'venue', value: 'A' });
    await couple.acknowledged(2);
    const posing = newArea(areas.plan);
    Y.applyUpdate(posing, Y.encodeStateAsUpdate(couple.doc));
    posing.clientID = couple.doc.clientID;
    const instructor = await enter('instructor', 'plan', posing);
    instructor.write({ register: 'venue', value: 'B' });
    expect(await instructor.closed).toBe(closings.invalid.code);
    expect((await enter('dj', 'plan')).read().venue).toBe('A');
  });
});

describe('together', () => {
  test('an edit reaches the others, and is durable when acknowledged', async () => {
    const [one, other] = [await enter('couple', 'plan'), await enter('instructor', 'plan')];
    one.write({ register: 'venue', value: 'Barn' });
    await other.sees(({ venue }) => venue === 'Barn');
    await one.acknowledged(2);
    await house.restart();
    expect(await house.running.services.boards.read(board, 'dj')).toMatchObject({
      value: { plan: { venue: 'Barn' } },
    });
    await one.synced();
  });

  test('what was acknowledged before a restart is there after it, in order', async () => {
    const one = await enter('couple', 'lessons');
    const written = 120;
    for (let index = 0; index < written; index++)
      one.write({ collection: 'readiness', id: `m${index}`, fields: { level: 1, at: AT } });
    await one.acknowledged(written + 1);
    one.provider.disconnect();
    await house.restart();
    const again = await enter('instructor', 'lessons');
    expect(again.read().readiness).toHaveLength(written);
  });

  test('two who were offline end with one board', async () => {
    const [one, other] = [await enter('couple', 'plan'), await enter('instructor', 'plan')];
    for (const guest of [one, other]) guest.provider.disconnect();
    one.write({ register: 'venue', value: 'Barn' }, { register: 'lessonsLeft', value: 3 });
    other.write({ register: 'title', value: 'First dance' }, { register: 'lessonsLeft', value: 4 });
    one.provider.connect();
    other.provider.connect();
    await Promise.all(
      [one, other].map((guest) =>
        guest.sees(({ venue, title }) => venue === 'Barn' && title === 'First dance'),
      ),
    );
    await Promise.all([one.acknowledged(1), other.acknowledged(1)]);
    expect(one.read()).toEqual(other.read());
  });

  test('what is typed before the first exchange is over arrives with what it builds on', async () => {
    const offline = newArea(areas.plan);
    applyChanges(offline, areas.plan, [{ register: 'title', value: 'Written offline' }]);
    const one = guest(house, { board, role: 'couple', cookie: cookies.get('couple')! }, 'plan', offline);
    guests.push(one);
    await until(
      (look) => one.provider.on('status', look),
      () => one.provider.wsconnected,
    );
    // The server has not answered yet, and does not know what this builds on.
    expect(one.provider.synced).toBe(false);
    one.write({ register: 'title', value: 'Typed at once' });
    const other = await enter('dj', 'plan');
    await other.sees(({ title }) => title === 'Typed at once');
    await one.acknowledged(2);
    expect(one.provider.wsconnected).toBe(true);
  });

  test('an edit of what another has removed meanwhile does no harm to what follows', async () => {
    const [one, other] = [await enter('couple', 'lessons'), await enter('instructor', 'lessons')];
    const entry = { collection: 'readiness', id: 'm1' } as const;
    one.write({ ...entry, fields: { level: 1, at: AT } });
    await other.sees(({ readiness }) => readiness.length === 1);
    one.provider.disconnect();
    one.write({ ...entry, fields: { level: 3 } });
    other.write({ ...entry, fields: null });
    await other.acknowledged(2);
    one.provider.connect();
    await one.sees(({ readiness }) => readiness.length === 0);
    one.write({ collection: 'readiness', id: 'm2', fields: { level: 2, at: AT } });
    await other.sees(({ readiness }) => readiness.length === 1);
    const third = await enter('couple', 'lessons');
    expect(third.read()).toEqual(other.read());
  });

  test('areas of a role that may not read them stay out of what it gets', async () => {
    const read = await house.running.services.boards.read(board, 'dj');
    if (!read.ok) throw new Error(read.problem.sentence);
    expect(read.value).toEqual({ ...emptyBoard(), plan: read.value.plan, lessons: null });
    expect(read.value.plan.couple?.one.name).toBe('Ida');
  });
});

describe('who is here', () => {
  test('a name is stamped with role and membership, whatever the client claims', async () => {
    const [one, other] = [await enter('couple', 'plan'), await enter('dj', 'plan')];
    const seen = new Promise<Record<string, unknown>>((resolve) => {
      other.provider.awareness.on('change', () => {
        const state = other.provider.awareness.getStates().get(one.doc.clientID);
        if (state?.user) resolve(state.user);
      });
    });
    one.provider.awareness.setLocalState({ user: { name: 'Ida', color: '#112233', role: 'instructor' } });
    expect(await seen).toMatchObject({ name: 'Ida', role: 'couple' });
  });

  test('who leaves is gone for the others', async () => {
    const [one, other] = [await enter('couple', 'plan'), await enter('dj', 'plan')];
    const states = () => other.provider.awareness.getStates();
    const changed = (holds: () => boolean) =>
      new Promise<void>((resolve) => {
        const look = () => void (holds() && resolve());
        other.provider.awareness.on('change', look);
        look();
      });
    one.provider.awareness.setLocalState({ user: { name: 'Ida', color: '#112233' } });
    await changed(() => states().has(one.doc.clientID));
    one.provider.ws?.close();
    one.provider.shouldConnect = false;
    await changed(() => !states().has(one.doc.clientID));
  });
});

describe('links', () => {
  test('a revoked link closes what came by it, and keeps it out', async () => {
    const { id, cookie } = await invite(house, board, 'planner');
    const planner = guest(house, { board, role: 'planner', cookie }, 'show');
    guests.push(planner);
    await planner.synced();
    const before = performance.now();
    const revoked = await fetch(`${house.address}/api/boards/${board}/links/${id}?as=instructor`, {
      method: 'DELETE',
      headers: { cookie: cookies.get('instructor')! },
    });
    expect(revoked.status).toBe(200);
    expect(await planner.closed).toBe(closings.revoked.code);
    expect(performance.now() - before).toBeLessThan(1000);
    const again = guest(house, { board, role: 'planner', cookie }, 'show');
    guests.push(again);
    expect(await again.closed).toBe(closings.revoked.code);
  });

  test('a link that ends closes what came by it, and the others stay', async () => {
    const { cookie } = await invite(house, board, 'planner', 1);
    const planner = guest(house, { board, role: 'planner', cookie }, 'show');
    guests.push(planner);
    await planner.synced();
    const couple = await enter('couple', 'plan');
    house.later(86_400_001);
    expect(await planner.closed).toBe(closings.ended.code);
    couple.write({ register: 'venue', value: 'Barn' });
    await couple.acknowledged(2);
  });

  test('a removed board sends everybody away', async () => {
    const one = await enter('couple', 'plan');
    await house.running.services.boards.remove(board);
    expect(await one.closed).toBe(closings.gone.code);
  });
});
