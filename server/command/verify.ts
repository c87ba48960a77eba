import { mkdtemp, symlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Inspection } from '../../lib/store/embedded/inspect.ts';
import { DATABASE, FILES, openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import { isLater } from '../../lib/store/later.ts';
import { copyOut } from '../../lib/store/postgres/copy.ts';
import { about } from './failure.ts';
import { withLeftover } from './leftover.ts';
import { unpack } from './restore.ts';
import { environment, needBoards, withDatabase } from './store.ts';
import type { Said, Verb } from './verb.ts';
import { allFaults, databaseFaults, type Whole } from './whole.ts';
import { plural } from './words.ts';
import { Wrong } from './wrong.ts';

export const verifyVerb: Verb = {
  use: '[FILE.tar]',
  does: 'whether all that the server keeps is whole, or a backup; also while the server runs',
  words: 0,
  more: true,
  example: 'verify',
  async run(words, _given, report) {
    if (words.length > 1) throw new Wrong('verify: name one backup, or none for what the server keeps.');
    const [path] = words;
    const { folder, databaseUrl } = environment();
    try {
      if (path !== undefined) return said(path, await ofCopy((to) => unpack(path, to), report));
      if (databaseUrl !== null) {
        const copied = (to: string) => withDatabase(() => copyOut(databaseUrl, to));
        return said('The database', await ofCopy(copied, report));
      }
      await needBoards(folder);
      return said(folder, await ofFolder(folder, report));
    } catch (error) {
      if (isLater(error)) throw new Wrong(`${path ?? folder}: ${error.message}`);
      throw about(path ?? folder, error);
    }
  },
};

type Report = (words: string) => void;

/** A folder is only read. Where its tables are of an earlier version, that is done on a copy, which is brought up to date. */
async function ofFolder(folder: string, report: Report): Promise<Whole> {
  const findings = databaseFaults(folder);
  if (findings.length > 0) return { boards: 0, recordings: 0, findings };
  const kept = new Inspection(join(folder, DATABASE));
  if (!kept.isEarlier) {
    kept.close();
    return allFaults(folder, report);
  }
  return ofCopy(async (to) => {
    kept.copy(join(to, DATABASE));
    kept.close();
    await symlink(join(folder, FILES), join(to, FILES));
  }, report);
}

/** Fills a folder that is there for this alone, and looks through that. */
async function ofCopy(fill: (folder: string) => Promise<unknown>, report: Report): Promise<Whole> {
  const copy = await mkdtemp(join(tmpdir(), 'larkstep-verifying-'));
  return withLeftover(copy, async () => {
    await fill(copy);
    const findings = databaseFaults(copy);
    if (findings.length > 0) return { boards: 0, recordings: 0, findings };
    await (await openEmbeddedStore(copy)).close();
    return allFaults(copy, report);
  });
}

function said(place: string, { boards, recordings, findings }: Whole): Said {
  const much = `${plural(boards, 'board')} and ${plural(recordings, 'recording')}`;
  return {
    json: { boards, recordings, findings },
    text: findings.length === 0 ? `${place}: ${much}, all whole.` : findings.join('\n'),
    line:
      findings.length === 0
        ? 'verify: all is whole.'
        : `verify: ${plural(findings.length, 'finding')}. Nothing was changed.`,
    blocked: findings.length > 0,
  };
}
