import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, type BrowserContext, type CDPSession, chromium, type Page } from '@playwright/test';
import { screensOf } from '../../app/_ui/roles.ts';
import { instructorGrant } from '../../lib/access/session.ts';
import { type Role, role as roles } from '../../lib/core/areas/people.ts';
import { serve } from '../../server/serve.ts';
import { firstScripts } from '../browser/firstScripts.ts';
import { endHouse, enterStudio, startHouse } from '../browser/house.ts';
import { wavFile } from '../kit/files.ts';
import { plainForm, synth } from '../kit/synth.ts';
import config from '../playwright.config.ts';
import { longBoard } from './boards.ts';
import { vitalsOf } from './vitals.ts';

/**
 * `npm run bench:screens`, after a build: how quick the screens are over a recording of six minutes with sixty moves, in
 * Chromium, most of it with the processor slowed four times. Each figure stands beside its bar; `-- vitals scripts` measures these
 * parts alone. On a busy machine they say little: the idle page's own frames stand beside those of the drag, taken in the same run.
 */
const SLOWED = 4;
const ROUNDS = 40;
/** ms: two frames at 60 a second, as a page is told of them, to .1 ms. */
const TWO_FRAMES = 33.5;
/** ms over which frames are counted: one that comes late is no rate, and a page with nothing in hand has such, too. */
const WINDOW = 250;

interface Figure {
  what: string;
  value: string;
  bar: string;
  holds: boolean | null;
}

/** Lays a long board into a folder, and gives the paths of the links to it. */
async function keepLongBoard(folder: string): Promise<Record<Role, string>> {
  const quiet = { info: () => undefined, error: () => undefined };
  const pages = { handle: async () => undefined, stop: async () => undefined };
  const options = { folder, host: '127.0.0.1', port: 0, origin: null, dev: false, log: quiet };
  const started = await serve({ ...options, openPages: async () => pages });
  if (!started.ok) throw new Error(started.problem.sentence);
  const { services, stop } = started.value;
  const board = await services.boards.makeFrom(longBoard(1));
  if (!board.ok) throw new Error(board.problem.sentence);
  const paths: Partial<Record<Role, string>> = {};
  for (const role of roles.options) {
    const link = await services.links.make(instructorGrant(board.value), role, 1);
    if (!link.ok) throw new Error(link.problem.sentence);
    paths[role] = `/join/${link.value.token}`;
  }
  await stop();
  return paths as Record<Role, string>;
}

const ribbon = '[id^="ribbon-"][role=button]';
const isDrawn = (page: Page) => page.locator(ribbon).first().waitFor();

async function slow(page: Page): Promise<CDPSession> {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWED });
  return session;
}

/** Notes long tasks, and when the first move was painted, ms from the beginning of the navigation. */
const watch = () => {
  const noted = { tasks: [] as [number, number][], painted: 0 };
  Object.assign(window, { noted });
  new PerformanceObserver((list) => {
    for (const { startTime, duration } of list.getEntries()) noted.tasks.push([startTime, duration]);
  }).observe({ type: 'longtask', buffered: true });
  new MutationObserver((_, observer) => {
    if (!document.querySelector('[id^="ribbon-"][role]')) return;
    observer.disconnect();
    requestAnimationFrame(() =>
      setTimeout(() => {
        noted.painted = performance.now();
        console.debug('painted');
      }),
    );
  }).observe(document, { childList: true, subtree: true });
};
declare global {
  interface Window {
    noted: { tasks: [number, number][]; painted: number };
    frameTimes: number[];
    latest: number;
  }
}

/** A browser of somebody who has the link and nothing else: no cache, no copy on the device. */
async function newPerson(browser: Browser, joined: BrowserContext): Promise<Page> {
  const context = await browser.newContext({
    viewport: { width: 1440, height: 900 },
    storageState: await joined.storageState(),
    serviceWorkers: 'block',
  });
  const page = await context.newPage();
  // What runs this file names functions by a helper that a page does not have.
  await page.addInitScript('globalThis.__name = (named) => named');
  return page;
}

async function firstLoad(browser: Browser, joined: BrowserContext, address: string): Promise<Figure[]> {
  const page = await newPerson(browser, joined);
  await slow(page);
  await page.addInitScript(watch);
  // Told by the page: whoever looks for a thing on it keeps it from its own work.
  const painting = page.waitForEvent('console', (message) => message.text() === 'painted');
  await page.goto(address);
  await painting;
  // What follows the first painting and keeps the page from answering belongs to it.
  const { painted, until } = await page.evaluate(async () => {
    await new Promise((resolve) => setTimeout(resolve, 1000));
    const { painted, tasks } = window.noted;
    const held = tasks
      .filter(([start]) => start < painted + 500)
      .map(([start, duration]) => start + duration);
    return { painted, until: Math.max(painted, ...held) };
  });
  await page.waitForLoadState('networkidle');
  const scripts = await page.evaluate(() =>
    performance
      .getEntriesByType('resource')
      .filter((entry): entry is PerformanceResourceTiming => entry instanceof PerformanceResourceTiming)
      .filter(({ initiatorType, name }) => /\.js$/.test(name) && initiatorType !== 'fetch')
      .map(({ startTime, transferSize }) => ({ startTime, transferSize })),
  );
  await page.context().close();
  const bytes = (of: typeof scripts) => of.reduce((sum, { transferSize }) => sum + transferSize, 0);
  const first = bytes(scripts.filter(({ startTime }) => startTime < painted));
  return [
    figure('first move painted', `${ms(painted)}`, '', null),
    figure('sheet interactive, cold cache, warm server', ms(until), 'under 3000 ms', until < 3000),
    figure('scripts until the first move is painted, compressed', kb(first), 'under 300 KB', first < 300_000),
    figure('scripts with the checks and what else follows', kb(bytes(scripts)), '', null),
  ];
}

/** ms between the frames while something is done. */
async function framesDuring(page: Page, work: () => Promise<void>): Promise<number[]> {
  await page.evaluate(() => {
    window.frameTimes = [];
    const mine = window.frameTimes;
    const note = (now: number) => {
      if (window.frameTimes !== mine) return;
      mine.push(now);
      requestAnimationFrame(note);
    };
    requestAnimationFrame(note);
  });
  await work();
  const at = await page.evaluate(() => window.frameTimes);
  return at.slice(1).map((time, i) => time - at[i]!);
}

async function dragging(browser: Browser, joined: BrowserContext, address: string): Promise<Figure[]> {
  const page = await newPerson(browser, joined);
  await page.addInitScript(watch);
  await page.goto(address);
  await isDrawn(page);
  const move = page.locator(ribbon).nth(3);
  await move.scrollIntoViewIfNeeded();
  const box = (await move.boundingBox())!;
  await slow(page);
  const from = { x: box.x + 10, y: box.y + box.height / 2 };
  const way = async (pressed: boolean) => {
    await page.mouse.move(from.x, from.y);
    if (pressed) await page.mouse.down();
    for (let i = 0; i < 150; i++) {
      await page.mouse.move(from.x + 300 * Math.sin(i / 12), from.y + 90 * Math.sin(i / 31));
    }
  };
  // The same way with nothing in hand: what the machine itself can do just now.
  const idle = await framesDuring(page, () => way(false));
  const held = await framesDuring(page, () => way(true));
  // Let go: the move is drawn where it lies now, then the checks say of it what they have to say.
  const drop = await longTasks(page, async () => {
    await page.mouse.up();
    await page.locator('[aria-busy=true]').waitFor({ state: 'detached' });
  });
  await page.context().close();
  return [
    figure('frames while the pointer moves, nothing in hand', frames(idle), '', null),
    figure('frames while a move is dragged', frames(held), '', null),
    figure(
      `slowest ${WINDOW} ms of the drag, frames a second`,
      `${Math.round(slowest(held))}, with nothing in hand ${Math.round(slowest(idle))}`,
      'never below 30',
      slowest(held) >= 30,
    ),
    figure('longest task when it is let go', ms(drop), '', null),
  ];
}

async function longTasks(page: Page, work: () => Promise<void>): Promise<number> {
  await page.evaluate(() => {
    window.noted.tasks = [];
  });
  await work();
  return page.evaluate(async () => {
    await new Promise((resolve) => setTimeout(resolve, 600));
    return Math.max(0, ...window.noted.tasks.map(([, duration]) => duration));
  });
}

async function typing(browser: Browser, joined: BrowserContext, address: string): Promise<Figure[]> {
  const page = await newPerson(browser, joined);
  await page.addInitScript(watch);
  await page.goto(address);
  await isDrawn(page);
  await slow(page);
  await page
    .getByRole('button', { name: /^No word at/ })
    .nth(2)
    .click();
  const word = await longTasks(page, async () => {
    await page.keyboard.type('lanterns over the water', { delay: 40 });
    await page.keyboard.press('Enter');
  });
  const keys = await longTasks(page, async () => {
    await page.locator(ribbon).nth(3).focus();
    for (let i = 0; i < 12; i++) await page.keyboard.press(i % 2 ? 'ArrowLeft' : 'ArrowRight', { delay: 60 });
  });
  await page.goto(address.replace('/sheet', '/lessons'));
  await page.getByRole('button', { name: 'New lesson' }).click();
  await page.locator('.ProseMirror').click();
  const text = await longTasks(page, () =>
    page.keyboard.type('We danced the first half twice. '.repeat(6), { delay: 25 }),
  );
  await page.context().close();
  const none = (longest: number) => (longest === 0 ? 'none over 50 ms' : `${ms(longest)}`);
  return [
    figure('longest task while a cue word is typed and kept', none(word), 'under 100 ms', word < 100),
    figure('longest task while a move is moved by keys', none(keys), 'under 100 ms', keys < 100),
    figure('longest task while a lesson is written', none(text), 'under 100 ms', text < 100),
  ];
}

/** From one person's key to the other's painted screen. Both pages share this machine's clock. */
async function together(browser: Browser, joined: BrowserContext, address: string): Promise<Figure[]> {
  const [one, other] = [await newPerson(browser, joined), await newPerson(browser, joined)];
  for (const page of [one, other]) {
    await page.goto(address);
    await isDrawn(page);
    await page.getByRole('banner').getByText('saved', { exact: true }).waitFor();
  }
  const id = (await one.locator(ribbon).nth(3).getAttribute('id'))!;
  await other.evaluate((of) => {
    window.latest = 0;
    let before = document.getElementById(of)?.ariaLabel;
    new MutationObserver(() => {
      const label = document.getElementById(of)?.ariaLabel;
      if (!label || label === before) return;
      before = label;
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => {
          window.latest = performance.timeOrigin + performance.now();
        };
        port2.postMessage(0);
      });
    }).observe(document, { subtree: true, childList: true, attributes: true });
  }, id);
  await one.evaluate(() => {
    window.latest = 0;
    window.addEventListener('keydown', (event) => {
      window.latest = performance.timeOrigin + event.timeStamp;
    });
  });
  const took: number[] = [];
  for (let i = 0; i < ROUNDS; i++) {
    await other.evaluate(() => {
      window.latest = 0;
    });
    await one.locator(`#${id}`).focus();
    await one.keyboard.press(i % 2 ? 'Shift+ArrowLeft' : 'Shift+ArrowRight');
    await other.waitForFunction(() => window.latest > 0);
    took.push((await other.evaluate(() => window.latest)) - (await one.evaluate(() => window.latest)));
  }
  for (const page of [one, other]) await page.context().close();
  const [median, most] = [quantile(took, 0.5), quantile(took, 0.95)];
  return [
    figure(
      `one's key to the other's painted screen, ${ROUNDS} times`,
      `median ${ms(median)}, 95th percentile ${ms(most)}`,
      'median under 100 ms',
      median < 100,
    ),
  ];
}

/** Scripts that are needed before a page can draw: by a browser that takes Brotli, as all do over https, and by one that does not. */
async function scripts(browser: Browser, joined: BrowserContext, address: string): Promise<Figure[]> {
  const figures: Figure[] = [];
  for (const [role, screen] of pagesOf()) {
    const at = atPage(address, role, screen);
    const bytes = await firstScripts(browser, joined, at);
    const gzip = await firstScripts(browser, joined, at, 'gzip');
    const most = screen === 'home' || screen === 'dj' ? 250_000 : 300_000;
    const what = `first scripts, compressed: ${screen} of the ${role}`;
    figures.push(figure(what, `${kb(bytes)}, by gzip ${kb(gzip)}`, `under ${kb(most)}`, bytes < most));
  }
  return figures;
}

/** web.dev/articles/vitals calls an LCP to 2.5 s, a CLS to .1 and an INP to 200 ms good; ours of CLS is half of that. */
const GOOD = { lcp: 2500, cls: 0.05, inp: 200 } as const;

async function vitals(browser: Browser, joined: BrowserContext, address: string): Promise<Figure[]> {
  const pages = [
    ...pagesOf().map(
      ([role, screen]) => [`${screen} of the ${role}`, atPage(address, role, screen)] as const,
    ),
    ['history', atPage(address, 'instructor', 'history')] as const,
    ...['', 'moves', 'passphrase'].map(
      (path) => [`studio: /${path}`, new URL(`/${path}`, address).href] as const,
    ),
  ];
  const figures: Figure[] = [];
  for (const [name, at] of pages) {
    const { lcp, cls, inp, hands } = await vitalsOf(browser, joined, at, SLOWED);
    const values = `LCP ${ms(lcp)}, CLS ${cls.toFixed(3)}, INP ${inp === null ? 'under 16 ms' : ms(inp)} of ${hands}`;
    const holds = lcp < GOOD.lcp && cls < GOOD.cls && (inp ?? 0) < GOOD.inp;
    figures.push(figure(name, values, `under ${ms(GOOD.lcp)}, ${GOOD.cls}, ${ms(GOOD.inp)}`, holds));
  }
  return figures;
}

/** Each page as whoever works on it sees it. */
const pagesOf = (): [Role, string][] => [
  ...screensOf.instructor
    .filter((screen) => screen !== 'dj' && screen !== 'show')
    .map((screen): [Role, string] => ['instructor', screen]),
  ['couple', 'home'],
  ['couple', 'sheet'],
  ['dj', 'dj'],
  ['planner', 'show'],
];
const atPage = (address: string, role: Role, screen: string): string =>
  address.replace(/\/[a-z]+\?as=[a-z]+/, `/${screen}?as=${role}`);

/** What the page's own thread is held by while a song is listened to, which a worker does. */
async function listening(browser: Browser, joined: BrowserContext, address: string): Promise<Figure[]> {
  const page = await newPerson(browser, joined);
  await page.addInitScript(watch);
  await page.goto(address.replace('/sheet', '/song'));
  const field = page.getByLabel('The song’s file');
  await field.waitFor({ state: 'attached' });
  const sections = Array.from({ length: 5 }, () => plainForm)
    .flat()
    .slice(0, 19);
  const { samples } = synth({ bpm: 140, beats: 4, subdivision: 2, sections, rate: 44_100 });
  const minutes = samples.channels[0]!.length / samples.rate / 60;
  // By its path: to hand over so many bytes would be work of the page's own.
  const { name, buffer } = wavFile('a song.wav', samples);
  await writeFile(join(folder, name), buffer);
  await slow(page);
  const longest = await longTasks(page, async () => {
    await field.setInputFiles(join(folder, name));
    // They stand in a fold that may be closed.
    await page.getByText(/^Listening/).waitFor({ state: 'attached' });
    await page
      .getByText(/^(Listening|Reading the file|Writing down|Taking its imprint)/)
      .waitFor({ state: 'detached', timeout: 300_000 });
  });
  await page.context().close();
  return [
    figure(`longest task while ${minutes.toFixed(1)} minutes are listened to`, `${ms(longest)}`, '', null),
  ];
}

/** What the page's own thread is held by while three dances are looked for, which a worker does: around all moves, and anew. */
async function proposing(browser: Browser, joined: BrowserContext, address: string): Promise<Figure[]> {
  const page = await newPerson(browser, joined);
  await page.addInitScript(watch);
  await page.goto(address);
  await isDrawn(page);
  const panel = page.getByRole('region', { name: 'The dance' });
  await page.getByRole('button', { name: 'Propose a dance', exact: true }).click();
  const anew = panel.getByRole('button', { name: 'Whole dances anew' });
  await anew.waitFor();
  const offers = panel.getByRole('button', { name: /^Dance it like this/ });
  let took = 0;
  const longest = await longTasks(page, async () => {
    const began = performance.now();
    await anew.click();
    await offers.first().waitFor();
    took = performance.now() - began;
  });
  await page.context().close();
  return [
    figure('dances looked for anew, until they can be read', ms(took), 'under 1000 ms', took < 1000),
    figure(
      'longest task of the page meanwhile',
      longest === 0 ? 'none over 50 ms' : ms(longest),
      'under 50 ms',
      longest < 50,
    ),
  ];
}

function figure(what: string, value: string, bar: string, holds: boolean | null): Figure {
  return { what, value, bar, holds };
}
const kb = (size: number): string => `${Math.round(size / 1000)} KB`;
const ms = (time: number): string => `${Math.round(time)} ms`;
function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
}
/** The lowest rate, frames a second, over any WINDOW. */
function slowest(between: readonly number[]): number {
  let lowest = Number.POSITIVE_INFINITY;
  for (let from = 0, to = 0, sum = 0; from < between.length; sum -= between[from++]!) {
    while (sum < WINDOW && to < between.length) sum += between[to++]!;
    if (sum < WINDOW) break;
    lowest = Math.min(lowest, (1000 * (to - from)) / sum);
  }
  return lowest;
}
function frames(between: readonly number[]): string {
  const late = between.filter((time) => time > TWO_FRAMES).length;
  const mean = between.reduce((sum, time) => sum + time, 0) / between.length;
  return `${Math.round(1000 / mean)} a second, worst ${ms(Math.max(...between))}, ${late} of ${between.length} over 33 ms`;
}

const folder = await mkdtemp(join(tmpdir(), 'larkstep-bench-'));
const paths = await keepLongBoard(folder);
const { house, child } = await startHouse(folder);
const browser = await chromium.launch(config.use?.launchOptions);
try {
  const joined = await browser.newContext();
  const page = await joined.newPage();
  await enterStudio(page, house);
  for (const path of Object.values(paths)) await page.goto(house.address + path);
  await page.goto(house.address + paths.instructor);
  await isDrawn(page);
  const address = page.url();
  await page.close();
  const parts = {
    ...{ load: firstLoad, scripts, vitals, drag: dragging, type: typing, together, listen: listening },
    propose: proposing,
  };
  const wanted = process.argv.slice(2);
  for (const [name, measure] of Object.entries(parts)) {
    if (wanted.length > 0 && !wanted.includes(name)) continue;
    for (const { what, value, bar, holds } of await measure(browser, joined, address)) {
      const verdict = holds === null ? '' : `  (${bar}: ${holds ? 'holds' : 'FALLS SHORT'})`;
      process.stdout.write(`${what.padEnd(58)} ${value}${verdict}\n`);
    }
  }
} finally {
  await browser.close();
  await endHouse(child);
  await rm(folder, { recursive: true, force: true });
}
