import { parseArgs } from 'node:util';
import { connections } from './connections.ts';
import { frames } from './frames.ts';
import { killed } from './killed.ts';
import { latency } from './latency.ts';
import { left } from './left.ts';
import { opening } from './opening.ts';
import { people } from './people.ts';
import { synced } from './synced.ts';
import type { Words } from './words.ts';

/** `npm run bench:server -- NAME [--option value ...]`: one bench a bar, where it makes sense beside a stock server. */
const benches: Record<string, (words: Words) => Promise<void>> = {
  ...{ latency, killed, synced },
  ...{ left, connections, opening, people, frames },
};
const number = { type: 'string' } as const;
const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: {
    ...{ boards: number, people: number, nodes: number, kills: number, count: number },
    ...{ edits: number, editing: number, rounds: number, seconds: number },
  },
});
const bench = benches[positionals[0] ?? ''];
if (!bench) {
  process.stderr.write(`Name one of: ${Object.keys(benches).join(', ')}.\n`);
  process.exit(2);
}
await bench(Object.fromEntries(Object.entries(values).map(([name, value]) => [name, Number(value)])));
process.exit();
