import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { instructorGrant } from '../../lib/access/session.ts';
import { openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import { Sweeper } from '../../server/services/sweeper.ts';
import { demoLinks, noDemo } from '../../server/start.ts';
import { invite, makeBoard, openHouse } from './house.ts';

const DAY_MS = 86_400_000;

test('at the start and then once a day, by the clock that is given, what is unused goes', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-sweep-'));
  const store = await openEmbeddedStore(folder);
  let now = Date.UTC(2031, 4, 1);
  let files = 0;
  const logged: string[] = [];
  const log = { info: (event: string) => void logged.push(event), error: () => undefined };
  const sweeper = new Sweeper(
    store,
    async () => void files++,
    log,
    () => new Date(now),
  );
  const add = (hash: string) => store.sessions.add(hash, new Date(now).toISOString());
  await add('first');
  await sweeper.look();
  expect([files, await store.sessions.has('first')]).toEqual([1, true]);
  now += DAY_MS - 1;
  await sweeper.look();
  expect(files).toBe(1);
  now += 100 * DAY_MS;
  await add('second');
  await sweeper.look();
  expect([files, logged]).toEqual([2, ['swept']]);
  expect([await store.sessions.has('first'), await store.sessions.has('second')]).toEqual([false, true]);
  sweeper.stop();
  await store.close();
  await rm(folder, { recursive: true });
});

test('what fails is tried again at the next look', async () => {
  let fails = true;
  let swept = 0;
  const store = {
    sweep: async () => {
      if (fails) throw new Error('disk full');
      swept += 1;
      return { calendars: 0, links: 0, sessions: 0 };
    },
  };
  const failed: string[] = [];
  const log = { info: () => undefined, error: (event: string) => void failed.push(event) };
  const sweeper = new Sweeper(
    store,
    async () => undefined,
    log,
    () => new Date(0),
  );
  await sweeper.look();
  fails = false;
  await sweeper.look();
  await sweeper.look();
  sweeper.stop();
  expect([swept, failed]).toEqual([1, ['sweeping failed']]);
});

test('a server that starts again removes links that ended long ago, and who held one is told to open theirs again', async () => {
  const house = await openHouse();
  const board = await makeBoard(house);
  const { cookie } = await invite(house, board, 'dj', 1);
  const code = async () => {
    const response = await fetch(`${house.address}/api/boards/${board}/links?as=dj`, { headers: { cookie } });
    return ((await response.json()) as { code: string }).code;
  };
  house.later(2 * DAY_MS);
  await house.restart();
  expect(await code()).toBe('ended');
  house.later(100 * DAY_MS);
  await house.restart();
  expect(await code()).toBe('not signed in');
  await house.end();
});

test('links printed for the demo are renewed at each start, and those that nobody opened do not pile up', async () => {
  const house = await openHouse();
  const { services } = house.running;
  const board = await makeBoard(house);
  await services.settings.set('demo', board);
  const printed = await demoLinks(services, house.address);
  const opened = await fetch(printed.links.dj!, { headers: { accept: 'text/html' }, redirect: 'manual' });
  expect(opened.headers.get('location')).toBe(`/board/${board}?as=dj`);
  for (let start = 0; start < 3; start++) await demoLinks(services, house.address);
  const last = await demoLinks(services, house.address);
  const links = await services.links.of(instructorGrant(board));
  expect(links.map(({ role }) => role).sort()).toEqual([
    'couple',
    'crew',
    'dj',
    'dj',
    'instructor',
    'planner',
  ]);
  const cookie = opened.headers.get('set-cookie')!.split(';')[0]!;
  const paper = await fetch(`${house.address}/api/boards/${board}/papers/board.json?as=dj`, {
    headers: { cookie },
  });
  expect(paper.status).toBe(200);
  for (const [link, leadsTo] of [
    [printed.links.couple!, '/?why=ended'],
    [last.links.couple!, `/board/${board}?as=couple`],
  ] as const) {
    const response = await fetch(link, { headers: { accept: 'text/html' }, redirect: 'manual' });
    expect(response.headers.get('location')).toBe(leadsTo);
  }
  // Without the demo the last ones that nobody opened go, and none are printed.
  expect(await noDemo(services)).toEqual({ board: null, links: {} });
  const left = await services.links.of(instructorGrant(board));
  expect(left.map(({ role }) => role).sort()).toEqual(['couple', 'dj']);
  await house.end();
});
