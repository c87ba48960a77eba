import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

/** They say `vi.mock`. */
const replacing = ['tests/board/migrate.test.ts'];

export default defineConfig({
  resolve: { alias: { '@': join(import.meta.dirname, '..') } },
  css: { postcss: {} },
  test: {
    // A file leaves nothing behind, and so needs no process of its own; one that puts its own in place of a module does.
    projects: [
      {
        extends: true,
        test: {
          name: 'together',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**', ...replacing],
          isolate: false,
        },
      },
      { extends: true, test: { name: 'alone', include: replacing } },
    ],
    // Also where there are two processors only, of which one would be left to the system.
    maxWorkers: 2,
    testTimeout: 30_000,
    // A server or a database is started before the tests, beside other files that do the same.
    hookTimeout: 60_000,
    reporters: ['default', ['json', { outputFile: 'build/reports/unit.json' }]],
  },
});
