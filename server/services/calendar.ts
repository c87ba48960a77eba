import { hashOf, newToken } from '../../lib/access/links.ts';
import type { Services } from '../../lib/access/services.ts';
import { bad, good } from '../../lib/core/result.ts';
import type { Store } from '../../lib/store/store.ts';

export function calendarService(store: Store, clock: () => Date): Services['calendar'] {
  return {
    async make({ board, role, link, membership }) {
      const token = newToken();
      await store.calendars.put({ hash: hashOf(token), board, role, link, membership });
      return token;
    },
    async of(token) {
      const found = await store.calendars.byHash(hashOf(token));
      const links = found?.link ? await store.links.of(found.board) : [];
      const endsAt = links.find(({ id }) => id === found?.link)?.endsAt ?? null;
      if (!found || (endsAt !== null && endsAt <= clock().toISOString()))
        return bad('not found', 'This calendar address has ended.');
      return good({ board: found.board, role: found.role });
    },
  };
}
