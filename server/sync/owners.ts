import * as Y from 'yjs';
import type { Struct } from '../../lib/board/possible.ts';
import { bad, good, type Result } from '../../lib/core/result.ts';
import type { Claim } from '../../lib/store/store.ts';

/**
 * Which membership each client id belongs to. Whoever writes under a stranger's id would make that person's own next
 * words look known already, and so lose them; structs that are stored already count for nothing, whoever sends them.
 */
export class Owners {
  private readonly owners = new Map<number, string>();

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
      const owner = this.owners.get(id.client);
      if (owner !== undefined && owner !== membership)
        return bad('invalid', 'This change was made under the name of somebody else.');
      if (owner === undefined) claims.set(id.client, { client: id.client, membership });
    }
    return good([...claims.values()]);
  }

  add(claims: readonly Claim[]): void {
    for (const { client, membership } of claims) this.owners.set(client, membership);
  }
}
