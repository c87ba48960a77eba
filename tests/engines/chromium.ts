import { chromium } from '@playwright/test';
import config from '../playwright.config.ts';
import { type Driver, KEYS, TAKE_COMPLAINTS, WATCH } from './driver.ts';
import { ANSWER, within } from './within.ts';

/** Chromium by the tool of the other browser tests; unlike there, sound needs a person's press first, as in everybody's browser. */
export async function byPlaywright(executablePath: string, env: Record<string, string>): Promise<Driver> {
  const args = config.use!.launchOptions!.args!.filter((word) => !word.startsWith('--autoplay-policy'));
  const browser = await chromium.launch({
    executablePath,
    args,
    env: { ...process.env, ...env } as Record<string, string>,
  });
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  await page.addInitScript(WATCH);
  const run = (source: string, given: readonly unknown[]) =>
    within(ANSWER, 'the page', page.evaluate(`Promise.resolve((${source})(...${JSON.stringify(given)}))`));
  return {
    name: `chromium ${browser.version()}`,
    open: async (address) => {
      await page.goto(address);
    },
    run,
    press: (x, y) => page.mouse.click(x, y),
    type: async (keys) => {
      for (const key of keys) {
        const name = Object.entries(KEYS).find(([, value]) => value === key)?.[0];
        if (name) await page.keyboard.press(name[0]!.toUpperCase() + name.slice(1));
        else await page.keyboard.type(key);
      }
    },
    choose: (selector, path) => page.locator(selector).setInputFiles(path),
    complaints: async () => (await run(TAKE_COMPLAINTS, [])) as string[],
    end: () => browser.close(),
  };
}
