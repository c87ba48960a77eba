import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test as base, expect, type Locator, type Page } from '@playwright/test';
import { type Role, role } from '../../lib/core/areas/people.ts';

/** A production server of its own, with an empty store, on a free port. */
export interface House {
  address: string;
  /** What the console printed for the first run. */
  code: string;
  passphrase: string;
  /** What it keeps lies here. */
  folder: string;
  /** The demo board's links, a role each. */
  demo: Record<Role, string>;
}

/** Neither the browser's (playwright.config.ts) nor the demo party's: what takes one for another fails. */
const SERVER_ZONE = 'America/Los_Angeles';

/** A kept line may end just as it is used again, which is no answer of the house: asked once more. */
export const AGAIN = { maxRetries: 2 };

/** Starts it, and answers when it has printed what people are told. */
export async function startHouse(folder: string): Promise<{ house: House; child: ChildProcess }> {
  const child = spawn(process.execPath, ['build/server.mjs'], {
    env: {
      ...process.env,
      NODE_ENV: 'production',
      PORT: '0',
      HOST: '127.0.0.1',
      LARKSTEP_DATA: folder,
      TZ: SERVER_ZONE,
    },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  // Where it is given up on before it is ready, nobody else ends it.
  process.once('exit', () => child.kill());
  let printed = '';
  const house = await new Promise<House>((resolve, reject) => {
    child.once('exit', (code) => reject(new Error(`The server ended with ${code}: ${printed}`)));
    child.stdout.on('data', (chunk: Buffer) => {
      printed += chunk.toString();
      const address = /ready at (\S+)/.exec(printed)?.[1];
      const code = /this code: (\S+)/.exec(printed)?.[1];
      const links = [...printed.matchAll(/^ {2}([a-z]+) +(http\S+\/join\/\S+)$/gm)];
      if (!address || !code || links.length < role.options.length || !printed.endsWith('\n')) return;
      const demo = Object.fromEntries(links.map(([, who, link]) => [who, link])) as House['demo'];
      resolve({ address, code, passphrase: 'quarter note and a half', folder, demo });
    });
  });
  return { house, child };
}

export async function endHouse(child: ChildProcess): Promise<void> {
  child.kill('SIGTERM');
  if (child.exitCode === null) await once(child, 'exit');
}

export const test = base.extend<object, { changes: string; house: House }>({
  /** Name of the file that leaves the demo's board changed: no other file is given its house. */
  changes: ['', { option: true, scope: 'worker' }],
  house: [
    // biome-ignore lint/correctness/noEmptyPattern: the test tool reads the fixture's needs from this pattern
    async ({}, use) => {
      const folder = await mkdtemp(join(tmpdir(), 'larkstep-browser-'));
      const { house, child } = await startHouse(folder);
      await use(house);
      await endHouse(child);
      await rm(folder, { recursive: true, force: true });
    },
    // It listens to the demo's song first: seconds of a processor, minutes on a machine that has other things to do.
    { scope: 'worker', timeout: 300_000 },
  ],
});

/** The couple's sheet of the demo board; their link leads to their home. */
export async function toSheet(page: Page, house: House): Promise<void> {
  await page.goto(house.demo.couple);
  await page.goto(page.url().replace('/home?', '/sheet?'));
}

/** What is settled and what is owed, at the head of each page of a board. */
export const stagesOf = (page: Page): Locator =>
  page.getByRole('navigation', { name: 'What is settled and what is owed' });

/** The board is stored, and the sheet is all drawn and checked. */
export async function isAtRest(page: Page): Promise<void> {
  await expect(page.getByRole('banner').getByText('saved', { exact: true })).toBeVisible();
  await expect(page.locator('[aria-busy=true]')).toHaveCount(0);
}

/** First run or sign-in, whichever the page asks for; ends in the studio. */
/** Says yes to the question before something that was agreed, placed or danced is undone. */
export const changeAnyway = (page: Page): Promise<void> =>
  page.getByRole('dialog').getByRole('button', { name: 'Change it anyway' }).click();

export async function enterStudio(page: Page, house: House): Promise<void> {
  await page.goto(house.address);
  await page.getByLabel('Passphrase', { exact: true }).waitFor();
  const code = page.getByLabel('Code');
  if (await code.isVisible()) {
    await code.fill(house.code);
    await page.getByLabel('Your name').fill('Marit');
    await page.getByLabel('Passphrase', { exact: true }).fill(house.passphrase);
    await page.getByLabel('The same passphrase again').fill(house.passphrase);
    await page.getByRole('button', { name: 'Open the studio' }).click();
  } else {
    await page.getByLabel('Passphrase', { exact: true }).fill(house.passphrase);
    await page.getByRole('button', { name: 'Sign in' }).click();
  }
  await page.getByRole('button', { name: 'New couple' }).waitFor();
}
