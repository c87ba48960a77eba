import { createHash } from 'node:crypto';
import { writeFile } from 'node:fs/promises';
import { expect, type Worker } from '@playwright/test';
import type { Plan } from '../../lib/core/areas/plan.ts';
import { wavFile } from '../kit/files.ts';
import { plainForm, synth } from '../kit/synth.ts';
import { AGAIN, enterStudio, test } from './house.ts';
import { openDrawer, openRecording } from './songPage.ts';

const song = (times: number, bpm: number) =>
  synth({ bpm, beats: 4, subdivision: 2, sections: Array.from({ length: times }, () => plainForm).flat() })
    .samples;

/** Seconds of silence before the music in another copy. */
const LATER = 1.37;

test('listening to a song is stopped at once, leaves nothing behind, and another can be taken', async ({
  browser,
  house,
}) => {
  const page = await (await browser.newContext()).newPage();
  await enterStudio(page, house);
  await page.getByRole('button', { name: 'New couple' }).click();
  await page.getByLabel('One of them').fill('Runa');
  await page.getByLabel('The other', { exact: true }).fill('Casimir');
  await page.getByRole('button', { name: 'Begin their board' }).click();
  await page.waitForURL(/\/board\//);
  const board = new URL(page.url()).pathname.split('/')[2]!;
  await page.goto(`${house.address}/board/${board}/song?as=instructor`);
  const stored: string[] = [];
  page.on('request', (request) => {
    if (request.method() === 'POST' && request.url().includes('/audio')) stored.push(request.url());
  });

  const long = wavFile('a long one.wav', song(3, 110));
  // As a file: it takes long to hand over so many bytes.
  const path = test.info().outputPath('a long one.wav');
  await writeFile(path, long.buffer);
  const workers: Worker[] = [];
  page.on('worker', (worker) => workers.push(worker));
  const field = page.getByLabel('The song’s file');
  // By the page itself, in the very frame that says it listens: it may have done so before anybody else could ask.
  const stopped = page.evaluate(async () => {
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    const main = () => document.querySelector('main')!;
    while (!/Listening/.test(main().textContent)) await frame();
    [...main().querySelectorAll('button')]
      .find((button) => button.textContent === 'Stop')!
      .dispatchEvent(new MouseEvent('click', { bubbles: true }));
    // Two frames: the press is taken, and what it led to is painted.
    for (let i = 0; i < 2; i++) await frame();
    return {
      bars: document.querySelectorAll('main progress').length,
      words: document.querySelector('main')?.textContent ?? '',
    };
  });
  await field.setInputFiles(path);
  const after = await stopped;
  await expect.poll(() => workers.length, 'it did listen').toBeGreaterThan(0);
  expect(after.bars, 'nothing goes on').toBe(0);
  expect(after.words).toContain('Choose the song’s file');
  await expect.poll(() => page.workers().length).toBe(0);
  await expect(page.getByRole('main').getByRole('alert')).toHaveCount(0);

  const short = song(1, 124);
  await field.setInputFiles(wavFile('a short one.wav', short));
  await expect(page.getByRole('heading', { name: 'Which song is it?' })).toHaveCount(0, { timeout: 90_000 });
  await expect(page.getByRole('banner').getByText('saved', { exact: true })).toBeVisible();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('a short one');
  expect(stored).toHaveLength(1);
  const id = createHash('sha256').update(long.buffer).digest('hex');
  const kept = await page.request.get(
    `${house.address}/api/boards/${board}/audio/${id}?as=instructor`,
    AGAIN,
  );
  expect(kept.status(), 'the one that was stopped was never stored').toBe(404);
  const file = () =>
    page.request.get(`${house.address}/api/boards/${board}/papers/board.json?as=instructor`, AGAIN);
  expect(await (await file()).text()).not.toContain(id);

  await test.step('of another copy of the same recording, what was made of it moves along', async () => {
    const planOf = async (): Promise<Plan> => (await (await file()).json()).plan;
    const before = await planOf();
    const [sound] = short.channels;
    const later = new Float32Array(Math.round(LATER * short.rate) + sound!.length);
    later.set(sound!, later.length - sound!.length);
    await openRecording(page);
    await openDrawer(page, 'Take another recording');
    await field.setInputFiles(wavFile('its copy.wav', { ...short, channels: [later] }));
    await page.getByRole('button', { name: 'Take the new recording' }).click({ timeout: 90_000 });
    await expect
      .poll(async () => (await planOf()).recording?.id, { timeout: 90_000 })
      .not.toBe(before.recording!.id);
    const after = await planOf();
    expect(after.sections.map(({ id }) => id)).toEqual(before.sections.map(({ id }) => id));
    for (const [i, beat] of before.grid!.beats.entries())
      expect(Math.abs(after.grid!.beats[i]! - beat - LATER)).toBeLessThan(0.01);
  });
  await page.context().close();
});
