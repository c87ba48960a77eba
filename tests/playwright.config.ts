import { existsSync } from 'node:fs';
import { defineConfig } from '@playwright/test';

// Debian's browser where there is one; else the test tool's own. Root may not use the sandbox.
const executablePath = [process.env.LARKSTEP_BROWSER, '/usr/bin/chromium', '/usr/bin/google-chrome'].find(
  (path) => path !== undefined && existsSync(path),
);

export default defineConfig({
  testDir: 'browser',
  outputDir: '../test-results',
  // Each has a house of its own; much of a test is waiting, so three share two cores well.
  workers: 3,
  timeout: 180_000,
  expect: { timeout: 20_000 },
  reporter: [['list'], ['json', { outputFile: '../test-results/browser.json' }]],
  use: {
    launchOptions: {
      executablePath,
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--disable-background-networking',
        '--autoplay-policy=no-user-gesture-required',
      ],
    },
    actionTimeout: 20_000,
    viewport: { width: 1440, height: 900 },
    // Not the server's zone (browser/house.ts), and on most of a day another date.
    timezoneId: 'Pacific/Auckland',
    screenshot: 'only-on-failure',
  },
});
