import { readFileSync } from 'node:fs';
import { runInNewContext } from 'node:vm';
import { describe, expect, test } from 'vitest';

const script = readFileSync(new URL('../../../public/sw.js', import.meta.url), 'utf8');
const ORIGIN = 'https://dance.example';
const CARD = `${ORIGIN}/board/b1/night?as=couple`;
const FILE = `${ORIGIN}/_next/static/chunks/a.js`;

interface Answer {
  ok: boolean;
  status: number;
  redirected: boolean;
  type: string;
  body: string;
}
const page = (body: string, more: Partial<Answer> = {}): Answer => ({
  ok: true,
  status: 200,
  redirected: false,
  type: 'basic',
  body,
  ...more,
});

/** The service worker with a browser's caches and a network of our own; `network` null is no network. */
function worker() {
  const stores = new Map<string, Map<string, Answer>>();
  const net: { answer: ((address: string) => Answer) | null; asked: string[] } = {
    answer: () => page('new'),
    asked: [],
  };
  const hrefOf = (request: string | URL | { url: string }) =>
    typeof request === 'string' ? request : 'url' in request ? request.url : request.href;
  const fetch = async (request: string | URL | { url: string }) => {
    net.asked.push(hrefOf(request));
    if (net.answer === null) throw new TypeError('no network');
    return net.answer(hrefOf(request));
  };
  const store = (name: string) => {
    const kept = stores.get(name) ?? new Map<string, Answer>();
    stores.set(name, kept);
    return {
      match: async (request: URL | { url: string }) => kept.get(hrefOf(request)),
      put: async (request: URL, answer: Answer) => void kept.set(hrefOf(request), answer),
      add: async (address: string) => void kept.set(address, await fetch(address)),
      delete: async (request: URL | { url: string }) => kept.delete(hrefOf(request)),
      keys: async () => [...kept.keys()].map((url) => ({ url })),
    };
  };
  const caches = {
    open: async (name: string) => store(name),
    match: async (request: { url: string }) =>
      [...stores.values()].map((kept) => kept.get(request.url)).find(Boolean),
  };
  const handlers: Record<string, (event: object) => void> = {};
  const self = {
    addEventListener: (name: string, handler: (event: object) => void) => {
      handlers[name] = handler;
    },
  };
  runInNewContext(script, {
    self,
    caches,
    fetch,
    URL,
    location: { origin: ORIGIN },
    Response: { error: () => page('', { ok: false, status: 0, type: 'error' }) },
  });
  const say = async (data: object) => {
    const told: unknown[] = [];
    let done: Promise<unknown> = Promise.resolve();
    handlers.message!({
      data,
      source: { postMessage: (message: unknown) => told.push(message) },
      waitUntil: (work: Promise<unknown>) => {
        done = work;
      },
    });
    await done;
    return told[0];
  };
  /** What the worker answers to a request of the page's; undefined where it leaves it to the browser. */
  const ask = async (url: string, mode = 'navigate', method = 'GET') => {
    let given: Promise<Answer> | undefined;
    handlers.fetch!({
      request: { url, mode, method },
      respondWith: (answer: Promise<Answer>) => {
        given = answer;
      },
    });
    return given;
  };
  const kept = () => [...stores.values()].flatMap((each) => [...each.keys()]);
  return { net, say, ask, kept };
}
const keep = { keep: { page: '/board/b1/night?as=couple', files: [FILE] } };

describe('what is kept for a night without a network', () => {
  test('the card and its files, and it is said that they are', async () => {
    const { net, say, ask, kept } = worker();
    expect(await say(keep)).toEqual({ kept: true });
    expect(kept().sort()).toEqual([FILE, CARD].sort());
    net.answer = null;
    expect((await ask(CARD))?.body).toBe('new');
    expect((await ask(FILE, 'no-cors'))?.body).toBe('new');
    expect(await say(keep)).toEqual({ kept: true });
  });
  test('with a network, the card is the newest', async () => {
    const { net, say, ask } = worker();
    await say(keep);
    net.answer = () => page('newer');
    expect((await ask(CARD))?.body).toBe('newer');
  });
  test.each([
    ['a link', `${ORIGIN}/join/secret`],
    ['the API', `${ORIGIN}/api/boards/b1/links?as=couple`],
    ['a calendar', `${ORIGIN}/calendar/secret.ics`],
    ['audio', `${ORIGIN}/api/boards/b1/audio/${'a'.repeat(64)}`],
    ['another page of the board', `${ORIGIN}/board/b1/lessons?as=couple`],
    ['another site', 'https://other.example/board/b1/night'],
  ])('never %s: it is neither answered nor kept', async (_what, url) => {
    const { say, ask, kept } = worker();
    expect(await ask(url)).toBeUndefined();
    expect(await ask(url, 'cors')).toBeUndefined();
    await say({ keep: { page: url, files: [url] } });
    expect(kept()).toEqual([]);
  });
  test.each([
    ['led away', page('', { type: 'opaqueredirect', status: 0, ok: false })],
    ['refused', page('', { status: 403, ok: false })],
    ['gone', page('', { status: 410, ok: false })],
  ])('whoever is %s at the next visit has nothing kept', async (_what, answer) => {
    const { net, say, ask, kept } = worker();
    await say(keep);
    net.answer = () => answer;
    await ask(CARD);
    expect(kept()).toEqual([FILE]);
  });
  test('a page that only leads to the front page is not kept', async () => {
    const { net, say, kept } = worker();
    net.answer = () => page('front', { redirected: true });
    expect(await say(keep)).toEqual({ kept: false });
    expect(kept()).toEqual([]);
  });
  test('a server in trouble takes nothing away', async () => {
    const { net, say, ask, kept } = worker();
    await say(keep);
    net.answer = () => page('', { status: 503, ok: false });
    await ask(CARD);
    expect(kept()).toContain(CARD);
  });
  test('a right that ended while the card was open: told, it forgets', async () => {
    const { say, kept } = worker();
    await say(keep);
    await say({ forget: '/board/b1/night?as=couple' });
    expect(kept()).toEqual([FILE]);
  });
  test('files of an older version go when nothing uses them', async () => {
    const { say, kept } = worker();
    await say(keep);
    await say({ keep: { ...keep.keep, files: [`${ORIGIN}/_next/static/chunks/b.js`] } });
    expect(kept()).not.toContain(FILE);
  });
});
