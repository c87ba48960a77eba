import { changesBetween } from '../../lib/board/between.ts';
import type { Tried } from '../../lib/board/guard.ts';
import { judge } from '../../lib/core/agreed/policy.ts';
import type { AreaData, AreaShape } from '../../lib/core/areas/area.ts';
import { type AreaName, areas, type Board } from '../../lib/core/areas/board.ts';
import type { Change } from '../../lib/core/areas/change.ts';
import { type FieldFacts, fieldsWith } from '../../lib/core/areas/field.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import type { Problem } from '../../lib/core/result.ts';

/** The areas in which something is agreed, each with those that it is judged by besides. */
const judgedBy: Partial<Record<AreaName, readonly AreaName[]>> = {
  plan: [],
  answer: ['plan', 'show'],
  show: ['plan', 'answer'],
};
export const areasBeside = (area: AreaName): readonly AreaName[] => judgedBy[area] ?? [];

/** Another area of the board as it is at this server now; null while it is not open here. */
export type Beside = (area: AreaName) => AreaData<AreaShape> | null;

/** Why an update from somebody with this role may not be; null when it may. */
export type Judging = (tried: Tried, role: Role) => Problem | null;

/**
 * Asks the policy of the pages about what arrives in an area, where it may have something to say: most updates touch nothing that
 * was agreed, and for those no data is read. Where an area beside is not open, an update is let through: what is agreed carries a
 * digest of what it was given for, so that a stale word never reads as one that holds.
 */
export function judging<A extends AreaName>(area: A, beside: Beside): Judging {
  const others = judgedBy[area];
  if (!others) return () => null;
  const shape: AreaShape = areas[area];
  const said = namesWith(shape, { of: 'said' });
  const settling = namesWith(shape, { settles: true });
  return ({ touched, isSet, read }, role) => {
    const concerned =
      touched.some((name) => said.has(name)) ||
      (touched.some((name) => settling.has(name)) && isSet('settled'));
    if (!concerned) return null;
    const found = others.map((other) => [other, beside(other)] as const);
    if (found.some(([, data]) => data === null)) return null;
    const { before, after } = read();
    const changes = changesBetween(shape, before, after) as Change<(typeof areas)[A]>[];
    if (changes.length === 0) return null;
    const board = { ...CLOSED, ...Object.fromEntries(found), [area]: before } as unknown as Board;
    const verdict = judge(board, area, changes, { role, way: 'arrived' });
    return verdict.kind === 'refused' ? verdict.problem : null;
  };
}

const CLOSED = { plan: null, lessons: null, remarks: null, answer: null, show: null };

function namesWith({ registers, collections }: AreaShape, wanted: Partial<FieldFacts>): ReadonlySet<string> {
  return new Set([...fieldsWith(registers, wanted), ...fieldsWith(collections, wanted)]);
}
