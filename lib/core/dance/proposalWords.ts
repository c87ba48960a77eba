import type { Manner } from './manners.ts';
import { isNewEntry } from './newEntry.ts';
import type { Stage } from './stations.ts';
import type { Choice } from './ways.ts';

const MANNERS: Record<Manner, string> = {
  remembered: 'Easy to remember',
  varied: 'More to look at',
  easy: 'Calm',
};

/** A proposed dance in one sentence, and what is danced where. */
export function proposalWords(
  manner: Manner,
  chosen: readonly Choice[],
  stage: Stage,
): { sentence: string; words: string[] } {
  const places = new Map<string, string[]>();
  const kinds = new Map<string, Set<string>>();
  for (const [i, { laid }] of chosen.entries()) {
    const section = stage.stations[i]?.section;
    if (!laid || !isNewEntry(laid.id) || !section) continue;
    const what = `${laid.move.name}${laid.times > 1 ? ', twice' : ''}`;
    const where = stage.stations[i]!.opens ? section.name : `later in ${section.name}`;
    places.set(what, [...(places.get(what) ?? []), where]);
    kinds.set(laid.move.name, (kinds.get(laid.move.name) ?? new Set()).add(section.kind));
  }
  const words = [...places].map(([what, where]) => `${what}: ${listed(where)}.`);
  const links = chosen.flatMap((choice) => choice.links);
  if (links.length > 0) {
    const names = [...new Set(links.map(({ move }) => `“${move.name}”`))];
    words.push(
      `${listed(names)} ${links.length === 1 ? 'makes' : 'make'} the feet fit, ${times(links.length)}.`,
    );
  }
  const plain = stage.stations.filter((s, i) => s.opens && s.section && chosen[i]?.laid === null);
  if (plain.length > 0) words.push(`The basic goes on through ${listed(plain.map((s) => s.section!.name))}.`);
  const moves = [...kinds].map(([name, where]) => `${lower(name)} in the ${listed([...where])}`);
  const between = stage.basic ? `, with the ${lower(stage.basic.name)} between` : '';
  return { sentence: `${MANNERS[manner]}: ${listed(moves)}${between}.`, words };
}

const lower = (name: string): string => `${name.charAt(0).toLowerCase()}${name.slice(1)}`;
const times = (n: number): string => (n === 1 ? 'once' : n === 2 ? 'twice' : `${n} times`);
const listed = (names: readonly string[]): string =>
  names.length > 1 ? `${names.slice(0, -1).join(', ')} and ${names.at(-1)}` : (names[0] ?? '');
