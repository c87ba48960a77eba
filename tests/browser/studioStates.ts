import { expect, type Page } from '@playwright/test';
import { boardsAnswer } from '../../lib/protocol/api.ts';
import { spoilRemarks } from '../kit/hopeless.ts';
import { AGAIN } from './house.ts';
import { scripts } from './names.ts';
import { join, type Stage, type State } from './states.ts';

/** States of the studio's list and of a board's history. */

const DAY_MS = 86_400_000;

/** As the instructor, whose session the page takes over. */
async function asInstructor(page: Page, { house, instructor }: Stage, path: string): Promise<void> {
  await page.context().addCookies(await instructor.context().cookies());
  await page.goto(house.address + path);
  await page.getByRole('heading', { level: 1 }).waitFor();
}

/** As many more as the studio lacks of so many couples, most with a day of their own: a third danced, some without one. */
export async function manyCouples({ house, instructor }: Stage, count: number): Promise<void> {
  const headers = { origin: house.address };
  const list = await instructor.request.get(`${house.address}/api/boards?count=1`, AGAIN);
  const { total } = boardsAnswer.parse(await list.json());
  for (let made = total; made < count; made++) {
    const day = new Date(Date.now() + (made - count / 3) * DAY_MS).toISOString().slice(0, 10);
    const words = {
      one: `Ottilie ${made}`,
      other: `Bram ${made}`,
      venue: '',
      date: made % 10 === 0 ? null : day,
    };
    const answer = await instructor.request.post(`${house.address}/api/boards`, {
      data: words,
      headers,
      ...AGAIN,
    });
    expect(answer.status()).toBe(200);
  }
}

/** A remark on a new board, written and stored by its couple. */
export async function withRemark(page: Page, stage: Stage, words: string): Promise<string> {
  const board = await stage.written(scripts.greek!);
  await join(page, stage, board, 'couple', 'remarks');
  await page.getByRole('button', { name: 'Write a remark' }).click();
  await page.getByRole('textbox', { name: 'Your remark' }).fill(words);
  await page.getByRole('button', { name: 'Done' }).click();
  await expect(page.getByRole('banner').getByText('saved', { exact: true })).toBeVisible();
  return board;
}

/** A board whose remarks cannot be opened: nobody has opened it yet. */
async function withSpoiltRemarks(stage: Stage): Promise<string> {
  const board = await stage.written(scripts.greek!);
  spoilRemarks(stage.house.folder, board);
  return board;
}

export const studioStates: State[] = [
  {
    name: 'history',
    async show(page, stage) {
      const board = await withRemark(page, stage, 'We would love a longer walk-on.');
      await asInstructor(page, stage, `/board/${board}/history?as=instructor`);
      await expect(page.getByText('Remarks').last()).toBeVisible();
    },
  },
  {
    name: 'history-empty',
    async show(page, stage) {
      await asInstructor(page, stage, `/board/${await stage.empty()}/history?as=instructor`);
      await expect(page.getByText('Nothing was written here in these 30 days.')).toBeVisible();
    },
  },
  {
    name: 'history-set-apart',
    async show(page, stage) {
      const board = await withSpoiltRemarks(stage);
      await asInstructor(page, stage, `/board/${board}/history?as=instructor`);
      await expect(page.getByRole('region', { name: 'Damaged' })).toBeVisible();
    },
  },
  {
    name: 'sheet-set-apart',
    async show(page, stage) {
      const board = await withSpoiltRemarks(stage);
      await asInstructor(page, stage, `/board/${board}/sheet?as=instructor`);
      await expect(page.getByRole('main').getByRole('alert').first()).toContainText(
        'Damaged and set apart: Remarks',
      );
    },
  },
  {
    name: 'remark-to-remove',
    async show(page, stage) {
      const board = await withRemark(page, stage, 'Is the fog machine allowed in this hall?');
      await asInstructor(page, stage, `/board/${board}/remarks?as=instructor`);
      await page
        .getByRole('button', { name: /^Remove the remark of / })
        .last()
        .click();
      await expect(page.getByRole('dialog')).toBeVisible();
    },
  },
  {
    name: 'studio-paged',
    async show(page, stage) {
      await manyCouples(stage, 60);
      await asInstructor(page, stage, '/');
      await expect(page.getByRole('navigation', { name: 'Pages of the list' })).toBeVisible();
    },
  },
  {
    name: 'studio-none-found',
    async show(page, stage) {
      await asInstructor(page, stage, '/?named=nobody+at+all');
      await expect(page.getByText('No couple has “nobody at all” in a name.')).toBeVisible();
    },
  },
];
