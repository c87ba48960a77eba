import { expect, type Locator, type Page } from '@playwright/test';
import { AGAIN, isAtRest, test, toSheet } from './house.ts';
import { isSeen, tabTo } from './keys.ts';

test.use({ changes: 'keyboard' });

/** Opens a drawer of the strip, and waits for it as a person would. */
async function openDrawer(page: Page, name: string, inside: Locator, key?: 'Shift+Tab'): Promise<void> {
  await tabTo(page, page.getByRole('button', { name, exact: true }), key);
  await page.keyboard.press('Enter');
  await expect(inside).toBeVisible();
}

test('a dance is changed by keyboard alone', async ({ browser, house }) => {
  const page = await (await browser.newContext()).newPage();
  await toSheet(page, house);
  await isAtRest(page);
  const underarm = page.locator('[id^="ribbon-"]').and(page.getByRole('button', { name: /^underarm turn/ }));
  const before = await underarm.count();
  const mine = page.locator('[id^="ribbon-"][aria-pressed="true"]');
  const label = async () => (await mine.getAttribute('aria-label')) ?? '';

  await test.step('place', async () => {
    const take = page.getByRole('button', { name: /^Take in hand.*Underarm turn/ });
    await openDrawer(page, 'Moves', take);
    await isSeen(page);
    await tabTo(page, take);
    await page.keyboard.press('Enter');
    // The drawer has closed, and the counts of a row have the focus.
    await expect(page.locator('[role="slider"]:focus')).toHaveCount(1);
    await isSeen(page);
    for (const key of ['ArrowDown', 'ArrowDown', 'ArrowRight', 'ArrowLeft']) await page.keyboard.press(key);
    await page.keyboard.press('Enter');
    await expect(underarm).toHaveCount(before + 1);
    await tabTo(page, mine);
    await isSeen(page);
  });

  await test.step('move, by a count, a bar and a phrase', async () => {
    for (const key of ['ArrowRight', 'Shift+ArrowRight', 'ArrowDown']) {
      const there = await label();
      await page.keyboard.press(key);
      await expect(mine).not.toHaveAttribute('aria-label', there);
      await expect(mine).toBeFocused();
    }
  });

  await test.step('lengthen, and undo', async () => {
    await page.keyboard.press('+');
    await expect(mine).toHaveAttribute('aria-label', /^underarm turn, twice/);
    await page.keyboard.press('Control+z');
    await expect(mine).not.toHaveAttribute('aria-label', /twice/);
  });

  await test.step('remove, undo and redo', async () => {
    await page.keyboard.press('Delete');
    await expect(underarm).toHaveCount(before);
    await expect(page.locator('[role="slider"]:focus')).toHaveCount(1);
    await page.keyboard.press('Control+z');
    await expect(underarm).toHaveCount(before + 1);
    await page.keyboard.press('Control+Shift+z');
    await expect(underarm).toHaveCount(before);
  });

  await test.step('apply a fix', async () => {
    const note = page.getByText(/“Left turning box” takes/);
    await note.scrollIntoViewIfNeeded();
    await page.evaluate(() => window.scrollTo(0, 0));
    const fix = page.getByRole('listitem').filter({ has: note }).last().getByRole('button');
    await tabTo(page, fix);
    await isSeen(page);
    await page.keyboard.press('Enter');
    await expect(note).toHaveCount(0);
    await expect(page.locator('[role="slider"]:focus')).toHaveCount(1);
  });

  await test.step('open what is left out', async () => {
    const fold = page.getByRole('button', { name: /left out:/ });
    await tabTo(page, fold.first());
    await isSeen(page);
    await page.keyboard.press('Enter');
    await expect(page.getByRole('list', { name: 'What is left out' })).toBeVisible();
  });

  await test.step('keep a mark, look at it, go back to it', async () => {
    const name = page.getByLabel('Name for how it is now');
    await openDrawer(page, 'Marks', name, 'Shift+Tab');
    await tabTo(page, name);
    await page.keyboard.type('After lesson 2');
    await page.keyboard.press('Enter');
    await expect(page.getByText('Nothing has changed since.')).toBeVisible();
    await tabTo(page, underarm.first());
    await page.keyboard.press('Delete');
    await expect(underarm).toHaveCount(before - 1);
    await openDrawer(page, 'Marks', page.getByText('One change since'), 'Shift+Tab');
    await tabTo(page, page.getByRole('button', { name: 'Look at it' }));
    await page.keyboard.press('Enter');
    await expect(page.getByRole('status').filter({ hasText: 'After lesson 2' })).toBeVisible();
    await tabTo(page, page.getByRole('button', { name: 'Go back to it' }), 'Shift+Tab');
    await page.keyboard.press('Enter');
    await expect(page.getByRole('dialog')).toContainText('Underarm turn was put at');
    await tabTo(page, page.getByRole('dialog').getByRole('button', { name: 'Go back' }));
    await page.keyboard.press('Enter');
    await expect(underarm).toHaveCount(before);
    await page.keyboard.press('Control+z');
    await expect(underarm).toHaveCount(before - 1);
  });
});

test('what is taken away under the focus leaves it beside where it was', async ({ browser, house }) => {
  const page = await (await browser.newContext()).newPage();
  await page.goto(house.demo.instructor);
  await isAtRest(page);
  const board = new URL(page.url()).pathname.split('/')[2]!;

  await test.step('a link that is taken back', async () => {
    const data = { role: 'crew', days: null };
    const address = `${house.address}/api/boards/${board}/links?as=instructor`;
    await page.request.post(address, { data, headers: { origin: house.address }, ...AGAIN });
    await page.goto(`${house.address}/board/${board}/links?as=instructor`);
    const given = page.getByRole('region', { name: 'Given out' });
    const takeBack = given.getByRole('button', { name: /^Take back/ });
    await expect(takeBack.first()).toBeVisible();
    const before = await takeBack.count();
    // The one just made stands under the link with which it was made.
    const own = given.getByRole('listitem').filter({ hasText: 'with your link' }).last();
    await own.getByRole('button', { name: /^Take back/ }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('dialog').getByRole('button').last().focus();
    await page.keyboard.press('Enter');
    await expect(takeBack).toHaveCount(before - 1);
    await expect(given).toBeFocused();
  });

  await test.step('a question that is answered with no', async () => {
    const takeBack = page.getByRole('button', { name: /^Take back/ }).first();
    await takeBack.focus();
    await page.keyboard.press('Enter');
    await expect(page.getByRole('dialog')).toBeVisible();
    await page.keyboard.press('Escape');
    await expect(page.getByRole('dialog')).toHaveCount(0);
    await expect(takeBack).toBeFocused();
  });

  await test.step('a lesson that somebody else deletes', async () => {
    await page.goto(`${house.address}/board/${board}/lessons?as=instructor`);
    await page.getByRole('button', { name: 'New lesson' }).click();
    await expect(page.getByLabel('Title')).toHaveValue('');
    await page.locator('.ProseMirror').click();
    await expect(page.locator('.ProseMirror')).toBeFocused();
    await expect(page.getByRole('banner').getByText('saved', { exact: true })).toBeVisible();
    const other = await page.context().newPage();
    await other.goto(page.url());
    await other.getByRole('button', { name: 'Delete this lesson' }).click();
    const left = page.getByText('was deleted by somebody else');
    await expect(left).toBeVisible();
    await expect(page.locator(':focus')).toContainText('was deleted by somebody else');
    await other.close();
  });

  await test.step('a remark that is taken back elsewhere while it is written', async () => {
    await page.goto(`${house.address}/board/${board}/remarks?as=instructor`);
    const write = page.getByRole('button', { name: 'Write a remark' });
    await write.click();
    await page.locator('.ProseMirror').pressSequentially('Warm light, please.');
    await expect(page.getByRole('banner').getByText('saved', { exact: true })).toBeVisible();
    await expect(write).toBeDisabled();
    const other = await page.context().newPage();
    await other.goto(page.url());
    await other
      .getByRole('article')
      .filter({ hasText: 'Warm light' })
      .getByRole('button', { name: 'Take back' })
      .click();
    await other.getByRole('button', { name: 'Take it back' }).click();
    await expect(page.locator(':focus')).toContainText('Warm light, please.');
    await expect(write).toBeEnabled();
    await other.close();
  });
});
