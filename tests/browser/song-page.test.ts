import { expect, type Locator, type Page } from '@playwright/test';
import { wavFile } from '../kit/files.ts';
import { plainForm, synth } from '../kit/synth.ts';
import { isAtRest, test } from './house.ts';
import { tabTo } from './keys.ts';
import { openDrawer, seenOn } from './songPage.ts';
import { isSound, newPage } from './sound.ts';
import { openStage, type Stage } from './states.ts';

/** The song page in the order of the work: few words, one player, and edits made on the strip of the whole song. */

/** The bars of issue 20; the head that every page of a board has is counted with the words and not with the controls. */
const [WORDS, CONTROLS] = [250, 30];

/** A board with nothing but a song that was just brought. */
async function bringSong(stage: Stage, page: Page): Promise<void> {
  const board = await stage.empty();
  await page.goto(`${stage.house.address}/board/${board}/song?as=instructor`);
  const { samples } = synth({
    bpm: 120,
    beats: 4,
    subdivision: 2,
    sections: [...plainForm, ...plainForm],
    seed: 5,
  });
  await page.getByLabel('The song’s file').setInputFiles(wavFile('04 Harbour Lanterns.wav', samples));
  await expect(page.getByRole('slider', { name: 'Place in the recording' })).toBeVisible({
    timeout: 120_000,
  });
  await isAtRest(page);
}

const presentOf = (page: Page): Locator => page.getByRole('region', { name: 'The edit as it is' });
const place = (page: Page): Locator => page.getByRole('slider', { name: 'Place in the recording' });
const barOf = (page: Page): Locator => page.getByRole('region', { name: 'Music' });

test.use({ changes: 'song-page' });

test('at rest it has few words and few controls', async ({ browser, house }) => {
  const stage = await openStage(browser, house);
  const page = stage.instructor;
  const few = async (what: string) => {
    const seen = await seenOn(page);
    console.log(
      `song page, ${what}: ${seen.all.words} words and ${seen.all.controls} controls; without the head of every page ${seen.own.words} and ${seen.own.controls}`,
    );
    expect(seen.all.words, what).toBeLessThan(WORDS);
    expect(seen.own.controls, what).toBeLessThan(CONTROLS);
  };
  await page.getByRole('link', { name: 'Song', exact: true }).click();
  await expect(place(page)).toBeVisible();
  for (const width of [360, 1440]) {
    await page.setViewportSize({ width, height: 900 });
    await isAtRest(page);
    await few(`the demo's, ${width} px`);
  }
  await bringSong(stage, page);
  await few('a file just brought');
  await stage.instructor.context().close();
});

test('to hear something never moves the page', async ({ browser, house }) => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 } });
  const page = await context.newPage();
  await page.goto(house.demo.instructor);
  await page.getByRole('link', { name: 'Song', exact: true }).click();
  await isAtRest(page);
  const pause = barOf(page).getByRole('button', { name: /^(Pause|Stop)$/ });

  /** Where the page and the button are in each frame, from before the press until it is heard, and stopped again. */
  const stays = async (button: Locator, heard: Locator) => {
    await button.scrollIntoViewIfNeeded();
    const frames = await button.evaluateHandle((element) => {
      const seen = new Set<string>();
      const look = () => {
        const { left, top, width, height } = element.getBoundingClientRect();
        seen.add(JSON.stringify([window.scrollY, left, top, width, height]));
        if (element.isConnected) requestAnimationFrame(look);
      };
      look();
      return seen;
    });
    await button.click();
    await expect(heard).toBeVisible({ timeout: 60_000 });
    await pause.click();
    await expect(barOf(page).getByRole('button', { name: 'Play', exact: true })).toBeVisible();
    expect(await frames.evaluate((seen) => [...seen]), `${button}`).toHaveLength(1);
  };
  const playing = barOf(page).getByRole('button', { name: 'Pause' });
  const soundsOf = (words: string) => barOf(page).getByRole('status').filter({ hasText: words });
  await stays(presentOf(page).getByRole('button', { name: 'Hear the join' }), soundsOf('the join'));
  await openDrawer(page, 'Sections');
  await stays(page.getByRole('button', { name: /^Hear verse 1/ }), playing);
  await page.getByRole('button', { name: 'Propose edits' }).click();
  const proposed = page.getByRole('list', { name: 'Proposed edits, the best first' });
  await expect(proposed).toBeVisible({ timeout: 60_000 });
  await stays(proposed.getByRole('button', { name: /^Hear the join of/ }).first(), soundsOf('the join'));
  await stays(proposed.getByRole('button', { name: /^Hear the fade of/ }).last(), soundsOf('the fade'));

  await test.step('strips are of one scale', async () => {
    const whole = (await place(page).boundingBox())!;
    for (const strip of await proposed.locator('svg:has(polygon)').all()) {
      const { x, width } = (await strip.boundingBox())!;
      expect([x, width]).toEqual([expect.closeTo(whole.x, 0), expect.closeTo(whole.width, 0)]);
    }
  });
  await test.step('nothing else plays than the bar at the foot', async () => {
    await expect(page.getByRole('main').getByRole('button', { name: /^(Play|Pause)$/ })).toHaveCount(0);
  });
  await context.close();
});

test('an edit is made on the strip, while it plays, and by keys; each is undone in words', async ({
  browser,
  house,
}) => {
  const stage = await openStage(browser, house);
  const page = stage.instructor;
  await page.setViewportSize({ width: 1280, height: 720 });
  await bringSong(stage, page);
  const told = presentOf(page).locator('p').first();
  const whole = await told.textContent();
  expect(whole).toMatch(/^The whole song/);

  /** The gesture is told with its way back, which brings back the whole song. */
  const thenBack = async (words: RegExp) => {
    const said = page.getByRole('status').filter({ hasText: words });
    await expect(said).toBeVisible();
    await said.getByRole('button', { name: 'Undo that' }).click();
    await expect(told).toHaveText(whole!);
  };
  const xAt = async (share: number) => {
    const { x, y, width, height } = (await place(page).boundingBox())!;
    return { x: x + share * width, y: y + height / 2 };
  };
  const drag = async (from: { x: number; y: number }, to: { x: number; y: number }) => {
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move((from.x + to.x) / 2, to.y, { steps: 4 });
    await page.mouse.move(to.x, to.y, { steps: 4 });
  };

  await test.step('a stretch that is drawn over is left out, from bar line to bar line', async () => {
    await drag(await xAt(0.3), await xAt(0.5));
    await expect(page.getByRole('region', { name: 'The whole song' }).getByRole('status')).toContainText(
      /leaves out \d:\d\d: /,
    );
    await page.mouse.up();
    await expect(told).toHaveText(/: leaves out \d:\d\d from (the beginning of |.*, bar \d)/);
    await thenBack(/^Now left out: /);
  });
  await test.step('a drag that is given up changes nothing', async () => {
    await drag(await xAt(0.3), await xAt(0.5));
    await page.keyboard.press('Escape');
    await page.mouse.up();
    await expect(told).toHaveText(whole!);
  });
  await test.step('where the song ends and begins is drawn along', async () => {
    const end = page.getByRole('slider', { name: /^The song ends/ });
    const { x, y, width, height } = (await end.boundingBox())!;
    const grip = { x: x + width / 2, y: y + height / 2 };
    const { width: all } = (await place(page).boundingBox())!;
    await drag(grip, { x: grip.x - all / 4, y: grip.y });
    await page.mouse.up();
    await expect(told).toHaveText(/fades over 8 s/);
    await thenBack(/^It now ends with a fade/);
    const start = page.getByRole('slider', { name: 'The song begins at' });
    await start.focus();
    await page.keyboard.press('PageDown');
    await expect(start).toBeFocused();
    await expect(told).toHaveText(/^\d:\d\d: begins at/);
    await thenBack(/^It now starts at/);
  });
  await test.step('while it plays: stop here, go on here', async () => {
    const { x, y } = await xAt(0.25);
    await page.mouse.click(x, y);
    await expect(barOf(page).getByRole('button', { name: 'Pause' })).toBeVisible({ timeout: 60_000 });
    await barOf(page).getByRole('button', { name: 'Stop here' }).click();
    await expect(page.getByText(/^stops at .*; play on to where it goes on$/)).toBeVisible();
    const later = await xAt(0.5);
    await page.mouse.click(later.x, later.y);
    await barOf(page).getByRole('button', { name: 'Go on here' }).click();
    await expect(told).toHaveText(/: leaves out \d:\d\d from/);
    await barOf(page).getByRole('button', { name: 'Pause' }).click();
    await thenBack(/^Now left out: /);
  });
  await test.step('by keys alone', async () => {
    await tabTo(page, place(page), 'Shift+Tab');
    await page.keyboard.press('Home');
    await page.keyboard.press('PageDown');
    await page.keyboard.press('PageDown');
    for (let n = 0; n < 3; n++) await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('Shift+PageDown');
    await page.keyboard.press('Delete');
    await expect(told).toHaveText(/: leaves out \d:\d\d from the beginning of .* to /);
    const to = page.getByRole('slider', { name: 'The music goes on at' });
    const before = await to.getAttribute('aria-valuetext');
    await tabTo(page, to);
    await page.keyboard.press('PageUp');
    await expect(to).not.toHaveAttribute('aria-valuetext', before!);
    await expect(to).toBeFocused();
    for (let n = 0; n < 2; n++) await page.keyboard.press('Control+z');
    await expect(told).toHaveText(whole!);
  });
  await test.step('what was heard is confirmed, and told', async () => {
    await page.getByRole('button', { name: 'All of this is right' }).click();
    const said = page.getByRole('status').filter({ hasText: 'Confirmed: metre, beats, bars and sections.' });
    await said.getByRole('button', { name: 'Undo that' }).click();
    await expect(page.getByRole('button', { name: 'All of this is right' })).toBeVisible();
  });
  await page.context().close();
});

test('what opens on it is sound, on a phone and at a desk', async ({ browser, house }) => {
  const { page, heard } = await newPage(await browser.newContext());
  await page.goto(house.demo.instructor);
  await page.goto(page.url().replace('/sheet?', '/song?'));
  await isAtRest(page);
  await page.getByRole('button', { name: 'Propose edits' }).click();
  await expect(page.getByRole('list', { name: 'Proposed edits, the best first' })).toBeVisible({
    timeout: 60_000,
  });
  for (const title of [/^.Tarnlight Stair/, 'Take another', 'Counts', 'Sections', 'By ear', 'Key,'])
    await openDrawer(page, title);
  for (const title of ['Joins and ending', 'What must stay', 'Settle song']) await openDrawer(page, title);
  await page.getByRole('button', { name: /^Change chorus 1/ }).click();
  await isSound(page, 'the song page, all open');
  expect(heard).toEqual([]);
  await page.context().close();
});
