import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, type Locator, type Page } from '@playwright/test';
import type { Board } from '../../lib/core/areas/board.ts';
import {
  cutOff,
  emptyFile,
  type GivenFile,
  longMp3,
  mp4Film,
  shortClip,
  silentWav,
  textNamedMp3,
  wavFile,
  webmFilm,
} from '../kit/files.ts';
import { plainForm, synth } from '../kit/synth.ts';
import { AGAIN, enterStudio, type House, test } from './house.ts';
import { openDrawer, openRecording } from './songPage.ts';

/** What somebody may choose by mistake, and what is said of it. */
const mistakes: [string, () => GivenFile, RegExp][] = [
  ['a file without a byte', emptyFile, /^This file is empty/],
  ['a text named .mp3', textNamedMp3, /^This is a text, whatever its name says/],
  ['silence', silentWav, /^The recording is silent/],
  ['three seconds of sound', shortClip, /^This is only 3\.0 seconds long/],
  ['half of a file', () => cutOff(silentWav()), /^This file ends early: 0:20 of 0:40 are there/],
  ['twenty minutes', longMp3, /^This is longer than 15 minutes/],
  ['an MP4 film', mp4Film, /^This is a film/],
  ['a WebM film', webmFilm, /^This is a film/],
];

const filesOf = (house: House): Promise<string[]> => readdir(join(house.folder, 'audio')).catch(() => []);

async function boardOf(page: Page): Promise<Board> {
  const address = new URL(page.url());
  const board = address.pathname.split('/')[2];
  const answer = await page.request.get(
    `${address.origin}/api/boards/${board}/papers/board.json?as=instructor`,
    AGAIN,
  );
  expect(answer.status()).toBe(200);
  return answer.json();
}

async function newBoard(page: Page, house: House): Promise<void> {
  await enterStudio(page, house);
  await page.getByRole('button', { name: 'New couple' }).click();
  await page.getByLabel('One of them').fill('Runa');
  await page.getByLabel('The other', { exact: true }).fill('Casimir');
  await page.getByRole('button', { name: 'Begin their board' }).click();
  await expect(page.getByRole('heading', { name: 'Which song is it?' })).toBeVisible();
}

/** The one sentence that is shown, in the page's main part. */
const word = (page: Page): Locator => page.getByRole('main').getByRole('alert');

test('a file that is no song is told as what it is, and nothing of it is kept', async ({ page, house }) => {
  const problems: string[] = [];
  page.on('pageerror', (error) => problems.push(error.message));
  await newBoard(page, house);
  const before = await filesOf(house);
  for (const [what, make, sentence] of mistakes)
    await test.step(what, async () => {
      await page.getByLabel('The song’s file', { exact: true }).setInputFiles(make());
      await expect(word(page)).toHaveText(sentence);
      await expect(page.getByRole('heading', { name: 'Which song is it?' })).toBeVisible();
    });
  expect((await boardOf(page)).plan.recording).toBeNull();
  expect(await filesOf(house)).toEqual(before);
  expect(problems).toEqual([]);
});

test('a mistaken file leaves the song, its title and a cue word as they were', async ({ page, house }) => {
  await newBoard(page, house);
  const song = wavFile(
    '01 paper boats.wav',
    synth({ bpm: 120, beats: 4, subdivision: 2, sections: plainForm }).samples,
  );
  await page.getByLabel('The song’s file', { exact: true }).setInputFiles(song);
  await expect(page.getByRole('region', { name: 'Put it right' })).toBeVisible({ timeout: 90_000 });
  await openRecording(page);
  await page.getByLabel('Title').fill('Boats of Paper');
  await page.getByLabel('Title').blur();
  await page.getByRole('link', { name: 'Sheet', exact: true }).click();
  await page
    .getByRole('button', { name: /^No word .* yet\. Write it$/ })
    .nth(1)
    .click();
  await page.getByRole('textbox', { name: /^Word or sound/ }).fill('brass');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('button', { name: /: brass\. Change it$/ })).toBeVisible();
  await page.getByRole('link', { name: 'Song', exact: true }).click();
  await expect(page.getByRole('banner').getByText('saved', { exact: true })).toBeVisible();
  const [before, files] = [await boardOf(page), await filesOf(house)];
  expect(before.plan.recording).not.toBeNull();
  expect(before.plan.cues.map((cue) => cue.word)).toEqual(['brass']);

  await openRecording(page);
  await openDrawer(page, 'Take another recording');
  for (const [what, make, sentence] of mistakes)
    await test.step(what, async () => {
      await page.getByLabel('The song’s file', { exact: true }).setInputFiles(make());
      await expect(word(page)).toHaveText(sentence);
    });
  await expect(page.getByLabel('Title')).toHaveValue('Boats of Paper');
  expect(await boardOf(page)).toEqual(before);
  expect(await filesOf(house)).toEqual(files);
});
