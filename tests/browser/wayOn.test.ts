import { expect } from '@playwright/test';
import { isAtRest, test } from './house.ts';
import { longest } from './names.ts';
import { practiceStates } from './practiceStates.ts';
import { join, openStage, states } from './states.ts';

/** Where something is missing or failed, words say what comes next, and lead there. */

const stateOf = (name: string) => [...states, ...practiceStates].find((state) => state.name === name)!;

test('links that could not be read are looked for again', async ({ browser, house }) => {
  const stage = await openStage(browser, house);
  const page = await (await browser.newContext()).newPage();
  await stateOf('links-failed').show(page, stage);
  const again = page.getByRole('button', { name: 'Look again' });
  await again.click();
  await expect(page.getByRole('main').getByRole('alert')).toBeVisible();
  await page.unroute('**/api/boards/*/links*');
  await again.click();
  const given = page.getByRole('region', { name: 'Given out' });
  await expect(given).toBeFocused();
  await expect(page.getByRole('main').getByRole('alert')).toHaveCount(0);
  await expect(given.getByText('None yet.')).toBeVisible();
});

test('practice without music leads to its recording', async ({ browser, house }) => {
  const stage = await openStage(browser, house);
  for (const name of ['practise-failed', 'practise-without-recording']) {
    const page = await (await browser.newContext()).newPage();
    await stateOf(name).show(page, stage);
    await page.getByRole('link', { name: 'Go to the Song page.' }).click();
    await expect(page.getByRole('heading', { name: 'Hear it', exact: true })).toBeVisible();
  }
});

test('a DJ’s page without a song leads to it, or to those who choose it', async ({ browser, house }) => {
  const stage = await openStage(browser, house);
  const board = await stage.empty();
  const page = await (await browser.newContext()).newPage();
  await join(page, stage, board, 'couple', 'dj');
  await page.getByRole('link', { name: 'Choose the recording on the Song page.' }).click();
  await expect(page.getByRole('heading', { name: 'Which song is it?' })).toBeVisible();
  await join(page, stage, board, 'dj', 'dj');
  await page.getByRole('link', { name: 'Ask them under Remarks.' }).click();
  await expect(page.getByRole('heading', { name: 'Remarks' })).toBeVisible();
});

test('a DJ whose yes is for an older version is told at the page’s head, and led to what is new', async ({
  browser,
  house,
}) => {
  const context = await browser.newContext({ viewport: { width: 360, height: 780 } });
  const page = await context.newPage();
  await page.goto(house.demo.dj);
  const lead = page.getByRole('link', { name: 'You said yes to an older version: you need the new file.' });
  await expect(lead).toBeInViewport();
  const answer = page.getByRole('heading', { name: 'Will you play it like this?' });
  await expect(answer).toBeVisible();
  await expect(answer).not.toBeInViewport();
  await lead.click();
  await expect(answer).toBeInViewport();
  // Beside the answer itself it would say the same twice.
  await page.setViewportSize({ width: 1440, height: 900 });
  await expect(lead).toBeHidden();
});

test('what is being written when the page is loaded anew is kept, and a double click makes one', async ({
  browser,
  house,
}) => {
  const stage = await openStage(browser, house);
  const page = await (await browser.newContext()).newPage();
  const board = await stage.written(longest);
  await join(page, stage, board, 'couple', 'sheet');
  await page
    .getByRole('button', { name: /^Word .* Change it$/ })
    .first()
    .click();
  const word = page.getByRole('textbox', { name: /^Word or sound that is heard/ });
  await word.fill('hornpipe');
  await page.reload();
  await expect(page.getByRole('button', { name: /^Word .*: hornpipe\. Change it$/ })).toBeVisible();

  await page.goto(page.url().replace('/sheet?', '/show?'));
  await page.getByLabel('Venue').fill('Saltpan Hall');
  await page.reload();
  await expect(page.getByLabel('Venue')).toHaveValue('Saltpan Hall');

  await page.goto(page.url().replace('/show?', '/lessons?'));
  const pages = page.getByRole('region', { name: 'Lessons' }).locator('ol > li');
  await expect(page.getByRole('button', { name: 'New lesson' })).toBeVisible();
  const before = await pages.count();
  await page.getByRole('button', { name: 'New lesson' }).dblclick();
  await expect(page.getByLabel('Title')).toBeVisible();
  await expect(pages).toHaveCount(before + 1);
  await page.context().close();
});

test('who may only read the run of show reads words, and no fields', async ({ browser, house }) => {
  const stage = await openStage(browser, house);
  const page = await (await browser.newContext()).newPage();
  const evening = page.getByRole('region', { name: 'The evening' });
  const fields = evening.locator('input, textarea, select');
  const told = (about: string) =>
    evening.getByText(about, { exact: true }).locator('xpath=following-sibling::dd');
  for (const role of ['couple', 'dj', 'crew'] as const) {
    await join(page, stage, await stage.empty(), role, 'show');
    await expect(told('Announced by')).toHaveText('not set yet');
    await expect(told('Applause')).toHaveText('not set yet: 20 s are left for it');
    await expect(fields).toHaveCount(0);
  }
  await page.goto(house.demo.dj);
  await page.getByRole('link', { name: 'Run of show', exact: true }).click();
  const party = page.getByRole('region', { name: 'The party' });
  const day = await party
    .getByText('Day of the party', { exact: true })
    .locator('xpath=following-sibling::dd')
    .textContent();
  await expect(told('The dance is announced at')).toHaveText(`20:45, ${day}`);
  await expect(fields).toHaveCount(0);
  await page.goto(house.demo.planner);
  await expect(page.getByLabel('Announced by')).toBeEditable();
});

test('the song page tells its lengths apart', async ({ browser, house }) => {
  const page = await (await browser.newContext()).newPage();
  await stateOf('song-proposals').show(page, await openStage(browser, house));
  await expect(page.getByRole('region', { name: 'The edit as it is' })).toContainText(
    'Music until 3:16, then quiet. As a file 3:22, with a silent second.',
  );
  const proposed = page.getByRole('list', { name: 'Proposed edits, the best first' }).getByRole('listitem');
  await expect(proposed.filter({ hasText: 'chosen' })).toContainText('music until 3:16');
});

test('what belongs together stands together on narrow pages', async ({ browser, house }) => {
  const page = await (await browser.newContext({ viewport: { width: 360, height: 780 } })).newPage();
  const box = async (name: string) => (await page.getByRole('button', { name, exact: true }).boundingBox())!;
  await page.goto(house.demo.instructor);
  await isAtRest(page);
  await page
    .locator('[id^="ribbon-"]')
    .and(page.getByRole('button', { name: /^underarm turn/ }))
    .first()
    .click();
  const end = async (name: string) => {
    const { x, width } = await box(name);
    return x + width;
  };
  await expect.poll(async () => (await end('take it away')) - (await end('Let go'))).toBeCloseTo(0, 0);

  await page.getByRole('link', { name: 'Practise' }).click();
  await expect
    .poll(async () => (await box('phrase 2 of verse 1')).y - (await box('phrase 1 of verse 1')).y)
    .toBe(0);

  await page.getByRole('link', { name: 'Lessons' }).click();
  await expect(page.getByRole('button', { expanded: false }).filter({ hasText: '▾' })).not.toHaveCount(0);

  const stage = await openStage(browser, house);
  await page.setViewportSize({ width: 768, height: 900 });
  await join(page, stage, await stage.written(longest), 'planner', 'show');
  const head = page.getByRole('banner');
  await expect
    .poll(async () => {
      const named = (await head.getByText('first dance of').boundingBox())!;
      const here = (await head.getByRole('list', { name: 'Here now' }).boundingBox())!;
      // Beside it, and not over it.
      return here.x - (named.x + named.width);
    })
    .toBeGreaterThanOrEqual(0);
});
