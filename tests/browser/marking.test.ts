import { expect, type Page } from '@playwright/test';
import type { Board } from '../../lib/core/areas/board.ts';
import { AGAIN, type House, test } from './house.ts';
import { openDrawer } from './songPage.ts';

test.use({ changes: 'marking', hasTouch: true });

/** What the server has stored of the song. */
async function stored(page: Page, house: House) {
  const board = new URL(page.url()).pathname.split('/')[2];
  const paper = `${house.address}/api/boards/${board}/papers/board.json?as=instructor`;
  const { plan } = (await (await page.request.get(paper, AGAIN)).json()) as Pick<Board, 'plan'>;
  const { grid, sections, cues, corrections } = plan;
  return { grid, sections, cues, corrections };
}

/** Waits until the recording has gone on by so much since a moment; where it then is. Seconds. */
async function playedPast(page: Page, moment: number): Promise<number> {
  const handle = await page.waitForFunction(
    (past) => {
      const words = [...document.querySelectorAll('button')].find((it) =>
        /^A bar starts here/.test(it.textContent),
      )?.textContent;
      const [, minutes, seconds] = /(\d+):([\d.]+)/.exec(words ?? '') ?? [];
      const at = 60 * Number(minutes) + Number(seconds);
      return at > past ? at : false;
    },
    moment,
    { timeout: 60_000 },
  );
  return Number(await handle.jsonValue());
}

test('who knows the song marks it by ear in one hearing, by keys and by thumb, and one undo takes it back', async ({
  page,
  house,
}) => {
  await page.goto(house.demo.instructor);
  await page
    .getByRole('navigation', { name: 'Pages of this board' })
    .getByRole('link', { name: 'Song', exact: true })
    .click();
  const marking = page.getByRole('region', { name: 'By ear' });
  await openDrawer(page, 'By ear');
  const before = await stored(page, house);
  await marking.getByRole('button', { name: 'Play it and mark' }).click();
  await expect(marking.getByRole('button', { name: /^Beat/ })).toBeEnabled({ timeout: 60_000 });

  await test.step('beats by the space bar, the rest by a key each', async () => {
    let at = await playedPast(page, 3);
    for (let n = 1; n <= 8; n++) {
      await page.keyboard.press(' ');
      await expect(marking.getByText(new RegExp(`^${n} beat`))).toBeVisible();
      at = await playedPast(page, at + 0.6);
    }
    for (const key of ['1', 's', 'w', 'w']) await page.keyboard.press(key);
    await expect(marking.getByText('8 beats, 1 one, 1 section and 2 words')).toBeVisible();
    await page.keyboard.press('Backspace');
    await expect(marking.getByText('8 beats, 1 one, 1 section and 1 word')).toBeVisible();
  });
  await test.step('by thumb', async () => {
    await marking.getByRole('button', { name: /^Counts stop/ }).tap();
    await expect(marking.getByRole('button', { name: /^Counts again/ })).toBeVisible();
    await expect(marking.getByText(/1 word and 1 stop$/)).toBeVisible();
    const at = await playedPast(page, 0);
    await playedPast(page, at + 3);
    await marking.getByRole('button', { name: /^Counts again/ }).tap();
    await expect(marking.getByText(/1 word and 1 stop$/)).toBeVisible();
  });
  await test.step('what it makes of them is shown before it is used', async () => {
    await marking.getByRole('button', { name: 'That is all' }).click();
    await expect(marking.getByText(/^Counted in/)).toBeVisible({ timeout: 60_000 });
    await expect(marking.getByText(/^The counts wait after/)).toBeVisible();
    expect(await stored(page, house)).toEqual(before);
    await marking.getByLabel(/^Word heard at/).fill('lantern');
    await marking.getByRole('button', { name: 'Use this' }).click();
    await expect
      .poll(async () => (await stored(page, house)).corrections.map(({ kind }) => kind).sort())
      .toEqual(['bars', 'beats', 'stop']);
    const after = await stored(page, house);
    expect(after.cues.map(({ word }) => word)).toContain('lantern');
    expect(after.grid!.waits).toHaveLength(1);
  });
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect.poll(() => stored(page, house)).toEqual(before);
});
