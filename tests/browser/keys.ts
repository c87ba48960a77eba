import { expect, type Locator, type Page } from '@playwright/test';

/** More Tabs than any page has stops. */
const MOST = 400;

/** Goes on by Tab, and by nothing else, until the focus is where it is wanted. */
export async function tabTo(page: Page, wanted: Locator, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
  for (let i = 0; i < MOST; i++) {
    if (await wanted.evaluateAll((all) => all.some((each) => each === document.activeElement))) return;
    await page.keyboard.press(key);
  }
  throw new Error(`${wanted} was not reached by ${key}`);
}

/** What has the focus stands in the window and is seen to have it. */
export async function isSeen(page: Page): Promise<void> {
  const seen = () =>
    page.evaluate(() => {
      const element = document.activeElement!;
      const box = element.getBoundingClientRect();
      const style = getComputedStyle(element);
      return {
        outline: style.outlineStyle !== 'none' && Number.parseFloat(style.outlineWidth) >= 2,
        inside: box.bottom > 0 && box.top < window.innerHeight,
      };
    });
  await expect
    .poll(seen, 'an outline around what has the focus, inside the window')
    .toEqual({ outline: true, inside: true });
}
