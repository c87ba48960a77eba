import { type Browser, type BrowserContext, expect } from '@playwright/test';

/**
 * Bytes of the scripts that a page has fetched, as they came over the line with their heads, by a browser that has nothing yet but
 * the links of `joined`. The board's documents never come, so the page stands where it has all it needs to draw the board and
 * nothing of what follows: what is counted depends on the build, and on no clock.
 * @param accepts how answers may be packed, where that is not left to the browser
 */
export async function firstScripts(
  browser: Browser,
  joined: BrowserContext,
  address: string,
  accepts?: string,
): Promise<number> {
  const context = await browser.newContext({
    storageState: await joined.storageState(),
    serviceWorkers: 'block',
    ...(accepts && { extraHTTPHeaders: { 'accept-encoding': accepts } }),
  });
  const page = await context.newPage();
  let isAsked = false;
  await page.routeWebSocket(/\/sync\//, () => {
    isAsked = true;
  });
  await page.goto(address);
  // The program that opens the board is here.
  await expect.poll(() => isAsked, { message: address }).toBe(true);
  await page.waitForLoadState('networkidle');
  const bytes = await page.evaluate(() =>
    performance
      .getEntriesByType('resource')
      .filter((entry): entry is PerformanceResourceTiming => entry instanceof PerformanceResourceTiming)
      .filter(({ initiatorType, name }) => /\.js$/.test(name) && initiatorType !== 'fetch')
      .reduce((sum, { transferSize }) => sum + transferSize, 0),
  );
  await context.close();
  return bytes;
}
