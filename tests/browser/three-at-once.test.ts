import { type Browser, expect, type Locator, type Page } from '@playwright/test';
import { type House, test } from './house.ts';
import { scripts } from './names.ts';
import { join, openStage } from './states.ts';

const ROUNDS = 20;
const saved = (page: Page): Locator => page.getByRole('banner').getByText('saved', { exact: true });
const yes = (page: Page) => page.getByRole('button', { name: /^Yes, (exactly this|to this too)$/ });
const final = (page: Page) => page.getByRole('button', { name: /^Mark it final/ });

declare global {
  interface Window {
    /** What this page read when its person last pressed a button that gives their word. */
    atTap: string;
  }
}

/**
 * What a person reads of the board in this page: whose, where and when, and what is to be played. Without the number of the version,
 * which the yes itself gives. It runs in the page.
 */
const reading = (): string => {
  // Without what is settled and owed, which the word itself changes.
  const header = document.querySelector('header')?.cloneNode(true) as HTMLElement | undefined;
  for (const nav of header?.querySelectorAll('nav') ?? []) nav.remove();
  return [
    header?.textContent ?? '',
    ...[...document.querySelectorAll('details li, table, [aria-label="The entry"]')].map(
      (each) => each.textContent,
    ),
  ]
    .join('\n')
    .replace(
      /saving…|saved|connecting…|no connection[^.]*|, (version \d+|a draft)\.|“First dance [^”]*”/g,
      '',
    );
};

/** Notes what stands on the page at the very press, before anything comes of it. */
const noteTaps = (name: string) => {
  window.atTap = '';
  document.addEventListener(
    'click',
    ({ target }) => {
      const button = target instanceof Element ? target.closest('button') : null;
      const read = (window as unknown as Record<string, () => string>)[name]!;
      if (button && /^(Yes, (exactly this|to this too)|Mark it final)/.test(button.textContent ?? ''))
        window.atTap = read();
    },
    { capture: true },
  );
};

async function open(browser: Browser): Promise<Page> {
  const page = await (await browser.newContext({ viewport: { width: 1000, height: 900 } })).newPage();
  await page.addInitScript('globalThis.__name = (named) => named');
  await page.addInitScript(`window.reading = ${reading.toString()}`);
  await page.addInitScript(noteTaps, 'reading');
  return page;
}

/** Presses it if it is there now; it may go while one presses. */
async function pressNow(button: Locator): Promise<void> {
  if (await button.isVisible()) await button.click({ timeout: 1500 }).catch(() => undefined);
}

/** Somebody moves the party to another hall, and says yes or no to what they are asked. */
async function move(page: Page, hall: string, sure: boolean): Promise<void> {
  const field = page.getByLabel('Venue');
  await field.fill(hall);
  await field.blur();
  const asked = page.getByRole('dialog');
  // In a narrow window the line that names the hall is only for who hears the page.
  await expect(asked.or(page.getByRole('banner').getByText(hall))).toBeAttached();
  if (!(await asked.isVisible())) return;
  // Where something else would be lost by the time of the answer, it is asked again.
  await expect(async () => {
    await pressNow(asked.getByRole('button', { name: sure ? 'Change it anyway' : 'Leave it as it is' }));
    await expect(asked).toHaveCount(0, { timeout: 500 });
  }).toPass();
}

test('an instructor changes, a DJ says yes and a planner marks final, all at once: no word stands for what was not read', async ({
  browser,
  house,
}: {
  browser: Browser;
  house: House;
}) => {
  test.setTimeout(240_000);
  const stage = await openStage(browser, house);
  const board = await stage.written(scripts.greek!, { settled: null });
  const people = [await open(browser), await open(browser), await open(browser)];
  const [instructor, dj, planner] = people as [Page, Page, Page];
  await join(instructor, stage, board, 'instructor', 'show');
  await join(dj, stage, board, 'dj', 'dj');
  await dj.getByText('I play the finished file').click();
  await dj.getByText('All of this as five lines of text').click();
  await join(planner, stage, board, 'planner', 'show');
  const held = { yes: 0, final: 0, outdated: 0 };
  for (let round = 0; round < ROUNDS; round++) {
    const hall = `Hall ${round}`;
    await Promise.all([
      round % 4 === 3 ? null : move(instructor, hall, round % 3 !== 1),
      pressNow(yes(dj)).then(() => pressNow(yes(dj))),
      pressNow(final(planner)).then(() => pressNow(final(planner))),
    ]);
    for (const page of people) await expect(saved(page)).toBeVisible();
    const venue = (await instructor.getByLabel('Venue').inputValue()) || hall;
    for (const page of people) await expect(page.getByRole('banner')).toContainText(venue);
    // What one page says, all say.
    const isYes = await dj.getByText('You said yes to exactly this. Thank you.').isVisible();
    const isFinal = await planner.getByText('This is final.').isVisible();
    if (isYes) expect(await dj.evaluate(reading)).toBe(await dj.evaluate(() => window.atTap));
    if (isFinal) expect(await planner.evaluate(reading)).toBe(await planner.evaluate(() => window.atTap));
    held.yes += Number(isYes);
    held.final += Number(isFinal);
    held.outdated += Number(!isYes);
  }
  // A run in which nobody agreed, or nothing changed, would hold nothing.
  expect(Math.min(held.yes, held.final, held.outdated)).toBeGreaterThan(0);
  for (const page of people) await page.context().close();
});
