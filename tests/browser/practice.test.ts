import { expect, type Page } from '@playwright/test';
import { CLICK_EVERY, CLICK_FIRST, TAPS } from '../../app/_practice/delay.ts';
import { type House, test } from './house.ts';

declare global {
  interface Window {
    /** Every sound that the page has made, and what the lock screen's buttons do. */
    sounds: HTMLAudioElement[];
    buttons: Partial<Record<MediaSessionAction, MediaSessionActionHandler>>;
  }
}

const boardIn = (page: Page): string => new URL(page.url()).pathname.split('/')[2]!;
const KEPT = 'Kept on this device: this page opens and plays without a network.';

/** The couple's page of practice, with what it plays in the test's reach. */
async function practise(page: Page, house: House): Promise<void> {
  await page.addInitScript(() => {
    window.sounds = [];
    window.buttons = {};
    const { Audio } = window;
    window.Audio = new Proxy(Audio, {
      construct(target, words) {
        const element = Reflect.construct(target, words) as HTMLAudioElement;
        window.sounds.push(element);
        return element;
      },
    });
    const { mediaSession } = navigator;
    const set = mediaSession.setActionHandler.bind(mediaSession);
    mediaSession.setActionHandler = (action, handler) => {
      window.buttons[action] = handler ?? undefined;
      set(action, handler);
    };
  });
  await page.goto(house.demo.couple);
  await page.goto(`${house.address}/board/${boardIn(page)}/practise?as=couple`);
}

const bar = (page: Page) => page.getByRole('region', { name: 'Music', exact: true });
/** Seconds that the bar at the foot says. */
async function clockOf(page: Page): Promise<number> {
  const words = (
    (await bar(page).locator('p', { hasText: 'Time in the music:' }).textContent()) ?? ''
  ).trim();
  const [, sign, minutes, seconds] = /(-?)(\d+):([\d.]+)$/.exec(words) ?? [];
  return (sign === '-' ? -1 : 1) * (Number(minutes) * 60 + Number(seconds));
}
const secondsIn = (words: string): number => {
  const [, minutes, seconds] = /(\d+):([\d.]+)/.exec(words)!;
  return Number(minutes) * 60 + Number(seconds);
};

/**
 * By Tab through the whole page, as it is on a window of 1440 x 800 at 200 %: nothing that has the focus lies under the bar at the
 * foot (WCAG 2.2, 2.4.11), and each shows that it has it.
 */
async function isClearOfTheBar(page: Page): Promise<void> {
  await page.setViewportSize({ width: 720, height: 400 });
  const stops = page.locator('main').locator('button, select, input');
  await stops.first().focus();
  for (let i = await stops.count(); i > 0; i--) {
    const { name, below, outline } = await bar(page).evaluate((foot) => {
      const element = document.activeElement!;
      return {
        name: element.textContent,
        below:
          !foot.contains(element) &&
          element.getBoundingClientRect().bottom > foot.getBoundingClientRect().top,
        outline: getComputedStyle(element).outlineStyle,
      };
    });
    expect.soft(below, `${name} lies under the bar`).toBe(false);
    if (i < (await stops.count())) expect.soft(outline, `${name} shows the focus`).not.toBe('none');
    await page.keyboard.press('Tab');
  }
}

test('visited once, practice opens, plays and goes round a stretch without a network', async ({
  browser,
  house,
}) => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await practise(page, house);
  await expect(page.getByText('Press play', { exact: true })).toBeVisible();
  await expect(page.getByText(KEPT)).toBeVisible({ timeout: 60_000 });

  await context.setOffline(true);
  await page.reload();
  await expect(page.getByRole('banner').getByText('no connection: kept on this device')).toBeVisible();
  await expect(page.getByText(KEPT)).toBeVisible();
  await bar(page).getByRole('button', { name: 'Play', exact: true }).click();
  await expect.poll(() => clockOf(page)).toBeGreaterThan(0.5);

  const [from, through] = [page.getByLabel('From the start of'), page.getByLabel('Through the end of')];
  const bars = await from.getByRole('option').allInnerTexts();
  const [start, end] = [secondsIn(bars[20]!), secondsIn(bars[21]!)];
  await from.selectOption({ index: 20 });
  await through.selectOption({ index: 20 });
  await expect(page.getByText(/^Again and again: /)).toBeVisible();
  const seen: number[] = [];
  // Twice round: its clock has gone back two times, and has never left the bar for long.
  await expect
    .poll(async () => {
      seen.push(await clockOf(page));
      return seen.filter((at, i) => i > 0 && at < seen[i - 1]! - 0.5).length;
    })
    .toBeGreaterThanOrEqual(2);
  const stretch = seen.slice(seen.findIndex((at) => at >= start - 0.1));
  expect(Math.min(...stretch)).toBeGreaterThanOrEqual(start - 0.1);
  expect(Math.max(...stretch)).toBeLessThanOrEqual(end + 0.3);
  await context.close();
});

test('slower keeps the pitch, and the lock screen names the song and goes by phrases', async ({
  browser,
  house,
}) => {
  const page = await (await browser.newContext()).newPage();
  await practise(page, house);
  await expect(page.getByText(KEPT)).toBeVisible({ timeout: 60_000 });
  for (let i = 0; i < 12; i++) await bar(page).getByRole('button', { name: 'slower' }).click();
  await expect(page.getByRole('status', { name: 'Speed' })).toHaveText('60 % speed');
  await expect
    .poll(() =>
      page.evaluate(() =>
        window.sounds.map(({ playbackRate, preservesPitch }) => ({ playbackRate, preservesPitch })).at(-1),
      ),
    )
    .toEqual({ playbackRate: 0.6, preservesPitch: true });

  expect(await page.evaluate(() => navigator.mediaSession.metadata?.title)).toBe('Tarnlight Stair');
  const press = (name: MediaSessionAction) =>
    page.evaluate((action) => window.buttons[action]!({ action }), name);
  await press('nexttrack');
  const first = await clockOf(page);
  await press('nexttrack');
  const second = await clockOf(page);
  expect(second).toBeGreaterThan(first);
  await press('previoustrack');
  expect(await clockOf(page)).toBe(first);
  await press('play');
  await expect(bar(page).getByRole('button', { name: 'Pause', exact: true })).toBeVisible();
  await press('pause');
  await expect(bar(page).getByRole('button', { name: 'Play', exact: true })).toBeVisible();
  await isClearOfTheBar(page);
  await page.context().close();
});

test('sound that is late is found by tapping along once, kept on this device, and can be forgotten', async ({
  browser,
  house,
}) => {
  const page = await (await browser.newContext()).newPage();
  await practise(page, house);
  await page.getByRole('button', { name: 'Tap along' }).click();
  const tap = page.getByRole('button', { name: 'Tap here with each click' });
  await expect(tap).toBeFocused();
  // Taps a fifth of a second after each click, by the clock of the sound itself.
  const last = await tap.elementHandle();
  await page.evaluate(
    async ({ button, every, first, taps }) => {
      const sound = window.sounds.at(-1)!;
      for (let i = 0; i < taps; i++) {
        const due = first + (i + 1) * every + 0.2;
        while (sound.currentTime < due) await new Promise((resolve) => setTimeout(resolve, 2));
        button!.dispatchEvent(new PointerEvent('pointerdown', { bubbles: true }));
      }
    },
    { button: last, every: CLICK_EVERY, first: CLICK_FIRST, taps: TAPS },
  );
  const told = page.getByText(/^Sound is [\d.]+ s late on this device/);
  await expect(told).toBeVisible();
  const late = Number(/([\d.]+) s/.exec((await told.textContent())!)![1]);
  expect(late).toBeGreaterThanOrEqual(0.17);
  expect(late).toBeLessThanOrEqual(0.27);
  await page.reload();
  await expect(told).toBeVisible();
  await page.getByRole('button', { name: 'Forget it' }).click();
  await expect(told).toHaveCount(0);
  await page.context().close();
});

test('the night card is one screen on a phone, and practice fills one to be read from afar', async ({
  browser,
  house,
}) => {
  const page = await (await browser.newContext()).newPage();
  await page.goto(house.demo.couple);
  const board = boardIn(page);
  for (const [width, height] of [
    [360, 740],
    [390, 844],
  ] as const) {
    await page.setViewportSize({ width, height });
    await page.goto(`${house.address}/board/${board}/night?as=couple`);
    await expect(page.getByText('Saved on this phone.')).toBeVisible();
    const high = await page.evaluate(() => document.documentElement.scrollHeight);
    expect.soft(high, `the night card at ${width} x ${height}`).toBeLessThanOrEqual(height);
    await page.goto(`${house.address}/board/${board}/practise?as=couple`);
    await page.getByRole('button', { name: 'Fill the screen' }).click();
    const dialog = page.getByRole('dialog', { name: 'Follow the music' });
    const { whole, seen } = await dialog.evaluate((one) => ({
      whole: one.scrollHeight,
      seen: one.clientHeight,
    }));
    expect.soft(whole, `practice at ${width} x ${height}`).toBeLessThanOrEqual(seen);
  }
  await page.context().close();
});
