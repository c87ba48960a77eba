import { expect } from '@playwright/test';
import { test } from './house.ts';
import { openDrawer } from './songPage.ts';

test.use({ changes: 'shaping' });

test('an edit is moved by hand and taken back, and proposals obey what is insisted on', async ({
  browser,
  house,
}) => {
  const page = await (await browser.newContext()).newPage();
  await page.goto(house.demo.instructor);
  await page.getByRole('link', { name: 'Song', exact: true }).click();
  const edit = page.getByRole('region', { name: 'The edit as it is' });
  const told = edit.getByText(/^\d:\d\d: leaves out/);
  const first = (await told.textContent()) ?? '';

  await test.step('by a bar, a count and 10 ms', async () => {
    const onTheBeat = edit.getByText(/^on the beat/);
    await expect(onTheBeat.first()).toBeVisible();
    await openDrawer(edit, 'Joins and ending');
    let before = first;
    for (const step of ['a bar', 'a count', '10 ms']) {
      await edit.getByLabel('Move by').selectOption({ label: step });
      await edit.getByRole('button', { name: /^Later.*where it goes on/ }).click();
      await expect(told).not.toHaveText(before);
      before = (await told.textContent()) ?? '';
    }
    // What was measured of the join as it was is not said of the one that was moved.
    await expect(onTheBeat).toHaveCount(0);
    for (let i = 0; i < 3; i++) await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect(told).toHaveText(first);
    await expect(onTheBeat.first()).toBeVisible();
  });

  await test.step('what is insisted on', async () => {
    const proposed = page.getByRole('list', { name: 'Proposed edits, the best first' });
    const propose = page.getByRole('button', { name: 'Propose edits' });
    // Of one list, as it is by now: the one before stands until the next is there.
    const has = async (kind: RegExp) => {
      const kinds = await proposed
        .getByRole('listitem')
        .getByText(/^(the whole song|a fade|a join|a join and a fade)$/)
        .allTextContents();
      return kinds.length === 0 ? null : kinds.some((each) => kind.test(each));
    };
    await propose.click();
    await expect.poll(() => has(/join/)).toBe(true);
    await openDrawer(page, 'What must stay');
    await page.getByLabel('no join').check();
    await propose.click();
    await expect.poll(() => has(/join/)).toBe(false);
    await expect.poll(() => has(/fade/)).toBe(true);
  });
});
