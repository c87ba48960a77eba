import type { PlanChange } from '../areas/change.ts';
import type { Plan } from '../areas/plan.ts';
import { onBoard } from '../dance/counts.ts';
import { links as library } from '../dance/library/links.ts';
import type { Move } from '../dance/move.ts';
import { newEntry } from '../dance/newEntry.ts';
import { storedAt } from '../dance/place.ts';
import type { Danced } from './finding.ts';

/** Links one after the other, of which the last ends where a move begins. */
interface Chain {
  /** The count on which that move begins, and the counts that the links take. */
  before: number;
  counts: number;
  links: readonly Move[];
}

/** What a link is besides its id, the same object each time: whoever tries fixes reads its feet once. */
const fieldsOf = new Map(library.map(({ id, ...fields }) => [id, fields]));

/** Changes that put links on the sheet, and on the couple's list where they are not. */
export function linkChanges(
  { moves }: Plan,
  { score, grid }: Danced,
  chains: readonly Chain[],
): PlanChange[] {
  const listed = new Set(moves.map(({ id }) => id));
  const changes: PlanChange[] = [];
  for (const { before, counts, links } of chains) {
    let at = before - counts;
    for (const link of links) {
      const { id } = link;
      if (!listed.has(id)) changes.push({ collection: 'moves', id, fields: fieldsOf.get(id)! });
      listed.add(id);
      changes.push({
        collection: 'placed',
        id: newEntry(`link-${at}`),
        fields: { move: id, at: storedAt(score, at), times: 1 },
      });
      at += onBoard(link, link.counts, grid);
    }
  }
  return changes;
}
