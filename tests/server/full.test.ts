import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { expect, test } from 'vitest';
import { closings } from '../../lib/protocol/close.ts';
import { guest } from './guest.ts';

/** util-linux: sets how large a running process may let files grow, which a full disk looks like to it. */
const hasLimits = spawnSync('prlimit', ['--version']).status === 0;

test.skipIf(!hasLimits)(
  'with no room left, a change is not acknowledged, health says so, and all goes on when there is room again (needs prlimit)',
  async () => {
    const folder = await mkdtemp(join(tmpdir(), 'larkstep-full-'));
    const script = join(import.meta.dirname, 'victim.ts');
    const server = spawn(process.execPath, ['--import', 'tsx', script, folder], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    const [line] = (await once(createInterface(server.stdout), 'line')) as [string];
    const { port, board, cookie } = JSON.parse(line) as { port: number; board: string; cookie: string };
    const largest = (bytes: string) =>
      spawnSync('prlimit', ['--pid', String(server.pid), `--fsize=${bytes}:`]);
    const address = `http://127.0.0.1:${port}`;
    const health = async () => {
      const response = await fetch(`${address}/health`);
      return { status: response.status, ...((await response.json()) as { store: string }) };
    };
    const as = { board, role: 'couple', cookie };
    const [one, other] = [guest({ address }, as, 'plan'), guest({ address }, as, 'plan')];
    await Promise.all([one.synced(), other.synced()]);
    one.write({ register: 'venue', value: 'Barn' });
    await one.acknowledged(2);

    expect(largest('4096').status).toBe(0);
    const codes = new Promise<number>((resolve) => {
      one.provider.on('connection-close', (event) => resolve(event?.code ?? 0));
    });
    one.write({ register: 'venue', value: 'Mill' });
    expect(await codes).toBe(closings.failed.code);
    expect(other.read().venue).toBe('Barn');
    let said = await health();
    while (said.status === 200) said = await health();
    expect(said).toMatchObject({ status: 503, healthy: false, store: 'fails' });

    expect(largest('unlimited').status).toBe(0);
    await other.sees(({ venue }) => venue === 'Mill');
    await one.acknowledged(1);
    while (said.status !== 200) said = await health();
    expect(said).toMatchObject({ healthy: true, store: 'fine' });
    one.leave();
    other.leave();
    server.kill();
    await rm(folder, { recursive: true });
  },
  60_000,
);
