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
  if (!read.ok && read.problem.code !== 'apart') return { board: null, links };
  // Of a printed link only its hash is kept, so it cannot be printed again: those that nobody opened are renewed.
  await removePrinted(services, node);
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

/** For a server that shows no demo: makes none, and takes back the links printed at the last start that nobody has opened. */
export async function noDemo(services: Services, node = ''): Promise<DemoLinks> {
  await removePrinted(services, node);
  await services.settings.set(`${PRINTED}${node}`, '[]');
  return { board: null, links: {} };
}

async function removePrinted({ links, settings }: Services, node: string): Promise<void> {
  await links.removeUnopened(printedIds.parse(JSON.parse((await settings.get(`${PRINTED}${node}`)) ?? '[]')));
}

/** Another node may have made one at the same time: that one stays. */
async function madeOnce(services: Services): Promise<string> {
  const board = await seedDemo(services);
  if (await services.settings.setOnce(DEMO, board)) return board;
  await services.boards.remove(board);
  return (await services.settings.get(DEMO)) ?? board;
}

/** @param isOwn whether whoever runs the server chose the first run's code, and so knows it */
export async function printForPeople(
  running: Running,
  address: string,
  demo: DemoLinks,
  isOwn: boolean,
): Promise<void> {
  const lines = [`Larkstep is ready at ${address}`];
  if (!(await running.services.instructor.exists()))
    lines.push('', firstRun(address, running.setUpCode, isOwn));
  if (demo.board !== null) {
    lines.push('', 'A demo board, as each of its people sees it:');
    for (const guest of guests)
      lines.push(`  ${guest.padEnd(10)} ${demo.links[guest] ?? 'none: too many links to it are given out'}`);
  }
  process.stdout.write(`${lines.join('\n')}\n`);
}

function firstRun(address: string, code: string | null, isOwn: boolean): string {
  if (code === null) return 'First run: set the studio up with larkstep passphrase --name NAME.';
  return isOwn
    ? `First run: open ${address} and type in the code of LARKSTEP_SETUP_CODE.`
    : `First run: open ${address} and type in this code: ${code}`;
}
