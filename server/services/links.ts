import { hashOf, newId, newToken } from '../../lib/access/links.ts';
import { mayInvite } from '../../lib/access/roles.ts';
import type { Services } from '../../lib/access/services.ts';
import type { Instant } from '../../lib/core/calendar.ts';
import { bad, good } from '../../lib/core/result.ts';
import type { Store } from '../../lib/store/store.ts';

const DAY_MS = 86_400_000;

export function linkService(
  store: Store,
  clock: () => Date,
  onRevoked: (link: string) => void,
): Services['links'] {
  return {
    async of({ board, role }) {
      const links = await store.links.of(board);
      return links
        .filter((link) => mayInvite(role, link.role))
        .map(({ id, role: guest, madeAt, endsAt, browsers }) => ({
          id,
          role: guest,
          // As `make` wrote them below.
          madeAt: madeAt as Instant,
          endsAt: endsAt as Instant | null,
          browsers,
        }));
    },
    async make({ board, role }, guest, days) {
      if (!mayInvite(role, guest)) return bad('no right', 'Your link may not invite anybody as that.');
      const token = newToken();
      const id = newId();
      const now = clock();
      await store.links.add({
        id,
        board,
        role: guest,
        hash: hashOf(token),
        madeAt: now.toISOString(),
        endsAt: days === null ? null : new Date(now.getTime() + days * DAY_MS).toISOString(),
        revokedAt: null,
        parent: null,
        frozenAt: null,
      });
      return good({ id, token });
    },
    removeUnopened: (ids) => store.links.removeUnopened(ids),
    async revoke({ board, role }, link) {
      const found = (await store.links.of(board)).find(({ id }) => id === link);
      if (!found) return bad('not found', 'That link is no longer there.');
      if (!mayInvite(role, found.role)) return bad('no right', 'Your link may not end that one.');
      for (const id of await store.links.revoke(board, link, clock().toISOString())) onRevoked(id);
      return good(undefined);
    },
  };
}
