import type { Browser, BrowserContext, Page } from '@playwright/test';

/**
 * How soon a page shows what it is for, whether it stays where it is, and how soon it answers a hand: LCP, CLS and INP as
 * web.dev/articles/vitals defines them. What a phone has: a small screen, fingers, and a slow processor.
 */
export interface Vitals {
  /** ms until the largest of what is first seen is painted. */
  lcp: number;
  /** Share of the screen that jumped, times how far, in the worst five seconds. */
  cls: number;
  /** ms from the slowest press, tap or key to the next frame painted; null where nothing took a frame's time. */
  inp: number | null;
  /** How many presses and keys that was. */
  hands: number;
}

interface Noted {
  lcp: number;
  /** When and how much. */
  shifts: [number, number][];
  hands: number;
  slowest: number;
}
declare global {
  interface Window {
    noticed: Noted;
  }
}

const note = () => {
  const vitals: Noted = { lcp: 0, shifts: [], hands: 0, slowest: 0 };
  window.noticed = vitals;
  const watch = (type: string, told: (entry: PerformanceEntry) => void, more = {}) =>
    new PerformanceObserver((list) => list.getEntries().forEach(told)).observe({
      type,
      buffered: true,
      ...more,
    });
  watch('largest-contentful-paint', ({ startTime }) => {
    vitals.lcp = startTime;
  });
  watch('layout-shift', (entry) => {
    const { startTime, value, hadRecentInput } = entry as PerformanceEntry & {
      value: number;
      hadRecentInput: boolean;
    };
    if (!hadRecentInput) vitals.shifts.push([startTime, value]);
  });
  watch(
    'event',
    (entry) => {
      if ((entry as PerformanceEventTiming & { interactionId: number }).interactionId > 0)
        vitals.slowest = Math.max(vitals.slowest, entry.duration);
    },
    // ms: the least that a browser tells.
    { durationThreshold: 16 },
  );
  for (const kind of ['pointerup', 'keydown'])
    window.addEventListener(kind, () => vitals.hands++, { capture: true });
};

/** Folds that a finger opens, at most so many a page. */
const FOLDS = 4;

/** What somebody does on any page: opens what is folded, writes in the first field, goes on by keys. */
async function touchAll(page: Page): Promise<void> {
  const folds = page.locator('button[aria-expanded=false]:visible');
  for (let i = 0; i < FOLDS && (await folds.count()) > 0; i++) await folds.first().tap();
  const field = page.getByRole('main').getByRole('textbox').and(page.locator(':visible:enabled'));
  if ((await field.count()) > 0) {
    await field.first().tap();
    await page.keyboard.type('larks', { delay: 50 });
    await page.keyboard.press('Escape');
  }
  for (let i = 0; i < 3; i++) await page.keyboard.press('Tab');
}

/** Of a page that is opened for the first time by a browser that has nothing but the links of `joined`. */
export async function vitalsOf(
  browser: Browser,
  joined: BrowserContext,
  address: string,
  slowed: number,
): Promise<Vitals> {
  const context = await browser.newContext({
    viewport: { width: 360, height: 740 },
    deviceScaleFactor: 2,
    isMobile: true,
    hasTouch: true,
    storageState: await joined.storageState(),
    serviceWorkers: 'block',
  });
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: slowed });
  // What runs this file names functions by a helper that a page does not have.
  await page.addInitScript('globalThis.__name = (named) => named');
  await page.addInitScript(note);
  await page.goto(address);
  await page.waitForLoadState('networkidle');
  await page.locator('[aria-busy=true]').waitFor({ state: 'detached' });
  // A hand ends what counts as first seen.
  const { lcp } = await page.evaluate(() => window.noticed);
  await touchAll(page);
  // What the last key does is painted, and told.
  const { shifts, hands, slowest } = await page.evaluate(async () => {
    await new Promise((resolve) => setTimeout(resolve, 1000));
    return window.noticed;
  });
  await context.close();
  return { lcp, cls: worstWindow(shifts), inp: slowest || null, hands };
}

/** Shifts less than a second apart belong together, for five seconds at most. */
function worstWindow(shifts: readonly [number, number][]): number {
  let [worst, sum, began, last] = [0, 0, 0, Number.NEGATIVE_INFINITY];
  for (const [at, value] of shifts) {
    if (at - last >= 1000 || at - began >= 5000) [sum, began] = [0, at];
    sum += value;
    last = at;
    worst = Math.max(worst, sum);
  }
  return worst;
}
