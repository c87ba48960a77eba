import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from '@playwright/test';
import { screensOf } from '../../app/_ui/roles.ts';
import { role } from '../../lib/core/areas/people.ts';
import config from '../playwright.config.ts';
import { endHouse, enterStudio, type House, startHouse } from './house.ts';
import { practiceStates } from './practiceStates.ts';
import { openStage, states } from './states.ts';
import { studioStates } from './studioStates.ts';

/**
 * `npm run shots`: every page of the demo, as each of its people sees it, and every state that a page may be in, at three widths,
 * light and dark, into build/shots/. For looking at. `npm run shots -- WORD…` only those whose names hold one of the words;
 * `npm run shots -- --readme` makes the README's picture instead.
 */
const OUT = 'build/shots';
const WIDTHS = [360, 768, 1440];
/** Panels of the sheet, by the button that opens each. */
const PANELS = ['Moves', 'Walk-on', 'Ending'];
const wanted = process.argv.slice(2).filter((word) => !word.startsWith('--'));

const isWanted = (name: string): boolean => wanted.length === 0 || wanted.some((word) => name.includes(word));

/** The page as it stands, at each width, light and dark. */
async function shoot(page: Page, name: string): Promise<void> {
  if (!isWanted(name)) return;
  for (const width of WIDTHS) {
    const height = width < 700 ? 780 : 900;
    await page.setViewportSize({ width, height });
    await page.evaluate(() => document.fonts.ready);
    // As high as the page is, so that what sticks to the window's edge stands at the page's.
    for (let before = 0; ; ) {
      const whole = await page.evaluate(
        () =>
          new Promise<number>((resolve) => {
            // Laid out for this width, and the rows that come when there is time are there.
            setTimeout(() => resolve(document.documentElement.scrollHeight), 250);
          }),
      );
      if (whole === before) break;
      before = whole;
      await page.setViewportSize({ width, height: Math.max(height, whole) });
    }
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      await page.screenshot({ path: join(OUT, `${name}-${width}-${colorScheme}.png`) });
    }
    await page.emulateMedia({ colorScheme: 'light' });
  }
}

const newPage = async (browser: Browser, height = 780): Promise<Page> =>
  // What is seen to arrive has arrived in a picture.
  (await browser.newContext({ viewport: { width: 1440, height }, reducedMotion: 'reduce' })).newPage();

async function outside(browser: Browser, house: House): Promise<void> {
  const page = await newPage(browser);
  await page.goto(house.address);
  await shoot(page, 'front-set-up');
  await page.goto(`${house.address}/nowhere`);
  await shoot(page, 'front-nowhere');
  await enterStudio(page, house);
  const stranger = await newPage(browser);
  await stranger.goto(house.address);
  await shoot(stranger, 'front-door');
  await stranger.goto(`${house.address}/join/none`);
  await shoot(stranger, 'front-outdated');
  await stranger.context().close();
  await shoot(page, 'studio');
  await page.goto(`${house.address}/moves`);
  await page.getByRole('heading', { level: 1 }).waitFor();
  await shoot(page, 'studio-moves');
  await page.context().close();
}

async function board(browser: Browser, house: House): Promise<void> {
  for (const who of role.options) {
    const page = await newPage(browser);
    await page.goto(house.demo[who]);
    const id = new URL(page.url()).pathname.split('/')[2];
    for (const screen of screensOf[who].filter((each) => isWanted(`${each}-${who}`))) {
      await page.goto(`${house.address}/board/${id}/${screen}?as=${who}`);
      await page.getByRole('heading', { level: 1 }).waitFor();
      if (screen !== 'night') await page.getByText('saved', { exact: true }).waitFor();
      await shoot(page, `${screen}-${who}`);
    }
    if (who === 'instructor') {
      await page.goto(`${house.address}/board/${id}/sheet?as=${who}`);
      for (const panel of PANELS) {
        const button = page.getByRole('button', { name: panel, exact: true });
        await button.click();
        await page.getByText('Opening…').waitFor({ state: 'hidden' });
        await shoot(page, `sheet-${panel.toLowerCase()}`);
        await button.click();
      }
    }
    await page.context().close();
  }
}

async function everyState(browser: Browser, house: House): Promise<void> {
  const stage = await openStage(browser, house);
  for (const state of [...states, ...practiceStates, ...studioStates].filter(({ name }) =>
    isWanted(`state-${name}`),
  )) {
    const page = await newPage(browser);
    // One that cannot be reached is told, and the others are shown all the same.
    await state
      .show(page, stage)
      .then(() => shoot(page, `state-${state.name}`))
      .catch((error: Error) => {
        process.exitCode = 1;
        console.error(`${state.name}: ${error.message}`);
      });
    await page.context().close();
  }
}

/** The README's picture: the instructor's sheet at a desk, as far as a first look goes. */
async function readmeSheet(browser: Browser, house: House): Promise<void> {
  const page = await newPage(browser, 1500);
  await page.goto(house.demo.instructor);
  await page.getByText('saved', { exact: true }).waitFor();
  await page.evaluate(() => document.fonts.ready);
  await page.screenshot({ path: 'public/readme-sheet.png' });
}

const folder = await mkdtemp(join(tmpdir(), 'larkstep-shots-'));
await mkdir(OUT, { recursive: true });
const { house, child } = await startHouse(folder);
const browser = await chromium.launch(config.use?.launchOptions);
try {
  if (process.argv.includes('--readme')) await readmeSheet(browser, house);
  else {
    await outside(browser, house);
    await board(browser, house);
    await everyState(browser, house);
  }
} finally {
  await browser.close();
  await endHouse(child);
  await rm(folder, { recursive: true, force: true });
}
