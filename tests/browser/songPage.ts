import type { Locator, Page } from '@playwright/test';

/** What the song page keeps behind a line. */
export const openDrawer = (within: Page | Locator, title: string | RegExp): Promise<void> =>
  within.locator('summary').filter({ hasText: title }).click();

/** Its first drawer: which recording it is. */
export const openRecording = (page: Page): Promise<void> =>
  page.getByRole('region', { name: 'Hear it' }).locator('summary').first().click();

interface Count {
  words: number;
  controls: number;
}

/** What somebody sees to read and to press, on the page as it stands: of all of it, and without the head that every page of a board has. */
export const seenOn = (page: Page): Promise<{ all: Count; own: Count }> =>
  page.evaluate(() => {
    const isSeen = (element: Element): boolean => {
      if (!element.checkVisibility({ visibilityProperty: true, opacityProperty: true })) return false;
      for (let one: Element | null = element; one && one !== document.body; one = one.parentElement) {
        const { width, height } = one.getBoundingClientRect();
        // What is only for screen readers is a pixel large.
        if (getComputedStyle(one).overflow === 'hidden' && (width <= 1 || height <= 1)) return false;
      }
      return true;
    };
    const wordsIn = (root: Element): number => {
      const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
      let words = 0;
      while (walker.nextNode()) {
        const { parentElement, textContent } = walker.currentNode;
        if (!parentElement || parentElement.closest('script, style, option, title')) continue;
        if (isSeen(parentElement)) words += (textContent ?? '').match(/[\p{L}\p{N}]\S*/gu)?.length ?? 0;
      }
      return words;
    };
    const PRESSED =
      'a[href], button, input, select, textarea, summary, [role=slider], [role=button], [tabindex="0"]';
    const countOf = (root: Element): Count => ({
      words: wordsIn(root),
      controls: [...root.querySelectorAll(PRESSED)].filter(isSeen).length,
    });
    const [all, head] = [countOf(document.body), countOf(document.querySelector('header')!)];
    return {
      all,
      own: { words: all.words - head.words, controls: all.controls - head.controls },
    };
  });
