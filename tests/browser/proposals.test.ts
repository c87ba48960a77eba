import { expect, type Page, type Worker } from '@playwright/test';
import { changeAnyway, isAtRest, test } from './house.ts';

test.use({ changes: 'proposals' });

const panel = (page: Page) => page.getByRole('region', { name: 'The dance' });
const titles = ['Easy to remember', 'More to look at', 'Calm'];

/** What stands on the sheet: each move's own words, with its place. */
const danced = (page: Page): Promise<string[]> =>
  page
    .locator('[id^="ribbon-"][role=button]')
    .evaluateAll((ribbons) => ribbons.map((one) => one.getAttribute('aria-label') ?? '').sort());

test('three different dances, each told in a sentence; one is taken, and taken back', async ({
  browser,
  house,
}) => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(house.demo.instructor);
  await isAtRest(page);
  const before = await danced(page);
  await page.getByRole('button', { name: 'Propose a dance', exact: true }).click();
  const worker = page.waitForEvent('worker');
  await panel(page).getByRole('button', { name: 'Whole dances anew' }).click();
  expect((await worker).url()).toContain(house.address);
  const sentences: string[] = [];
  const wholes: string[] = [];
  for (const title of titles) {
    const offer = panel(page).getByRole('region', { name: title });
    const sentence = (await offer.getByRole('paragraph').first().textContent())!;
    expect(sentence).toMatch(new RegExp(`^${title}: .+\\.$`));
    sentences.push(sentence.slice(title.length));
    await offer.getByText('what is danced where').click();
    wholes.push((await offer.getByRole('listitem').allTextContents()).join(' '));
  }
  expect(new Set(sentences).size).toBe(3);
  expect(new Set(wholes).size).toBe(3);
  const varied = panel(page).getByRole('region', { name: 'More to look at' });
  await varied.getByRole('button', { name: /^Dance it like this/ }).click();
  // Moves that somebody placed are asked about first.
  await changeAnyway(page);
  await expect(panel(page).getByText('It stands on the sheet now.')).toBeVisible();
  const taken = await danced(page);
  expect(taken).not.toEqual(before);
  // The panel says what was taken; the sheet shows it.
  const first = /^: (.+?) in the /.exec(sentences[1]!)![1]!;
  expect(taken.some((words) => words.toLowerCase().includes(first.toLowerCase()))).toBe(true);
  await panel(page).getByRole('button', { name: 'Take it back' }).click();
  await expect.poll(() => danced(page)).toEqual(before);
  await expect(panel(page).getByRole('button', { name: 'Whole dances anew' })).toBeVisible();
  await context.close();
});

test('who stops looking ends the worker, and may look again', async ({ browser, house }) => {
  const context = await browser.newContext();
  const page = await context.newPage();
  // The question is held back on its way to the worker, so that there is time to stop.
  await page.addInitScript(() => {
    const send = Worker.prototype.postMessage;
    window.held = true;
    Worker.prototype.postMessage = function (this: Worker, ...message: Parameters<typeof send>) {
      if (!window.held) send.apply(this, message);
    } as typeof send;
  });
  await page.goto(house.demo.instructor);
  await isAtRest(page);
  await page.getByRole('button', { name: 'Propose a dance', exact: true }).click();
  const started = page.waitForEvent('worker');
  const anew = panel(page).getByRole('button', { name: 'Whole dances anew' });
  await anew.click();
  const worker: Worker = await started;
  await expect(panel(page).getByRole('progressbar', { name: 'Looking for dances' })).toBeVisible();
  const ended = worker.waitForEvent('close');
  await panel(page).getByRole('button', { name: 'Stop looking' }).click();
  await ended;
  await expect(panel(page).getByRole('progressbar')).toHaveCount(0);
  await page.evaluate(() => {
    window.held = false;
  });
  await anew.click();
  await expect(panel(page).getByRole('region', { name: 'Calm' })).toBeVisible();
  await context.close();
});

declare global {
  interface Window {
    held: boolean;
  }
}
