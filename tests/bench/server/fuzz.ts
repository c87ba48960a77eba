import { World } from '../../server/fuzz/world.ts';
import { judge, printTable } from './figures.ts';
import type { Words } from './words.ts';

/** Steps of one world, with a seed of its own: from then on its documents are so long that steps take ever longer. */
const STEPS = 2000;
const REST_EVERY = 250;

/** Honest and hostile people at two servers that are dropped and started again: in the end documents, store and people agree. */
export async function fuzz({ steps = 100_000, seed = 1 }: Words): Promise<void> {
  const sums: Record<string, number> = {};
  const failures: string[] = [];
  const worlds = Math.ceil(steps / STEPS);
  for (let number = 0; number < worlds; number++) {
    const world = new World(seed + number);
    try {
      await world.run(STEPS, REST_EVERY);
    } catch (error) {
      failures.push(`seed ${seed + number}: ${String(error)}`);
    }
    for (const [what, count] of Object.entries(world.counts)) sums[what] = (sums[what] ?? 0) + count;
  }
  printTable([Object.keys(sums), Object.values(sums)]);
  for (const failure of failures) process.stdout.write(`${failure}\n`);
  judge(`${worlds} seeds from ${seed} on: documents, store and people agree`, failures.length === 0);
}
