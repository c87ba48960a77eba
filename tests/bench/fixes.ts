import fc from 'fast-check';
import { boards, tryFixes } from '../core/checks/boards.ts';

/** `npm run bench:fixes -- [BOARDS] [SEED]`: applies every fix of so many random boards, 10,000 unless said otherwise. */
const [count = 10_000, seed = 20270612] = process.argv.slice(2).map(Number);
let fixes = 0;
let withFix = 0;
const failures: string[] = [];
for (const [i, board] of fc.sample(boards, { numRuns: count, seed }).entries()) {
  const tried = tryFixes(board);
  fixes += tried.fixes;
  withFix += tried.fixes > 0 ? 1 : 0;
  failures.push(...tried.failures.map((words) => `board ${i}: ${words}`));
}
process.stdout.write(
  `seed ${seed}: ${count} boards, ${withFix} with a fix, ${fixes} fixes applied, ${failures.length} failures\n`,
);
for (const words of failures.slice(0, 20)) process.stdout.write(`${words}\n`);
process.exitCode = failures.length > 0 ? 1 : 0;
