// `npm test` without the browser: the suite where clocks and languages differ, one run after the other. A test that holds only in
// UTC, in English or this week fails here, and not on somebody's machine in March.
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const root = join(import.meta.dirname, '..');
const clock = pathToFileURL(join(import.meta.dirname, 'kit', 'clock.mjs')).href;

/** Ten minutes before the year ends on the American west coast (UTC-8 in winter), where it has ended nearly everywhere else. */
const newYear = Date.UTC(new Date().getUTCFullYear() + 1, 0, 1, 7, 50);

const runs = [
  { name: 'utc', words: 'in UTC', env: { TZ: 'UTC', LC_ALL: 'C.UTF-8' } },
  {
    name: 'auckland',
    words: 'in Auckland, on a machine that speaks Turkish',
    env: { TZ: 'Pacific/Auckland', LC_ALL: 'tr_TR.UTF-8', LANG: 'tr_TR.UTF-8' },
  },
  {
    name: 'new-year',
    words: 'in Los Angeles, ten minutes before a new year',
    env: {
      TZ: 'America/Los_Angeles',
      LC_ALL: 'C.UTF-8',
      LARKSTEP_TEST_AHEAD: String(newYear - Date.now()),
      NODE_OPTIONS: `${process.env.NODE_OPTIONS ?? ''} --import ${clock}`.trim(),
    },
  },
];

let failed = false;
for (const [i, { name, words, env }] of runs.entries()) {
  const once =
    i === 0
      ? 'all of it'
      : 'without the projects "sound" and "attacks", which were run once: samples and hostile bytes know no clock, zone or language';
  console.log(`\nTests without a browser, ${i + 1} of ${runs.length}: ${words}; ${once}.`);
  const projects = i === 0 ? [] : ['--project', 'together', '--project', 'alone'];
  const { status } = spawnSync(
    process.execPath,
    ['node_modules/vitest/vitest.mjs', 'run', '--config', 'tests/vitest.config.ts', ...projects],
    { cwd: root, stdio: 'inherit', env: { ...process.env, ...env, LARKSTEP_TEST_RUN: name } },
  );
  failed ||= status !== 0;
}
process.exitCode = failed ? 1 : 0;
