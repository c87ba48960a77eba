import { readFile } from 'node:fs/promises';
import { type Browser, expect, type Locator, type Page, type WebSocketRoute } from '@playwright/test';
import { closings } from '../../lib/protocol/close.ts';
import { guest } from '../server/guest.ts';
import { PARTY } from './days.ts';
import { AGAIN, enterStudio, type House, isAtRest, test, toSheet } from './house.ts';
import { isSound } from './sound.ts';

test.use({ changes: 'offline' });

const status = (page: Page): Locator => page.getByRole('banner').getByRole('status');
const boardIn = (page: Page): string => new URL(page.url()).pathname.split('/')[2]!;
const at = (house: House, page: Page, screen: string, who: string): string =>
  `${house.address}/board/${boardIn(page)}/${screen}?as=${who}`;

/** Writes the word of the row whose word is now `old`. */
async function reword(page: Page, old: string, word: string): Promise<void> {
  await page
    .getByRole('button', { name: new RegExp(`: ${old}\\. Change it$`) })
    .first()
    .click();
  await page.getByRole('textbox', { name: /^Word or sound/ }).fill(word);
  await page.keyboard.press('Enter');
}

test('what is written without a network and what others write meanwhile are both kept', async ({
  browser,
  house,
}) => {
  const [theirs, mine] = [await browser.newContext(), await browser.newContext()];
  const sheet = await theirs.newPage();
  await toSheet(sheet, house);
  const lessons = await theirs.newPage();
  await lessons.goto(at(house, sheet, 'lessons', 'couple'));
  const instructor = await mine.newPage();
  await instructor.goto(house.demo.instructor);
  const notes = await mine.newPage();
  await notes.goto(at(house, instructor, 'lessons', 'instructor'));
  for (const page of [sheet, lessons, instructor, notes]) await expect(status(page)).toHaveText('saved');
  await lessons.getByRole('button', { name: 'New lesson' }).click();
  await lessons.getByLabel('Title').fill('Turning in the kitchen');
  await lessons.getByLabel('Title').press('Enter');
  const note = (page: Page) => page.getByRole('textbox', { name: 'Turning in the kitchen' });
  await notes.getByRole('button', { name: /Turning in the kitchen/ }).click();
  await note(notes).waitFor();
  for (const page of [sheet, lessons, instructor, notes]) await expect(status(page)).toHaveText('saved');
  await isAtRest(sheet);
  const words = await sheet.getByRole('button', { name: /Change it$/ }).count();
  expect(words).toBeGreaterThan(1);
  const wordOf = async (i: number) =>
    /: (.*)\. Change it$/.exec(
      (await sheet
        .getByRole('button', { name: /Change it$/ })
        .nth(i)
        .getAttribute('aria-label'))!,
    )![1]!;
  const [first, last] = [await wordOf(0), await wordOf(words - 1)];

  await theirs.setOffline(true);
  for (const page of [sheet, lessons])
    await expect(status(page)).toHaveText('no connection: kept on this device');
  await reword(sheet, first, 'kettledrum');
  await note(lessons).click();
  await lessons.keyboard.type('From the couple: slower by the stove. ');
  await reword(instructor, last, 'tambourine');
  await note(notes).click();
  await notes.keyboard.type('From the instructor: eyes up. ');
  await expect(status(instructor)).toHaveText('saved');
  await expect(status(notes)).toHaveText('saved');
  await expect(instructor.getByText('kettledrum')).toHaveCount(0);
  await expect(status(sheet)).toHaveText('no connection: kept on this device');

  await theirs.setOffline(false);
  for (const page of [sheet, lessons]) await expect(status(page)).toHaveText('saved');
  for (const page of [sheet, instructor])
    for (const word of ['kettledrum', 'tambourine'])
      await expect(page.getByRole('button', { name: new RegExp(`: ${word}\\. Change it$`) })).toBeVisible();
  for (const page of [lessons, notes]) {
    await expect(note(page)).toContainText('From the couple: slower by the stove.');
    await expect(note(page)).toContainText('From the instructor: eyes up.');
  }
  await Promise.all([theirs.close(), mine.close()]);
});

test('a tab whose words were refused takes no other tab’s copy with it: what is written there is kept, sent and seen', async ({
  browser,
  house,
}) => {
  const [theirs, mine] = [await browser.newContext(), await browser.newContext()];
  const [first, other, instructor] = [await theirs.newPage(), await theirs.newPage(), await mine.newPage()];
  const lines: WebSocketRoute[] = [];
  await first.routeWebSocket(/\/sync\/[^/]+\/plan\?/, (line) => {
    line.connectToServer();
    lines.push(line);
  });
  const problems: string[] = [];
  other.on('pageerror', (error) => problems.push(error.message));
  await instructor.goto(house.demo.instructor);
  for (const page of [first, other]) {
    await toSheet(page, house);
    await expect(status(page)).toHaveText('saved');
  }
  const word = (page: Page, text: string) =>
    page.getByRole('button', { name: new RegExp(`: ${text}\\. Change it$`) });
  const change = other.getByRole('button', { name: /Change it$/ }).first();
  const [, old] = /: (.*)\. Change it$/.exec((await change.getAttribute('aria-label'))!)!;
  // The home, to which the link leads, had a line of its own before.
  await lines.at(-1)!.close({ code: closings.invalid.code });
  await expect(first.getByRole('main').getByRole('alert')).toContainText(closings.invalid.sentence);
  await expect(status(first)).toHaveText('saved');

  await reword(other, old!, 'glockenspiel');
  for (const page of [instructor, first]) await expect(word(page, 'glockenspiel')).toBeVisible();
  await theirs.setOffline(true);
  await expect(status(other)).toHaveText('no connection: kept on this device');
  const before = await keptChanges(other);
  await reword(other, 'glockenspiel', 'celesta');
  await expect(word(other, 'celesta')).toBeVisible();
  await expect.poll(() => keptChanges(other)).toBeGreaterThan(before);
  await Promise.all([first.close(), other.close()]);
  await theirs.setOffline(false);
  const again = await theirs.newPage();
  await toSheet(again, house);
  for (const page of [again, instructor]) await expect(word(page, 'celesta')).toBeVisible();
  expect(problems).toEqual([]);
  await Promise.all([theirs.close(), mine.close()]);
});

test('a browser that keeps nothing says so where there is no network, and trips over nothing', async ({
  browser,
  house,
}) => {
  const context = await browser.newContext();
  await context.addInitScript(() => {
    for (const place of ['indexedDB', 'localStorage'])
      Object.defineProperty(window, place, {
        get() {
          throw new DOMException('Not here.', 'SecurityError');
        },
      });
  });
  const page = await context.newPage();
  const problems: string[] = [];
  page.on('pageerror', (error) => problems.push(error.message));
  await toSheet(page, house);
  await expect(status(page)).toHaveText('saved');
  await context.setOffline(true);
  await expect(status(page)).toHaveText('no connection: keep this page open');
  await context.setOffline(false);
  await expect(status(page)).toHaveText('saved');
  expect(problems).toEqual([]);
  await context.close();
});

test('the night card opens without a network once it was kept', async ({ browser, house }) => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await toSheet(page, house);
  await page.goto(at(house, page, 'night', 'couple'));
  await expect(page.getByText('Saved on this device.')).toBeVisible();
  const listed = await page.getByRole('listitem').allInnerTexts();
  expect(listed.length).toBeGreaterThan(2);
  await context.setOffline(true);
  await page.reload();
  await expect.poll(() => page.getByRole('listitem').allInnerTexts()).toEqual(listed);
  await context.close();
});

test('what opens later is there without a network, although only the home was opened', async ({
  browser,
  house,
}) => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(house.demo.couple);
  await expect(status(page)).toHaveText('saved');
  await expect
    .poll(async () => (await keptPages(page)).sort())
    .toEqual(['home', 'night', 'practise', 'sheet']);
  await context.setOffline(true);
  const problems: string[] = [];
  page.on('pageerror', (error) => problems.push(error.message));

  await page.goto(at(house, page, 'sheet', 'couple'));
  const dock = page.getByRole('region', { name: 'The dance', exact: true });
  for (const panel of ['Moves', 'Walk-on', 'Ending', 'Propose a dance', 'Marks']) {
    await dock.getByRole('button', { name: panel, exact: true }).click();
    await expect(dock.getByText('Opening…')).toHaveCount(0);
    const inside = dock.locator('.unfolds').locator('button, input, select');
    await expect(inside.filter({ visible: true }).first()).toBeVisible();
  }
  await dock.getByRole('button', { name: 'Propose a dance', exact: true }).click();
  await dock.getByRole('button', { name: 'Whole dances anew' }).click();
  await expect(dock.getByRole('region').first()).toBeVisible({ timeout: 60_000 });
  await dock.getByRole('button', { name: /^Propose a dance/ }).click();
  await page.locator('[id^="ribbon-"][role=button]').first().click();
  await expect(dock.getByRole('button', { name: 'Let go' })).toBeVisible();
  // The rules are here, and what judges a change.
  await expect(page.locator('[aria-busy=true]')).toHaveCount(0);
  const word = page.getByRole('button', { name: /Change it$/ }).first();
  const [, old] = /: (.*)\. Change it$/.exec((await word.getAttribute('aria-label'))!)!;
  await reword(page, old!, 'vibraslap');
  await expect(page.getByRole('button', { name: /: vibraslap\. Change it$/ })).toBeVisible();

  await page.goto(at(house, page, 'practise', 'couple'));
  await expect(page.getByRole('button', { name: 'Fill the screen' })).toBeVisible();
  await page.goto(at(house, page, 'night', 'couple'));
  await expect(page.getByRole('listitem').first()).toBeVisible();
  expect(problems).toEqual([]);
  await context.close();
});

test('with the network off: what is written lives through reloads, and is stored once it is back', async ({
  browser,
  house,
}) => {
  const [theirs, others] = [await browser.newContext(), await browser.newContext()];
  const page = await theirs.newPage();
  await toSheet(page, house);
  await expect(status(page)).toHaveText('saved');
  await expect
    .poll(async () => (await keptPages(page)).sort())
    .toEqual(['home', 'night', 'practise', 'sheet']);
  const instructor = await others.newPage();
  await instructor.goto(house.demo.instructor);
  await expect(status(instructor)).toHaveText('saved');
  const isWritten = (on: Page, word: string) =>
    expect(on.getByRole('button', { name: new RegExp(`: ${word}\\. Change it$`) })).toBeVisible();

  await theirs.setOffline(true);
  await expect(status(page)).toHaveText('no connection: kept on this device');
  const [, old] = /: (.*)\. Change it$/.exec(
    (await page
      .getByRole('button', { name: /Change it$/ })
      .nth(1)
      .getAttribute('aria-label'))!,
  )!;
  const before = await keptChanges(page);
  await reword(page, old!, 'glockenspiel');
  await isWritten(page, 'glockenspiel');
  await expect.poll(() => keptChanges(page)).toBeGreaterThan(before);
  await page.reload();
  await isWritten(page, 'glockenspiel');
  await expect(status(page)).toHaveText('no connection: kept on this device');

  await test.step('from page to page', async () => {
    await page.getByRole('link', { name: 'Night card', exact: true }).click();
    await expect(page.getByText('No network now')).toBeVisible();
    await page.getByRole('link', { name: 'Back to the board' }).click();
    await isWritten(page, 'glockenspiel');
    await page.getByRole('link', { name: 'Practise', exact: true }).click();
    await expect(page.getByRole('button', { name: 'Fill the screen' })).toBeVisible();
    await page.goto(house.address);
    await expect(page.getByRole('heading', { name: 'No network' })).toBeVisible();
    await page.getByRole('link', { name: 'Sheet', exact: true }).click();
    await isWritten(page, 'glockenspiel');
  });
  await expect(instructor.getByText('glockenspiel')).toHaveCount(0);

  await theirs.setOffline(false);
  await expect(status(page)).toHaveText('saved');
  await isWritten(instructor, 'glockenspiel');
  await Promise.all([theirs.close(), others.close()]);
});

/** An instructor's page that gives out links to the demo board and takes them back. */
async function links(browser: Browser, house: House) {
  await enterStudio(await (await browser.newContext()).newPage(), house);
  const mine = await browser.newContext();
  const instructor = await mine.newPage();
  await instructor.goto(house.demo.instructor);
  const headers = { origin: house.address };
  const address = `${house.address}/api/boards/${boardIn(instructor)}/links`;
  return {
    mine,
    async give(role: string): Promise<{ id: string; url: string }> {
      const data = { role, days: null };
      return (await instructor.request.post(`${address}?as=instructor`, { data, headers, ...AGAIN })).json();
    },
    takeBack: (id: string) =>
      instructor.request.delete(`${address}/${id}?as=instructor`, { headers, ...AGAIN }),
  };
}

/** Which screens of boards the browser keeps. */
const keptPages = (page: Page) =>
  page.evaluate(async () => {
    const names = (await caches.keys()).filter((name) => name.startsWith('larkstep-pages'));
    const requests = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
    return requests.flat().map(({ url }) => new URL(url).pathname.split('/').at(-1));
  });

/** What the browser keeps of boards, by its databases' names. */
const databases = (page: Page) =>
  page.evaluate(async () => (await indexedDB.databases()).map(({ name }) => name).sort());

/** How many changes of plans the browser has written down: what is on the page is there a moment before. */
const keptChanges = (page: Page): Promise<number> =>
  page.evaluate(async () => {
    const done = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    let all = 0;
    for (const { name } of await indexedDB.databases()) {
      if (!name?.endsWith('/plan')) continue;
      const kept = await done(indexedDB.open(name));
      all += await done(kept.transaction('updates').objectStore('updates').count());
      kept.close();
    }
    return all;
  });

test('a link that is taken back takes along what the browser had kept', async ({ browser, house }) => {
  const { mine, give, takeBack } = await links(browser, house);
  const theirs = await browser.newContext();
  const { id, url } = await give('couple');
  const page = await theirs.newPage();
  await page.goto(url);
  // Their home notes what they have seen, to tell what is new.
  const seen = () =>
    page.evaluate(() => Object.keys(localStorage).filter((name) => name.startsWith('larkstep.seen/')));
  await expect.poll(seen).toHaveLength(1);
  await page.goto(at(house, page, 'night', 'couple'));
  await expect(page.getByText('Saved on this device.')).toBeVisible();
  const kept = () =>
    page.evaluate(async () => {
      const names = (await caches.keys()).filter((name) => !name.startsWith('larkstep-files'));
      const requests = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
      return requests.flat().map((request) => request.url);
    });
  await expect.poll(async () => (await kept()).length).toBeGreaterThan(0);
  await expect.poll(() => databases(page)).toContain(`${id}/${boardIn(page)}/lessons`);
  const sheet = await theirs.newPage();
  await sheet.goto(at(house, page, 'sheet', 'couple'));
  const moves = sheet.getByRole('button', { name: 'Moves', exact: true });
  await expect(moves).toBeVisible();
  await takeBack(id);
  await expect(page.getByRole('main').getByRole('alert')).toContainText('Your link was taken back.');
  // What would be written now would be kept nowhere.
  await expect(moves).toHaveCount(0);
  await expect.poll(kept).toEqual([]);
  await expect.poll(seen).toEqual([]);
  await expect.poll(() => databases(page)).toEqual([]);
  // On the night card, too, the words are theirs to keep first.
  await expect(page.getByRole('button', { name: 'Keep a copy of it' })).toBeVisible();
  await theirs.setOffline(true);
  await page.goto(page.url()).catch(() => undefined);
  await expect(page.getByRole('heading', { name: 'No network' })).toBeVisible();
  // It opens by itself once there is one again: here the page that tells of the link.
  await theirs.setOffline(false);
  await expect(page.getByRole('heading', { name: 'No network' })).toHaveCount(0);
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
  await Promise.all([mine.close(), theirs.close()]);
});

test('a link that is taken back while no page is open leaves the words to their writer, and nothing else', async ({
  browser,
  house,
}) => {
  const { mine, give, takeBack } = await links(browser, house);
  const theirs = await browser.newContext();
  const [couples, crews] = [await give('couple'), await give('crew')];
  const page = await theirs.newPage();
  // Another role of the same board, which stays.
  await page.goto(crews.url);
  await expect(status(page)).toHaveText('saved');
  await theirs.setOffline(true);
  await expect(status(page)).toHaveText('no connection: kept on this device');
  const others = await databases(page);
  await theirs.setOffline(false);
  await page.goto(couples.url);
  await page.goto(at(house, page, 'sheet', 'couple'));
  await expect(status(page)).toHaveText('saved');
  await theirs.setOffline(true);
  await expect(status(page)).toHaveText('no connection: kept on this device');
  const [, old] = /: (.*)\. Change it$/.exec(
    (await page
      .getByRole('button', { name: /Change it$/ })
      .first()
      .getAttribute('aria-label'))!,
  )!;
  const before = await keptChanges(page);
  await reword(page, old!, 'tubular bells');
  await expect(page.getByRole('button', { name: /: tubular bells\. Change it$/ })).toBeVisible();
  await expect.poll(() => keptChanges(page)).toBeGreaterThan(before);
  const address = page.url();
  await page.goto('about:blank');
  await takeBack(couples.id);
  await theirs.setOffline(false);
  await page.goto(address);
  await expect(page.getByText('That link was taken back.')).toBeVisible();
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Keep a copy of it' }).click();
  expect(await readFile(await (await download).path(), 'utf8')).toContain('tubular bells');
  await expect.poll(() => databases(page)).toEqual(others);
  await isSound(page, 'the front page after a link was taken back');
  await Promise.all([mine.close(), theirs.close()]);
});

test('a board that is deleted takes along what browsers had kept of it, also while no page of it is open', async ({
  browser,
  house,
}) => {
  const studio = await (await browser.newContext()).newPage();
  await enterStudio(studio, house);
  const headers = { origin: house.address };
  const couple = { one: 'Sunniva', other: 'Tadeo', date: PARTY, venue: 'Old net loft' };
  const made = await studio.request.post(`${house.address}/api/boards`, { data: couple, headers, ...AGAIN });
  const { id } = (await made.json()) as { id: string };
  const address = `${house.address}/api/boards/${id}/links?as=instructor`;
  const data = { role: 'couple', days: null };
  const given = await studio.request.post(address, { data, headers, ...AGAIN });
  const { url } = (await given.json()) as { url: string };
  const theirs = await (await browser.newContext()).newPage();
  await theirs.goto(url);
  const mine = await studio.context().newPage();
  await mine.goto(`${house.address}/board/${id}/sheet?as=instructor`);
  for (const page of [theirs, mine]) await expect(status(page)).toHaveText('saved');
  const sheet = theirs.url();
  await theirs.goto(house.address);
  await mine.close();
  for (const page of [theirs, studio])
    await expect.poll(async () => (await databases(page)).join()).toContain(id);

  await studio.reload();
  await studio.getByRole('button', { name: 'Delete Sunniva & Tadeo' }).click();
  await studio.getByRole('button', { name: 'Delete it for everybody' }).click();
  await expect.poll(async () => (await databases(studio)).join()).not.toContain(id);
  await theirs.goto(sheet);
  await expect(theirs.getByText('That board is no longer there.')).toBeVisible();
  await expect.poll(async () => (await databases(theirs)).join()).not.toContain(id);
  await Promise.all([studio.context().close(), theirs.context().close()]);
});

test('a forged change of the plan by the DJ is refused, and nobody sees a trace', async ({
  browser,
  house,
}) => {
  const [djs, couples] = [await browser.newContext(), await browser.newContext()];
  const dj = await djs.newPage();
  await dj.goto(house.demo.dj);
  const couple = await couples.newPage();
  await toSheet(couple, house);
  await expect(status(couple)).toHaveText('saved');
  const cookie = (await djs.cookies()).map(({ name, value }) => `${name}=${value}`).join('; ');

  const forger = guest(house, { board: boardIn(dj), role: 'dj', cookie }, 'plan');
  await forger.synced();
  forger.write({ register: 'venue', value: 'Forged Barn' });
  expect(forger.read().venue).toBe('Forged Barn');
  expect(await forger.closed).toBe(closings.noRight.code);
  forger.leave();

  // A change that came after it has reached both: had the forged one been sent on, it would be there, too.
  await couple.getByRole('link', { name: 'Run of show', exact: true }).click();
  const venue = couple.getByRole('region', { name: 'The party' }).getByLabel('Venue');
  await venue.fill('Tidemill Loft');
  await venue.blur();
  for (const page of [couple, dj]) await expect(page.getByRole('banner')).toContainText('Tidemill Loft');
  await expect(status(couple)).toHaveText('saved');
  const late = guest(house, { board: boardIn(dj), role: 'dj', cookie }, 'plan');
  await late.synced();
  expect(late.read().venue).toBe('Tidemill Loft');
  late.leave();
  const answer = await couple.request.get(
    `${house.address}/api/boards/${boardIn(couple)}/papers/board.json?as=couple`,
    AGAIN,
  );
  expect(answer.status()).toBe(200);
  expect(await answer.text()).not.toContain('Forged Barn');
  for (const page of [couple, dj]) await expect(page.getByRole('banner')).not.toContainText('Forged Barn');
  await Promise.all([djs.close(), couples.close()]);
});
