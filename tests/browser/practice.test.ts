import { expect, type Locator, type Page } from '@playwright/test';
import { CLICK_EVERY, CLICK_FIRST, TAPS } from '../../app/_practice/delay.ts';
import { shortName } from '../../lib/core/handover/danced.ts';
import { type House, test, toSheet } from './house.ts';
import { isSeen, tabTo } from './keys.ts';
import { longest, scripts } from './names.ts';
import { practisePhrase } from './practiceStates.ts';
import { join, openStage } from './states.ts';

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
  await toSheet(page, house);
  await page.goto(`${house.address}/board/${boardIn(page)}/practise?as=couple`);
}

const bar = (page: Page) => page.getByRole('region', { name: 'Music', exact: true });
/** Seconds that the bar at the foot says, once it says something else than `before`. */
async function clockAfter(page: Page, before: number): Promise<number> {
  await expect.poll(() => clockOf(page)).not.toBe(before);
  return clockOf(page);
}
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
  await bar(page).getByRole('button', { name: 'more', exact: true }).click();
  await expect(bar(page).getByRole('button', { name: 'less', exact: true })).toBeVisible();
  await expect(bar(page).getByRole('button', { name: 'slower' })).toBeVisible();
  const { height } = (await bar(page).boundingBox())!;
  expect(height / 400, 'of the window’s height, with all its controls').toBeLessThan(0.35);
  const stops = page.locator('main').locator('button, select, input');
  await stops.first().focus();
  const all = await stops.count();
  for (let i = all; i > 0; i--) {
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
    if (i < all) expect.soft(outline, `${name} shows the focus`).not.toBe('none');
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
  await expect(page.getByText(KEPT)).toBeVisible({ timeout: 60_000 });
  await expect(page.getByText('Press play', { exact: true })).toBeVisible();

  await context.setOffline(true);
  await page.reload();
  await expect(page.getByRole('banner').getByText('no connection: kept on this device')).toBeVisible();
  await expect(page.getByText(KEPT)).toBeVisible();
  await bar(page).getByRole('button', { name: 'Play', exact: true }).click();
  await expect.poll(() => clockOf(page)).toBeGreaterThan(0.5);

  const [from, through] = [page.getByLabel('From the start of'), page.getByLabel('Through the end of')];
  const bars = await from.getByRole('option').allInnerTexts();
  const [early, start, end] = [18, 20, 21].map((bar) => secondsIn(bars[bar]!)) as [number, number, number];
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
  // Each round begins two bars before it.
  const stretch = seen.slice(seen.findIndex((at) => at >= early - 0.1));
  expect(Math.min(...stretch)).toBeGreaterThanOrEqual(early - 0.1);
  expect(Math.min(...stretch)).toBeLessThan(start - 1);
  expect(Math.max(...stretch)).toBeLessThanOrEqual(end + 0.3);
  await page.getByRole('checkbox', { name: 'Two bars of run-up, to lead the move in' }).uncheck();
  const bare: number[] = [];
  await expect
    .poll(async () => {
      bare.push(await clockOf(page));
      return bare.filter((at, i) => i > 0 && at < bare[i - 1]! - 0.5).length;
    })
    .toBeGreaterThanOrEqual(2);
  const rounds = bare.slice(bare.findIndex((at, i) => i > 0 && at < bare[i - 1]! - 0.5));
  expect(Math.min(...rounds)).toBeGreaterThanOrEqual(start - 0.1);
  expect(Math.max(...rounds)).toBeLessThanOrEqual(end + 0.3);
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

  await expect
    .poll(() => page.evaluate(() => navigator.mediaSession.metadata?.title))
    .toBe('Tarnlight Stair');
  const press = (name: MediaSessionAction) =>
    page.evaluate((action) => window.buttons[action]!({ action }), name);
  const start = await clockOf(page);
  await press('nexttrack');
  const first = await clockAfter(page, start);
  await press('nexttrack');
  expect(await clockAfter(page, first)).toBeGreaterThan(first);
  await press('previoustrack');
  await expect.poll(() => clockOf(page)).toBe(first);
  await press('play');
  await expect(bar(page).getByRole('button', { name: 'Pause', exact: true })).toBeVisible();
  await press('pause');
  await expect(bar(page).getByRole('button', { name: 'Play', exact: true })).toBeVisible();
  await isClearOfTheBar(page);
  await page.context().close();
});

test('each control of practice is worked by keys alone, and says its name and its state', async ({
  browser,
  house,
}) => {
  const page = await (await browser.newContext({ viewport: { width: 1440, height: 800 } })).newPage();
  await practise(page, house);
  await expect(page.getByText('Press play', { exact: true })).toBeVisible({ timeout: 60_000 });
  const music = bar(page);
  const button = (name: string | RegExp) => music.getByRole('button', { name, exact: true });
  const press = async (control: Locator, key = 'Enter') => {
    await tabTo(page, control);
    await isSeen(page);
    await page.keyboard.press(key);
  };

  await test.step('how fast, the count-in, the calls, the screen', async () => {
    const speed = page.getByRole('status', { name: 'Speed' });
    for (const [name, times, most] of [
      ['slower', 9, '60 % speed'],
      ['faster', 11, '110 % speed'],
    ] as const) {
      for (let i = 0; i < times; i++) await press(button(name));
      await expect(speed).toHaveText(most);
    }
    const silent = page.getByRole('radio', { name: 'not at all' });
    await press(silent, 'ArrowUp');
    await expect(page.getByRole('radio', { name: 'by two notes' })).toBeChecked();
    await expect(button('calls by two notes')).toHaveAttribute('aria-pressed', 'true');
    await press(button('calls by two notes'));
    await expect(silent).toBeChecked();
    await press(page.getByRole('button', { name: 'Fill the screen' }));
    const dialog = page.getByRole('dialog', { name: 'Follow the music' });
    await expect(dialog.getByRole('button', { name: 'Play' })).toBeFocused();
    await page.keyboard.press('Escape');
    await expect(dialog).toHaveCount(0);
    await expect(page.getByRole('button', { name: 'Fill the screen' })).toBeFocused();
  });

  await test.step('a headphone’s delay', async () => {
    await press(page.getByRole('button', { name: 'Tap along' }));
    await page.keyboard.press('Enter');
    await expect(page.getByRole('status').filter({ hasText: '1 of 8 taps' })).toBeVisible();
    await press(page.getByRole('button', { name: 'Stop', exact: true }));
    await expect(page.getByRole('button', { name: 'Tap along' })).toBeFocused();
    const counted = page.getByRole('checkbox', { name: 'Count in one bar, and click the counts' });
    await press(counted, ' ');
    await expect(counted).toBeChecked();
    await press(counted, ' ');
    await expect(counted).not.toBeChecked();
  });

  await test.step('where, and again and again', async () => {
    const start = await clockOf(page);
    await press(button('a phrase on'));
    const first = await clockAfter(page, start);
    await page.keyboard.press('Enter');
    await expect.poll(() => clockOf(page)).toBeGreaterThan(first);
    await press(button('a phrase back'));
    await expect.poll(() => clockOf(page)).toBe(first);
    for (const of of ['this phrase, again', 'this section, again']) {
      await press(button(of));
      await expect(button(/^again: /)).toHaveAttribute('aria-pressed', 'true');
      await expect(button(/^again: /)).toBeFocused();
      await page.keyboard.press('Enter');
      await expect(button('this phrase, again')).toHaveAttribute('aria-pressed', 'false');
    }
    const second = page.getByRole('button', { name: 'phrase 2 of verse 1', exact: true });
    await press(second, ' ');
    await expect(second).toHaveAttribute('aria-pressed', 'true');
    for (const label of ['From the start of', 'Through the end of'])
      await press(page.getByLabel(label), 'ArrowDown');
    await expect(page.getByText(/^Again and again: /)).toBeVisible();
    await expect(second).toHaveAttribute('aria-pressed', 'false');
  });

  await test.step('play, and pause', async () => {
    await expect(button('Play')).toBeEnabled({ timeout: 60_000 });
    await press(button('Play'));
    await expect.poll(() => page.evaluate(() => window.sounds.some((sound) => !sound.paused))).toBe(true);
    await expect(button('Pause')).toBeFocused();
    await page.keyboard.press('Enter');
    await expect(button('Play')).toBeVisible();
    // Where nothing has the focus, Space does the same.
    await page.locator('body').click({ position: { x: 4, y: 300 } });
    await page.keyboard.press(' ');
    await expect(button('Pause')).toBeVisible();
  });
  await page.context().close();
});

test('sound that is late is found by tapping along once, kept on this device, and can be forgotten', async ({
  browser,
  house,
}) => {
  const page = await (await browser.newContext()).newPage();
  await practise(page, house);
  const tap = page.getByRole('button', { name: 'Tap here with each click' });
  const told = page.getByText(/^Sound is 0\.20 s late on this device/);
  const uneven = page.getByText('The taps lay too far apart to tell. Please try once more.');
  /** Taps so many seconds after each click, by turns. The sound's clock is stopped at each: a busy machine would blur them. */
  const tapAlong = async (after: number[]) => {
    await page.getByRole('button', { name: 'Tap along' }).click();
    await expect(tap).toBeFocused();
    await expect.poll(() => page.evaluate(() => window.sounds.at(-1)!.currentTime)).toBeGreaterThan(0);
    await page.evaluate(
      async ({ button, every, first, taps, after }) => {
        const sound = window.sounds.at(-1)!;
        for (let i = 0; i < taps; i++) {
          const due = first + (i + 1) * every + after[i % after.length]!;
          Object.defineProperty(sound, 'currentTime', { configurable: true, get: () => due });
          button!.dispatchEvent(new PointerEvent('pointerdown', { bubbles: true }));
          // The page takes one before the next comes.
          await new Promise((resolve) => requestAnimationFrame(resolve));
        }
      },
      { button: await tap.elementHandle(), every: CLICK_EVERY, first: CLICK_FIRST, taps: TAPS, after },
    );
  };
  await tapAlong([0.05, 0.35]);
  await expect(uneven).toBeVisible();
  await tapAlong([0.2]);
  await expect(told).toBeVisible();
  await page.reload();
  await expect(told).toBeVisible();
  await page.getByRole('button', { name: 'Forget it' }).click();
  await expect(told).toHaveCount(0);
  await page.context().close();
});

test('words as long as they may be, and from the right, fit the screen that is read from afar', async ({
  browser,
  house,
}) => {
  const context = await browser.newContext();
  const page = await context.newPage();
  const stage = await openStage(browser, house);
  for (const words of [longest, scripts.arabic!]) {
    await join(page, stage, await stage.written(words), 'couple', 'practise');
    await practisePhrase(page, new RegExp(`now: ${words.cue}.*${shortName(words.move)}`, 's'));
    await page.getByRole('button', { name: 'Fill the screen' }).click();
    const dialog = page.getByRole('dialog', { name: 'Follow the music' });
    await expect(dialog.getByText(shortName(words.move)).first()).toBeVisible();
    for (const [width, height] of [
      [360, 640],
      [720, 400],
      [1440, 900],
    ] as const) {
      await page.setViewportSize({ width, height });
      await expect
        .poll(() =>
          dialog.evaluate((one) => {
            const outer = one.getBoundingClientRect();
            const boxes = [...one.querySelectorAll('p')].map((each) => each.getBoundingClientRect());
            const low = Math.max(...boxes.map((box) => box.bottom));
            return (
              one.scrollHeight <= one.clientHeight &&
              one.scrollWidth <= one.clientWidth &&
              low <= outer.bottom &&
              boxes.every((box) => box.left >= outer.left && box.right <= outer.right)
            );
          }),
        )
        .toBe(true);
    }
    await page.keyboard.press('Escape');
  }
  await Promise.all([context.close(), stage.instructor.context().close()]);
});

test('the night card is one screen on a phone, and practice fills one to be read from afar', async ({
  browser,
  house,
}) => {
  const page = await (await browser.newContext()).newPage();
  await toSheet(page, house);
  const board = boardIn(page);
  for (const [width, height] of [
    [360, 740],
    [390, 844],
  ] as const) {
    await page.setViewportSize({ width, height });
    await page.goto(`${house.address}/board/${board}/night?as=couple`);
    await expect(page.getByText('Saved on this device.')).toBeVisible();
    const high = await page.evaluate(async () => {
      await document.fonts.ready;
      return document.documentElement.scrollHeight;
    });
    expect.soft(high, `the night card at ${width} x ${height}`).toBeLessThanOrEqual(height);
    await page.goto(`${house.address}/board/${board}/practise?as=couple`);
    await page.getByRole('button', { name: 'Fill the screen' }).click();
    const dialog = page.getByRole('dialog', { name: 'Follow the music' });
    await expect(dialog.getByRole('button', { name: 'Play' })).toBeFocused();
    const higher = () => dialog.evaluate((one) => one.scrollHeight - one.clientHeight);
    await expect
      .configure({ soft: true })
      .poll(higher, `practice at ${width} x ${height}`)
      .toBeLessThanOrEqual(0);
  }
  await page.context().close();
});

test('the sheet follows the music, unless somebody reads elsewhere', async ({ browser, house }) => {
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 620 } })).newPage();
  await toSheet(page, house);
  const line = page.locator('[data-playhead]');
  await page.getByRole('button', { name: 'Hear it from 0:00' }).click();
  await expect(bar(page).getByRole('button', { name: 'Pause' })).toBeVisible({ timeout: 60_000 });
  const on = bar(page).getByRole('button', { name: 'a phrase on' });
  for (let presses = 0; presses < 6; presses++) {
    await on.click();
    await expect(line).toBeInViewport({ ratio: 1 });
  }
  // It has come there: what still glides would go on a little after a jump.
  const hasCome = () =>
    page.evaluate(async () => {
      const before = window.scrollY;
      for (let frame = 0; frame < 20; frame++) await new Promise((resolve) => requestAnimationFrame(resolve));
      return before > 300 && window.scrollY === before;
    });
  await expect.poll(hasCome).toBe(true);
  await page.evaluate(() => window.scrollTo(0, 0));
  await expect(line).not.toBeInViewport();
  await on.click();
  const then = await clockOf(page);
  expect(then).toBeGreaterThan(60);
  // Longer than the page would take to go there.
  await expect.poll(() => clockOf(page)).toBeGreaterThan(then + 1);
  expect(await page.evaluate(() => window.scrollY)).toBe(0);
  await page.context().close();
});
