import { expect } from '@playwright/test';
import { spoilRemarks } from '../kit/hopeless.ts';
import { AGAIN, test } from './house.ts';
import { openStage } from './states.ts';
import { manyCouples, withRemark } from './studioStates.ts';

test('the instructor removes a remark of somebody else, and all see it go', async ({ browser, house }) => {
  const stage = await openStage(browser, house);
  const couple = await (await browser.newContext()).newPage();
  const board = await withRemark(couple, stage, 'Not meant for all of you.');
  const page = stage.instructor;
  await page.goto(`${house.address}/board/${board}/remarks?as=instructor`);
  await expect(page.getByText('Not meant for all of you.')).toBeVisible();
  await page
    .getByRole('article')
    .filter({ hasText: 'Not meant for all of you.' })
    .getByRole('button', { name: /^Remove / })
    .click();
  await page.getByRole('dialog').getByRole('button', { name: 'Remove it' }).click();
  await expect(page.getByText('Not meant for all of you.')).toBeHidden();
  await expect(couple.getByText('Not meant for all of you.')).toBeHidden();
  await expect(page.getByRole('banner').getByText('saved', { exact: true })).toBeVisible();
  await couple.context().close();
  await page.context().close();
});

test('a part that was set apart stops neither its board nor the studio, and opens as of an earlier hour', async ({
  browser,
  house,
}) => {
  const stage = await openStage(browser, house);
  const couple = await (await browser.newContext()).newPage();
  const board = await withRemark(couple, stage, 'Could the lights be a little lower?');
  const page = stage.instructor;
  for (const one of [couple, page]) await one.goto('about:blank');
  spoilRemarks(house.folder, board);
  // A room that is left stays open for some twenty seconds, and what it holds is sound.
  await expect(async () => {
    const address = `${house.address}/api/boards/${board}/history?as=instructor`;
    const { apart } = await (await page.request.get(address, AGAIN)).json();
    expect(apart).toEqual(['remarks']);
  }).toPass({ timeout: 60_000 });
  await page.goto(`${house.address}/board/${board}/sheet?as=instructor`);
  await expect(page.getByRole('main').getByRole('alert')).toContainText('Damaged and set apart: Remarks');
  await expect(page.locator('[id^="ribbon-"]').first()).toBeVisible();
  await page.goto(house.address);
  await expect(page.getByText('A part of this board is damaged and was set apart')).toHaveCount(1);
  await page.getByRole('link', { name: 'To its history' }).click();
  await expect(page.getByRole('region', { name: 'Damaged' })).toContainText('Remarks');
  const paper = `${house.address}/api/boards/${board}/papers/board.json?as=instructor`;
  expect((await page.request.get(paper, AGAIN)).status()).toBe(503);

  await page.getByRole('button', { name: 'Show its hours' }).click();
  await page
    .getByRole('button', { name: /^Open “Remarks” as of / })
    .first()
    .click();
  await page.getByRole('dialog').getByRole('button', { name: 'Open it as of then' }).click();
  await expect(page.getByText(/^“Remarks” is open as of/)).toBeVisible();
  await expect(page.getByRole('region', { name: 'Damaged' })).toBeHidden();
  await page.goto(`${house.address}/board/${board}/remarks?as=instructor`);
  await expect(page.getByText('Could the lights be a little lower?')).toBeVisible();
  expect((await page.request.get(paper, AGAIN)).status()).toBe(200);
  await couple.context().close();
  await page.context().close();
});

test('a studio of 60 couples is turned over page by page, and searched by name', async ({
  browser,
  house,
}) => {
  const stage = await openStage(browser, house);
  await manyCouples(stage, 60);
  const page = stage.instructor;
  await page.goto(house.address);
  // Those in a fold that is closed, too.
  const rows = page.locator('h3');
  const pages = page.getByRole('navigation', { name: 'Pages of the list' });
  await expect(pages).toContainText('Page 1 of 3: couples 1 to 25 of 60');
  await expect(rows).toHaveCount(25);
  const boards = () =>
    rows
      .getByRole('link', { includeHidden: true })
      .evaluateAll((links) => links.map((link) => link.getAttribute('href')));
  const first = await boards();
  await pages.getByRole('link', { name: 'Page 2' }).focus();
  await page.keyboard.press('Enter');
  await expect(pages).toContainText('Page 2 of 3');
  await expect(page).toHaveURL(/page=2/);
  const second = await boards();
  await pages.getByRole('link', { name: 'Page 3' }).click();
  await expect(pages).toContainText('couples 51 to 60 of 60');
  // Which of them stand in a fold depends on the boards that were here before.
  await expect(rows).toHaveCount(10);
  const all = [...first, ...second, ...(await boards())];
  expect(new Set(all).size).toBe(60);

  await page.getByLabel('Find a couple by name').fill('ottilie 47');
  await page.keyboard.press('Enter');
  await expect(page.getByText('1 couple found.')).toBeVisible();
  await expect(rows).toHaveText(['Ottilie 47 & Bram 47']);
  await page.getByLabel('Find a couple by name').fill('nobody at all');
  await page.keyboard.press('Enter');
  await expect(page.getByText('No couple has “nobody at all” in a name.')).toBeVisible();
  await page.getByRole('button', { name: 'Show all' }).click();
  await expect(rows).toHaveCount(25);
  await page.context().close();
});
