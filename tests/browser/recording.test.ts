import { expect } from '@playwright/test';
import type { Plan } from '../../lib/core/areas/plan.ts';
import type { Show } from '../../lib/core/areas/show.ts';
import { wavFile } from '../kit/files.ts';
import { plainForm, synth } from '../kit/synth.ts';
import { AGAIN, stagesOf, test } from './house.ts';
import { scripts } from './names.ts';
import { openDrawer, openRecording } from './songPage.ts';
import { join, openStage } from './states.ts';

test('another recording asks first, says what it touches, and can be declined, taken and taken back', async ({
  browser,
  house,
}, info) => {
  const stage = await openStage(browser, house);
  const board = await stage.written(scripts.greek!, { settled: null });
  const planOf = async (): Promise<{ plan: Plan; show: Show }> => {
    const paper = `${house.address}/api/boards/${board}/papers/board.json?as=instructor`;
    return (await stage.instructor.request.get(paper, AGAIN)).json();
  };
  const dj = await (await browser.newContext()).newPage();
  await join(dj, stage, board, 'dj', 'dj');
  const answer = dj.getByRole('region', { name: /you play it like this/i });
  await dj.getByText('I play the finished file').click();
  // What comes while they look is shown first, and they press again.
  await expect(async () => {
    await answer.getByRole('button', { name: 'Yes, exactly this' }).click({ timeout: 2000 });
    await expect(answer).toContainText('You said yes to exactly this.', { timeout: 2000 });
  }).toPass();

  const page = stage.instructor;
  await page.goto(`${house.address}/board/${board}/song?as=instructor`);
  const stored: string[] = [];
  page.on('request', (request) => {
    if (request.method() === 'POST' && request.url().includes('/audio')) stored.push(request.url());
  });
  const { samples } = synth({ bpm: 118, beats: 4, subdivision: 2, sections: plainForm, seed: 5 });
  const dialog = page.getByRole('dialog', { name: 'Another recording in place of this one?' });
  const bring = async () => {
    await page.getByLabel('The song’s file').setInputFiles(wavFile('02 Tide Tables.wav', samples));
    await expect(dialog).toBeVisible({ timeout: 90_000 });
  };
  const saved = page.getByRole('banner').getByText('saved', { exact: true });
  await expect(saved).toBeVisible();
  const before = await planOf();
  const { cues, placed } = before.plan;
  expect(Math.min(cues.length, placed.length, before.show.moments.length)).toBeGreaterThan(0);

  await test.step('it says what goes, and nothing is stored yet', async () => {
    await openRecording(page);
    await openDrawer(page, 'Take another recording');
    await bring();
    await expect(dialog).toContainText('The same music was not found in it.');
    for (const words of [
      `${cues.length} cue words: “`,
      `${placed.length} moves: `,
      'the first step',
      'the ending with its closing pose',
      `${before.show.moments.length} moments for others`,
      'beats, bars and sections, which nobody has confirmed yet',
      'title: “Tide Tables” instead of',
      'has said yes to this. Their yes no longer holds: they need the new file',
    ])
      await expect(dialog).toContainText(words);
    expect(stored).toEqual([]);
    for (const width of [360, 768, 1440]) {
      await page.setViewportSize({ width, height: 780 });
      const box = (await dialog.boundingBox())!;
      expect(box.x >= 0 && box.x + box.width <= width && box.y >= 0 && box.y + box.height <= 780).toBe(true);
      await page.screenshot({ path: info.outputPath(`asks-${width}.png`) });
      await dialog.getByRole('button', { name: 'Take the new recording' }).scrollIntoViewIfNeeded();
      await expect(dialog.getByRole('button', { name: 'Take the new recording' })).toBeInViewport();
    }
  });

  await test.step('declined, it leaves both pages as they were', async () => {
    await dialog.getByRole('button', { name: 'Leave it as it is' }).click();
    await expect(page.getByText('The recording was not taken: everything is as it was.')).toBeVisible();
    await expect(dialog).toHaveCount(0);
    const { plan, show } = await planOf();
    expect({ plan, show }).toEqual({ plan: before.plan, show: before.show });
    expect(stored).toEqual([]);
    await expect(answer).toContainText('You said yes to exactly this.');
  });

  await test.step('accepted, what was said to go is gone, and the DJ’s yes is for an older version', async () => {
    await bring();
    await dialog.getByRole('button', { name: 'Take the new recording' }).click();
    await expect(page.getByRole('heading', { level: 1 })).toContainText('Tide Tables', { timeout: 60_000 });
    await expect(saved).toBeVisible();
    expect(stored).toHaveLength(1);
    const { plan, show } = await planOf();
    expect([plan.cues, plan.placed, plan.ending, show.moments]).toEqual([[], [], null, []]);
    expect(plan.walkOn).toEqual({ ...before.plan.walkOn, firstStep: null });
    expect(plan.recordingWords).toEqual({ title: 'Tide Tables', artist: '', version: '', source: '' });
    expect(plan.moves).toEqual(before.plan.moves);
    await expect(stagesOf(dj)).toContainText(/older version/);
  });

  await test.step('taken back, it is one step, and the yes holds again', async () => {
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect(page.getByRole('heading', { level: 1 })).not.toContainText('Tide Tables');
    await expect(saved).toBeVisible();
    const { plan, show } = await planOf();
    expect({ plan, show }).toEqual({ plan: before.plan, show: before.show });
    await expect(answer).toContainText('You said yes to exactly this.');
  });
});
