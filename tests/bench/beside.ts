import { execFile } from 'node:child_process';
import { promisify } from 'node:util';

/**
 * `npm run bench:beside -- FOLDER ROUNDS BENCH [option ...]`: a bench of this checkout and the same one of another commit's, which lies
 * built in FOLDER, by turns: `npm run bench:beside -- ../before 3 screens drag together`. For each line with figures: the median of
 * this commit's, of the other's, and how many times the other's it is. A machine that changes its speed changes it for both.
 */
const run = promisify(execFile);
const [other, rounds, bench, ...options] = process.argv.slice(2);
if (!other || !Number(rounds) || !bench) {
  process.stderr.write('bench:beside FOLDER ROUNDS BENCH [option ...]\n');
  process.exit(2);
}

/** Lines by what they measure, each with its figures in order. */
async function measured(folder: string): Promise<Map<string, number[]>> {
  // One that falls short of a bar of its own ends with 1, and has measured all the same.
  const { stdout } = await run('npm', ['run', '--silent', `bench:${bench}`, '--', ...options], {
    cwd: folder,
    maxBuffer: 64e6,
  }).catch((error: { code?: number; stdout: string }) => {
    if (error.code === 1 && error.stdout !== '') return error;
    throw error;
  });
  const lines = stdout.split('\n').flatMap((line): [string, number[]][] => {
    const [what, ...said] = line.split(/ {2,}/);
    const figures = said.join(' ').match(/\d+(\.\d+)?/g);
    return what && figures ? [[what.trim(), figures.map(Number)]] : [];
  });
  return new Map(lines);
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return (sorted[Math.floor((sorted.length - 1) / 2)]! + sorted[Math.ceil((sorted.length - 1) / 2)]!) / 2;
}

const [ours, theirs]: [Map<string, number[]>[], Map<string, number[]>[]] = [[], []];
for (let round = 0; round < Number(rounds); round++) {
  // The first of a round is now the one, now the other.
  const turns = round % 2 === 0 ? ['.', other] : [other, '.'];
  for (const folder of turns) (folder === '.' ? ours : theirs).push(await measured(folder));
}
process.stdout.write(`${'median of '.concat(rounds!).padEnd(58)} this / other (times)\n`);
for (const what of ours[0]!.keys()) {
  const figures = ours[0]!.get(what)!.map((_, i) => {
    const [a, b] = [ours, theirs].map((all) =>
      median(all.flatMap((lines) => lines.get(what)?.[i] ?? [])),
    ) as [number, number];
    return `${a} / ${b} (${(a / b).toFixed(2)})`;
  });
  process.stdout.write(`${what.padEnd(58)} ${figures.join(', ')}\n`);
}
