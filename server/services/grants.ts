import { hashOf, newToken } from '../../lib/access/links.ts';
import type { Services } from '../../lib/access/services.ts';
import { type Grant, instructorGrant } from '../../lib/access/session.ts';
import { bad, good } from '../../lib/core/result.ts';
import type { Store, StoredLink } from '../../lib/store/store.ts';
import { StrayLinks } from './attempts.ts';

const ENDED = bad('ended', 'This link has ended. Please ask for a new one.');
const GONE = bad('not found', 'This board is no longer there.');
const REVOKED = bad('revoked', 'This link was taken back. Please ask for a new one.');

export function grantService(store: Store, clock: () => Date, ticks: () => number): Services['grants'] {
  const stray = new StrayLinks(ticks);
  const isLive = ({ endsAt, revokedAt }: StoredLink) =>
    revokedAt === null && (endsAt === null || endsAt > clock().toISOString());
  const grantOf = async ({ id, board, role, endsAt, parent, frozenAt }: StoredLink): Promise<Grant> => ({
    ...{ board, role, link: id, membership: id, endsAt },
    root: parent === null ? id : await store.links.rootOf(id),
    frozen: frozenAt !== null,
  });
  const isInstructor = async (session: string) => {
    const until = await store.sessions.instructorUntil(session);
    return until !== null && until > clock().toISOString();
  };
  return {
    async join(link, token, peer) {
      const allowed = peer === undefined ? null : stray.allowed(peer);
      if (allowed?.ok === false) return allowed;
      const found = await store.links.byHash(hashOf(link));
      if (!found || !isLive(found)) {
        if (peer !== undefined) stray.count(peer);
        return found?.revokedAt ? REVOKED : ENDED;
      }
      let own = token;
      if (own === null || !(await store.sessions.has(hashOf(own)))) {
        own = newToken();
        await store.sessions.add(hashOf(own), clock().toISOString());
      }
      await store.sessions.grant(hashOf(own), found.id);
      return good({ token: own, board: found.board, role: found.role });
    },
    async all(token) {
      if (token === null) return [];
      return Promise.all((await store.sessions.links(hashOf(token))).filter(isLive).map(grantOf));
    },
    async of(token, board, role) {
      if (token !== null) {
        const session = hashOf(token);
        const links = (await store.sessions.links(session)).filter(
          (link) => link.board === board && link.role === role,
        );
        // One that may write before one that was stopped.
        const live = links.filter(isLive);
        const best = live.find(({ frozenAt }) => frozenAt === null) ?? live[0];
        if (best) return good(await grantOf(best));
        if (role === 'instructor' && (await isInstructor(session))) {
          return (await store.boards.has(board)) ? good(instructorGrant(board)) : GONE;
        }
        if (links.length > 0) return links[0]!.revokedAt ? REVOKED : ENDED;
      }
      // Links go with their board, and so does what a browser keeps of it.
      if (!(await store.boards.has(board))) return GONE;
      return bad('not signed in', 'This browser has no link to this board. Please open your link again.');
    },
  };
}
