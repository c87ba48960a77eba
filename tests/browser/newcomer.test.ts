import { expect } from '@playwright/test';
import { isAtRest, test } from './house.ts';

test.use({ changes: 'newcomer' });

/** What somebody who was just sent a link has to do, at most, until a move is placed and its phrase goes round. */
const ACTIONS = 7;

test('from the link to a placed move and a practised phrase', async ({ browser, house }) => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  let actions = 0;
  const act = async (action: Promise<unknown>) => {
    actions += 1;
    await action;
  };
  const turns = page.locator('[id^="ribbon-"]').and(page.getByRole('button', { name: /^underarm turn/ }));
  const row = page.locator('li[data-row]').nth(2);
  const music = page.getByRole('region', { name: 'Music' });

  await act(page.goto(house.demo.couple));
  await act(page.getByRole('link', { name: 'Sheet', exact: true }).click());
  await isAtRest(page);
  // The sheet follows the press; what is counted before it is there is not on it.
  await expect(row).toBeVisible();
  const before = await turns.count();
  await act(page.getByRole('button', { name: 'Moves', exact: true }).click());
  await act(page.getByRole('button', { name: /^Take in hand.*Underarm turn/ }).click());
  await act(row.getByRole('slider', { name: /^Counts of/ }).click({ position: { x: 120, y: 5 } }));
  await expect(turns).toHaveCount(before + 1);
  await expect(row.locator('[id^="ribbon-"]')).toHaveCount(1);
  await act(row.getByRole('button', { name: /^Hear it from/ }).click());
  await expect(music.getByRole('button', { name: 'Pause' })).toBeVisible({ timeout: 60_000 });
  await act(music.getByRole('button', { name: 'this phrase, again' }).click());
  await expect(music.getByRole('button', { name: /^again: / })).toBeVisible();
  // It does sound: the time in the music goes on, which is more than one leap to the phrase's start.
  const time = music.getByRole('paragraph').filter({ hasText: 'Time in the music' });
  const times = new Set<string | null>();
  await expect.poll(async () => times.add(await time.textContent()).size).toBeGreaterThan(3);

  console.log(`newcomer: ${actions} actions from the link to a placed move and a practised phrase`);
  expect(actions).toBe(ACTIONS);
  await context.close();
});
