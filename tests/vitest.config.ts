import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  resolve: { alias: { '@': join(import.meta.dirname, '..') } },
  css: { postcss: {} },
  test: {
    projects: [
      // Pure functions leave nothing behind: they need no process of their own for each file.
      { extends: true, test: { name: 'core', include: ['tests/core/**/*.test.ts'], isolate: false } },
      {
        extends: true,
        test: {
          name: 'rest',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**', 'tests/core/**'],
        },
      },
    ],
    // Also where there are two processors only, of which one would be left to the system.
    maxWorkers: 2,
    testTimeout: 30_000,
    // A server or a database is started before the tests, beside other files that do the same.
    hookTimeout: 60_000,
    reporters: ['default', ['json', { outputFile: 'build/reports/unit.json' }]],
  },
});
