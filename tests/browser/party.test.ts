import { type Browser, expect, type Page } from '@playwright/test';
import { dayWords } from '../../lib/core/areas/days.ts';
import type { Day } from '../../lib/core/calendar.ts';
import { dayAfter } from '../../lib/core/dayCount.ts';
import { PARTY, PARTY_WORDS } from './days.ts';
import { AGAIN, type House, isAtRest, stagesOf, test, toSheet } from './house.ts';
import { scripts } from './names.ts';
import { join, openStage } from './states.ts';

/** Names, day, venue and who plays are said on Run of show; every page and paper takes them from there. */

const party = (page: Page) => page.getByRole('region', { name: 'The party' });
const told = (page: Page, about: string) =>
  party(page).getByText(about, { exact: true }).locator('xpath=following-sibling::dd');

/** A board with its DJ at their page, and a page for its couple. */
async function withDj(browser: Browser, house: House) {
  const stage = await openStage(browser, house);
  const board = await stage.written(scripts.greek!);
  const [couple, dj] = [
    await (await browser.newContext()).newPage(),
    await (await browser.newContext()).newPage(),
  ];
  await join(dj, stage, board, 'dj', 'dj');
  return { stage, board, couple, dj };
}

test('a couple say names, day, venue and a band, and everybody reads them', async ({ browser, house }) => {
  const { stage, board, couple, dj } = await withDj(browser, house);
  await expect(dj.getByRole('heading', { name: 'What to play' })).toBeVisible();
  await join(couple, stage, board, 'couple', 'show');
  const set = async (label: string, value: string) => {
    const field = party(couple).getByLabel(label);
    await field.fill(value);
    await field.blur();
  };
  await set('Name of one', 'Sunniva');
  await set('Name of the other', ' Okoye ');
  await set('Day of the party', PARTY);
  await set('Venue', 'Tidemill Loft');
  await party(couple).getByLabel('Who runs the evening').selectOption('the MC');
  const head = couple.getByRole('banner');
  await expect(head).toContainText(`Sunniva & Okoye, ${PARTY_WORDS}`);
  await expect(head).toContainText('Tidemill Loft');
  await expect(couple.getByRole('article')).toContainText('First dance: Sunniva and Okoye');
  await expect(couple.getByRole('article')).toContainText('the MC');

  await set('Name of one', '  ');
  await expect(party(couple).getByRole('alert')).toHaveText('Please give both of them a name.');
  await expect(party(couple).getByLabel('Name of one')).toHaveValue('Sunniva');

  await party(couple).getByLabel('Who plays the music').selectOption('the band');
  await expect(party(couple).getByRole('alert')).toHaveCount(0);
  await expect(dj.getByRole('heading', { name: 'For the band' })).toBeVisible();
  await isAtRest(couple);

  await dj.getByRole('link', { name: 'Run of show', exact: true }).click();
  await expect(told(dj, 'Couple')).toHaveText('Sunniva & Okoye');
  await expect(told(dj, 'Day of the party')).toHaveText(PARTY_WORDS);
  await expect(told(dj, 'Venue')).toHaveText('Tidemill Loft');
  await expect(told(dj, 'Who plays the music')).toHaveText('the band');
  await expect(told(dj, 'Who runs the evening')).toHaveText('the MC');
  await expect(party(dj).locator('input, select')).toHaveCount(0);

  const csv = `${house.address}/api/boards/${board}/papers/planner.csv?as=couple`;
  expect(await (await couple.request.get(csv, AGAIN)).text()).toContain(',,couple,Sunniva and Okoye');
  await stage.instructor.goto(house.address);
  const row = stage.instructor.getByRole('listitem').filter({ hasText: 'Sunniva & Okoye' });
  await expect(row).toContainText(PARTY_WORDS);
  await expect(row).toContainText('Tidemill Loft');
});

test('after a yes, another to play the music is asked about first', async ({ browser, house }) => {
  const { stage, board, couple, dj } = await withDj(browser, house);
  await dj.getByText('I play the finished file').click();
  await dj.getByRole('button', { name: 'Yes, exactly this' }).click();
  await join(couple, stage, board, 'couple', 'show');
  await expect(stagesOf(couple)).toContainText(/DJ\s*said yes(?! to an older)/);
  const plays = party(couple).getByLabel('Who plays the music');
  await plays.selectOption('the band');
  await couple.getByRole('button', { name: 'Leave it as it is' }).click();
  await expect(plays).toHaveValue('dj');
  await plays.selectOption('the band');
  await couple.getByRole('button', { name: 'Change it anyway' }).click();
  await expect(plays).toHaveValue('band');
  await expect(dj.getByRole('heading', { name: 'For the band' })).toBeVisible();
});

test('what is open leads to where it is said, and papers say what they wait for', async ({
  browser,
  house,
}) => {
  const stage = await openStage(browser, house);
  const board = await stage.empty();
  const page = await (await browser.newContext()).newPage();
  const open = page.getByRole('region', { name: 'Still open' });
  const noCalendar = page.getByText(
    'There is no calendar yet: the run of show needs a time, and the board needs a date and a song.',
  );
  await join(page, stage, board, 'couple', 'show');
  await expect(page.getByRole('link', { name: 'For a spreadsheet (CSV)' })).toBeVisible();
  await expect(page.getByRole('link', { name: 'For a calendar (ICS)' })).toHaveCount(0);
  await expect(page.getByRole('button', { name: 'Make my calendar address' })).toHaveCount(0);
  await expect(noCalendar).toBeVisible();
  await expect(open.getByRole('link', { name: 'the time' })).toHaveCount(0);
  await page.setViewportSize({ width: 360, height: 640 });
  // The line of pages is moved so that this one shows, and says that there are others before it.
  await expect(page.getByRole('navigation', { name: 'Pages of this board' })).toHaveAttribute('data-moved');
  await open.getByRole('link', { name: 'the date' }).click();
  await expect(party(page).getByRole('heading', { name: 'The party' })).toBeInViewport();

  await stage.instructor.goto(`${house.address}/board/${board}/show?as=instructor`);
  const evening = stage.instructor.getByRole('region', { name: 'The evening' });
  const starts = evening.getByLabel('The dance is announced at');
  await starts.fill('20:45');
  await starts.blur();
  await expect(evening).toContainText('The day of the party is still open: couple or instructor set it.');
  await expect(open).toContainText('the date, owed by couple or instructor');
  const day = party(page).getByLabel('Day of the party');
  await day.fill(PARTY);
  await day.blur();
  await expect(open).not.toContainText('the date');
  await expect(evening).toContainText(`On ${PARTY_WORDS}, the day of the party.`);
  await expect(page.getByText('There is no calendar yet: the board needs a song.')).toBeVisible();

  await page.getByRole('navigation').getByRole('link', { name: 'Links' }).click();
  await expect(
    page.getByText('There is no couple’s sheet yet: the song and its counts come first.'),
  ).toBeVisible();
  await expect(page.getByRole('link', { name: 'The couple’s sheet (PDF)' })).toHaveCount(0);
  await expect(page.getByText('There is no DJ’s sheet yet: the song comes first.')).toBeVisible();

  await toSheet(page, house);
  await page.getByRole('link', { name: 'Links' }).click();
  for (const name of ['The couple’s sheet (PDF)', 'For a calendar (ICS)'])
    await expect(page.getByRole('link', { name })).toBeVisible();
});

test('who plans has their fields first on a phone, and the entry within reach', async ({
  browser,
  house,
}) => {
  const page = await (await browser.newContext({ viewport: { width: 360, height: 640 } })).newPage();
  await page.goto(house.demo.planner);
  await expect(page.getByLabel('The dance is announced at')).toBeInViewport();
  await page.getByRole('link', { name: 'To the entry, as it will read' }).click();
  await expect(page.getByRole('article').getByRole('heading')).toBeInViewport();
});

test('the times of the evening are those of the party, and a reader elsewhere is told', async ({
  browser,
  house,
}) => {
  const page = await (await browser.newContext()).newPage();
  await page.goto(house.demo.planner);
  const entry = page.getByRole('article');
  await expect(entry).toContainText('20:45');
  // The demo's party is in Lisbon, this browser in Auckland.
  await expect(entry).toContainText(
    /It is \d\d:45 on \d+ \w+ \d{4} then where you are \(Pacific\/Auckland\)/,
  );
  const there = await (await browser.newContext({ timezoneId: 'Europe/Lisbon' })).newPage();
  await there.goto(house.demo.planner);
  await expect(there.getByRole('article')).toContainText('20:45');
  await expect(there.getByRole('article')).not.toContainText('where you are');
});

test('a dance after midnight is in the night that follows the party', async ({ browser, house }) => {
  const stage = await openStage(browser, house);
  const board = await stage.empty();
  const page = stage.instructor;
  await page.goto(`${house.address}/board/${board}/show?as=instructor`);
  const evening = page.getByRole('region', { name: 'The evening' });
  await party(page).getByLabel('Day of the party').fill(PARTY);
  await party(page).getByLabel('Day of the party').blur();
  await evening.getByLabel('The dance is announced at').fill('00:30');
  await evening.getByLabel('The dance is announced at').blur();
  await expect(evening.getByLabel('after midnight')).toBeChecked();
  const next = dayWords(dayAfter(PARTY, 1));
  await expect(evening).toContainText(`On ${next}, in the night after ${PARTY_WORDS}.`);
  await expect(page.getByRole('article')).toContainText(next);
  await evening.getByLabel('after midnight').uncheck();
  await expect(evening).toContainText(`On ${PARTY_WORDS}, the day of the party.`);
});

test('a page that stays open past midnight shows the new day', async ({ browser, house }) => {
  const page = await (await browser.newContext()).newPage();
  await page.clock.install();
  await toSheet(page, house);
  await page.getByRole('navigation').getByRole('link', { name: 'For the DJ' }).click();
  const by = page.getByLabel('Answer wanted by');
  const today = (await by.getAttribute('min')) as Day;
  await page.clock.fastForward('24:00:00');
  await page.clock.runFor(60_000);
  await expect(by).toHaveAttribute('min', dayAfter(today, 1));
});
