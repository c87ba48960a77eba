import type { Beginning, Floor, Thing } from './floor.ts';

/** How somebody faces, in eighths to the right from away from the front. */
export const FACINGS = [
  'away from the front',
  'the back right corner',
  'the right',
  'the front right corner',
  'the front',
  'the front left corner',
  'the left',
  'the back left corner',
] as const;

/** `3.5 m`; an eighth of a metre is more than anybody paces off. */
export const metreWords = (metres: number): string => `${Math.round(metres * 10) / 10} m`;

/** "3.5 m from the left and 2 m from the front, the lead facing the front", as guests at the front see it. */
export const beginningWords = ({ x, y, facing }: Beginning): string =>
  `${metreWords(x)} from the left and ${metreWords(y)} from the front, the lead facing ${FACINGS[facing]}`;

export const KINDS: Record<Thing['kind'], string> = {
  door: 'door',
  pillar: 'pillar',
  guests: 'guests',
  band: 'band',
  camera: 'camera',
};

/** "the garden door", as people there call it; "the pillar" where it has no name. */
export const thingWords = ({ kind, name }: Thing): string => name.trim() || `the ${KINDS[kind]}`;

/** What has changed from one floor to another, each in a sentence. */
export function floorDifferences(before: Floor | null, now: Floor | null): string[] {
  if (before === now) return [];
  if (!now) return ['The floor was taken away.'];
  const words: string[] = [];
  const shape = (floor: Floor | null) => JSON.stringify([floor?.width, floor?.depth, floor?.corners]);
  if (shape(before) !== shape(now))
    words.push(
      now.corners
        ? `The floor has ${now.corners.length} corners, and is ${metreWords(now.width)} × ${metreWords(now.depth)} at most.`
        : `The floor is ${metreWords(now.width)} × ${metreWords(now.depth)}.`,
    );
  const was = new Map(before?.things?.map((thing) => [thing.id, thing]));
  const is = new Set(now.things?.map(({ id }) => id));
  for (const thing of now.things ?? []) {
    const then = was.get(thing.id);
    const name = capital(thingWords(thing));
    if (!then) words.push(`On the floor plan: ${thingWords(thing)}.`);
    else if (then.x !== thing.x || then.y !== thing.y) words.push(`${name} was moved.`);
    else if (JSON.stringify(then) !== JSON.stringify(thing)) words.push(`${name} was described anew.`);
  }
  for (const [id, thing] of was)
    if (!is.has(id)) words.push(`No longer on the floor plan: ${thingWords(thing)}.`);
  const said = (floor: Floor | null) =>
    [floor?.surface, floor?.obstacles, floor?.guests].map((words) => words ?? '').join('\n');
  if (said(before) !== said(now)) words.push('The floor was described anew.');
  return words;
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
