import { type Browser, expect, type Page } from '@playwright/test';
import { type House, isAtRest, test } from './house.ts';
import { isSound } from './sound.ts';

test.use({ changes: 'same-word' });

const status = (page: Page) => page.getByRole('banner').getByRole('status');
const notices = (page: Page) => page.getByRole('region', { name: 'Written at the same time' });
const wordOf = (page: Page, word: string) =>
  page.getByRole('button', { name: new RegExp(`: ${word}\\. Change it$`) });

/** The sheet of the demo’s board, in a browser of its own. */
async function open(browser: Browser, house: House, role: 'instructor' | 'couple'): Promise<Page> {
  const page = await (await browser.newContext()).newPage();
  await page.goto(house.demo[role]);
  await page.goto(page.url().replace(/[a-z]+\?/, 'sheet?'));
  await isAtRest(page);
  return page;
}

/** Writes the word of the row whose word is now `old`. */
async function reword(page: Page, old: string, word: string): Promise<void> {
  await wordOf(page, old).first().click();
  await page.getByRole('textbox', { name: /^Word or sound/ }).fill(word);
  await page.keyboard.press('Enter');
  await expect(wordOf(page, word)).toBeVisible();
}

async function goOffline(page: Page): Promise<void> {
  await page.context().setOffline(true);
  await expect(status(page)).toHaveText('no connection: kept on this device');
}

async function goOnline(...pages: Page[]): Promise<void> {
  for (const page of pages) await page.context().setOffline(false);
  for (const page of pages) await expect(status(page)).toHaveText('saved');
}

test('of two who write one word while apart, the one whose word does not stand sees it, and takes it with one tap', async ({
  browser,
  house,
}) => {
  const pages = [await open(browser, house, 'instructor'), await open(browser, house, 'couple')];
  const [instructor, couple] = pages as [Page, Page];
  const first = instructor.getByRole('button', { name: /Change it$/ }).first();
  const [, old] = /: (.*)\. Change it$/.exec((await first.getAttribute('aria-label'))!)!;

  await test.step('a later word by one who saw the first is told nobody', async () => {
    await reword(instructor, old!, 'kettledrum');
    await expect(wordOf(couple, 'kettledrum')).toBeVisible();
    await reword(couple, 'kettledrum', 'tambourine');
    await expect(wordOf(instructor, 'tambourine')).toBeVisible();
    for (const page of pages) await expect(notices(page).getByRole('button')).toHaveCount(0);
  });

  for (const page of pages) await goOffline(page);
  await reword(instructor, 'tambourine', 'low drums');
  await reword(couple, 'tambourine', 'the cello');
  await goOnline(...pages);
  // Which of the two stands is up to the numbers that the pages gave themselves.
  await expect(notices(instructor)).toContainText('at the same time');
  const [loser, winner, lost, stands] = (await wordOf(instructor, 'low drums').isVisible())
    ? [couple, instructor, 'the cello', 'low drums']
    : [instructor, couple, 'low drums', 'the cello'];
  await expect(notices(loser)).toContainText(
    new RegExp(
      `^You and somebody else wrote the cue word at .* at the same time: “${stands}” stands, yours, “${lost}”, does not\\.`,
    ),
  );
  await expect(wordOf(winner, stands)).toBeVisible();

  await test.step('what is told on one page of a board is told on the next', async () => {
    await loser.getByRole('link', { name: 'Remarks', exact: true }).click();
    await expect(loser.getByRole('link', { name: 'Remarks', exact: true })).toHaveAttribute(
      'aria-current',
      'page',
    );
    await expect(notices(loser).getByRole('button', { name: `Take “${lost}”` })).toBeVisible();
    await loser.getByRole('link', { name: 'Sheet', exact: true }).click();
    await isAtRest(loser);
  });

  await notices(loser)
    .getByRole('button', { name: `Take “${lost}”` })
    .click();
  for (const page of pages) {
    await expect(wordOf(page, lost)).toBeVisible();
    await expect(notices(page).getByRole('button')).toHaveCount(0);
  }
  // One step, as any other.
  await loser.getByRole('banner').getByRole('button', { name: 'Undo', exact: true }).click();
  for (const page of pages) await expect(wordOf(page, stands)).toBeVisible();
  await Promise.all(pages.map((page) => page.context().close()));
});

test('a word that was changed while somebody took it away is brought back with one tap', async ({
  browser,
  house,
}) => {
  const pages = [await open(browser, house, 'instructor'), await open(browser, house, 'couple')];
  const [instructor, couple] = pages as [Page, Page];
  const first = instructor.getByRole('button', { name: /Change it$/ }).first();
  const [, old] = /: (.*)\. Change it$/.exec((await first.getAttribute('aria-label'))!)!;
  await reword(instructor, old!, 'marimba');
  await expect(wordOf(couple, 'marimba')).toBeVisible();
  await goOffline(couple);
  await reword(couple, 'marimba', 'the triangle');
  await wordOf(instructor, 'marimba').click();
  await instructor.getByRole('button', { name: 'take it away' }).click();
  await expect(wordOf(instructor, 'marimba')).toHaveCount(0);
  await goOnline(couple);
  await expect(notices(couple)).toContainText(
    'Somebody took a cue word away while you changed the cue word to “the triangle”.',
  );
  await expect(wordOf(couple, 'the triangle')).toHaveCount(0);
  await notices(couple).getByRole('button', { name: 'Bring it back with “the triangle”' }).click();
  for (const page of pages) {
    await expect(wordOf(page, 'the triangle')).toBeVisible();
    await expect(notices(page).getByRole('button')).toHaveCount(0);
  }
  await Promise.all(pages.map((page) => page.context().close()));
});

test('what was lost waits at the foot, covers nothing that has the focus, and is answered by keys', async ({
  browser,
  house,
}) => {
  const pages = [await open(browser, house, 'instructor'), await open(browser, house, 'couple')];
  const [instructor, couple] = pages as [Page, Page];
  const words = await instructor
    .getByRole('button', { name: /Change it$/ })
    .evaluateAll((buttons) =>
      buttons.map((button) => /: (.*)\. Change it$/.exec(button.getAttribute('aria-label')!)![1]!),
    );
  expect(words.length).toBeGreaterThan(2);
  const long = 'timpani'.repeat(11);
  for (const page of pages) await goOffline(page);
  for (const [i, word] of words.slice(0, 3).entries()) {
    await reword(instructor, word, `${i} ${long}`);
    await reword(couple, word, `${i} ${long}s`);
  }
  await couple.setViewportSize({ width: 360, height: 740 });
  // On a phone rows of nothing but the basic are one line, which opens.
  const folded = couple.getByRole('button', { name: /only the basic, until/, expanded: false });
  await expect(folded.first()).toBeVisible();
  while ((await folded.count()) > 0) await folded.first().click();
  // Whichever of the two words will stand in it.
  const row = wordOf(couple, `2 ${long}s?`);
  await row.focus();
  // As far down as what has the focus can be.
  await row.evaluate((button) => window.scrollBy(0, button.getBoundingClientRect().bottom - innerHeight));
  await goOnline(...pages);
  await expect(notices(couple).getByRole('button', { name: '2 more' })).toBeVisible();
  for (const width of [360, 768, 1440]) {
    if (width > 360) {
      // The focus comes to the row from above.
      await couple.setViewportSize({ width, height: 740 });
      await row.blur();
      await couple.evaluate(() => window.scrollTo(0, 0));
      await row.focus();
    }
    await expect(row).toBeFocused();
    await expect
      .poll(() =>
        couple.evaluate(() => {
          const strip = document.querySelector('[aria-label="Written at the same time"]')!;
          const { bottom } = document.activeElement!.getBoundingClientRect();
          return Math.round(strip.getBoundingClientRect().top - bottom);
        }),
      )
      .toBeGreaterThanOrEqual(0);
    await expect
      .poll(() => couple.evaluate(() => document.documentElement.scrollWidth))
      .toBeLessThanOrEqual(width);
    await expect(notices(couple)).toBeInViewport({ ratio: 1 });
  }
  await notices(couple).getByRole('button', { name: '2 more' }).press('Enter');
  const leave = notices(couple).getByRole('button', { name: 'Leave it' });
  await expect(leave).toHaveCount(3);
  await isSound(couple, 'three lost words', [360, 768, 1440]);
  for (const left of [2, 1, 0]) {
    await leave.first().press('Enter');
    await expect(leave).toHaveCount(left);
    // With the keyboard one goes on from there.
    await expect(couple.locator('body:focus')).toHaveCount(0);
  }
  await Promise.all(pages.map((page) => page.context().close()));
});
