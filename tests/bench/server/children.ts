import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { join, resolve } from 'node:path';
import type { Memory } from './memory.ts';
import type { Invited, Wanted } from './ours.ts';

/** A script of this folder in a process of its own. */
export class Process {
  readonly child: ChildProcess;

  constructor(
    private readonly script: string,
    argument = '',
    /** Where another commit's checkout lies, of which it is to be that script. */
    other?: string,
  ) {
    const place = other === undefined ? import.meta.dirname : resolve(other, 'tests/bench/server');
    this.child = fork(join(place, script), [argument], {
      cwd: other,
      execArgv: ['--import', 'tsx', '--expose-gc'],
      stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    });
  }

  /** What it says next; told something first, when there is something to tell. */
  async next<T>(told?: object | string): Promise<T> {
    const ended = new AbortController();
    const { signal } = ended;
    const said = Promise.race([
      once(this.child, 'message', { signal }).then(([message]) => message as T),
      once(this.child, 'exit', { signal }).then(([code]) => {
        throw new Error(`${this.script} ended with ${code}`);
      }),
    ]);
    if (told !== undefined) this.child.send(told);
    return said.finally(() => ended.abort());
  }

  /** At once, without a word. */
  async kill(): Promise<void> {
    const { child } = this;
    if (child.exitCode !== null || child.signalCode !== null) return;
    const ended = once(child, 'exit');
    child.kill('SIGKILL');
    await ended;
  }
}

/** A server in a process of its own, on the loopback. */
export interface Child {
  pid: number;
  /** `ws://host:port` */
  address: string;
  memory(): Promise<Memory>;
  /** Milliseconds that processors have worked for it. */
  worked(): Promise<number>;
  kill(): Promise<void>;
}

async function start<T extends { port: number }>(
  script: string,
  argument = '',
  other?: string,
): Promise<[Child, T]> {
  const server = new Process(script, argument, other);
  const first = await server.next<T>();
  const child: Child = {
    pid: server.child.pid!,
    address: `ws://127.0.0.1:${first.port}`,
    memory: () => server.next('memory'),
    worked: () => server.next('worked'),
    kill: () => server.kill(),
  };
  return [child, first];
}

export async function startStock(): Promise<Child> {
  return (await start('stock.ts'))[0];
}

/** @param other folder of another commit's checkout, whose server it is to be */
export async function startOurs(wanted: Wanted, other?: string): Promise<Child & { boards: Invited[] }> {
  const [child, { boards }] = await start<{ port: number; boards: Invited[] }>(
    'ours.ts',
    JSON.stringify(wanted),
    other,
  );
  return { ...child, boards };
}
