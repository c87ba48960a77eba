import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  resolve: { alias: { '@': join(import.meta.dirname, '..') } },
  css: { postcss: {} },
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**'],
    testTimeout: 30_000,
    // A server or a database is started before the tests, beside other files that do the same.
    hookTimeout: 60_000,
    reporters: ['default', ['json', { outputFile: 'build/reports/unit.json' }]],
  },
});
