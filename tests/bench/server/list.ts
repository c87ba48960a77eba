import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openEmbeddedStore } from '../../../lib/store/embedded/open.ts';
import { boardService } from '../../../server/services/boards.ts';
import { Rooms } from '../../../server/sync/rooms.ts';
import { longBoard } from '../boards.ts';
import { Process } from './children.ts';
import { judge, load, printTable } from './figures.ts';
import type { Listed } from './firstList.ts';
import type { Words } from './words.ts';

const BAR_MS = 1000;
/** Boards that are made at a time. */
const AT_ONCE = 20;

/**
 * How long the studio's first list takes in a process that has read no board: of boards that are listed as they were noted, and of
 * such as nothing was noted of, as in a data folder of a version before. Each board is a long song with 60 moves.
 */
export async function list(words: Words): Promise<void> {
  const count = words.boards ?? 1000;
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-bench-'));
  const silent = { info: () => undefined, error: () => undefined };
  const open = () => openEmbeddedStore(folder);
  try {
    let store = await open();
    const boards = boardService(store, new Rooms(store, silent), {
      clock: () => new Date(),
      log: silent,
      program: null,
      onRemoved: async () => undefined,
    });
    const board = longBoard(1);
    const dayOf = (index: number) =>
      `20${27 + (index % 3)}-${`${1 + (index % 12)}`.padStart(2, '0')}-12` as `${number}-${number}-${number}`;
    for (let made = 0; made < count; made += AT_ONCE)
      await Promise.all(
        Array.from({ length: Math.min(AT_ONCE, count - made) }, async (_, index) => {
          const one = await boards.makeFrom({ ...board, plan: { ...board.plan, date: dayOf(made + index) } });
          if (!one.ok) throw new Error(one.problem.sentence);
        }),
      );
    await store.close();
    const noted = await first();
    const again = await first();
    store = await open();
    await store.boards.note((await store.boards.list()).map(({ id }) => ({ id, listed: '{}' })));
    await store.close();
    const unknown = await first();
    process.stdout.write(`the first list of a fresh process, ${count} boards, ${load()}\n`);
    printTable([
      ['boards', 'ms', 'processors’ ms', 'bytes', 'couples on it', 'others wait, ms', 'the next page, ms'],
      ['as they were made', ...figures(noted)],
      ['as another process told them', ...figures(again)],
      ['nothing noted', ...figures(unknown)],
    ]);
    for (const [name, { ms }] of [
      ['made', noted] as const,
      ['told', again] as const,
      ['nothing noted', unknown] as const,
    ])
      judge(`${name}: ${Math.round(ms)} <= ${BAR_MS} ms`, ms <= BAR_MS);
  } finally {
    await rm(folder, { recursive: true });
  }

  async function first(): Promise<Listed> {
    const child = new Process('firstList.ts', folder);
    return child.next<Listed>().finally(() => child.kill());
  }
}

const figures = ({ ms, worked, bytes, boards, longest, next }: Listed) => [
  Math.round(ms),
  Math.round(worked),
  bytes,
  boards,
  Math.round(longest),
  Math.round(next),
];
