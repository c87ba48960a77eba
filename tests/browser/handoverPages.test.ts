import { expect, type Page } from '@playwright/test';
import { test } from './house.ts';
import { scripts } from './names.ts';
import { join, openStage } from './states.ts';

/** The pages of DJ and planner on a phone. */

const PHONE = { width: 390, height: 844 };
/** A screen and a half. */
const REACH = PHONE.height * 1.5;

const onPhone = (page: Page): Promise<void> => page.setViewportSize(PHONE);

/** Px from the page's top to the foot of something. */
const footOf = async (page: Page, what: ReturnType<Page['locator']>): Promise<number> => {
  const box = (await what.boundingBox())!;
  return box.y + box.height + (await page.evaluate(() => window.scrollY));
};

test('the DJ has file, start, pose, end and the Yes on a screen and a half, and says it in two gestures', async ({
  browser,
  house,
}) => {
  const page = await (await browser.newContext()).newPage();
  await onPhone(page);
  const stage = await openStage(browser, house);
  const board = await stage.written(scripts.greek!);
  await join(page, stage, board, 'dj', 'dj');
  for (const term of ['file, on the player', 'start', 'closing pose', 'let it ring to'])
    expect(await footOf(page, page.locator('dl div', { hasText: term }).last()), term).toBeLessThan(REACH);
  const yes = page.getByRole('button', { name: 'Yes, exactly this' });
  expect(await footOf(page, yes)).toBeLessThan(REACH);
  // Nothing of anybody's health is the DJ's matter.
  await expect(page.getByRole('main')).not.toContainText(/pregnan|knee|shoulder/i);
  let gestures = 0;
  const tap = async (what: ReturnType<Page['locator']>) => {
    gestures += 1;
    await what.click();
  };
  await tap(page.getByText('I play the finished file'));
  await tap(yes);
  await expect(page.getByText('You said yes to exactly this.')).toBeVisible();
  expect(gestures).toBeLessThanOrEqual(2);
  await expect(
    page.getByText(/^You said yes to exactly this, version \d+, on .*, playing the finished file\.$/),
  ).toBeVisible();
});

test('the planner has “Mark it final” in sight wherever they are on the page, and marks it in two gestures', async ({
  browser,
  house,
}) => {
  const page = await (await browser.newContext()).newPage();
  await onPhone(page);
  const stage = await openStage(browser, house);
  const board = await stage.written(scripts.greek!);
  await join(page, stage, board, 'planner', 'show');
  const mark = page.getByRole('button', { name: 'Mark it final' });
  await expect(mark).toBeInViewport({ ratio: 1 });
  for (const share of [0.3, 0.6, 1]) {
    await page.evaluate((part) => window.scrollTo(0, document.documentElement.scrollHeight * part), share);
    await expect(mark).toBeInViewport({ ratio: 1 });
  }
  // What is tabbed to comes out from under it.
  const notes = page.getByLabel('Notes');
  await notes.focus();
  const [field, bar] = [
    (await notes.boundingBox())!,
    (await page.getByRole('region', { name: 'Final' }).boundingBox())!,
  ];
  expect(field.y).toBeLessThan(bar.y);
  await mark.click();
  await expect(page.getByText('This is final.')).toBeVisible();
});
