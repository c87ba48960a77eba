import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import type { Memory } from './memory.ts';
import type { Invited, Wanted } from './ours.ts';

/** A server in a process of its own, on the loopback. */
export interface Child {
  process: ChildProcess;
  /** `ws://host:port` */
  address: string;
  memory(): Promise<Memory>;
  /** At once, without a word. */
  kill(): Promise<void>;
}

async function start(script: string, argument: string): Promise<[Child, unknown]> {
  const child = fork(join(import.meta.dirname, script), [argument], {
    execArgv: ['--import', 'tsx', '--expose-gc'],
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
  });
  const first = await Promise.race([
    once(child, 'message').then(([message]) => message as { port: number }),
    once(child, 'exit').then(([code]) => {
      throw new Error(`${script} ended with ${code}`);
    }),
  ]);
  const started: Child = {
    process: child,
    address: `ws://127.0.0.1:${first.port}`,
    async memory() {
      child.send('memory');
      const [memory] = (await once(child, 'message')) as [Memory];
      return memory;
    },
    async kill() {
      if (child.exitCode !== null || child.signalCode !== null) return;
      const ended = once(child, 'exit');
      child.kill('SIGKILL');
      await ended;
    },
  };
  return [started, first];
}

export async function startStock(): Promise<Child> {
  return (await start('stock.ts', ''))[0];
}

export async function startOurs(wanted: Wanted): Promise<Child & { boards: Invited[] }> {
  const [child, first] = await start('ours.ts', JSON.stringify(wanted));
  return { ...child, boards: (first as { boards: Invited[] }).boards };
}
