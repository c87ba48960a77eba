import type { Page } from '@playwright/test';

/** Rows of the sheet that are seen whole: nothing that stays at an edge, or lies beside, covers word or counts. Read top to bottom. */
export const wholeRows = (page: Page): Promise<number> =>
  page.evaluate(() => {
    const covers = [...document.querySelectorAll<HTMLElement>('body *')]
      .filter((one) => ['fixed', 'sticky', 'absolute'].includes(getComputedStyle(one).position))
      .filter((one) => !one.closest('[data-row]') && one.matches('[data-covers], [data-covers] *'))
      .map((one) => one.getBoundingClientRect())
      .filter(({ width, height }) => width > 1 && height > 1);
    return [...document.querySelectorAll('[data-row]')].filter((row) => {
      const staff = row.querySelector('svg[role=group]')?.getBoundingClientRect();
      const { top, bottom, left } = row.getBoundingClientRect();
      if (!staff || top < 0 || Math.max(bottom, staff.bottom) > window.innerHeight) return false;
      return !covers.some(
        (box) =>
          box.top < bottom - 1 && box.bottom > top + 1 && box.left < staff.right - 1 && box.right > left + 1,
      );
    }).length;
  });

/** How far the page's parts have leapt since it was opened, without anybody's doing (Layout Instability: cumulative layout shift). */
export async function watchShifts(page: Page): Promise<void> {
  await page.addInitScript(() => {
    window.shifted = 0;
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries() as (PerformanceEntry & {
        value: number;
        hadRecentInput: boolean;
      })[])
        if (!entry.hadRecentInput) window.shifted += entry.value;
    }).observe({ type: 'layout-shift', buffered: true });
  });
}

declare global {
  interface Window {
    shifted: number;
  }
}
