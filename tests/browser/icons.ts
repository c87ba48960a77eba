import { mkdir, readFile } from 'node:fs/promises';
import { chromium } from '@playwright/test';
import config from '../playwright.config.ts';

/** `node --import tsx tests/browser/icons.ts` draws the icons for home screens from app/icon.svg anew, in the sizes they are asked for. */
const OUT = 'public/icons';

/** What may be cut to a circle, at least 80 % of it being left (W3C, Web Application Manifest, "Icon masks and safe zone"). */
const SAFE = 0.8;

const svg = await readFile('app/icon.svg', 'utf8');
/** Set on ground to the edges, smaller, for systems that cut icons to a shape of their own. */
const masked = svg
  .replace(
    'viewBox="0 0 32 32"',
    `viewBox="${[16 - 16 / SAFE, 16 - 16 / SAFE, 32 / SAFE, 32 / SAFE].join(' ')}"`,
  )
  .replace('<rect width="32" height="32" rx="6"', '<rect x="-8" y="-8" width="48" height="48"');

await mkdir(OUT, { recursive: true });
const browser = await chromium.launch(config.use?.launchOptions);
const page = await browser.newPage();
for (const [name, size, drawing] of [
  ['192', 192, svg],
  ['512', 512, svg],
  ['maskable-192', 192, masked],
  ['maskable-512', 512, masked],
  ['touch-180', 180, masked],
] as const) {
  await page.setViewportSize({ width: size, height: size });
  await page.setContent(
    `<style>body{margin:0}svg{display:block;width:${size}px;height:${size}px}</style>${drawing}`,
  );
  await page.screenshot({ path: `${OUT}/${name}.png`, omitBackground: true });
}
await browser.close();
