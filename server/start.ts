import type { Services } from '../lib/access/services.ts';
import { instructorGrant } from '../lib/access/session.ts';
import type { Role } from '../lib/core/areas/people.ts';
import { z } from '../lib/core/zod.ts';
import { seedDemo } from './demo/seed.ts';
import type { Running } from './serve.ts';

const DEMO = 'demo';
const PRINTED = 'demo links';
const printedIds = z.array(z.string());
/** The links printed at a start, which outlast the demo's party; the next start prints new ones. */
const DEMO_DAYS = 90;
const guests: Role[] = ['instructor', 'couple', 'dj', 'planner', 'crew'];

export interface DemoLinks {
  /** Null once the demo was removed. */
  board: string | null;
  links: Partial<Record<Role, string>>;
}

/** The demo is made at the first start only: who removes it is rid of it. Of several nodes, `node` names the one that prints. */
export async function demoLinks(services: Services, address: string, node = ''): Promise<DemoLinks> {
  const board = (await services.settings.get(DEMO)) ?? (await madeOnce(services));
  const printed = `${PRINTED}${node}`;
  const links: DemoLinks['links'] = {};
  const read = await services.boards.read(board, 'crew');
  if (!read.ok) return { board: null, links };
  // Of a printed link only its hash is kept, so it cannot be printed again: those that nobody opened are renewed.
  await services.links.removeUnopened(
    printedIds.parse(JSON.parse((await services.settings.get(printed)) ?? '[]')),
  );
  const ids: string[] = [];
  for (const guest of guests) {
    const made = await services.links.make(instructorGrant(board), guest, DEMO_DAYS);
    if (!made.ok) continue;
    links[guest] = `${address}/join/${made.value.token}`;
    ids.push(made.value.id);
  }
  await services.settings.set(printed, JSON.stringify(ids));
  return { board, links };
}

/** Another node may have made one at the same time: that one stays. */
async function madeOnce(services: Services): Promise<string> {
  const board = await seedDemo(services);
  if (await services.settings.setOnce(DEMO, board)) return board;
  await services.boards.remove(board);
  return (await services.settings.get(DEMO)) ?? board;
}

export async function printForPeople(running: Running, address: string, demo: DemoLinks): Promise<void> {
  const lines = [`Larkstep is ready at ${address}`];
  if (!(await running.services.instructor.exists()))
    lines.push('', `First run: open ${address} and type in this code: ${running.setUpCode}`);
  if (demo.board !== null) {
    lines.push('', 'A demo board, as each of its people sees it:');
    for (const guest of guests) lines.push(`  ${guest.padEnd(10)} ${demo.links[guest]}`);
  }
  process.stdout.write(`${lines.join('\n')}\n`);
}
