import { expect, type Page } from '@playwright/test';
import { isAtRest, stagesOf, test, toSheet } from './house.ts';
import { watchShifts, wholeRows } from './inSight.ts';
import { isSeen, tabTo } from './keys.ts';

test.use({ changes: 'sheet-first' });

/** Whole rows on a small laptop, with nothing open and with any panel open. */
const AT_REST = 6;
const BESIDE = 4;

async function open(page: Page, link: string): Promise<void> {
  await page.goto(link);
  await isAtRest(page);
}

const region = (page: Page) => page.getByRole('region', { name: 'The dance' });

test('rows in sight at 1280 by 720, and nothing leaps', async ({ browser, house }) => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 } });
  const page = await context.newPage();
  await watchShifts(page);
  await open(page, house.demo.instructor);
  const atRest = await wholeRows(page);
  const shifted = await page.evaluate(() => window.shifted);
  const seen: Record<string, number> = { 'at rest': atRest };
  for (const panel of ['Moves', 'Walk-on', 'Ending', 'Propose a dance', 'Marks']) {
    const button = page.getByRole('button', { name: panel, exact: true });
    await button.click();
    await expect(region(page).getByText('Opening…')).toHaveCount(0);
    seen[panel] = await wholeRows(page);
    await button.click();
  }
  await page.locator('[id^="ribbon-"][role=button]').first().click();
  await expect(region(page).getByRole('button', { name: 'take it away' })).toBeVisible();
  seen['in hand'] = await wholeRows(page);
  console.log(
    `whole rows in sight at 1280 x 720: ${JSON.stringify(seen)}; layout shift ${shifted.toFixed(4)}`,
  );
  expect(atRest).toBeGreaterThanOrEqual(AT_REST);
  for (const rows of Object.values(seen)) expect(rows).toBeGreaterThanOrEqual(BESIDE);
  expect(shifted).toBeLessThan(0.05);
  await context.close();
});

for (const [width, height] of [
  [390, 844],
  [768, 1024],
  [1440, 900],
  [1920, 1080],
] as const)
  test(`the sheet lies still when its notes and what settles them come, at ${width} x ${height}`, async ({
    browser,
    house,
  }) => {
    const context = await browser.newContext({ viewport: { width, height } });
    const page = await context.newPage();
    await watchShifts(page);
    await open(page, house.demo.instructor);
    const tops = () =>
      page
        .locator('[data-row]')
        .evaluateAll((rows) => rows.map((row) => Math.round(row.getBoundingClientRect().top)));
    const atRest = await tops();
    // Fixes are found last, as there is time: for the notes that are near the window.
    await expect(page.locator('[data-row] [data-does]').first()).toBeAttached();
    expect(await tops()).toEqual(atRest);
    const shifted = await page.evaluate(() => window.shifted);
    console.log(`layout shift of the sheet at ${width} x ${height}: ${shifted.toFixed(4)}`);
    expect(shifted).toBeLessThan(0.05);
    await context.close();
  });

test('a wide screen is used, and a narrow one scrolls nowhere sideways', async ({ browser, house }) => {
  const context = await browser.newContext({ viewport: { width: 1920, height: 1080 } });
  const page = await context.newPage();
  await open(page, house.demo.instructor);
  const box = await page.locator('[data-row] svg[role=group]').first().boundingBox();
  expect(box!.width).toBeGreaterThan(1200);
  await page.setViewportSize({ width: 360, height: 780 });
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  // Rows in which only the basic is danced are one line there, which opens.
  const fold = page.getByRole('button', { name: /only the basic, until/ }).first();
  const before = await page.locator('[data-row]').count();
  await fold.click();
  expect(await page.locator('[data-row]').count()).toBeGreaterThan(before + 1);
  await context.close();
});

test('the focus is never under a strip, nor lost', async ({ browser, house }) => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 } });
  const page = await context.newPage();
  await open(page, house.demo.instructor);
  const uncovered = () =>
    page.evaluate(() => {
      const focused = document.activeElement!;
      const { left, right, top, bottom } = focused.getBoundingClientRect();
      const at = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
      return (
        at !== null &&
        (focused.contains(at) || at.contains(focused) || at.closest('svg') === focused.closest('svg'))
      );
    });
  await test.step('from move to move by Tab', async () => {
    const ribbons = page.locator('[id^="ribbon-"][role=button]');
    for (let i = 0; i < (await ribbons.count()); i++) {
      await tabTo(page, ribbons.nth(i));
      await isSeen(page);
      expect(await uncovered(), `move ${i + 1}`).toBe(true);
    }
  });
  await test.step('taken in hand by pointer', async () => {
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Moves', exact: true }).click();
    await page.getByRole('button', { name: /^Take in hand.*Underarm turn/ }).click();
    await expect(region(page).getByRole('status')).toContainText('tap a count to place it');
    expect(await page.evaluate(() => document.activeElement === document.body)).toBe(false);
    await page.keyboard.press('Tab');
    await page.getByRole('button', { name: 'Let go' }).click();
  });
  await test.step('a fix, by pointer', async () => {
    const note = page.getByText(/“Left turning box” takes/);
    const fix = page.getByRole('listitem').filter({ has: note }).last().getByRole('button');
    await fix.click();
    await expect(note).toHaveCount(0);
    expect(await page.evaluate(() => document.activeElement === document.body)).toBe(false);
  });
  await test.step('what it did is said, with the way back', async () => {
    const said = page.getByRole('status').filter({ hasText: 'Left turning box' });
    await expect(said).toBeVisible();
    await said.getByRole('button', { name: 'Undo that' }).click();
    await expect(page.getByText(/“Left turning box” takes/)).toBeVisible();
    await expect(said).toHaveCount(0);
  });
  await context.close();
});

test('every line of notes can be pressed, and the playhead stays in its row when they open', async ({
  browser,
  house,
}) => {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  await open(page, house.demo.instructor);
  const lines = page.locator('[data-row] summary');
  expect(await lines.count()).toBeGreaterThan(0);
  for (const line of await lines.all()) {
    await line.focus();
    const hit = await line.evaluate((element) => {
      element.scrollIntoView({ block: 'center' });
      const { left, top, width, height } = element.getBoundingClientRect();
      return element.contains(document.elementFromPoint(left + width / 2, top + height / 2));
    });
    expect(hit, (await line.textContent()) ?? '').toBe(true);
  }
  // Narrower, notes stand under their row: opened, they push the rows below.
  await page.setViewportSize({ width: 900, height: 900 });
  const row = page.locator('[data-row]').last();
  await page.getByRole('slider', { name: 'The whole dance' }).first().focus();
  await page.keyboard.press('End');
  const apart = async () => {
    const head = await page.locator('[data-playhead]').boundingBox();
    const staff = await page
      .locator('[data-row]')
      .filter({ has: page.locator('svg[role=group]') })
      .evaluateAll((rows, y) => {
        const staffs = rows.map((one) => one.querySelector('svg[role=group]')!.getBoundingClientRect());
        return Math.min(...staffs.map(({ top }) => Math.abs(top - y)));
      }, head?.y ?? -1e6);
    return staff;
  };
  await expect.poll(apart).toBeLessThan(2);
  for (const line of await page.locator('[data-row] summary').all()) await line.click();
  await expect(row).toBeAttached();
  await expect.poll(apart).toBeLessThan(2);
  await context.close();
});

test('the strip leads to any place, pressed or by keys', async ({ browser, house }) => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 } });
  const page = await context.newPage();
  await toSheet(page, house);
  await isAtRest(page);
  const strip = page.getByRole('slider', { name: 'The whole dance' });
  const box = (await strip.boundingBox())!;
  await strip.click({ position: { x: box.width * 0.97, y: box.height / 2 } });
  const last = page.locator('[data-row]').last();
  await expect(last).toBeInViewport();
  await expect(page.locator('[data-strip-at]').first()).toBeAttached();
  await strip.focus();
  await page.keyboard.press('Home');
  await expect(page.locator('[data-row]').first()).toBeInViewport();
  await page.keyboard.press('ArrowRight');
  await expect(strip).toHaveAttribute('aria-valuenow', '2');
  await page.keyboard.press('Enter');
  await expect(page.locator('[data-row] [role="slider"]:focus')).toHaveCount(1);
  await context.close();
});

test('stages lead to what is owed, and every board back to all couples', async ({ browser, house }) => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 } });
  const page = await context.newPage();
  await open(page, house.demo.instructor);
  const stages = page
    .getByRole('banner')
    .getByRole('navigation', { name: 'What is settled and what is owed' });
  await stages.getByRole('link', { name: /^dance/ }).click();
  await expect(page.locator('[id^="note-"]:focus')).toHaveCount(1);
  await expect(page.locator('[id^="note-"]:focus')).toBeInViewport();
  await stages.getByRole('link', { name: /^DJ/ }).click();
  await expect(page).toHaveURL(/\/dj\?as=instructor/);
  await page.getByRole('link', { name: 'All couples' }).click();
  await expect(page).toHaveURL(`${house.address}/`);
  const dj = await context.newPage();
  await open(dj, house.demo.dj);
  await expect(dj.getByRole('link', { name: 'All couples' })).toHaveCount(0);
  // What others owe is said, and is nothing for this person to do.
  const wine = await stagesOf(dj)
    .getByRole('link', { name: /^dance/ })
    .locator('.text-wine')
    .count();
  expect(wine).toBe(0);
  await context.close();
});

test('printed and in the device’s own colours: all rows, no halo, and the hatch', async ({
  browser,
  house,
}) => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 } });
  const page = await context.newPage();
  await toSheet(page, house);
  await isAtRest(page);
  const other = await context.newPage();
  await toSheet(other, house);
  await isAtRest(other);
  await other.locator('[id^="ribbon-"][role=button]').first().focus();
  const halo = page.locator('rect[stroke-dasharray="2 4"]');
  await expect(halo.first()).toBeVisible();
  const printed = await page.evaluate(() => {
    window.dispatchEvent(new Event('beforeprint'));
    const rows = document.querySelectorAll('[data-row]').length;
    window.dispatchEvent(new Event('afterprint'));
    return rows;
  });
  expect(printed).toBe(await page.locator('[data-row]').count());
  await page.emulateMedia({ media: 'print' });
  await expect(halo.first()).toBeHidden();
  await page.emulateMedia({ media: null, forcedColors: 'active' });
  const hatch = page.locator('[data-hatch]').first();
  await hatch.scrollIntoViewIfNeeded();
  // Some of its points are of another colour than its ground.
  const colours = await hatch.evaluate((svg) => {
    const line = svg.querySelector('path')!;
    const ground = getComputedStyle(document.body).backgroundColor;
    return {
      line: getComputedStyle(line).stroke,
      ground,
      fill: svg.querySelector('rect')!.getAttribute('fill'),
    };
  });
  expect(colours.line).not.toBe(colours.ground);
  expect(colours.fill).toContain('url(#');
  await context.close();
});

test('the counts’ numbers are read on the tint at 4.5 to 1', async ({ browser, house }) => {
  for (const colorScheme of ['light', 'dark'] as const) {
    const context = await browser.newContext({ colorScheme });
    const page = await context.newPage();
    await toSheet(page, house);
    await isAtRest(page);
    const contrast = await page.evaluate(() => {
      const canvas = document.createElement('canvas').getContext('2d', { willReadFrequently: true })!;
      const painted = (...colours: string[]) => {
        canvas.clearRect(0, 0, 1, 1);
        for (const colour of colours) {
          canvas.fillStyle = colour;
          canvas.fillRect(0, 0, 1, 1);
        }
        return [...canvas.getImageData(0, 0, 1, 1).data].slice(0, 3);
      };
      const luminance = (rgb: number[]) => {
        const [r, g, b] = rgb.map((part) => {
          const share = part / 255;
          return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
        });
        return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
      };
      const paper = getComputedStyle(document.documentElement).backgroundColor;
      const tint = getComputedStyle(document.querySelector('[data-tint]')!).fill;
      const number = getComputedStyle(document.querySelector('[data-number]')!).fill;
      const [a, b] = [luminance(painted(paper, tint)), luminance(painted(number))].sort((x, y) => y - x);
      return (a! + 0.05) / (b! + 0.05);
    });
    // WCAG 2.2, 1.4.3.
    expect(contrast, colorScheme).toBeGreaterThanOrEqual(4.5);
    await context.close();
  }
});
