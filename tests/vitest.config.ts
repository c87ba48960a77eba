import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

/** They say `vi.mock`. */
const replacing = ['tests/board/migrate.test.ts'];

/**
 * Samples in, numbers or samples out, for most of the time that the suite takes. Nothing on the way asks for the time, a zone or a
 * language: `npm test` runs these once, and all others in three places (tests/run.mjs).
 */
const sound = [
  'tests/app/song/bench.test.ts',
  'tests/codec/**/*.test.ts',
  'tests/command/{audio,render,readme}.test.ts',
  'tests/core/compare/**/*.test.ts',
  'tests/core/edit/{render,seam,softBeat}.test.ts',
  'tests/core/signal/**/*.test.ts',
  'tests/core/song/**/*.test.ts',
];
/** Bytes from a hostile hand, and what the server then holds: run once, too. */
const attacks = ['tests/server/attacks/**/*.test.ts', 'tests/server/fuzz*.test.ts'];
const run = process.env.LARKSTEP_TEST_RUN ?? 'here';

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
          exclude: ['tests/browser/**', ...replacing, ...sound, ...attacks],
          isolate: false,
        },
      },
      { extends: true, test: { name: 'alone', include: replacing } },
      { extends: true, test: { name: 'sound', include: sound, isolate: false } },
      { extends: true, test: { name: 'attacks', include: attacks, isolate: false } },
    ],
    // Also where there are two processors only, of which one would be left to the system.
    maxWorkers: 2,
    testTimeout: 60_000,
    // A server or a database is started before the tests, beside other files that do the same.
    hookTimeout: 60_000,
    reporters: ['default', ['json', { outputFile: `build/reports/unit-${run}.json` }]],
  },
});
