import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startOurs, startStock } from './children.ts';
import { Crowd, wait } from './crowd.ts';
import { judge, load, printTable } from './figures.ts';
import type { Words } from './words.ts';

const BAR = 40_000;
/** Before the first measure, so that what the process needs once is there. */
const WARM = 200;

/** What one more open connection costs, ours beside a stock server: many look at few boards. */
export async function connections(words: Words): Promise<void> {
  const count = words.count ?? 6000;
  // A link has so many in one room and no more.
  const boards = words.boards ?? Math.ceil(count / 18);
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-bench-'));
  const ours = await startOurs({ folder, boards, whole: true, roles: ['couple'] });
  const stock = await startStock();
  try {
    const rows: { name: string; used: number; resident: number }[] = [];
    for (const [name, server] of [['stock', stock] as const, ['ours', ours] as const]) {
      const open = (number: number) =>
        Crowd.open(
          Array.from({ length: number }, (_, index) => {
            const { id, cookies } = ours.boards[index % boards]!;
            return {
              ...{ address: server.address, board: id, area: 'plan' as const, role: 'couple' as const },
              cookie: cookies.couple!,
            };
          }),
        );
      const first = await open(Math.max(WARM, boards));
      await wait(1000);
      const before = await server.memory();
      const crowd = await open(count);
      await wait(1000);
      const after = await server.memory();
      rows.push({
        name,
        used: (after.used - before.used) / count,
        resident: (after.resident - before.resident) / count,
      });
      for (const one of [first, crowd]) await one.leave();
    }
    process.stdout.write(`${count} more connections to ${boards} open boards, ${load()}\n`);
    printTable([
      ['server', 'in use, bytes each', 'resident, bytes each'],
      ...rows.map(({ name, used, resident }) => [name, Math.round(used), Math.round(resident)]),
    ]);
    const own = rows[1]!;
    judge(`a connection costs ${Math.round(own.resident)} <= ${BAR} bytes`, own.resident <= BAR);
  } finally {
    await Promise.all([ours.kill(), stock.kill()]);
    await rm(folder, { recursive: true });
  }
}
