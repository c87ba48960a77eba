import { same } from '../edit/canonical.ts';
import type { AreaShape } from './area.ts';
import type { Change } from './change.ts';
import type { planShape } from './plan.ts';

type Fields = Readonly<Record<string, unknown>>;

/** A register, or a field of an entry. */
export type LostPlace = { register: string } | { collection: string; id: string; field: string };

/** A value that was written while somebody else wrote the same place, neither having seen the other's, and that does not stand. */
export type Lost = LostPlace & {
  lost: unknown;
  /** What stands in its place; null for nothing, also where the whole entry was taken away. */
  stands: unknown;
  /** The lost one was written on this page. */
  mine: boolean;
  /** Where the entry was taken away: all its fields as they were, the lost value among them. */
  entry: Fields | null;
};

/**
 * What belongs to a recording, and is taken with it: with another recording's beats or loudness no edit and no count would be
 * right.
 */
const OF_A_RECORDING: readonly string[] = [
  'recordingWords',
  'heard',
  'features',
  'imprint',
  'grid',
  'sectionsConfirmedBy',
  'phraseBars',
  'edit',
];

const isRegister = (lost: Lost, name: string): boolean => 'register' in lost && lost.register === name;

/** Those of one area that go with this one: of a recording all that was lost of it besides. */
function goingWith<L extends Lost>(lost: L, all: readonly L[]): L[] {
  if (!isRegister(lost, 'recording')) return [];
  return all.filter(
    (other) => lost.mine === other.mine && OF_A_RECORDING.some((name) => isRegister(other, name)),
  );
}

/** Those that people are asked about: what goes with another is no question of its own. */
export function askedAbout<L extends Lost>(all: readonly L[]): L[] {
  const along = new Set(all.flatMap((lost) => goingWith(lost, all)));
  return all.filter((lost) => !along.has(lost));
}

/** This one, and what goes with it. */
export const allOf = <L extends Lost>(lost: L, all: readonly L[]): L[] => [lost, ...goingWith(lost, all)];

/** The change that puts the lost value where the other one stands, or brings its entry back. */
export function takeInstead<S extends AreaShape = typeof planShape>(lost: Lost): Change<S> {
  if ('register' in lost) return { register: lost.register, value: lost.lost } as Change<S>;
  const { collection, id, field, entry } = lost;
  return { collection, id, fields: { ...entry, [field]: lost.lost } } as unknown as Change<S>;
}

/** The same value at the same place. */
export function isSameLoss(one: Lost, other: Lost): boolean {
  const isPlace =
    'register' in one
      ? isRegister(other, one.register)
      : !('register' in other) &&
        one.collection === other.collection &&
        one.id === other.id &&
        one.field === other.field;
  return isPlace && same(one.lost, other.lost);
}

/** The change writes the place that it was lost at. */
export function isAt(lost: Lost, change: Change<AreaShape>): boolean {
  if ('register' in change) return isRegister(lost, change.register);
  if ('register' in lost) return false;
  const isEntry = lost.collection === change.collection && lost.id === change.id;
  return isEntry && (change.fields === null || Object.hasOwn(change.fields, lost.field));
}

/**
 * The same, with what stands by now; null where nothing is left to be taken instead: the lost value stands after all, or its entry
 * was taken away since.
 * @param area the area's data
 */
export function lostNow<L extends Lost>(lost: L, area: object): L | null {
  const data = area as Fields;
  if ('register' in lost) return standing(lost, data[lost.register] ?? null, null);
  const entry = (data[lost.collection] as Fields[]).find(({ id }) => id === lost.id);
  if (entry) return standing(lost, entry[lost.field] ?? null, null);
  return lost.entry ? standing(lost, null, lost.entry) : null;
}

function standing<L extends Lost>(lost: L, stands: unknown, entry: Fields | null): L | null {
  // What nobody has changed since is the very same object.
  if (stands === lost.stands && entry === lost.entry) return lost;
  return entry === null && same(unsigned(stands), unsigned(lost.lost)) ? null : { ...lost, stands, entry };
}

/** Who said something and when is no difference in what was said: two may settle the song, or ask the DJ, at once. */
function unsigned(value: unknown): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  const { at: _at, by: _by, ...rest } = value as Fields;
  return rest;
}
