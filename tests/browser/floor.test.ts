import { expect, type Page } from '@playwright/test';
import { AGAIN, isAtRest, test } from './house.ts';
import { isSound } from './sound.ts';
import { openStage } from './states.ts';

test.use({ changes: 'floor' });

const plan = (page: Page) => page.getByRole('img', { name: /^Plan of the floor/ });
const notes = (page: Page) => page.getByRole('listitem').filter({ hasText: /the pillar/ });
const said = (page: Page) => page.getByRole('status').filter({ hasText: /Undo/ });
const undo = (page: Page) => said(page).getByRole('button', { name: 'Undo' }).click();

/** To a role's page of the floor, on the demo's board. */
async function toFloor(page: Page, link: string): Promise<void> {
  await page.goto(link);
  const { origin, pathname, search } = new URL(page.url());
  await page.goto(`${origin}/board/${pathname.split('/')[2]}/floor${search}`);
  await isAtRest(page);
}

test('a floor is drawn, what is in the dance’s way is seen and settled, and all of it is taken back', async ({
  browser,
  house,
}) => {
  const page = await (await browser.newContext()).newPage();
  await toFloor(page, house.demo.instructor);

  await test.step('two numbers are a floor', async () => {
    await page.getByLabel('Along the front, metres').fill('seven');
    await page.getByRole('button', { name: 'Draw it' }).click();
    await expect(page.getByRole('main').getByRole('alert')).toHaveText(/from 1 to 100/);
    await page.getByLabel('Along the front, metres').fill('8');
    await page.getByLabel('From front to back, metres').fill('6,5');
    await page.getByRole('button', { name: 'Draw it' }).click();
    await expect(plan(page)).toHaveAccessibleName(/8 m along the front and 6.5 m deep/);
    await expect(said(page)).toContainText('The floor is 8 m × 6.5 m.');
  });

  await test.step('a pillar is put where they dance: a note says so, and its fix begins elsewhere', async () => {
    await page.getByRole('button', { name: 'Keep the proposal' }).click();
    await expect(page.getByRole('button', { name: 'Keep the proposal' })).toHaveCount(0);
    const x = Number(await page.getByLabel('From the left, m').first().inputValue());
    const y = Number(await page.getByLabel('From the front, m').first().inputValue());
    await page.getByRole('button', { name: 'Pillar', exact: true }).click();
    await page.getByRole('button', { name: 'Put it down by numbers' }).click();
    const pillar = page.getByRole('group', { name: 'pillar' }).last();
    for (const [label, value] of [
      ['From the left, m', x],
      ['From the front, m', y],
    ] as const) {
      await pillar.getByLabel(label).fill(String(value));
      await pillar.getByLabel(label).press('Enter');
    }
    await expect(notes(page)).toContainText('would meet the pillar');
    // Its button still says what would settle the place before: pressed then it does nothing, until it says what it does.
    await expect(async () => {
      await notes(page).getByRole('button').click();
      await expect(notes(page)).toHaveCount(0, { timeout: 2000 });
    }).toPass();
    await expect(said(page)).toContainText('The dance begins');
    await undo(page);
    await expect(notes(page)).toContainText('would meet the pillar');
  });

  await test.step('a corner is dragged, and a thing', async () => {
    await page.getByRole('button', { name: 'Move corners on the plan' }).click();
    const corner = await page.locator('[data-corner="2"]').boundingBox();
    const from = { x: corner!.x + corner!.width / 2, y: corner!.y + corner!.height / 2 };
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(from.x - 60, from.y + 40, { steps: 4 });
    await page.mouse.up();
    await expect(said(page)).toContainText('The floor has 4 corners');
    await undo(page);
    await expect(plan(page)).toHaveAccessibleName(/8 m along the front/);
    // Another corner in the middle of a side.
    await page.locator('[data-side="0"]').click();
    await expect(page.locator('[data-corner]')).toHaveCount(5);
  });

  await test.step('the same is there for whoever plans and whoever dances, and is kept', async () => {
    await isAtRest(page);
    const couple = await (await browser.newContext()).newPage();
    await toFloor(couple, house.demo.couple);
    await expect(plan(couple)).toHaveAccessibleName(/8 m along the front and 6.5 m deep.*the pillar/);
    await expect(couple.getByRole('button', { name: 'Draw it' })).toHaveCount(0);
    await expect(couple.getByLabel('The lead faces')).toBeEnabled();
    const planner = await (await browser.newContext()).newPage();
    await toFloor(planner, house.demo.planner);
    await planner.getByRole('button', { name: 'Band', exact: true }).click();
    const box = (await plan(planner).boundingBox())!;
    await plan(planner).click({ position: { x: box.width / 2, y: 60 } });
    await expect(said(planner)).toContainText('On the floor plan: the band.');
    await undo(planner);
    await expect(planner.getByRole('group', { name: 'band' })).toHaveCount(0);
  });

  await test.step('it goes along with the music', async () => {
    const now = page.locator('[data-now]');
    await expect(now).toHaveAttribute('visibility', 'hidden');
    await page.getByRole('slider', { name: 'The whole dance' }).first().press('End');
    await expect(now).toHaveAttribute('visibility', 'visible');
    const there = await now.getAttribute('transform');
    await page.getByRole('slider', { name: 'The whole dance' }).first().press('Home');
    await expect(now).not.toHaveAttribute('transform', there!);
  });

  await isSound(page, 'a drawn floor');
});

test('a board without a floor says what to do, by keys alone', async ({ browser, house }) => {
  const stage = await openStage(browser, house);
  const page = stage.instructor;
  const board = await stage.empty();
  await page.goto(`${house.address}/board/${board}/floor?as=instructor`);
  await expect(page.getByText('Two numbers are enough to begin.')).toBeVisible();
  await page.getByLabel('Along the front, metres').focus();
  await page.keyboard.type('6');
  await page.keyboard.press('Tab');
  await page.keyboard.type('5');
  await page.keyboard.press('Enter');
  await expect(plan(page)).toBeVisible();
  await expect(page.getByText('The dance shows here once the song’s beats are known.')).toBeVisible();
  const file = `${house.address}/api/boards/${board}/papers/board.json?as=instructor`;
  await isAtRest(page);
  const kept = await (await page.request.get(file, AGAIN)).json();
  expect(kept.show.floor).toMatchObject({ width: 6, depth: 5 });
  await stage.instructor.context().close();
});
