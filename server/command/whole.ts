import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { faultsOf } from '../../lib/board/history/faults.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { Inspection, type KeptFile } from '../../lib/store/embedded/inspect.ts';
import { DATABASE, FILES } from '../../lib/store/embedded/open.ts';

/** What is kept in a folder, and a sentence for everything that is wrong with it. */
export interface Whole {
  boards: number;
  recordings: number;
  findings: string[];
}

/** What is wrong with the database file itself; throws where a later version made it. */
export function databaseFaults(folder: string): string[] {
  return inspected(folder, (kept) => kept.damage()) ?? [NO_DATABASE];
}

/** The recordings that a folder is to hold. */
export function filesOf(folder: string): KeptFile[] {
  return inspected(folder, (kept) => kept.files()) ?? [];
}

/** Recordings whose bytes are not those that their name says; one that is not there is told by `missing`. */
export async function fileFaults(
  folder: string,
  files: readonly KeptFile[],
): Promise<{ damaged: string[]; missing: number }> {
  const damaged: string[] = [];
  let missing = 0;
  for (const { id, bytes } of files) {
    const found = await digestOf(join(folder, FILES, id));
    if (found === null) missing += 1;
    else if (found.digest !== id || found.size !== bytes)
      damaged.push(`The recording ${id} is damaged: its bytes are not what they were.`);
  }
  return { damaged, missing };
}

/**
 * Everything that is wrong with what a folder keeps; its tables are of today's version.
 * @param report told of each area
 */
export async function allFaults(folder: string, report: (words: string) => void): Promise<Whole> {
  const findings = databaseFaults(folder);
  // Of a damaged one nothing else is believed.
  if (findings.length > 0) return { boards: 0, recordings: 0, findings };
  const kept = new Inspection(join(folder, DATABASE));
  try {
    for (const area of kept.areas()) {
      report(`board ${area.board}, ${area.area}`);
      const { name } = areas[area.area];
      for (const fault of faultsOf(areas[area.area], area))
        findings.push(`The ${name} of board ${area.board} ${fault}.`);
    }
    const files = kept.files();
    report('the recordings');
    const { damaged, missing } = await fileFaults(folder, files);
    findings.push(...damaged);
    if (missing > 0)
      findings.push(
        `Recordings that are not there: ${missing}. Choose their files once more on the song page.`,
      );
    const known = new Set(files.map(({ id }) => id));
    const stray = (await readdir(join(folder, FILES)).catch(() => [])).filter((name) => !known.has(name));
    if (stray.length > 0)
      findings.push(
        `Files that belong to no board: ${stray.length}. The server removes them when it starts.`,
      );
    return { boards: kept.boards, recordings: files.length, findings };
  } finally {
    kept.close();
  }
}

const NO_DATABASE = 'The database is damaged so far that it cannot be read: restore a backup.';

/** Null where the file is no database any more. */
function inspected<T>(folder: string, work: (kept: Inspection) => T): T | null {
  let kept: Inspection | null = null;
  try {
    kept = new Inspection(join(folder, DATABASE));
    return work(kept);
  } catch (error) {
    if (['SQLITE_NOTADB', 'SQLITE_CORRUPT'].includes(String(Object(error).code))) return null;
    throw error;
  } finally {
    kept?.close();
  }
}

async function digestOf(path: string): Promise<{ digest: string; size: number } | null> {
  const hash = createHash('sha256');
  let size = 0;
  try {
    for await (const part of createReadStream(path)) {
      hash.update(part);
      size += part.length;
    }
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
  return { digest: hash.digest('hex'), size };
}
