import { expect, type Page } from '@playwright/test';
import type { Board } from '../../lib/core/areas/board.ts';
import type { Plan } from '../../lib/core/areas/plan.ts';
import { AGAIN, type House, test } from './house.ts';
import { openDrawer } from './songPage.ts';

test.use({ changes: 'corrections' });

/** Each correction of what was heard is one gesture, and one undo brings back exactly what was. */

type Song = Pick<Plan, 'grid' | 'sections'>;

/** Grid and sections as the server has stored them. */
async function stored(page: Page, house: House): Promise<Song> {
  const board = new URL(page.url()).pathname.split('/')[2];
  const paper = `${house.address}/api/boards/${board}/papers/board.json?as=instructor`;
  const { plan } = (await (await page.request.get(paper, AGAIN)).json()) as Pick<Board, 'plan'>;
  const { grid, sections } = plan;
  return { grid, sections };
}

/** Does it once, sees that it changed the song as said, undoes it once, and sees that all is as before. */
async function onceAndBack(
  page: Page,
  house: House,
  gesture: () => Promise<void>,
  changed: (now: Song, before: Song) => unknown,
  times = 1,
): Promise<void> {
  const before = await stored(page, house);
  await gesture();
  await expect.poll(async () => changed(await stored(page, house), before)).toBe(true);
  for (let n = 0; n < times; n++) await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect.poll(() => stored(page, house)).toEqual(before);
}

/** Waits until the recording plays past a moment; where it then is, as the page shows it. Seconds. */
async function playedPast(page: Page, moment: number): Promise<number> {
  const handle = await page.waitForFunction(
    (past) => {
      const button = [...document.querySelectorAll('button')].find((it) =>
        /^A bar starts here/.test(it.textContent),
      );
      const [, minutes, seconds] = /(\d+):([\d.]+)/.exec(button?.textContent ?? '') ?? [];
      const at = 60 * Number(minutes) + Number(seconds);
      return at > past ? at : false;
    },
    moment,
    { timeout: 60_000 },
  );
  return Number(await handle.jsonValue());
}

/** Eight presses of the space bar, one whenever the recording has gone on by a beat of the demo's 90 a minute. */
async function tapEight(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Start, then tap' }).click();
  await expect(page.getByRole('button', { name: 'Tap (or space)' })).toBeFocused({ timeout: 60_000 });
  let at = await playedPast(page, 0);
  for (let n = 1; n <= 8; n++) {
    await page.keyboard.press(' ');
    await expect(page.getByText(new RegExp(`^${n} taps`))).toBeVisible();
    at = await playedPast(page, at + 0.6);
  }
  await page.getByRole('button', { name: 'Use these taps' }).click();
}

test('each correction is one gesture, and one undo brings back what was', async ({ page, house }) => {
  await page.goto(house.demo.instructor);
  await page
    .getByRole('navigation', { name: 'Pages of this board' })
    .getByRole('link', { name: 'Song', exact: true })
    .click();
  const counts = page.getByRole('region', { name: 'Counts' });
  await openDrawer(page, 'Counts');
  const press = (name: string | RegExp) => () => counts.getByRole('button', { name }).click();
  await counts.waitFor();
  const barsMoved = (now: Song, before: Song) =>
    JSON.stringify(now.grid?.bars) !== JSON.stringify(before.grid?.bars);

  await test.step('tap eight, by the space bar, while it plays', () =>
    onceAndBack(
      page,
      house,
      () => tapEight(page),
      (now) => (now.grid?.held?.beats.length ?? 0) >= 7,
    ));
  await test.step('a bar starts here', () =>
    onceAndBack(page, house, press(/^A bar starts here/), (now) => now.grid?.held?.bars.length === 1));
  await test.step('twice as fast', () =>
    onceAndBack(
      page,
      house,
      press('Twice as fast'),
      (now, before) => now.grid!.beats.length > 1.9 * before.grid!.beats.length,
    ));
  await test.step('what a correction opens is confirmed by a word for it, and by nothing else', () =>
    onceAndBack(
      page,
      house,
      async () => {
        await press('Twice as fast')();
        await page.getByRole('button', { name: 'This is right: bars' }).click();
      },
      ({ grid }) =>
        grid!.confirmedBy.beats !== null &&
        grid!.confirmedBy.bars !== null &&
        grid!.confirmedBy.metre === null,
      2,
    ));
  await test.step('half as fast', () =>
    onceAndBack(
      page,
      house,
      press('Half as fast'),
      (now, before) => now.grid!.beats.length < 0.6 * before.grid!.beats.length,
    ));
  await test.step('another metre', () =>
    onceAndBack(
      page,
      house,
      async () => void (await counts.getByLabel('Metre').selectOption('four beats a bar')),
      (now, before) => now.grid?.beatsPerBar === 4 && barsMoved(now, before),
    ));
  await test.step('another count level, which this song has only in four', () =>
    onceAndBack(
      page,
      house,
      async () => {
        await counts.getByLabel('Metre').selectOption('four beats a bar');
        await counts.getByLabel('The dancers count').selectOption('every second beat');
        await page.getByRole('button', { name: 'Keep seconds' }).click();
      },
      (now) => now.grid?.countLevel === 'half',
      2,
    ));
  await test.step('all beats 10 ms later', () =>
    onceAndBack(
      page,
      house,
      press('10 ms later'),
      (now, before) => Math.abs(now.grid!.beats[9]! - before.grid!.beats[9]! - 0.01) < 1e-6,
    ));

  await openDrawer(page, 'Sections');
  const list = page.getByRole('region', { name: 'Sections' });
  const second = list.getByRole('listitem').nth(1);
  await second.getByRole('button', { name: /^Change/ }).click();
  const ofSecond = (name: string) => () => second.getByRole('button', { name, exact: true }).click();
  const startOf = ({ sections }: Song) => sections.map(({ start }) => start).sort((a, b) => a - b)[1]!;

  await test.step('a section starts a bar later', () =>
    onceAndBack(page, house, ofSecond('a bar later'), (now, before) => startOf(now) > startOf(before)));
  await test.step('split', () =>
    onceAndBack(
      page,
      house,
      ofSecond('Split here'),
      (now, before) => now.sections.length === before.sections.length + 1,
    ));
  await test.step('rename', () =>
    onceAndBack(
      page,
      house,
      async () => {
        await second.getByLabel('Name of your own').fill('the stair');
        await second.getByLabel('Name of your own').blur();
      },
      (now) => now.sections.some(({ name }) => name === 'the stair'),
    ));
  await test.step('split and rename are two steps, undone one by one', () =>
    onceAndBack(
      page,
      house,
      async () => {
        await ofSecond('Split here')();
        await second.getByLabel('Name of your own').fill('the stair');
        await second.getByLabel('Name of your own').blur();
      },
      (now, before) =>
        now.sections.length === before.sections.length + 1 &&
        now.sections.some(({ name }) => name === 'the stair'),
      2,
    ));
  await test.step('join, last since its form closes with it', () =>
    onceAndBack(
      page,
      house,
      ofSecond('Join to the one before'),
      (now, before) => now.sections.length === before.sections.length - 1,
    ));
});
