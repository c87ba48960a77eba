import { hashOf, newId, newToken } from '../../lib/access/links.ts';
import { mayInvite } from '../../lib/access/roles.ts';
import type { Services } from '../../lib/access/services.ts';
import type { Instant } from '../../lib/core/calendar.ts';
import { bad, good, type Problem } from '../../lib/core/result.ts';
import { FROZEN } from '../../lib/protocol/close.ts';
import type { Store, StoredLink } from '../../lib/store/store.ts';

const DAY_MS = 86_400_000;
/** Links that hold at the same time: made with one, and of a board. More than any party needs (common practice, no source). */
const MOST_MADE_WITH_ONE = 12;
const MOST_OF_A_BOARD = 60;

const NOT_THERE = bad('not found', 'That link is no longer there.');
const STOPPED = bad('no right', FROZEN);

/** What open connections are told. */
interface Told {
  revoked(link: string): void;
  /** Frozen, or no longer so. */
  changed(link: string): void;
}

export function linkService(store: Store, clock: () => Date, told: Told): Services['links'] {
  const isLive = ({ endsAt }: StoredLink): boolean => endsAt === null || endsAt > clock().toISOString();
  /** Why so many may not be; of links that were not revoked. */
  const excess = (links: readonly StoredLink[], parent: string | null): Problem | null => {
    const live = links.filter(isLive);
    if (live.length > MOST_OF_A_BOARD)
      return {
        code: 'too many',
        sentence: `${MOST_OF_A_BOARD} links to this board are given out, and more cannot be. Take back those that nobody needs.`,
      };
    if (parent !== null && live.filter((link) => link.parent === parent).length > MOST_MADE_WITH_ONE)
      return {
        code: 'too many',
        sentence: `With your link ${MOST_MADE_WITH_ONE} others are given out, and more cannot be. Take back those that nobody needs.`,
      };
    return null;
  };
  return {
    async of({ board, role }) {
      const links = await store.links.of(board);
      return links
        .filter((link) => mayInvite(role, link.role))
        .map(({ id, role: guest, madeAt, endsAt, browsers, parent, frozenAt }) => ({
          ...{ id, role: guest, browsers, parent },
          // As they were written below.
          madeAt: madeAt as Instant,
          endsAt: endsAt as Instant | null,
          frozenAt: frozenAt as Instant | null,
        }));
    },
    async make(grant, guest, days) {
      const { board, link: parent } = grant;
      if (grant.frozen) return STOPPED;
      if (!mayInvite(grant.role, guest)) return bad('no right', 'Your link may not invite anybody as that.');
      const token = newToken();
      const now = clock();
      const made: StoredLink = {
        ...{ id: newId(), board, role: guest, hash: hashOf(token), parent },
        madeAt: now.toISOString(),
        endsAt: earlier(
          days === null ? null : new Date(now.getTime() + days * DAY_MS).toISOString(),
          grant.endsAt,
        ),
        revokedAt: null,
        frozenAt: null,
      };
      const before = excess([...(await store.links.of(board)), made], parent);
      if (before !== null) return { ok: false, problem: before };
      await store.links.add(made);
      // Others may have been made in the same moment, or the link taken back with which this one is.
      const links = await store.links.of(board);
      const isThere = links.some(({ id }) => id === made.id);
      const after = excess(links, parent);
      if (isThere && after === null) return good({ id: made.id, token });
      await store.links.removeUnopened([made.id]);
      return isThere ? { ok: false, problem: after! } : bad('revoked', 'Your link was taken back.');
    },
    removeUnopened: (ids) => store.links.removeUnopened(ids),
    async revoke(grant, link, madeWith = 'end') {
      const { board, role } = grant;
      if (grant.frozen) return STOPPED;
      const found = (await store.links.of(board)).find(({ id }) => id === link);
      if (!found) return NOT_THERE;
      if (!mayInvite(role, found.role)) return bad('no right', 'Your link may not end that one.');
      if (madeWith === 'keep') {
        if (role !== 'instructor') return bad('no right', 'Only the instructor may keep those made with it.');
        await store.links.release(board, link);
      }
      for (const id of await store.links.revoke(board, link, clock().toISOString())) told.revoked(id);
      return good(undefined);
    },
    async freeze(grant, link, frozen) {
      const { board, role } = grant;
      if (role !== 'instructor') return bad('no right', 'Only the instructor may stop a link from writing.');
      if (grant.frozen) return STOPPED;
      if (!(await store.links.of(board)).some(({ id }) => id === link)) return NOT_THERE;
      if (link === grant.link || link === grant.root)
        return bad('no right', 'You came by this link yourself: another instructor can stop it.');
      const changed = await store.links.freeze(board, link, frozen ? clock().toISOString() : null);
      for (const id of changed) told.changed(id);
      return good(undefined);
    },
  };
}

/** Of two instants at which something ends, null for never. */
const earlier = (one: string | null, other: string | null): string | null =>
  one === null || (other !== null && other < one) ? other : one;
