import { existsSync, mkdirSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';

/**
 * Makes a folder, and those above it, for this account alone. Step by step: node's own recursive way never ends where the
 * system says of a place that exists that it does not, as under /proc.
 */
export function makeFolder(path: string): void {
  const parent = dirname(resolve(path));
  if (!existsSync(parent)) makeFolder(parent);
  try {
    mkdirSync(path, { mode: 0o700 });
  } catch (error) {
    const isThere =
      (error as NodeJS.ErrnoException).code === 'EEXIST' &&
      statSync(path, { throwIfNoEntry: false })?.isDirectory();
    if (!isThere) throw error;
  }
}
