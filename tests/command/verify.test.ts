import { createHash } from 'node:crypto';
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import Database from 'libsql';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { areaUpdate } from '../../lib/board/write.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { emptyArea } from '../../lib/core/areas/empty.ts';
import { openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import { migrations } from '../../lib/store/embedded/schema.ts';
import { run } from '../../server/command/run.ts';
import { makeBoard, openHouse } from '../server/house.ts';
import { answerOf, newFolder } from './songs.ts';

const AT = '2031-05-01T10:00:00.000Z';
const BY = { membership: 'm', at: AT };
const audio = new TextEncoder().encode('stands for a recording');
const id = createHash('sha256').update(audio).digest('hex');
const titled = (title: string) => areaUpdate(areas.plan, { ...emptyArea(areas.plan), title });

let folder: Awaited<ReturnType<typeof newFolder>>;
let data: string;
const before = process.env.LARKSTEP_DATA;
beforeEach(async () => {
  folder = await newFolder();
  data = folder.path('data');
  process.env.LARKSTEP_DATA = data;
  const store = await openEmbeddedStore(data);
  await store.boards.add('one', AT, [{ area: 'plan', update: titled('First') }]);
  await store.areas.append('one', 'plan', titled('Second'), [], BY);
  const part = folder.path('part');
  await writeFile(part, audio);
  await store.files.add('one', { id, bytes: audio.length, type: 'audio/wav' }, part);
  await store.close();
});
afterEach(async () => {
  if (before === undefined) delete process.env.LARKSTEP_DATA;
  else process.env.LARKSTEP_DATA = before;
  await folder.remove();
});

function damage(sql: string, ...values: unknown[]): void {
  const db = new Database(join(data, 'larkstep.db'));
  db.exec('PRAGMA foreign_keys = OFF');
  db.prepare(sql).run(values);
  db.close();
}
const findings = async (...words: string[]) => {
  const { code, out } = await run(['verify', ...words, '--json']);
  const said = JSON.parse(out) as { findings: string[] };
  expect(code).toBe(said.findings.length > 0 ? 1 : 0);
  return said.findings;
};

it('says that all is whole, of a folder, of a backup, and while the server runs', async () => {
  expect(await answerOf('verify')).toEqual({ boards: 1, recordings: 1, findings: [] });
  const file = folder.path('kept.tar');
  await answerOf('backup', file);
  expect(await answerOf('verify', file)).toEqual({ boards: 1, recordings: 1, findings: [] });
  const house = await openHouse();
  try {
    process.env.LARKSTEP_DATA = house.folder;
    await makeBoard(house);
    expect(await answerOf('verify')).toEqual({ boards: 1, recordings: 0, findings: [] });
  } finally {
    await house.end();
  }
  expect(await run(['verify', 'one', 'two'])).toMatchObject({ code: 2 });
});

it('finds a recording that was damaged, one that is gone, and a file that nobody has', async () => {
  await writeFile(join(data, 'files', id), 'stands for a recordinG');
  await writeFile(join(data, 'files', 'b'.repeat(64)), 'x');
  expect(await findings()).toEqual([
    `The recording ${id} is damaged: its bytes are not what they were.`,
    'Files that belong to no board: 1. The server removes them when it starts.',
  ]);
  await rm(join(data, 'files', id));
  expect((await findings())[0]).toMatch(/^Recordings that are not there: 1\./);
});

it('finds an update that cannot be used, and a snapshot that is not what its log says', async () => {
  damage("UPDATE updates SET bytes = ? WHERE number = 2 AND area = 'plan'", Buffer.from('no update'));
  expect(await findings()).toEqual([
    'The plan of board one holds a part that cannot be used and will be set aside when it is opened.',
  ]);
  damage("UPDATE updates SET bytes = ? WHERE number = 2 AND area = 'plan'", Buffer.from(titled('Second')));
  damage("UPDATE areas SET snapshot = ?, through = 2 WHERE area = 'plan'", Buffer.from(titled('Third')));
  expect(await findings()).toEqual([
    'The plan of board one has a snapshot of its first 2 updates that is not what these say.',
  ]);
});

it('finds a database that is damaged, or none, or that has rows that belong to nothing', async () => {
  damage("INSERT INTO grants VALUES ('nobody', 'nothing')");
  expect(await findings()).toEqual([
    expect.stringContaining('1 grants that belong to'),
    expect.stringContaining('1 grants that belong to'),
  ]);
  const path = join(data, 'larkstep.db');
  const bytes = await readFile(path);
  bytes.fill(0x55, 4096 * 3, 4096 * 5);
  await writeFile(path, bytes);
  expect((await findings()).join()).toContain('damaged');
  await writeFile(path, 'These are words, and no database at all.'.repeat(40));
  expect((await findings()).join()).toContain('restore a backup');
});

it('restores nothing from a backup in which one byte of a recording or of the database was turned', async () => {
  const file = folder.path('kept.tar');
  await answerOf('backup', file);
  const bytes = await readFile(file);
  const turned = async (at: number, length: number) => {
    await writeFile(file, Buffer.from(bytes).fill(0x55, at, at + length));
    expect(await findings(file)).not.toEqual([]);
    expect(await run(['restore', file])).toMatchObject({
      code: 2,
      line: expect.stringContaining('nothing was changed'),
    });
  };
  await turned(bytes.indexOf('stands for'), 1);
  await turned(512 + 3 * 4096, 2 * 4096);
  expect((await readdir(data)).some((name) => name.startsWith('before-'))).toBe(false);
  await writeFile(file, bytes);
  expect(await answerOf('restore', file)).toMatchObject({ audioFiles: 1 });
});

it('looks through what an earlier version keeps without changing it, and tells a later one the way back', async () => {
  await rm(data, { recursive: true });
  await mkdir(data);
  const db = new Database(join(data, 'larkstep.db'));
  for (const sql of migrations.slice(0, 3)) db.exec(sql);
  db.exec(`PRAGMA user_version = 3; INSERT INTO boards VALUES ('one', '${AT}')`);
  db.prepare("INSERT INTO updates VALUES ('one', 'plan', 1, ?)").run([Buffer.from(titled('First'))]);
  db.close();
  expect(await answerOf('verify')).toEqual({ boards: 1, recordings: 0, findings: [] });
  const after = new Database(join(data, 'larkstep.db'));
  expect(after.prepare('PRAGMA user_version').get([])).toMatchObject({ user_version: 3 });
  after.exec('PRAGMA user_version = 999');
  after.close();
  expect(await run(['verify'])).toMatchObject({
    code: 2,
    line: expect.stringContaining('run that version, or restore a backup made before.'),
  });
});
