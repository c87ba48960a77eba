import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type AreaName, areas } from '../../../lib/core/areas/board.ts';
import { startOurs } from './children.ts';
import { Crowd, wait } from './crowd.ts';
import { judge, load, megabytes, printTable } from './figures.ts';
import type { Memory } from './memory.ts';
import type { Words } from './words.ts';

/** Boards that are open at the same time, and how long an empty room stays; the server's own 20 s would only take longer. */
const GROUP = 100;
const IDLE_MS = 5000;
const BAR = 60e6;

/** Memory after so many boards were opened, in all their areas, edited once and left. */
export async function left(words: Words): Promise<void> {
  const count = words.boards ?? 20_000;
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-bench-'));
  const ours = await startOurs({ folder, boards: count, roles: ['couple'], idleMs: IDLE_MS });
  const rows: [string, Memory][] = [];
  try {
    const visit = async (boards: typeof ours.boards) => {
      const crowd = await Crowd.open(
        boards.flatMap(({ id, cookies }) =>
          (Object.keys(areas) as AreaName[]).map((area) => ({
            ...{ address: ours.address, board: id, area, role: 'couple' as const },
            cookie: cookies.couple!,
          })),
        ),
      );
      for (const person of crowd.people) if (person.seat.area === 'plan') person.edit();
      await crowd.leave();
      if (crowd.refused.size > 0) throw new Error(`refused: ${[...crowd.refused]}`);
    };
    // What the process needs once for itself is there after the first boards.
    await visit(ours.boards.slice(0, GROUP));
    await wait(2 * IDLE_MS);
    rows.push(['at the start', await ours.memory()]);
    const began = performance.now();
    for (let at = 0; at < count; at += GROUP) {
      await visit(ours.boards.slice(at, at + GROUP));
      if (at === Math.floor(count / 2 / GROUP) * GROUP) rows.push(['halfway', await ours.memory()]);
    }
    const seconds = (performance.now() - began) / 1000;
    rows.push(['all opened', await ours.memory()]);
    await wait(2 * IDLE_MS);
    rows.push(['all left', await ours.memory()]);
    process.stdout.write(
      `${count} boards of 5 areas opened, edited and left in ${seconds.toFixed(0)} s, ${load()}\n`,
    );
    printTable([
      ['memory', 'in use MB', 'resident MB'],
      ...rows.map(([name, { used, resident }]) => [name, megabytes(used), megabytes(resident)]),
    ]);
    const grown = (of: keyof Memory) => rows.at(-1)![1][of] - rows[0]![1][of];
    judge(`in use grew by ${megabytes(grown('used'))} MB <= 60`, grown('used') <= BAR);
    judge(`resident grew by ${megabytes(grown('resident'))} MB <= 60`, grown('resident') <= BAR);
  } finally {
    await ours.kill();
    await rm(folder, { recursive: true });
  }
}
