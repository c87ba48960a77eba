import { expect, type Page } from '@playwright/test';
import { pagesOf, textOf } from '../kit/textOf.ts';
import { isAtRest, test } from './house.ts';
import { scripts } from './names.ts';
import { join, openStage } from './states.ts';

/** The pages of DJ, planner and the night on a phone, and what Ctrl+P makes of them. */

interface Shift extends PerformanceEntry {
  value: number;
  hadRecentInput: boolean;
  sources: { node: Node | null; previousRect: DOMRect; currentRect: DOMRect }[];
}
declare global {
  interface Window {
    /** Layout shifts that no gesture made (web.dev, "Cumulative Layout Shift"), what moved, and when the largest paint was, ms. */
    vitals: { cls: number; moved: string[]; lcp: number };
  }
}

const PHONE = { width: 390, height: 844 };
/** A screen and a half. */
const REACH = PHONE.height * 1.5;

async function onPhone(page: Page): Promise<void> {
  await page.setViewportSize(PHONE);
  await page.addInitScript(() => {
    window.vitals = { cls: 0, moved: [], lcp: 0 };
    new PerformanceObserver((list) => {
      for (const { value, hadRecentInput, sources } of list.getEntries() as Shift[]) {
        if (hadRecentInput) continue;
        window.vitals.cls += value;
        for (const { node, previousRect, currentRect } of sources)
          window.vitals.moved.push(
            `${value.toFixed(3)} ${node?.textContent?.slice(0, 40)}: ${previousRect.y} to ${currentRect.y}`,
          );
      }
    }).observe({ type: 'layout-shift', buffered: true });
    new PerformanceObserver((list) => {
      window.vitals.lcp = list.getEntries().at(-1)!.startTime;
    }).observe({ type: 'largest-contentful-paint', buffered: true });
  });
}

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

for (const [screen, role, largest] of [
  ['dj', 'dj', 'h2'],
  ['show', 'planner', 'h2'],
  ['night', 'couple', 'h1'],
] as const)
  test(`the ${screen} page opens on a phone without anything jumping`, async ({ browser, house }, info) => {
    const page = await (await browser.newContext()).newPage();
    await onPhone(page);
    const still = async (when: string) => {
      const { cls, moved, lcp } = await page.evaluate(() => window.vitals);
      info.annotations.push({
        type: 'vitals',
        description: `${when}: CLS ${cls.toFixed(3)}, LCP ${Math.round(lcp)} ms`,
      });
      // A good page is below .1 (web.dev, "Cumulative Layout Shift"); ours is to be below .05.
      expect(cls, `${when}\n${moved.join('\n')}`).toBeLessThan(0.05);
    };
    await page.goto(house.demo[role]);
    await isAtRest(page);
    const board = new URL(page.url()).pathname.split('/')[2];
    const isFirst = page.url().includes(`/${screen}`);
    if (isFirst) await still('for the first time');
    await page.goto(`${house.address}/board/${board}/${screen}?as=${role}`);
    await page.locator(largest).first().waitFor();
    if (screen === 'night') await expect(page.getByText('Saved on this device.')).toBeVisible();
    else await isAtRest(page);
    await still('again');
  });

for (const [screen, role, says, hides] of [
  [
    'dj',
    'dj',
    ['file, on the player', 'closing pose', 'If the wrong one plays'],
    ['I play my own copy', 'Choose your file', 'take the file ('],
  ],
  ['show', 'planner', ['who does what', 'in all'], ['Mark it final', 'Take it along', 'To the entry']],
  ['night', 'couple', ['first step', 'Lost?'], ['Back to the', 'Saved on this device']],
] as const)
  test(`printed, the ${screen} page is the thing itself on one sheet, without controls`, async ({
    browser,
    house,
  }) => {
    const page = await (await browser.newContext()).newPage();
    await page.goto(house.demo[role]);
    await isAtRest(page);
    const board = new URL(page.url()).pathname.split('/')[2];
    await page.goto(`${house.address}/board/${board}/${screen}?as=${role}`);
    if (screen === 'night') await expect(page.getByText('Saved on this device.')).toBeVisible();
    else await isAtRest(page);
    for (const format of ['A4', 'Letter'] as const) {
      const pdf = await page.pdf({ format, preferCSSPageSize: true, tagged: true });
      const text = textOf(pdf)?.toLowerCase();
      if (text === undefined) return console.warn('pdftotext is not installed: the print was not read');
      for (const words of says) expect(text).toContain(words.toLowerCase());
      for (const words of hides) expect(text).not.toContain(words.toLowerCase());
      expect(pagesOf(pdf)!.pages).toBe(1);
    }
  });
