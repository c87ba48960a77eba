import { expect, type Page } from '@playwright/test';
import { shortName } from '../../lib/core/handover/danced.ts';
import { closings } from '../../lib/protocol/close.ts';
import { toSheet } from './house.ts';
import { longest, scripts } from './names.ts';
import { closed, join, OFFLINE, type Stage, type State } from './states.ts';

/** States of the pages that are used where there may be no network: practice and the night card. */

const open = async (page: Page, stage: Stage, screen: string): Promise<void> =>
  join(page, stage, await stage.written(scripts.greek!), 'couple', screen);

/** The demo's own board: one that was brought in by its file has no recording. */
async function practise(page: Page, { house }: Stage): Promise<void> {
  await toSheet(page, house);
  await page.goto(page.url().replace(/\/sheet\?/, '/practise?'));
  await expect(page.getByRole('banner').getByText('saved', { exact: true })).toBeVisible();
}

/** Its music is here; for a moment before it is made, too, the page says "Press play". */
async function isReady(page: Page): Promise<void> {
  await expect(page.getByText(/opens and plays without a network/)).toBeVisible({ timeout: 60_000 });
  await expect(page.getByText('Press play', { exact: true })).toBeVisible();
}

/** Ready to play two bars again and again. */
async function practiseTwoBars(page: Page, stage: Stage): Promise<void> {
  await practise(page, stage);
  await isReady(page);
  await page.getByLabel('From the start of').selectOption({ index: 40 });
  await page.getByLabel('Through the end of').selectOption({ index: 41 });
}

/** Phrase by phrase, to the first at which these words are heard and called. It needs no music. */
export async function practisePhrase(page: Page, words: RegExp): Promise<void> {
  const heard = page.getByRole('region', { name: 'Follow the music' });
  const on = page.getByRole('button', { name: 'a phrase on' });
  await expect(async () => {
    await on.click();
    // As it is by then: who waits, and no more than a while, may miss the phrase where the machine is slow.
    expect(await heard.textContent()).toMatch(words);
  }).toPass({ intervals: [0] });
}

const practice: State[] = [
  {
    name: 'practise-slow',
    async show(page, stage) {
      await page.route('**/api/boards/*/audio/*', () => undefined);
      await practise(page, stage);
      await expect(page.getByText('One moment')).toBeVisible();
    },
  },
  {
    name: 'practise-failed',
    async show(page, stage) {
      await page.route('**/api/boards/*/audio/*', (route) => route.fulfill({ status: 500 }));
      await practise(page, stage);
      await expect(page.getByRole('region', { name: 'Music' }).getByRole('alert')).toBeVisible();
    },
    noted: /500/,
  },
  {
    name: 'practise-without-recording',
    async show(page, stage) {
      await open(page, stage, 'practise');
      await expect(page.getByText('No music yet')).toBeVisible();
    },
    noted: /404/,
  },
  {
    name: 'practise-ready',
    async show(page, stage) {
      await practise(page, stage);
      await isReady(page);
    },
  },
  {
    name: 'practise-under-way',
    async show(page, stage) {
      await practiseTwoBars(page, stage);
      await expect(page.getByText(/^Again and again: /)).toBeVisible();
    },
  },
  {
    name: 'practise-whole-screen',
    async show(page, stage) {
      await practiseTwoBars(page, stage);
      await page.getByRole('button', { name: 'Fill the screen' }).click();
      await expect(page.getByRole('dialog', { name: 'Follow the music' })).toBeVisible();
    },
  },
  ...Object.entries({ long: longest, arabic: scripts.arabic! }).map(
    ([name, words]): State => ({
      name: `practise-whole-screen-${name}`,
      async show(page, stage) {
        await join(page, stage, await stage.written(words), 'couple', 'practise');
        await practisePhrase(page, new RegExp(`now: ${words.cue}.*${shortName(words.move)}`, 's'));
        await page.getByRole('button', { name: 'Fill the screen' }).click();
        await expect(page.getByRole('dialog').getByText(shortName(words.move))).toBeVisible();
      },
      noted: /404/,
    }),
  ),
  {
    name: 'practise-offline',
    async show(page, stage) {
      await practise(page, stage);
      await isReady(page);
      await page.context().setOffline(true);
      await page.reload();
      await expect(page.getByRole('banner').getByText('no connection')).toBeVisible();
      await isReady(page);
    },
    noted: OFFLINE,
  },
];

const night: State[] = [
  {
    name: 'night-offline',
    async show(page, stage) {
      await open(page, stage, 'night');
      await expect(page.getByText('Saved on this device.')).toBeVisible();
      await page.context().setOffline(true);
      await page.reload();
      await expect(page.getByText('No network now')).toBeVisible();
    },
    noted: OFFLINE,
  },
  ...(['ended', 'revoked', 'reload'] as const).map(
    (word): State => ({
      name: `night-${word}`,
      show: closed(
        word,
        async (page) => {
          await expect(page.getByRole('main').getByRole('alert')).toContainText(closings[word].sentence);
        },
        'night',
      ),
    }),
  ),
];

const nothing: State = {
  name: 'not-kept',
  async show(page, stage) {
    await open(page, stage, 'night');
    await expect(page.getByText('Saved on this device.')).toBeVisible();
    await page.context().setOffline(true);
    // The browser takes the network from the page at once, from the service worker a moment later.
    await expect(async () => {
      await page.goto(stage.house.address);
      await expect(page.getByRole('heading', { name: 'No network' })).toBeVisible({ timeout: 2000 });
    }).toPass();
  },
  noted: OFFLINE,
};

export const practiceStates: State[] = [...practice, ...night, nothing];
