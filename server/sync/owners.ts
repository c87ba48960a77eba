import * as Y from 'yjs';
import type { Struct } from '../../lib/board/possible.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';
import type { Claim } from '../../lib/store/store.ts';

/** Ids that one membership has shown and not written under, of which the oldest is forgotten: one for each page that was opened. */
const MOST_SHOWN = 256;

/**
 * Which membership each client id belongs to: whose it was when it was first shown, or written under. Whoever writes under a
 * stranger's id would make that person's own next words look known already, and so lose them; structs that are stored already
 * count for nothing, whoever sends them.
 */
export class Owners {
  /** Of those that were written under, which the store keeps. */
  private readonly owners = new Map<number, string>();
  private readonly shown = new Map<number, string>();

  constructor(stored: readonly Claim[]) {
    this.add(stored);
  }

  /**
   * The ids that an update with these structs would use for the first time. Problems: `invalid`, and `gap` where words of the same client
   * that come before are missing here, which is found without trying the update.
   */
  claims(doc: Y.Doc, structs: readonly Struct[], membership: string): Result<Claim[]> {
    const claims = new Map<number, Claim>();
    const seen = new Map<number, number>();
    for (const { id, length } of structs) {
      const state = seen.get(id.client) ?? Y.getState(doc.store, id.client);
      if (id.clock > state)
        return bad('gap', 'This change builds on one that is missing here: please reload.');
      seen.set(id.client, Math.max(state, id.clock + length));
      if (id.clock + length <= state) continue;
      if (!this.mayBe(id.client, membership))
        return bad('invalid', 'This change was made under the name of somebody else.');
      if (!this.owners.has(id.client)) claims.set(id.client, { client: id.client, membership });
    }
    return good([...claims.values()]);
  }

  /** Those that were written under. */
  *all(): Generator<Claim> {
    for (const [client, membership] of this.owners) yield { client, membership };
  }

  add(claims: readonly Claim[]): void {
    for (const { client, membership } of claims) {
      this.owners.set(client, membership);
      this.shown.delete(client);
    }
  }

  /** Notes that this membership shows itself under the id; false, and nothing is noted, when that is another's. */
  show(client: number, membership: string): boolean {
    if (!this.mayBe(client, membership)) return false;
    if (this.owners.has(client) || this.shown.has(client)) return true;
    const own = [...this.shown].filter(([, owner]) => owner === membership);
    if (own.length >= MOST_SHOWN) this.shown.delete(own[0]![0]);
    this.shown.set(client, membership);
    return true;
  }

  private mayBe(client: number, membership: string): boolean {
    return (this.owners.get(client) ?? this.shown.get(client) ?? membership) === membership;
  }
}
