import { expect } from '@playwright/test';
import { wavFile } from '../kit/files.ts';
import { plainForm, synth } from '../kit/synth.ts';
import { isAtRest, stagesOf, test } from './house.ts';
import { openStage } from './states.ts';

test.use({ changes: 'first-plan' });

/** Clicks, drops and keys that an instructor needs at most from a file to a plan with its first move. */
const GESTURES = 13;

test('an empty board shows the ghost of a sheet, and a file becomes a plan in few gestures', async ({
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
    await by(page.getByRole('button', { name: 'All of this is right' }).click());
    await expect(stages.getByRole('link', { name: /^song confirmed/ })).toBeVisible();
  });

  await test.step('the length', async () => {
    await by(page.getByRole('button', { name: 'Propose edits' }).click());
    const take = page
      .getByRole('list', { name: 'Proposed edits, the best first' })
      .getByRole('button', { name: /^Choose/ })
      .first();
    await expect(take).toBeVisible({ timeout: 60_000 });
    await by(take.click());
    await expect(stages.getByRole('link', { name: /^edit (chosen|nothing left out)/ })).toBeVisible();
  });

  await test.step('moves that the couple know, and the first of them on the sheet', async () => {
    // The stage leads to what is owed, and opens it.
    await by(stages.getByRole('link', { name: 'dance to begin' }).click());
    const dock = page.getByRole('region', { name: 'The dance' });
    await by(dock.getByText('Add from the move library').click());
    for (const name of [/^Add Box/, /^Add Underarm turn/, /^Add Left turning box/])
      await by(dock.getByRole('button', { name }).first().click());
    await by(dock.getByRole('button', { name: /^Take in hand.*Underarm turn/ }).click());
    const counts = page
      .locator('[data-row]')
      .nth(2)
      .getByRole('slider', { name: /^Counts of/ });
    await by(counts.click({ position: { x: 120, y: 5 } }));
    await expect(page.locator('[id^="ribbon-"][role=button]').first()).toBeVisible();
  });
  // The checks have seen it.
  await expect(stages.getByRole('link', { name: /^dance/ })).not.toHaveText('dance to begin');
  const dance = await stages.getByRole('link', { name: /^dance/ }).textContent();
  console.log(`first plan: ${dance}; ${gestures} gestures from a file to its first move`);
  expect(gestures).toBeLessThanOrEqual(GESTURES);
});
