import { type Browser, expect } from '@playwright/test';
import { screensOf } from '../../app/_ui/roles.ts';
import { firstScripts } from './firstScripts.ts';
import { type House, test } from './house.ts';

/** Bytes as they come over the line: of the pages that couple and DJ open by their link, on a phone; and of any other. */
const LEADING = 250_000;
const MOST = 300_000;

/** Those of these pages that are over the bar, with what they weigh. */
async function over(
  { browser, house }: { browser: Browser; house: House },
  role: 'couple' | 'dj',
  screens: readonly string[],
  most: number,
): Promise<string[]> {
  const joined = await browser.newContext();
  const page = await joined.newPage();
  await page.goto(house.demo[role]);
  const address = new URL(page.url());
  await page.close();
  const found: string[] = [];
  for (const screen of screens) {
    const bytes = await firstScripts(browser, joined, address.href.replace(/\/[a-z]+\?/, `/${screen}?`));
    // A page that fetched nothing was not looked at.
    expect(bytes, screen).toBeGreaterThan(100_000);
    if (bytes >= most) found.push(`${screen}: ${bytes} of ${most}`);
  }
  await joined.close();
  return found;
}

test('what the couple’s and the DJ’s first page need before they can draw stays small', async ({
  browser,
  house,
}) => {
  expect(await over({ browser, house }, 'couple', ['home'], LEADING)).toEqual([]);
  expect(await over({ browser, house }, 'dj', ['dj'], LEADING)).toEqual([]);
});

test('what any page of a board needs before it can draw stays within bounds', async ({ browser, house }) => {
  expect(await over({ browser, house }, 'couple', screensOf.couple, MOST)).toEqual([]);
});
