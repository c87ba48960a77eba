import { parseArgs } from 'node:util';
import { connections } from './connections.ts';
import { floods } from './floods.ts';
import { frames } from './frames.ts';
import { fuzz } from './fuzz.ts';
import { killed } from './killed.ts';
import { latency } from './latency.ts';
import { left } from './left.ts';
import { list } from './list.ts';
import { opening } from './opening.ts';
import { people } from './people.ts';
import { synced } from './synced.ts';
import type { Words } from './words.ts';

/**
 * `npm run bench:server -- NAME [--option value ...]`: one bench a bar, where it makes sense beside a stock server; `all` for
 * every one at the size of its bar, with `--part 10` at a tenth of it; `floods [FOLDER]` and `latency [FOLDER]` beside the commit that lies built in FOLDER.
 */
const benches: Record<string, (words: Words, folder?: string) => Promise<void>> = {
  ...{ latency, killed, synced },
  ...{ left, list, connections, opening, people, frames, floods, fuzz },
};
/** Each bar of the server, with what its size is. */
const bars: readonly (readonly [string, size: Words, more?: Words])[] = [
  ['latency', { rounds: 24 }],
  ['latency', { rounds: 24 }, { nodes: 2 }],
  ['synced', { count: 50 }],
  ['opening', { count: 50_000 }],
  ['connections', { count: 6000 }],
  ['frames', { count: 10_000 }],
  ['fuzz', { steps: 100_000 }, { seed: 1 }],
  ['people', { people: 2000, editing: 200, edits: 400 }],
  ['killed', { kills: 50 }, { edits: 200 }],
  ['killed', { kills: 20 }, { edits: 2000 }],
  ['killed', { kills: 50 }, { edits: 200, nodes: 2 }],
  ['killed', { kills: 20 }, { edits: 2000, nodes: 2 }],
  ['left', { boards: 20_000 }],
  ['list', { boards: 1000 }],
];

const number = { type: 'string' } as const;
const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: {
    ...{ boards: number, people: number, nodes: number, kills: number, count: number, part: number },
    ...{ edits: number, editing: number, rounds: number, seconds: number, steps: number, seed: number },
  },
});
const { part = 1, ...words } = Object.fromEntries(
  Object.entries(values).map(([name, value]) => [name, Number(value)]),
);
const [name = '', folder] = positionals;
const bench = benches[name];
if (bench) await bench(words, folder);
else if (name === 'all') await all();
else {
  process.stderr.write(`Name one of: ${Object.keys(benches).join(', ')}, all.\n`);
  process.exitCode = 2;
}
process.exit();

async function all(): Promise<void> {
  for (const [name, size, more = {}] of bars) {
    const sizes = Object.entries(size).map(([word, value]) => [word, Math.ceil(value / part)]);
    const asked = { ...Object.fromEntries(sizes), ...more };
    const said = Object.entries(asked).map(([word, value]) => ` --${word} ${value}`);
    process.stdout.write(`\n${name}${said.join('')}\n`);
    const began = performance.now();
    try {
      await benches[name]!(asked);
    } catch (error) {
      process.stdout.write(`FALLS SHORT it could not be run: ${String(error)}\n`);
      process.exitCode = 1;
    }
    process.stdout.write(`took ${Math.round((performance.now() - began) / 1000)} s\n`);
  }
}
