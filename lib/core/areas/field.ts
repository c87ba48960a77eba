import type { Places } from '../song/places.ts';
import type { z } from '../zod.ts';

/**
 * What a part of the board belongs to:
 * - `song`: the recording, what was heard in it, and its edit; `measured`: what is made from the recording and goes with it
 * - `dance`: what is danced to it
 * - `evening`: the people and the party
 * - `lessons`: teaching and practice
 * - `said`: what was said to somebody, which cannot be unsaid: it is no step of undo
 */
export type Matter = 'song' | 'measured' | 'dance' | 'evening' | 'lessons' | 'said';

/** Everything that must be known of a field beside its schema; lists of fields are made from this. */
export interface FieldFacts {
  of: Matter;
  /** As people name it: `the edit`, `a cue word`. */
  called: string;
  /** Held fast once the instructor has settled song and edit. */
  settles?: true;
  /** Part of what the floor score is made of. */
  scored?: true;
  /**
   * The same value with each of its times at the same music in another recording; null where it has no place there, and goes. What
   * says nothing of this holds no time.
   */
  moved?(value: never, places: Places): unknown;
  /** Heard in the recording, or made for all of it: another one that does not show all of it gets its own. */
  anew?: true;
}
type FactsOf<T> = FieldFacts & { moved?(value: T, places: Places): T | null };

export const facts = Symbol('facts');
export type Field<S extends z.ZodType = z.ZodType, F = FieldFacts> = S & { readonly [facts]: F };

/** A schema of its own with what is to be known of the field. */
export const field = <S extends z.ZodType, const F extends FactsOf<z.infer<S>>>(
  schema: S,
  about: F,
): Field<S, F> => Object.assign(schema.clone() as S, { [facts]: about });

type Fields = Readonly<Record<string, { readonly [facts]: FieldFacts }>>;
type Named<R extends Fields, F> = { [K in keyof R]: R[K][typeof facts] extends F ? K : never }[keyof R];

/** Names of the fields of which these facts hold, in the order in which they are declared. */
export function fieldsWith<R extends Fields, const F extends Partial<FieldFacts>>(
  fields: R,
  wanted: F,
): Named<R, F>[] {
  const holds = (about: FieldFacts) =>
    Object.entries(wanted).every(([name, value]) => about[name as keyof FieldFacts] === value);
  return Object.keys(fields).filter((name) => holds(fields[name]![facts])) as Named<R, F>[];
}
