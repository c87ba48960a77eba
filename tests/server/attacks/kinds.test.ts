import { afterAll, describe, expect, test } from 'vitest';
import { type Family, kindsOfValue, marks, names, nested } from './corpus.ts';
import { MemoryStore } from './memoryStore.ts';
import { Siege, type Try, triesOf } from './siege.ts';
import { Site } from './site.ts';

/**
 * Whatever a guest's link sends, alone or beside something harmless: what anybody saw acknowledged is in the store; the room holds
 * what the store gives back, and so does everybody honest, whose next words are acknowledged and kept.
 */
const site = new Site(new MemoryStore().port);
afterAll(() => site.stop());

/** So many on one board before it is looked at. */
const AT_ONCE = 20;

const families: [string, Family][] = [
  ['an inherited name', names],
  ['every kind of value', kindsOfValue],
  ['every kind of value', marks],
  ['nested', nested],
];

for (const [what, family] of families)
  describe(what, () => {
    test.each(Object.keys(family))('%s', async (name) => {
      const failures: string[] = [];
      const tries = triesOf(family[name]!);
      for (let first = 0; first < tries.length; first += AT_ONCE)
        failures.push(...(await failuresOf(tries.slice(first, first + AT_ONCE))));
      expect(failures).toEqual([]);
    });
  });

/** All on one board; when that does not hold, each on a board of its own, to tell which it is. */
async function failuresOf(tries: readonly Try[]): Promise<string[]> {
  const failure = await new Siege(site).withstands(tries);
  if (failure === null) return [];
  const failures: string[] = [];
  for (const one of tries) {
    const alone = await new Siege(site).withstands([one]);
    if (alone) failures.push(`${one.attack.area}: ${one.attack.name} (${one.way}): ${alone}`);
  }
  return failures.length > 0 ? failures : [`together: ${failure}`];
}
