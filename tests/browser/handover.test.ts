import { readFile, writeFile } from 'node:fs/promises';
import { expect } from '@playwright/test';
import { decode } from '../../lib/codec/decode.ts';
import { encodeWav } from '../../lib/codec/wav.ts';
import { type Edit, wholeSong } from '../../lib/core/edit/edit.ts';
import { render } from '../../lib/core/edit/render.ts';
import { recordTime } from '../../lib/core/units.ts';
import { changeAnyway, stagesOf, test } from './house.ts';
import { scripts } from './names.ts';
import { openDrawer } from './songPage.ts';
import { join, moveTheParty, openStage } from './states.ts';

/** What the DJ checks, says and suggests belongs to the edit and the file that it was said of. */

const SONG = 'public/demo/tarnlight-stair.mp3';

test('what was found of the DJ’s file, and the DJ’s yes, go with the edit and the file that is played', async ({
  browser,
  house,
}) => {
  const stage = await openStage(browser, house);
  const board = await stage.written(scripts.greek!, { edit: wholeSong, settled: null });
  const [couple, dj] = [
    await (await browser.newContext()).newPage(),
    await (await browser.newContext()).newPage(),
  ];
  await join(dj, stage, board, 'dj', 'dj');
  const copy = dj.getByRole('region', { name: 'Do you have the right file loaded?' });
  const answer = dj.getByRole('region', { name: /you play it like this/i });
  const yes = answer.getByRole('button', { name: 'Yes, exactly this' });

  await test.step('with the whole song as the edit, the recording is what is to be played', async () => {
    await dj.getByText('I play the finished file').click();
    await dj.getByLabel('A copy of the song to check').setInputFiles(SONG);
    await expect(copy).toContainText('Yes, this is what is to be played.', { timeout: 120_000 });
  });

  await test.step('once the edit fades it is not any more, on the page that is open', async () => {
    await join(couple, stage, board, 'couple', 'song');
    await openDrawer(couple, 'Joins and ending');
    await couple.getByLabel('The song ends', { exact: true }).selectOption('fade');
    // The closing pose lies after where it would fade.
    await changeAnyway(couple);
    await expect(copy).toContainText('This is the whole recording, not the finished file.');
  });

  await test.step('a fade below nothing is refused in words, and the edit stays', async () => {
    const length = couple.getByLabel('Seconds until silent');
    await length.fill('-3');
    await length.blur();
    await expect(couple.getByText('A fade lasts from 0.5 to 60 seconds')).toBeVisible();
  });

  await test.step('the yes is to the file that is played, once the DJ has been shown the fade', async () => {
    await yes.click();
    await expect(answer.getByRole('alert')).toContainText('fade: was nothing, is from');
    await yes.click();
    await expect(answer).toContainText('You said yes to exactly this.');
    await expect(yes).toHaveCount(0);
    await dj.getByText('I play my own copy').click();
    await expect(answer).toContainText('You play your own copy now: please say yes anew.');
    await yes.click();
    await expect(answer).toContainText('You said yes to exactly this.');
  });

  await test.step('what comes after reads as that to the DJ, and a time zone is offered with whose it is', async () => {
    await join(couple, stage, board, 'planner', 'show');
    const after = couple.getByLabel('What comes after');
    await after.fill('the cake');
    await after.blur();
    await changeAnyway(couple);
    await expect(dj.getByText('afterwards: the cake', { exact: true })).toBeVisible();
    const zone = couple.getByLabel('Time zone there');
    await zone.fill('');
    await zone.blur();
    await expect(couple.getByRole('button', { name: /^Take that of this device: \S/ })).toBeVisible();
  });

  await test.step('a fade after the finished file’s end is no suggestion', async () => {
    await dj.getByText('I play the finished file').click();
    await answer.getByRole('button', { name: 'I’d suggest something else' }).click();
    await answer.getByLabel('Start fading at').fill('9:59');
    await answer.getByRole('button', { name: 'Send this suggestion' }).click();
    await expect(answer.getByRole('alert')).toContainText('The music in the finished file ends at');
  });
});

/** What a page gives as the finished file of an edit of the demo's song. */
async function finishedFile(edit: Edit, at: string): Promise<string> {
  const song = await decode(await readFile(SONG));
  const made = song.ok ? render(song.value.samples, edit) : song;
  if (!made.ok) throw new Error(made.problem.sentence);
  await writeFile(at, encodeWav(made.value, 16));
  return at;
}

test('a finished file that was just checked is an older one as soon as the edit is another', async ({
  browser,
  house,
}, info) => {
  const stage = await openStage(browser, house);
  const leftOut = { from: recordTime(112.57), to: recordTime(192.17), crossfade: 0.03 };
  const edit = { ...wholeSong, cuts: [leftOut] };
  const file = await finishedFile(edit, info.outputPath('finished.wav'));
  const board = await stage.written(scripts.greek!, { edit, settled: null });
  const [couple, dj] = [
    await (await browser.newContext()).newPage(),
    await (await browser.newContext()).newPage(),
  ];
  await join(dj, stage, board, 'dj', 'dj');
  await dj.getByText('I play the finished file').click();
  const copy = dj.getByRole('region', { name: 'Do you have the right file loaded?' });
  await dj.getByLabel('A copy of the song to check').setInputFiles(file);
  await expect(copy).toContainText('Yes, this is the finished file.', { timeout: 120_000 });
  await join(couple, stage, board, 'couple', 'song');
  await openDrawer(couple, 'Joins and ending');
  await couple.getByLabel('The song ends', { exact: true }).selectOption('fade');
  await expect(copy).toContainText('This is an older finished file.');
  await expect(copy).toContainText('finished.wav');
});

test('a word is for what was on the screen: of what changed since it is given anew', async ({
  browser,
  house,
}) => {
  const stage = await openStage(browser, house);
  const board = await stage.written(scripts.greek!, { settled: null });
  const [dj, planner] = [
    await (await browser.newContext()).newPage(),
    await (await browser.newContext()).newPage(),
  ];
  const answer = dj.getByRole('region', { name: /you play it like this|is this right, too/i });
  await join(dj, stage, board, 'dj', 'dj');
  await dj.getByText('I play the finished file').click();

  await test.step('what changed while the DJ looked is shown, and the next press is for that', async () => {
    await moveTheParty(dj, stage, board, 'Tidemill Loft');
    await answer.getByRole('button', { name: 'Yes, exactly this' }).click();
    await expect(answer.getByRole('alert')).toContainText(/venue: was .*, is Tidemill Loft/);
    await expect(answer).not.toContainText('You said yes to exactly this');
    await answer.getByRole('button', { name: 'Yes, exactly this' }).click();
    await expect(answer).toContainText('You said yes to exactly this.');
  });

  await test.step('what changed after the yes is told, and one press says yes to that too', async () => {
    await moveTheParty(dj, stage, board, 'Tidemill Barn', true);
    await expect(answer).toContainText('venue: was Tidemill Loft, is Tidemill Barn');
    await expect(stagesOf(dj)).toContainText('something changed after your yes');
    await answer.getByRole('button', { name: 'Yes, to this too' }).click();
    await expect(answer).toContainText('You said yes to exactly this.');
    await expect(stagesOf(dj)).toContainText('said yes');
  });

  await test.step('so it is with the planner’s final word, but for what they write themselves', async () => {
    await join(planner, stage, board, 'planner', 'show');
    const final = planner.getByRole('region', { name: 'Final' });
    await moveTheParty(planner, stage, board, 'Tidemill Hall', true);
    const after = planner.getByLabel('What comes after');
    await after.fill('the cake');
    await after.blur();
    await final.getByRole('button', { name: 'Mark it final' }).click();
    await expect(final.getByRole('alert')).toContainText('place: was Tidemill Barn, is Tidemill Hall');
    await expect(final.getByRole('alert')).not.toContainText('the cake');
    await final.getByRole('button', { name: 'Mark it final' }).click();
    await expect(final).toContainText('This is final.');
  });
});
