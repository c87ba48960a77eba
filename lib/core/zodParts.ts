/**
 * The parts of zod that are used here. Named one by one: as a whole it brings its messages in fifty languages, 65 KB compressed,
 * to every page.
 */
export type { core, infer, ZodError, ZodObject, ZodType } from 'zod';
export {
  array,
  boolean,
  coerce,
  custom,
  discriminatedUnion,
  enum,
  int,
  literal,
  NEVER,
  number,
  object,
  preprocess,
  record,
  strictObject,
  string,
  union,
  unknown,
  url,
} from 'zod';
