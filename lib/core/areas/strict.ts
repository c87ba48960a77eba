import { z } from '../zod.ts';

const made = new WeakMap<z.ZodObject, z.ZodObject>();

/** An entry's schema that allows no other field, made once: making one takes longer than using it. */
export function strictOf(schema: z.ZodObject): z.ZodObject {
  const strict = made.get(schema) ?? z.catchall(schema, z.never());
  made.set(schema, strict);
  return strict;
}
