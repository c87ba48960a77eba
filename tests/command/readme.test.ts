import { spawnSync } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, it } from 'vitest';

/** The lines of code in the README, run as they stand there. */
it('the code in the README prints what the README says', { timeout: 120_000 }, async () => {
  const readme = await readFile('README.md', 'utf8');
  const [, code, printed] = /```ts\n(.*?)```\s+```\n(.*?)```/s.exec(readme)!;
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-readme-'));
  const file = join(folder, 'lines.mts');
  // It stands for a file in the checkout's folder, in which tests leave nothing.
  await writeFile(file, code!.replaceAll("'./", `'${pathToFileURL('./').href}`));
  const { stdout, stderr } = spawnSync(process.execPath, ['--import', 'tsx', file], { encoding: 'utf8' });
  await rm(folder, { recursive: true });
  expect(stderr).toBe('');
  expect(stdout).toBe(printed);
});
