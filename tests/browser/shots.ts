import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from '@playwright/test';
import { screensOf } from '../../app/_ui/roles.ts';
import { role } from '../../lib/core/areas/people.ts';
import config from '../playwright.config.ts';
import { endHouse, enterStudio, type House, startHouse } from './house.ts';

/**
 * `npm run shots`: every page of the demo, as each of its people sees it, at three widths, into build/shots/. For looking at.
 * `npm run shots -- --readme` makes the README's picture instead.
 */
const OUT = 'build/shots';
const WIDTHS = [360, 768, 1440];
/** Panels of the sheet, by the button that opens each. */
const PANELS = ['Moves', 'Walk-on', 'Ending'];

async function shoot(page: Page, name: string): Promise<void> {
  await page.evaluate(() => document.fonts.ready);
  // As high as the page is, so that what sticks to the window's edge stands at the page's.
  const { width, height } = page.viewportSize()!;
  const whole = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewportSize({ width, height: Math.max(height, whole) });
  await page.screenshot({ path: join(OUT, `${name}.png`) });
  await page.setViewportSize({ width, height });
}

async function newPage(browser: Browser, width: number, height = width < 700 ? 780 : 900): Promise<Page> {
  const context = await browser.newContext({ viewport: { width, height } });
  return context.newPage();
}

async function outside(browser: Browser, house: House, width: number): Promise<void> {
  const page = await newPage(browser, width);
  await page.goto(house.address);
  await shoot(page, `front-${width === WIDTHS[0] ? 'set-up' : 'door'}-${width}`);
  await page.goto(`${house.address}/nowhere`);
  await shoot(page, `front-nowhere-${width}`);
  await enterStudio(page, house);
  const stranger = await newPage(browser, width);
  await stranger.goto(`${house.address}/join/none`);
  await shoot(stranger, `front-outdated-${width}`);
  await stranger.context().close();
  await shoot(page, `studio-${width}`);
  await page.goto(`${house.address}/moves`);
  await page.getByRole('heading', { level: 1 }).waitFor();
  await shoot(page, `studio-moves-${width}`);
  await page.context().close();
}

async function board(browser: Browser, house: House, width: number): Promise<void> {
  for (const who of role.options) {
    const page = await newPage(browser, width);
    await page.goto(house.demo[who]);
    const id = new URL(page.url()).pathname.split('/')[2];
    for (const screen of screensOf[who]) {
      await page.goto(`${house.address}/board/${id}/${screen}?as=${who}`);
      await page.getByRole('heading', { level: 1 }).waitFor();
      if (screen !== 'night') await page.getByText('saved', { exact: true }).waitFor();
      await shoot(page, `${screen}-${who}-${width}`);
    }
    if (who === 'instructor') {
      await page.goto(`${house.address}/board/${id}/sheet?as=${who}`);
      for (const panel of PANELS) {
        const button = page.getByRole('button', { name: panel, exact: true });
        await button.click();
        await shoot(page, `sheet-${panel.toLowerCase()}-${width}`);
        await button.click();
      }
    }
    await page.context().close();
  }
}

/** The README's picture: the instructor's sheet at a desk, as far as a first look goes. */
async function readmeSheet(browser: Browser, house: House): Promise<void> {
  const page = await newPage(browser, 1440, 1500);
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
  else
    for (const width of WIDTHS) {
      await outside(browser, house, width);
      await board(browser, house, width);
    }
} finally {
  await browser.close();
  await endHouse(child);
  await rm(folder, { recursive: true, force: true });
}
