import { rmSync } from 'node:fs';
import { rm } from 'node:fs/promises';

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
const onTheirWay = new Set<string>();

/**
 * Work with a file or folder that is there for its sake alone: it goes when the work ends, however it ends. A signal is heeded only
 * meanwhile, so that it stops long computing at once at all other times; the process then ends by it, as its parent expects.
 */
export async function withLeftover<T>(path: string, work: () => Promise<T>): Promise<T> {
  if (onTheirWay.size === 0) for (const signal of SIGNALS) process.on(signal, clearAway);
  onTheirWay.add(path);
  try {
    return await work();
  } finally {
    await rm(path, { recursive: true, force: true });
    onTheirWay.delete(path);
    if (onTheirWay.size === 0) heedNoMore();
  }
}

function clearAway(signal: NodeJS.Signals): void {
  for (const path of onTheirWay) rmSync(path, { recursive: true, force: true });
  heedNoMore();
  process.kill(process.pid, signal);
}

function heedNoMore(): void {
  for (const signal of SIGNALS) process.off(signal, clearAway);
}
