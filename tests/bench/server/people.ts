import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type AreaName, areas } from '../../../lib/core/areas/board.ts';
import type { Role } from '../../../lib/core/areas/people.ts';
import { may } from '../../../lib/core/areas/rights.ts';
import { Process, startOurs, startStock } from './children.ts';
import type { Coming, Editing, Heard } from './crowdProcess.ts';
import { judge, load, printTable, quantile } from './figures.ts';
import type { Seat } from './light.ts';
import type { Words } from './words.ts';

/** Who is at each board; the first two write its plan. */
const roles = ['instructor', 'couple', 'dj', 'planner'] as const satisfies Role[];
const BAR_MS = 250;
const PROCESSES = 2;

/** So many people at once, each in all the areas that they may read, some of whom edit; a stock server first, then ours. */
export async function people(words: Words): Promise<void> {
  const boards = (words.people ?? 2000) / roles.length;
  const editing = words.editing ?? 200;
  const rate = (words.edits ?? 400) / editing;
  const seconds = words.seconds ?? 20;
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-bench-'));
  const ours = await startOurs({ folder, boards, whole: true, roles });
  const stock = await startStock();
  const rows: {
    name: string;
    opened: number;
    asked: number;
    edits: number;
    latencies: number[];
    refused: number;
  }[] = [];
  try {
    for (const [name, { address }] of [['stock', stock] as const, ['ours', ours] as const]) {
      const shares = Array.from({ length: PROCESSES }, (_, share): Coming => {
        const seats: Seat[] = [];
        const editors: number[] = [];
        ours.boards.forEach(({ id, cookies }, index) => {
          if (index % PROCESSES !== share) return;
          for (const role of roles)
            for (const area of Object.keys(areas) as AreaName[]) {
              if (!may(role, area, 'read')) continue;
              const edits = area === 'plan' && may(role, area, 'write') && index < editing / 2;
              if (edits) editors.push(seats.length);
              seats.push({ address, board: id, area, role, cookie: cookies[role]! });
            }
        });
        return { seats, editors };
      });
      const crowds = shares.map(() => new Process('crowdProcess.ts'));
      const opened = await Promise.all(crowds.map((crowd, share) => crowd.next<number>(shares[share]!)));
      const heard = await Promise.all(
        crowds.map((crowd) => crowd.next<Heard>({ rate, seconds } satisfies Editing)),
      );
      await Promise.all(crowds.map((crowd) => crowd.kill()));
      rows.push({
        name,
        asked: shares.reduce((sum, { seats }) => sum + seats.length, 0),
        opened: opened.reduce((sum, count) => sum + count, 0),
        edits: heard.reduce((sum, { edits }) => sum + edits, 0),
        latencies: heard.flatMap(({ latencies }) => latencies),
        refused: heard.flatMap(({ refused }) => refused).reduce((sum, [, count]) => sum + count, 0),
      });
    }
    process.stdout.write(
      `${boards * roles.length} people of ${boards} boards, ${editing} editing, ${seconds} s, ${load()}\n`,
    );
    printTable([
      ['server', 'sockets', 'opened', 'refused', 'edits', 'seen', 'p50 ms', 'p99 ms'],
      ...rows.map(({ name, asked, opened, refused, edits, latencies }) => [
        ...[name, asked, opened, refused, edits, latencies.length],
        ...[quantile(latencies, 0.5), quantile(latencies, 0.99)],
      ]),
    ]);
    const own = rows[1]!;
    const p99 = quantile(own.latencies, 0.99);
    judge(`nobody is refused (${own.refused})`, own.refused === 0 && own.opened === own.asked);
    judge(`p99 ${p99.toFixed(1)} <= ${BAR_MS} ms`, p99 <= BAR_MS);
    const expected = own.edits * (roles.length - 1);
    judge(
      `every edit was seen by all others: ${own.latencies.length} of ${expected}`,
      own.latencies.length === expected,
    );
  } finally {
    await Promise.all([ours.kill(), stock.kill()]);
    await rm(folder, { recursive: true });
  }
}
