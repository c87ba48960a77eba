import type { z } from '../zod.ts';
import type { Field } from './field.ts';

/**
 * An area of the board: what one Y.Doc holds and one right to write covers.
 * - `registers`: single values, each replaced whole; the last writer wins.
 * - `collections`: entries by id; each field of an entry is a register; order comes from time, never from a place in a list.
 * - `richText`: collections whose entries carry a rich text besides, created together with the entry.
 * Schemas constrain one register or one entry at a time, so that any merge of accepted documents is accepted.
 */
export interface AreaShape {
  name: string;
  version: number;
  registers: Record<string, Field>;
  collections: Record<string, Field<z.ZodObject>>;
  richText: readonly string[];
  /** Field that holds the membership which alone may change an entry; null where anybody with the right may. */
  owner: string | null;
}

/** Rich text as the editor's JSON; what may stand in it is checked against a whitelist in lib/board. */
export interface RichText {
  type: string;
  text?: string;
  attrs?: Record<string, unknown>;
  marks?: { type: string }[];
  content?: RichText[];
}

type Registers<S extends AreaShape> = { [K in keyof S['registers']]: z.infer<S['registers'][K]> | null };
type Entry<S extends AreaShape, K extends keyof S['collections']> = z.infer<S['collections'][K]> & {
  id: string;
} & (K extends S['richText'][number] ? { text: RichText } : unknown);
type Collections<S extends AreaShape> = { [K in keyof S['collections']]: Entry<S, K>[] };

/** An area as plain data: registers by name (null when unset), collections as lists in id order. */
export type AreaData<S extends AreaShape> = Registers<S> & Collections<S>;
