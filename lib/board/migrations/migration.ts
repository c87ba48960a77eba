import type { AreaName } from '../../core/areas/board.ts';

/** What a document holds, before any schema has looked at it; rich texts stay in their entries and are not shown here. */
export interface RawArea {
  registers: Readonly<Record<string, unknown>>;
  /** By collection and entry id. */
  collections: Readonly<Record<string, Readonly<Record<string, Readonly<Record<string, unknown>>>>>>;
}

/**
 * How an area of version `from` becomes one of the version after. Pure: it gives new data and leaves the old as it was, and the
 * same data gives the same everywhere, so that two servers that do it at once come to one document. An entry with a rich text
 * keeps its collection and id.
 */
export interface Migration {
  area: AreaName;
  from: number;
  lift(data: RawArea): RawArea;
}
