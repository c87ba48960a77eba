import { type Browser, expect, type Locator, type Page } from '@playwright/test';
import { enterStudio, type House, isAtRest, test } from './house.ts';

test.use({ changes: 'together' });

/** Two people at the demo’s board, on a page of it each. */
async function twoAt(browser: Browser, house: House, screen: string): Promise<[Page, Page]> {
  const open = async (role: 'instructor' | 'couple') => {
    const page = await (await browser.newContext()).newPage();
    await page.goto(house.demo[role]);
    await page.goto(page.url().replace(/[a-z]+\?/, `${screen}?`));
    await isAtRest(page);
    return page;
  };
  return [await open('instructor'), await open('couple')];
}

const leave = (...pages: Page[]) => Promise.all(pages.map((page) => page.context().close()));

/** Takes a move with the mouse, and holds it a bar or two further to the right. */
async function pull(page: Page, move: Locator): Promise<void> {
  await move.scrollIntoViewIfNeeded();
  const { x, y, height } = (await move.boundingBox())!;
  await page.mouse.move(x + 20, y + height / 2);
  await page.mouse.down();
  await page.mouse.move(x + 140, y + height / 2, { steps: 4 });
}

test('a move that is dragged stays where it was at Escape, and is told of when somebody else takes it away', async ({
  browser,
  house,
}) => {
  const [instructor, couple] = await twoAt(browser, house, 'sheet');
  const move = (page: Page) => page.locator('#ribbon-placed-3');
  const before = (await move(instructor).getAttribute('aria-label'))!;
  await pull(instructor, move(instructor));
  await expect(move(instructor)).not.toHaveAttribute('aria-label', before);
  await instructor.keyboard.press('Escape');
  await expect(move(instructor)).toHaveAttribute('aria-label', before);
  await instructor.mouse.up();
  await expect(instructor.getByRole('button', { name: 'Undo', exact: true })).toBeDisabled();

  await pull(instructor, move(instructor));
  await expect(move(instructor)).not.toHaveAttribute('aria-label', before);
  await move(couple).focus();
  await couple.keyboard.press('Delete');
  await expect(move(instructor)).toHaveCount(0);
  await instructor.mouse.up();
  await expect(instructor.getByText('Somebody else has just taken this away.')).toBeVisible();
  await couple.keyboard.press('Control+z');
  await expect(move(instructor)).toHaveAttribute('aria-label', before);
  await leave(instructor, couple);
});

test('what somebody else has changed since is not undone, and that is said', async ({ browser, house }) => {
  const [instructor, couple] = await twoAt(browser, house, 'sheet');
  const move = (page: Page) => page.locator('#ribbon-placed-3');
  const before = (await move(instructor).getAttribute('aria-label'))!;
  await move(instructor).focus();
  await instructor.keyboard.press('Shift+ArrowRight');
  await expect(move(instructor)).not.toHaveAttribute('aria-label', before);
  const mine = (await move(instructor).getAttribute('aria-label'))!;
  await expect(move(couple)).toHaveAttribute('aria-label', mine);
  await move(couple).focus();
  await couple.keyboard.press('Shift+ArrowRight');
  await expect(move(couple)).not.toHaveAttribute('aria-label', mine);
  const theirs = (await move(couple).getAttribute('aria-label'))!;
  await expect(move(instructor)).toHaveAttribute('aria-label', theirs);

  await instructor.keyboard.press('Control+z');
  const said = instructor.getByText('Not undone: this was changed elsewhere since, and stays as it is now.');
  await expect(said).toBeInViewport({ ratio: 1 });
  await expect(move(instructor)).toHaveAttribute('aria-label', theirs);
  await expect(instructor.getByRole('button', { name: 'Undo', exact: true })).toBeDisabled();
  await instructor.getByRole('button', { name: 'All right' }).click();
  await expect(said).toHaveCount(0);
  // On another page of the board and back, what was done is still there to be undone.
  await couple.getByRole('link', { name: 'Lessons', exact: true }).click();
  await couple.getByRole('link', { name: 'Sheet', exact: true }).click();
  // The page that is left has such a button, too.
  await expect(move(couple)).toBeVisible();
  await couple.getByRole('banner').getByRole('button', { name: 'Undo', exact: true }).click();
  await expect(move(instructor)).toHaveAttribute('aria-label', mine);
  await leave(instructor, couple);
});

test('what is written beside bold words reaches the others at once', async ({ browser, house }) => {
  const [instructor, couple] = await twoAt(browser, house, 'lessons');
  const pad = (page: Page) => page.locator('[contenteditable=true]').first();
  await instructor.getByRole('button', { name: 'New lesson' }).click();
  await instructor.getByLabel('Title').fill('Eyes');
  await instructor.getByLabel('Title').press('Enter');
  await couple.getByRole('button', { name: /Eyes/ }).click();
  await pad(instructor).click();
  await instructor.keyboard.press('Control+b');
  await instructor.keyboard.type('Eyes up. ');
  await instructor.keyboard.press('Control+b');
  await instructor.keyboard.type('Always.');
  await expect(pad(couple)).toContainText('Eyes up. Always.');
  await pad(couple).press('Control+Home');
  await couple.keyboard.type('First: ');
  // Between the words stands the other's name, at their caret.
  await expect(pad(instructor)).toContainText(/First: .*Eyes up\. Always\./);
  await isAtRest(instructor);

  await test.step('more than the text can hold is left out, and said', async () => {
    await pad(instructor).evaluate((text) => {
      const clipboardData = new DataTransfer();
      clipboardData.setData('text/plain', 'again and again '.repeat(3000));
      text.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
    });
    await expect(instructor.getByText(/^That was more than fits in here/)).toBeVisible();
    await instructor.keyboard.type('!');
    await expect(instructor.getByText(/^That was more than fits in here/)).toHaveCount(0);
    await expect(pad(couple)).toContainText('!');
    await expect(pad(couple)).not.toContainText('again');
  });

  await test.step('a task without a space fits the narrowest page', async () => {
    await instructor.keyboard.press('Control+End');
    await instructor.keyboard.press('Enter');
    await instructor.getByRole('button', { name: 'To do' }).first().click();
    await expect(pad(instructor)).toBeFocused();
    await instructor.keyboard.insertText('Kitchen'.repeat(20));
    await instructor.setViewportSize({ width: 320, height: 600 });
    await expect(instructor.getByRole('button', { name: /^(Kitchen)+$/ })).toBeVisible();
    await expect
      .poll(() => instructor.evaluate(() => document.documentElement.scrollWidth))
      .toBeLessThanOrEqual(320);
  });
  await leave(instructor, couple);
});

test('two pages of the studio’s moves, open at once, keep the moves of both', async ({ browser, house }) => {
  const context = await browser.newContext();
  const pages = [await context.newPage(), await context.newPage()];
  await enterStudio(pages[0]!, house);
  for (const page of pages) {
    await page.goto(`${house.address}/moves`);
    await page.getByRole('button', { name: 'New move' }).waitFor();
  }
  for (const [i, page] of pages.entries()) {
    await page.getByRole('button', { name: 'New move' }).click();
    await page.getByLabel('Name', { exact: true }).fill(`Kitchen turn ${i}`);
    await page.getByRole('button', { name: 'Keep this move' }).click();
    await expect(page.getByRole('heading', { name: `Kitchen turn ${i}` })).toBeVisible();
  }
  await pages[0]!.reload();
  for (const i of [0, 1])
    await expect(pages[0]!.getByRole('heading', { name: `Kitchen turn ${i}` })).toBeVisible();
  await context.close();
});

test('music does not play on where a page has no button to stop it', async ({ browser, house }) => {
  const [page, couple] = await twoAt(browser, house, 'practise');
  const to = async (name: string) => {
    await page.getByRole('link', { name, exact: true }).click();
    await expect(page.getByRole('link', { name, exact: true })).toHaveAttribute('aria-current', 'page');
  };
  const pause = page.getByRole('button', { name: 'Pause', exact: true });
  await expect(page.getByText('Press play', { exact: true })).toBeVisible({ timeout: 60_000 });
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await expect(pause).toBeVisible();
  await to('Sheet');
  await expect(pause).toBeVisible();
  await to('Remarks');
  await to('Practise');
  await expect(page.getByRole('button', { name: 'Play', exact: true })).toBeVisible();
  await leave(page, couple);
});
