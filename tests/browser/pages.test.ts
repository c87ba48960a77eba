import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from '@playwright/test';
import { screensOf } from '../../app/_ui/roles.ts';
import { role } from '../../lib/core/areas/people.ts';
import { AGAIN, endHouse, enterStudio, isAtRest, startHouse, test, toSheet } from './house.ts';
import { isSound, newPage, widthsOf } from './sound.ts';

declare global {
  interface Window {
    /** How often something was scrolled smoothly. */
    smooth: number;
  }
}

// Each has a browser context of its own and leaves the demo as it was: two may go at a time.
test.describe.configure({ mode: 'parallel' });

for (const [turn, who] of role.options.entries())
  test(`each page that the ${who} is led to is sound`, async ({ browser, house }) => {
    const context = await browser.newContext();
    const { page, heard } = await newPage(context);
    await page.goto(house.demo[who]);
    const board = new URL(page.url()).pathname.split('/')[2];
    for (const [place, screen] of screensOf[who].entries()) {
      await page.goto(`${house.address}/board/${board}/${screen}?as=${who}`);
      await page.getByRole('heading', { level: 1 }).waitFor();
      // The night card has no frame, and so no word of this.
      if (screen !== 'night') await isAtRest(page);
      else await expect(page.getByText('Saved on this device.')).toBeVisible();
      // What one role sees on a phone the next one sees at a desk.
      await isSound(page, screen, widthsOf(turn + place));
    }
    expect(heard).toEqual([]);
    await context.close();
  });

test('nothing moves by itself for whoever asks for that', async ({ browser, house }) => {
  const context = await browser.newContext({ reducedMotion: 'reduce' });
  const page = await context.newPage();
  // What a script scrolls smoothly shows in no style.
  await page.addInitScript(() => {
    window.smooth = 0;
    for (const name of ['scrollTo', 'scrollBy', 'scrollIntoView'] as const) {
      const { [name]: own } = Element.prototype;
      Element.prototype[name] = function scroll(this: Element, ...words: unknown[]) {
        if (JSON.stringify(words).includes('smooth')) window.smooth += 1;
        return Reflect.apply(own, this, words);
      };
    }
  });
  const isStill = () =>
    page.evaluate(() => ({
      moving: document
        .getAnimations()
        .map((one) => Number(one.effect?.getComputedTiming().duration))
        .filter((duration) => duration > 1),
      smooth:
        window.smooth +
        [...document.querySelectorAll('*')].filter((one) => getComputedStyle(one).scrollBehavior !== 'auto')
          .length,
    }));
  const still = { moving: [], smooth: 0 };
  await page.goto(house.demo.instructor);
  await isAtRest(page);
  expect(await isStill()).toEqual(still);
  await page.getByRole('button', { name: 'Moves', exact: true }).click();
  await page.getByRole('button', { name: /^Take in hand.*Underarm turn/ }).click();
  await expect(page.getByRole('slider', { name: /^Counts of/ }).first()).toBeVisible();
  expect(await isStill()).toEqual(still);
  for (const name of ['Practise', 'Song', 'Lessons']) {
    // On the tab that leads to questions it says how many wait.
    const tab = page.getByRole('navigation').getByRole('link', { name: new RegExp(`^${name}( \\(|$)`) });
    await tab.click();
    await expect(tab).toHaveAttribute('aria-current', 'page');
    await expect(page.getByRole('main').getByRole('heading').first()).toBeVisible();
    if (name === 'Practise') {
      await page.getByRole('button', { name: 'Play', exact: true }).click();
      await expect(page.getByRole('button', { name: 'Pause', exact: true })).toBeVisible({ timeout: 60_000 });
      await page.getByRole('button', { name: 'a phrase on' }).click();
    }
    expect(await isStill()).toEqual(still);
  }
  await enterStudio(page, house);
  await page.getByRole('button', { name: 'New couple' }).click();
  await expect(page.getByLabel('One of them')).toBeVisible();
  expect(await isStill()).toEqual(still);
  await context.close();
});

test('printed, no page is dark; in the device’s own colours, what is chosen stands out', async ({
  browser,
  house,
}) => {
  const context = await browser.newContext({ colorScheme: 'dark' });
  const page = await context.newPage();
  await toSheet(page, house);
  await isAtRest(page);
  const paper = 'rgb(250, 246, 236)';
  await page.goto(page.url().replace('/sheet?', '/night?'));
  await page.emulateMedia({ media: 'print' });
  await expect(page.getByRole('main')).toHaveCSS('background-color', paper);
  await page.goto(page.url().replace('/night?', '/dj?'));
  await expect(page.locator('.bg-night').first()).toHaveCSS('background-color', paper);
  await page.emulateMedia({ media: null, forcedColors: 'active' });
  await page.goto(page.url().replace('/dj?', '/lessons?'));
  // Of the page as it is drawn by now: an element that was just replaced has no ground any more.
  const chosenStandsOut = () =>
    page.evaluate(() => {
      const [chosen, other] = [
        'label:has([type=radio]:checked)',
        'label:has([type=radio]:not(:checked))',
      ].map((label) => {
        const one = document.querySelector(label);
        return one && getComputedStyle(one).backgroundColor;
      });
      return chosen && other && chosen !== other;
    });
  await expect.poll(chosenStandsOut).toBe(true);
  await context.close();
});

test('what opens on the sheet is sound', async ({ browser, house }) => {
  const context = await browser.newContext();
  const { page, heard } = await newPage(context);
  await page.goto(house.demo.instructor);
  await isAtRest(page);
  const opened = page.getByRole('region', { name: 'The dance' });
  for (const [panel, inside] of [
    ['Moves', opened.getByText('Add from the move library')],
    ['Walk-on', opened.getByLabel('Metres to walk')],
    ['Ending', opened.getByLabel('Closing pose', { exact: true })],
  ] as const) {
    await page.getByRole('button', { name: panel, exact: true }).click();
    await expect(inside).toBeVisible();
    await isSound(page, panel);
    await page.getByRole('button', { name: panel, exact: true }).click();
  }
  expect(heard).toEqual([]);
  await context.close();
});

test('the first run, the door and the studio are sound', async ({ browser }) => {
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-first-'));
  const { house, child } = await startHouse(folder);
  try {
    for (const front of ['set-up', 'door']) {
      const context = await browser.newContext();
      const { page, heard } = await newPage(context);
      await page.goto(house.address);
      await page.getByLabel('Passphrase', { exact: true }).waitFor();
      await isSound(page, front);
      await enterStudio(page, house);
      if (front === 'door') {
        await isSound(page, 'studio');
        for (const words of [/^The Ostrimere Five$/, /^Tarnlight Stair$/]) {
          await expect(page.locator('bdi', { hasText: words })).toBeVisible();
        }
        await page.getByRole('button', { name: 'New couple' }).click();
        await page.getByLabel('One of them').waitFor();
        await isSound(page, 'new couple');
        await page.goto(`${house.address}/moves`);
        await page.getByRole('button', { name: 'New move' }).waitFor();
        await isSound(page, 'the studio’s moves');
        await page.getByRole('link', { name: 'Couples' }).click();
        await page.getByRole('button', { name: /^Delete / }).click();
        const yes = page.getByRole('button', { name: 'Delete it for everybody' });
        await yes.waitFor();
        await isSound(page, 'whether a board is to be deleted', [360]);
        await yes.click();
        await expect(page.getByRole('heading', { name: 'No couples yet.' })).toBeVisible();
        await isSound(page, 'a studio without couples');
      }
      expect(heard).toEqual([]);
      await context.close();
    }
  } finally {
    await endHouse(child);
    await rm(folder, { recursive: true, force: true });
  }
});

test('a passphrase is not sent before the page listens, and stays out of its address', async ({
  browser,
  house,
}) => {
  await enterStudio(await (await browser.newContext()).newPage(), house);
  const page = await (await browser.newContext()).newPage();
  let release = () => {};
  const released = new Promise<void>((resolve) => {
    release = resolve;
  });
  await page.route(/\/_next\/static\/.*\.js/, async (route) => {
    await released;
    await route.continue();
  });
  await page.goto(house.address, { waitUntil: 'commit' });
  const passphrase = page.getByLabel('Passphrase', { exact: true });
  const signIn = page.getByRole('button', { name: 'Sign in' });
  await passphrase.fill(house.passphrase);
  await passphrase.press('Enter');
  await expect(signIn).toBeDisabled();
  expect(page.url()).toBe(`${house.address}/`);
  release();
  await signIn.click();
  await expect(page.getByRole('button', { name: 'New couple' })).toBeVisible();
  await page.context().close();
});

test('an outdated link, and a page that is not there, say so and lead on', async ({ browser, house }) => {
  await enterStudio(await (await browser.newContext()).newPage(), house);
  const context = await browser.newContext();
  const { page, heard } = await newPage(context);
  await page.goto(`${house.address}/join/${'x'.repeat(32)}`);
  await expect(page.getByRole('main').getByRole('alert')).toBeVisible();
  await isSound(page, 'a link of no use');
  expect(heard).toEqual([]);
  const answer = await page.goto(`${house.address}/no/such/page`);
  expect(answer?.status()).toBe(404);
  await expect(page.getByRole('heading', { name: 'This page is not there' })).toBeVisible();
  await isSound(page, 'a page that is not there');
  // The browser itself notes the page's own 404, and nothing else is missing.
  expect(heard.filter((line) => !line.includes('/no/such/page'))).toEqual([]);
  await page.getByRole('link', { name: 'To the front page' }).click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('First dances');
  await context.close();
});

test('a revoked link, while its page is open, says so', async ({ browser, house }) => {
  await enterStudio(await (await browser.newContext()).newPage(), house);
  const instructor = await (await browser.newContext()).newPage();
  await instructor.goto(house.demo.instructor);
  await instructor.getByRole('link', { name: 'Links', exact: true }).click();
  await instructor.getByLabel('A link for', { exact: true }).selectOption('crew');
  await instructor.getByRole('button', { name: 'Make the link' }).click();
  const link = (await instructor.getByText(/^http.*\/join\//).textContent()) ?? '';
  const { page } = await newPage(await browser.newContext());
  await page.goto(link);
  await expect(page.getByRole('banner').getByText('saved', { exact: true })).toBeVisible();
  const address = new URL(page.url());
  const board = address.pathname.split('/')[2];
  const { links } = await (
    await instructor.request.get(`${house.address}/api/boards/${board}/links?as=instructor`, AGAIN)
  ).json();
  const newest = links
    .filter((each: { role: string }) => each.role === 'crew')
    .sort((a: { madeAt: string }, b: { madeAt: string }) => (a.madeAt < b.madeAt ? 1 : -1))[0];
  const gone = await instructor.evaluate(
    async (path) => (await fetch(path, { method: 'DELETE' })).status,
    `/api/boards/${board}/links/${newest.id}?as=instructor`,
  );
  expect(gone).toBeLessThan(300);
  await expect(page.getByText('Your link was taken back.')).toBeVisible();
  await isSound(page, 'a link taken back');
  // Opening it again is refused in the same words as any outdated link.
  await page.goto(link);
  await expect(page.getByRole('main').getByRole('alert')).toBeVisible();
});

test('a page of which a part did not arrive says so, and loads again', async ({ browser, house }) => {
  // A browser that keeps nothing, and so has not brought other pages' programs ahead of time.
  const context = await browser.newContext({ serviceWorkers: 'block' });
  const { page } = await newPage(context);
  await page.goto(house.demo.planner);
  await expect(page.getByRole('banner').getByText('saved', { exact: true })).toBeVisible();
  await context.route('**/_next/static/chunks/**', (route) => route.abort());
  await page.getByRole('link', { name: 'Sheet', exact: true }).click();
  await expect(page.getByRole('heading', { name: 'This page tripped' })).toBeVisible();
  await isSound(page, 'the page that says something broke');
  await context.unroute('**/_next/static/chunks/**');
  await page.getByRole('button', { name: 'Load the page again' }).click();
  await expect(page.getByRole('link', { name: 'Sheet', exact: true })).toHaveAttribute(
    'aria-current',
    'page',
  );
});
