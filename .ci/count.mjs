// Counts what the runners reported. A report that is missing, or that counts no test, is a failure: nothing was proved.
import { readFileSync } from 'node:fs';

const read = (file) => {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return null;
  }
};

function unit(run) {
  const report = read(`build/reports/unit-${run}.json`);
  if (!report) return null;
  // A file that cannot even be loaded has no failed test in it, but failed.
  const broken = report.testResults.filter(
    (file) => file.status === 'failed' && file.assertionResults.length === 0,
  );
  return {
    passed: report.numPassedTests,
    failed: report.numFailedTests + broken.length,
    skipped: report.numPendingTests + (report.numTodoTests ?? 0),
  };
}

function browser() {
  const report = read('test-results/browser.json');
  if (!report) return null;
  const { expected, unexpected, flaky, skipped } = report.stats;
  // One that passed only when it was tried again is not counted as passed.
  return { passed: expected, failed: unexpected + flaky + report.errors.length, skipped };
}

/** Counted by tests/engines/run.ts, an engine that is not to be had among the failed. */
const engines = () => read('build/reports/engines.json');

const sum = { passed: 0, failed: 0, skipped: 0 };
for (const [name, counts] of [
  // The runs of tests/run.mjs.
  ['unit (UTC)', unit('utc')],
  ['unit (Auckland, Turkish)', unit('auckland')],
  ['unit (Los Angeles, new year)', unit('new-year')],
  ['browser', browser()],
  ['three engines', engines()],
]) {
  if (!counts || counts.passed + counts.failed === 0) {
    console.log(`${name} tests: no report, they did not run`);
    sum.failed += 1;
    continue;
  }
  console.log(`${name} tests: ${counts.passed} passed, ${counts.failed} failed, ${counts.skipped} skipped`);
  for (const key of Object.keys(sum)) sum[key] += counts[key];
}
console.log(
  `tests: ${sum.passed} passed, ${sum.failed} failed${sum.skipped ? `, ${sum.skipped} skipped` : ''}`,
);
process.exitCode = sum.failed === 0 ? 0 : 1;
