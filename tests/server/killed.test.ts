import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { readArea } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import { guest } from './guest.ts';

/** Writers at once, and how many of the first one's edits are acknowledged before the server is killed. */
const WRITERS = 4;
const ENOUGH = 150;
const MOST = 400;

test('a server killed while people write has lost nothing that it acknowledged or sent on', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-killed-'));
  const server = spawn(
    process.execPath,
    ['--import', 'tsx', join(import.meta.dirname, 'victim.ts'), folder],
    { stdio: ['ignore', 'pipe', 'inherit'] },
  );
  const [line] = (await once(createInterface(server.stdout), 'line')) as [string];
  const { port, board, cookie } = JSON.parse(line) as { port: number; board: string; cookie: string };
  const writers = Array.from({ length: WRITERS }, () =>
    guest({ address: `http://127.0.0.1:${port}` }, { board, role: 'couple', cookie }, 'lessons'),
  );
  await Promise.all(writers.map((writer) => writer.synced()));

  /** Keeps two edits on the way; edit n is frame n + 1, after the first step 2. Ends in waiting once the server is dead. */
  const write = async (writer: (typeof writers)[number], who: number) => {
    for (let edit = 1; edit <= MOST; edit++) {
      const fields = { level: 1, at: '2031-05-01T10:00:00.000Z' } as const;
      writer.write({ collection: 'readiness', id: `${who}-${edit}`, fields });
      await writer.acknowledged(edit - 1);
    }
  };
  writers.forEach((writer, who) => void write(writer, who));
  await writers[0]!.acknowledged(ENOUGH + 1);
  server.kill('SIGKILL');
  await once(server, 'exit');
  const acknowledged = writers.flatMap((writer, who) =>
    Array.from({ length: writer.lastAcknowledged() - 1 }, (_, index) => `${who}-${index + 1}`),
  );
  const sentOn = writers.flatMap((writer, who) =>
    writer.read().readiness.flatMap(({ id }) => (id.startsWith(`${who}-`) ? [] : [id])),
  );
  for (const writer of writers) writer.leave();

  const store = await openEmbeddedStore(folder);
  const doc = newArea(areas.lessons);
  for (const update of (await store.areas.load(board, 'lessons')).updates) Y.applyUpdate(doc, update);
  const kept = new Set(readArea(doc, areas.lessons).readiness.map(({ id }) => id));
  await store.close();
  await rm(folder, { recursive: true });

  expect(acknowledged.length).toBeGreaterThan(ENOUGH);
  expect(sentOn.length).toBeGreaterThan(ENOUGH);
  expect(kept.size).toBeLessThan(WRITERS * MOST);
  expect([...acknowledged, ...sentOn].filter((id) => !kept.has(id))).toEqual([]);
});
