import * as Y from 'yjs';
import type { Writer } from '../../lib/board/guard.ts';
import type { ReadUpdate } from '../../lib/board/possible.ts';
import { type Weight, weightOf } from '../../lib/board/weight.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import { bad, type Problem } from '../../lib/core/result.ts';
import type { StoredLink } from '../../lib/store/store.ts';
import type { Owners } from './owners.ts';

const MB = 1024 * 1024;
/**
 * What an area holds at most. A board is tens to hundreds of kilobytes and a few thousand structs. A document is made again at 1 to
 * 2 µs a struct (Yjs 13.6, two cores shared with others, November 2026), which everybody waits for when an update is refused: so
 * even the largest takes about a tenth of a second, and one that a single link has filled a quarter of that.
 */
export const LARGEST: Weight = { bytes: 4 * MB, structs: 60_000 };
/** The rest of it is the instructor's. */
const OF_GUESTS: Weight = { bytes: 3 * MB, structs: 45_000 };
/** One link, with all that were made with it, however far down. */
const OF_ONE_LINK: Weight = { bytes: MB, structs: 15_000 };

const FULL = bad('too large', 'This part of the board is full: please remove something first.').problem;
const FULL_OF_ONE = bad(
  'too large',
  'Your link has written as much here as it may: please remove some of it.',
).problem;

export type Sender = Writer & { role: Role; root?: string };

/** Whose limit each link counts against: that of the first in the line of those that made it. */
export function rootsOf(links: readonly StoredLink[]): Map<string, string> {
  const parents = new Map(links.map(({ id, parent }) => [id, parent]));
  return new Map(
    links.map(({ id }) => {
      let root = id;
      const seen = new Set([id]);
      for (let parent = parents.get(id); parent && !seen.has(parent); parent = parents.get(parent)) {
        root = parent;
        seen.add(parent);
      }
      return [id, root];
    }),
  );
}

/**
 * Keeps one person from filling what others write in. What somebody has put in is counted anew only where it may be near the limit:
 * until then it is at most what was last counted and all that anybody has written since.
 */
export class Limits {
  /** All that was written since this began. */
  private readonly since: Weight = { bytes: 0, structs: 0 };
  private readonly counted = new Map<string, { weight: Weight; at: Weight }>();

  constructor(
    private readonly owners: Owners,
    /** By membership; one that is not in it is its own. */
    private readonly roots: Map<string, string>,
  ) {}

  /** Why nothing of this size can be taken from anybody, before it is read. */
  static tooLarge = ({ length }: Uint8Array): Problem | null => (length > LARGEST.bytes ? FULL : null);

  /** Why this much more may not be written; null when it may. What only removes something always may. */
  problem(doc: Y.Doc, update: Uint8Array, { structs }: ReadUpdate, sender: Sender): Problem | null {
    const { membership, role, root = membership } = sender;
    if (this.roots.get(membership) !== root) this.roots.set(membership, root);
    const more = { bytes: update.length, structs: structs.length };
    const problem = this.fullWith(doc, more, role, root);
    if (problem === null || structs.length === 0) return null;
    // A page may send again what is known.
    const fresh = structs.filter(({ id, length }) => id.clock + length > Y.getState(doc.store, id.client));
    if (fresh.length === 0) return null;
    const bytes = Math.ceil((update.length * fresh.length) / structs.length);
    return this.fullWith(doc, { bytes, structs: fresh.length }, role, root);
  }

  private fullWith(doc: Y.Doc, more: Weight, role: Role, root: string): Problem | null {
    if (role === 'instructor') return this.fits(doc, ALL, more, LARGEST) ? null : FULL;
    if (!this.fits(doc, root, more, OF_ONE_LINK)) return FULL_OF_ONE;
    return this.fits(doc, ALL, more, OF_GUESTS) ? null : FULL;
  }

  /** Something was written, here or at another node. */
  add(bytes: number, structs: number): void {
    this.since.bytes += bytes;
    this.since.structs += structs;
  }

  private fits(doc: Y.Doc, account: string, more: Weight, most: Weight): boolean {
    const { since } = this;
    const known = this.counted.get(account);
    if (known) {
      const bytes = known.weight.bytes + more.bytes + since.bytes - known.at.bytes;
      const structs = known.weight.structs + more.structs + since.structs - known.at.structs;
      if (bytes <= most.bytes && structs <= most.structs) return true;
    }
    // Otherwise nothing has changed since it was counted.
    if (!known || known.at.bytes !== since.bytes) {
      const weight = account === ALL ? weightOf(doc) : weightOf(doc, this.clientsOf(account));
      this.counted.set(account, { weight, at: { ...since } });
    }
    const { weight } = this.counted.get(account)!;
    return weight.bytes + more.bytes <= most.bytes && weight.structs + more.structs <= most.structs;
  }

  private *clientsOf(root: string): Generator<number> {
    for (const { client, membership } of this.owners.all())
      if ((this.roots.get(membership) ?? membership) === root) yield client;
  }
}

/** No membership's name. */
const ALL = '';
