import { readFileSync } from 'node:fs';
import { runInNewContext } from 'node:vm';
import { describe, expect, test } from 'vitest';

const script = readFileSync(new URL('../../../public/sw.js', import.meta.url), 'utf8');
const ORIGIN = 'https://dance.example';
const CARD = `${ORIGIN}/board/b1/night?as=couple`;
const FILE = `${ORIGIN}/_next/static/chunks/a.js`;

const HOME = `${ORIGIN}/`;
const html = (of: string, file = FILE) => `<script src="${new URL(file).pathname}"></script><p>${of}</p>`;

type Kind = { status?: number; redirected?: boolean; type?: string };
/** A browser's answer, some of whose properties no constructor sets. */
function page(body: string, { status = 200, redirected = false, type = 'basic' }: Kind = {}): Response {
  const answer = new Response(body, { status: status === 0 ? 200 : status });
  for (const [name, value] of Object.entries({ status, ok: status >= 200 && status < 300, redirected, type }))
    Object.defineProperty(answer, name, { value });
  return answer;
}

/** The service worker with a browser's caches and a network of our own; `network` null is no network. */
function worker() {
  const stores = new Map<string, Map<string, Response>>();
  const net: { answer: ((address: string) => Response | Promise<Response>) | null; asked: string[] } = {
    answer: (address) => page(address.endsWith('.js') ? 'program' : html('new')),
    asked: [],
  };
  const hrefOf = (request: string | { url: string }) => (typeof request === 'string' ? request : request.url);
  const fetch = async (request: string | { url: string }) => {
    net.asked.push(hrefOf(request));
    if (net.answer === null) throw new TypeError('no network');
    return net.answer(hrefOf(request));
  };
  const store = (name: string) => {
    const kept = stores.get(name) ?? new Map<string, Response>();
    stores.set(name, kept);
    return {
      match: async (request: string | { url: string }) => kept.get(hrefOf(request))?.clone(),
      put: async (request: string, answer: Response) => void kept.set(hrefOf(request), answer),
      add: async (address: string) => void kept.set(address, await fetch(address)),
      delete: async (request: string | { url: string }) => kept.delete(hrefOf(request)),
      keys: async () => [...kept.keys()].map((url) => ({ url })),
    };
  };
  const caches = {
    open: async (name: string) => store(name),
    keys: async () => [...stores.keys()],
    delete: async (name: string) => stores.delete(name),
    match: async (request: string) =>
      [...stores.values()].map((kept) => kept.get(request)?.clone()).find(Boolean),
  };
  const handlers: Record<string, (event: object) => void> = {};
  const self = {
    addEventListener: (name: string, handler: (event: object) => void) => {
      handlers[name] = handler;
    },
    clients: { claim: async () => undefined },
  };
  const timers: (() => void)[] = [];
  runInNewContext(script, {
    self,
    caches,
    crypto,
    fetch,
    URL,
    Headers,
    Response,
    setTimeout: (work: () => void) => timers.push(work),
    location: { origin: ORIGIN },
  });
  const handle = async (name: string, event: object) => {
    let done: Promise<unknown> = Promise.resolve();
    handlers[name]!({
      ...event,
      waitUntil: (work: Promise<unknown>) => {
        done = work;
      },
    });
    await done;
  };
  const say = async (data: object) => {
    const told: unknown[] = [];
    await handle('message', { data, ports: [{ postMessage: (message: unknown) => told.push(message) }] });
    return told[0];
  };
  /** What the worker answers to a request of the page's; undefined where it leaves it to the browser. */
  const ask = (url: string, mode = 'navigate', method = 'GET') => {
    let given: Promise<Response> | undefined;
    handlers.fetch!({
      request: { url, mode, method },
      waitUntil: () => undefined,
      respondWith: (answer: Promise<Response>) => {
        given = answer;
      },
    });
    return given;
  };
  const body = async (url: string, mode?: string) => (await ask(url, mode))?.text();
  const kept = () => [...stores.values()].flatMap((each) => [...each.keys()]);
  return { net, stores, say, ask, body, kept, timers, activate: () => handle('activate', {}) };
}
const pages = ['/board/b1/night?as=couple', '/board/b1/practise?as=couple'];
const keep = { keep: { pages, files: [FILE], membership: 'm1' } };
const BOTH = pages.map((path) => ORIGIN + path);

describe('what is kept for where there is no network', () => {
  test('pages and their program, and it is said which', async () => {
    const { net, say, body, kept } = worker();
    expect(await say(keep)).toEqual({ kept: pages });
    expect(kept().sort()).toEqual([FILE, ...BOTH].sort());
    net.answer = null;
    expect(await body(CARD)).toContain('new');
    expect(await body(FILE, 'no-cors')).toBe('program');
    expect(await say(keep)).toEqual({ kept: pages });
  });
  test('with a network, a page is the newest', async () => {
    const { net, say, body } = worker();
    await say(keep);
    net.answer = () => page(html('newer'));
    expect(await body(CARD)).toContain('newer');
  });
  test('what is kept already is not fetched again', async () => {
    const { net, say } = worker();
    await say(keep);
    net.asked.length = 0;
    await say(keep);
    expect(net.asked).toEqual([]);
  });
  test('a network that takes too long gives way to what is kept', async () => {
    const { net, say, ask, timers } = worker();
    await say(keep);
    net.answer = () => new Promise(() => undefined);
    const answer = ask(CARD);
    while (timers.length === 0) await Promise.resolve();
    timers[0]!();
    expect(await (await answer)?.text()).toContain('new');
  });
  test.each([
    ['a link', `${ORIGIN}/join/secret`],
    ['the API', `${ORIGIN}/api/boards/b1/links?as=couple`],
    ['a calendar', `${ORIGIN}/calendar/secret.ics`],
    ['audio', `${ORIGIN}/api/boards/b1/audio/${'a'.repeat(64)}`],
    ['the page of links', `${ORIGIN}/board/b1/links?as=couple`],
    ['another site', 'https://other.example/board/b1/night'],
  ])('never %s: it is neither answered nor kept', async (_what, url) => {
    const { say, ask, kept } = worker();
    expect(ask(url)).toBeUndefined();
    expect(ask(url, 'cors')).toBeUndefined();
    await say({ keep: { pages: [url], files: [url], membership: 'm1' } });
    expect(kept()).toEqual([]);
  });
  test('a request of the page itself is left to the browser, and so is one that changes something', () => {
    const { ask } = worker();
    expect(ask(CARD, 'cors')).toBeUndefined();
    expect(ask(CARD, 'navigate', 'POST')).toBeUndefined();
  });
  test('the front page is never kept: it names couples; without a network it says what opens', async () => {
    const { net, say, body, kept } = worker();
    await say(keep);
    await body(HOME);
    expect(kept()).not.toContain(HOME);
    net.answer = null;
    const told = await body(HOME);
    expect(told).toContain('No network');
    for (const path of pages) expect(told).toContain(`href="${path}"`);
  });
});

describe('what is taken away', () => {
  test.each<[string, Kind]>([
    ['led away', { type: 'opaqueredirect', status: 0 }],
    ['refused', { status: 403 }],
    ['gone', { status: 410 }],
  ])('whoever is %s at the next visit has neither pages nor music of the board', async (_what, how) => {
    const { net, stores, say, ask, kept } = worker();
    await say(keep);
    stores.set('music m1/b1', new Map([['a render', page('')]]));
    stores.set('music m2/b1', new Map([['another person’s', page('')]]));
    net.answer = () => page('', how);
    await ask(CARD);
    expect(kept().sort()).toEqual([FILE, 'another person’s'].sort());
  });
  test('a right that ended while a page was open: told, it forgets that board as that role', async () => {
    const { say, kept } = worker();
    await say(keep);
    const other = '/board/b2/night?as=couple';
    await say({ keep: { ...keep.keep, pages: [other] } });
    await say({ forget: { board: 'b1', role: 'couple' } });
    expect(kept().sort()).toEqual([FILE, ORIGIN + other].sort());
  });
  test('another membership of the same role has the page anew', async () => {
    const { net, say, body } = worker();
    await say(keep);
    net.answer = () => page(html('of the second link'));
    await say({ keep: { ...keep.keep, membership: 'm2' } });
    net.answer = null;
    expect(await body(CARD)).toContain('of the second link');
  });
  test('a page that only leads to the front page is not kept', async () => {
    const { net, say, kept } = worker();
    net.answer = (address) => page(html('front'), address === FILE ? {} : { redirected: true });
    expect(await say(keep)).toEqual({ kept: [] });
    expect(kept()).toEqual([FILE]);
  });
  test('a server in trouble takes nothing away, and what is kept is shown', async () => {
    const { net, say, body, kept } = worker();
    await say(keep);
    net.answer = () => page('', { status: 503 });
    expect(await body(CARD)).toContain('new');
    expect(kept()).toContain(CARD);
  });
});

describe('a newer program', () => {
  const NEWER = `${ORIGIN}/_next/static/chunks/b.js`;
  test('a page of it is not kept by a page of the older one, whose files do not fit', async () => {
    const { net, say, body } = worker();
    await say(keep);
    net.answer = () => page(html('newer', NEWER));
    expect(await say({ keep: { ...keep.keep, membership: 'm2' } })).toEqual({ kept: pages });
    net.answer = null;
    expect(await body(CARD)).toContain('new');
    expect(await body(CARD)).not.toContain('newer');
  });
  test('its own page keeps it, and what only the older one used goes', async () => {
    const { net, say, body, kept } = worker();
    await say(keep);
    net.answer = () => page(html('newer', NEWER));
    expect(await say({ keep: { ...keep.keep, files: [NEWER] } })).toEqual({ kept: pages });
    expect(kept().sort()).toEqual([NEWER, ...BOTH].sort());
    net.answer = null;
    expect(await body(CARD)).toContain('newer');
  });
  test('older files stay while another page still is of that program', async () => {
    const { net, say, kept } = worker();
    await say(keep);
    net.answer = () => page(html('newer', NEWER));
    await say({ keep: { ...keep.keep, pages: [pages[0]], files: [NEWER] } });
    expect(kept()).toContain(FILE);
  });
  test('a newer worker drops what an older one kept in its own way, and nothing else', async () => {
    const { stores, activate } = worker();
    for (const name of ['larkstep-pages-1', 'larkstep-files-1', 'music m1/b1']) stores.set(name, new Map());
    await activate();
    expect([...stores.keys()]).toEqual(['music m1/b1']);
  });
});
