import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, expect } from '@playwright/test';
import config from '../playwright.config.ts';
import { AGAIN, test, toSheet } from './house.ts';

test('a phone or desk can set it beside its other programs', async ({ house }) => {
  // Not in a private window, in which no browser installs anything.
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-profile-'));
  const context = await chromium.launchPersistentContext(folder, config.use?.launchOptions);
  try {
    const page = await context.newPage();
    await toSheet(page, house);
    await expect(page.getByRole('banner').getByText('saved', { exact: true })).toBeVisible();
    const session = await context.newCDPSession(page);
    const { url, data, errors: faults } = await session.send('Page.getAppManifest');
    expect(faults).toEqual([]);
    expect(new URL(url).pathname).toBe('/manifest.webmanifest');
    const errors = async () => (await session.send('Page.getInstallabilityErrors')).installabilityErrors;
    await expect.poll(errors).toEqual([]);
    const { icons } = JSON.parse(data ?? '') as { icons: { src: string; sizes: string; type: string }[] };
    for (const { src, sizes, type } of icons) {
      const answer = await page.request.get(house.address + src, AGAIN);
      expect(answer.status(), src).toBe(200);
      expect(answer.headers()['content-type'], src).toContain(type);
      // A PNG says its width and height in the first chunk (ISO/IEC 15948, 11.2.2 IHDR).
      const bytes = await answer.body();
      if (type === 'image/png')
        expect(`${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}`, src).toBe(sizes);
    }
  } finally {
    await context.close();
    await rm(folder, { recursive: true, force: true });
  }
});
