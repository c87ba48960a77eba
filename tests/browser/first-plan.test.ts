import { expect } from '@playwright/test';
import { wavFile } from '../kit/files.ts';
import { plainForm, synth } from '../kit/synth.ts';
import { isAtRest, stagesOf, test } from './house.ts';
import { openStage } from './states.ts';

test.use({ changes: 'first-plan' });

/** Presses, drops and typed fields that an instructor needs from a file to a whole plan; the bar is under 14. */
const GESTURES = 11;

test('an empty board shows the ghost of a sheet, and a file becomes a whole plan in few gestures', async ({
  browser,
  house,
}) => {
  const stage = await openStage(browser, house);
  const board = await stage.empty();
  const page = stage.instructor;
  await page.setViewportSize({ width: 1280, height: 720 });
  await page.goto(`${house.address}/board/${board}/sheet?as=instructor`);
  await expect(page.locator('[data-ghost]')).toBeVisible();
  await expect(page.getByRole('heading', { name: 'Drop the song here' })).toBeVisible();
  let gestures = 0;
  const by = async (gesture: Promise<unknown>) => {
    gestures += 1;
    await gesture;
  };
  const { samples } = synth({
    bpm: 90,
    beats: 3,
    subdivision: 2,
    sections: [...plainForm, ...plainForm],
    seed: 5,
  });

  await test.step('the file, right there', async () => {
    await by(page.getByLabel('The song’s file').setInputFiles(wavFile('04 Harbour Lanterns.wav', samples)));
    // What it hears is told as it hears it.
    await expect(page.getByText(/Listening|Taking its imprint|Storing/).first()).toBeVisible();
    await expect(page.locator('[data-row]').first()).toBeVisible({ timeout: 120_000 });
    await isAtRest(page);
  });
  const stages = stagesOf(page);

  await test.step('counts and sections are right', async () => {
    await by(stages.getByRole('link', { name: /^song/ }).click());
    // The stage leads to the button that settles it: Enter is enough.
    const right = page.getByRole('button', { name: 'All of this is right' });
    await expect(right).toBeFocused();
    await expect(right).toBeInViewport();
    await by(page.keyboard.press('Enter'));
    await expect(stages.getByRole('link', { name: /^song confirmed/ })).toBeVisible();
  });

  await test.step('the length', async () => {
    await by(page.getByRole('button', { name: 'Propose edits' }).click());
    const take = page
      .getByRole('list', { name: 'Proposed edits, the best first' })
      .getByRole('button', { name: /^Choose/ })
      .first();
    await expect(take).toBeFocused({ timeout: 60_000 });
    await expect(take).toBeInViewport();
    await by(page.keyboard.press('Enter'));
    await expect(stages.getByRole('link', { name: /^edit (chosen|nothing left out)/ })).toBeVisible();
  });

  const dock = page.getByRole('region', { name: 'The dance' });
  await test.step('moves that the couple know', async () => {
    // The stage leads to what is owed, and opens it.
    await by(stages.getByRole('link', { name: 'dance to begin' }).click());
    for (const name of [/^Add Box/, /^Add Underarm turn/, /^Add Left turning box/])
      await by(dock.getByRole('button', { name }).first().click());
  });

  const ribbons = page.locator('[id^="ribbon-"][role=button]');
  await test.step('a whole dance of them, with its first step and its ending', async () => {
    await by(stages.getByRole('link', { name: 'dance to put together' }).click());
    const take = dock.getByRole('button', { name: /^Dance it like this/ }).first();
    await expect(take).toBeFocused({ timeout: 60_000 });
    await expect(take).toBeInViewport();
    await expect(dock.getByText(/^First step at /).first()).toBeVisible();
    await expect(dock.getByText(/^Closing pose: /).first()).toBeVisible();
    await by(page.keyboard.press('Enter'));
    await expect(ribbons.first()).toBeVisible();
    await expect(page.getByRole('dialog')).toHaveCount(0);
  });
  // The checks have seen it, and it lacks nothing.
  const dance = stages.getByRole('link', { name: /^dance/ });
  await expect(dance).toHaveText(/^dance (settled|\d+ to settle)/);
  await expect(stages.getByRole('link', { name: /^song confirmed/ })).toBeVisible();
  console.log(`first plan: ${await dance.textContent()}; ${gestures} gestures from a file to a whole plan`);
  expect(gestures).toBeLessThanOrEqual(GESTURES);

  await test.step('one step takes all of it back', async () => {
    await dock.getByRole('button', { name: 'Take it back' }).click();
    await expect(stages.getByRole('link', { name: 'dance to put together' })).toBeVisible();
    await expect(ribbons).toHaveCount(0);
  });
});
