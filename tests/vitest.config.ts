import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  resolve: { alias: { '@': join(import.meta.dirname, '..') } },
  css: { postcss: {} },
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**'],
    testTimeout: 30_000,
    reporters: ['default', ['json', { outputFile: 'build/reports/unit.json' }]],
  },
});
