import { type BrowserContext, expect, type Page } from '@playwright/test';
import axe from 'axe-core';

/** A phone, and a desk. */
const WIDTHS = [360, 1440] as const;
const HEIGHT = 800;
/** WCAG 2.2, levels A and AA, and those before it. */
const WCAG = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
/** Of all its rules, those that look at colours: what a dark device changes. */
const COLOURS = ['color-contrast', 'link-in-text-block'];

/** Whatever the browser complains of from now on, violations of the page's policy included. */
async function listen(page: Page): Promise<string[]> {
  const heard: string[] = [];
  page.on('pageerror', (error) => heard.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') heard.push(`${message.text()} (${message.location().url})`);
  });
  await page.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', (event) => {
      console.error(`policy: ${event.violatedDirective} ${event.blockedURI}`);
    });
  });
  return heard;
}

export async function newPage(
  context: BrowserContext,
  width: number = WIDTHS[0],
): Promise<{ page: Page; heard: string[] }> {
  const page = await context.newPage();
  await page.setViewportSize({ width, height: HEIGHT });
  return { page, heard: await listen(page) };
}

/** What axe finds in the page as it is now. It runs in the page itself and answers with violations only: the rest is heavy. */
async function violations(page: Page, only: axe.RunOnly): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axe.source);
  return page.evaluate(async (runOnly) => {
    const found = await window.axe.run(document, { runOnly, resultTypes: ['violations'] });
    return found.violations.flatMap(({ id, nodes }) =>
      nodes.map((node) => `${id}: ${node.html.slice(0, 160)} ${node.any[0]?.message ?? ''}`),
    );
  }, only);
}

/** No violation that the tool can find at this width, nothing wider than the window. */
async function isSoundAt(page: Page, what: string): Promise<void> {
  const check = async (scheme: string, only: axe.RunOnly) =>
    // A page that is refreshed in place is without a title for a moment: what counts is where it comes to rest.
    expect(async () => {
      expect(await violations(page, only), `${what}, ${scheme}`).toEqual([]);
    }).toPass({ timeout: 10_000 });
  await check('light', { type: 'tag', values: WCAG });
  await page.emulateMedia({ colorScheme: 'dark' });
  await check('dark', { type: 'rule', values: COLOURS });
  await page.emulateMedia({ colorScheme: 'light' });
  const wider = () =>
    page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  await expect.configure({ soft: true }).poll(wider, `${what}: wider than the window`).toBeLessThanOrEqual(0);
}

/** By turns a phone or a desk; with LARKSTEP_ALL_WIDTHS both, which takes some four minutes more for all that asks so. */
export const widthsOf = (turn: number): readonly number[] =>
  process.env.LARKSTEP_ALL_WIDTHS ? WIDTHS : [WIDTHS[turn % 2]!];

/** The page as it stands is sound on a phone and at a desk, light and dark. */
export async function isSound(page: Page, what: string, widths: readonly number[] = WIDTHS): Promise<void> {
  for (const width of widths) {
    await page.setViewportSize({ width, height: HEIGHT });
    await isSoundAt(page, `${what} at ${width} px`);
  }
}

declare global {
  interface Window {
    axe: typeof axe;
  }
}
