import { type SpawnOptions, spawn } from 'node:child_process';
import { once } from 'node:events';

/** The command as a process of its own, as a shell starts it in the checkout. */
export interface Process {
  code: number | null;
  signal: NodeJS.Signals | null;
  out: string;
  err: string;
}

/** @param stdout a file descriptor, or `gone` for a pipe whose reader has left before anything is written */
export async function larkstep(
  args: readonly string[],
  {
    stdout = 'pipe',
    before = [],
    ...options
  }: SpawnOptions & { stdout?: 'pipe' | 'gone' | number; before?: string[] } = {},
): Promise<Process> {
  const all = ['--import', 'tsx', ...before, 'server/command/main.ts', ...args];
  return ended(process.execPath, all, stdout, options);
}

export async function ended(
  file: string,
  args: readonly string[],
  stdout: 'pipe' | 'gone' | number = 'pipe',
  options: SpawnOptions = {},
): Promise<Process> {
  const out = typeof stdout === 'number' ? stdout : 'pipe';
  const child = spawn(file, args, { ...options, stdio: ['ignore', out, 'pipe'] });
  if (stdout === 'gone') child.stdout?.destroy();
  const text = { out: '', err: '' };
  child.stdout?.setEncoding('utf8').on('data', (part: string) => {
    text.out += part;
  });
  child.stderr?.setEncoding('utf8').on('data', (part: string) => {
    text.err += part;
  });
  const [code, signal] = (await once(child, 'close')) as [number | null, NodeJS.Signals | null];
  return { code, signal, ...text };
}

export const linesOf = ({ err }: Process): string[] => err.trimEnd().split('\n');
