import type { AreaShape } from '../../lib/core/areas/area.ts';
import { type AreaName, areas, type Board } from '../../lib/core/areas/board.ts';
import { refusalWords } from '../../lib/core/refusal.ts';
import { z } from '../../lib/core/zod.ts';
import { jsonOf } from './files.ts';
import { Wrong } from './wrong.ts';

/** A board as JSON, from a file; every part is held against its area's schema. */
export async function boardOf(path: string): Promise<Board> {
  const value = await jsonOf(path);
  const names = Object.keys(areas) as AreaName[];
  const parsed = z
    .object(Object.fromEntries(names.map((name) => [name, schemaOf(areas[name])])))
    .safeParse(value);
  if (!parsed.success) {
    throw new Wrong(`${path}: not as a board has it: ${refusalWords(parsed.error)}.`);
  }
  const board = parsed.data as unknown as Board;
  if (!board.plan) throw new Wrong(`${path}: a board without its plan cannot be checked.`);
  return board;
}

/** Unset registers and empty collections may be left out, an area that the writer could not read is null. */
function schemaOf(shape: AreaShape): z.ZodType {
  const registers = Object.entries(shape.registers).map(([name, schema]) => [
    name,
    schema.nullable().default(null),
  ]);
  const collections = Object.entries(shape.collections).map(([name, schema]) => {
    const text = shape.richText.includes(name) ? { text: z.unknown() } : {};
    return [name, z.array(schema.extend({ id: z.string().max(60), ...text })).default([])];
  });
  return z
    .object(Object.fromEntries([...registers, ...collections]))
    .nullable()
    .default(null);
}
