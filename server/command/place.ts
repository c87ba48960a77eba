import { isAbsolute, join } from 'node:path';
import { Wrong } from './wrong.ts';

const ROOT = join(import.meta.dirname, '../..');

/**
 * Folder in which relative paths of arguments lie: where the person typed them. npm runs a script in the root and says in
 * INIT_CWD where it was called from. Children of other scripts inherit that too, so it is believed only of our own script, run
 * where npm runs it (docs.npmjs.com/cli, "npm run").
 */
export function startedIn(
  variables: Record<string, string | undefined> = process.env,
  folder = process.cwd(),
): string {
  const { INIT_CWD, npm_lifecycle_event: script, npm_package_json: owner } = variables;
  const byNpm = script === 'larkstep' && owner === join(ROOT, 'package.json') && folder === ROOT;
  return byNpm && INIT_CWD !== undefined && isAbsolute(INIT_CWD) ? INIT_CWD : folder;
}

/** Where the file or folder of that name lies; a slash at its end stays, for it says that a folder is meant. */
export function placeOf(path: string): string {
  if (path === '') throw new Wrong('A name of a file is empty.');
  if (path === '-') {
    throw new Wrong('-: a file is needed. Standard input is /dev/stdin; a file of that name is ./-.');
  }
  // Put together as it stands: what `..` leads to behind a link, only the system knows.
  return isAbsolute(path) ? path : `${startedIn()}/${path}`;
}
