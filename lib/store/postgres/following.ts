import type { SharedStore } from '../store.ts';
import type { Postgres } from './database.ts';

const BEHIND = `
  SELECT board, area FROM unnest($1::text[], $2::text[], $3::bigint[]) AS open (board, area, head)
  JOIN areas USING (board, area) WHERE areas.head > open.head`;

const ENDED = `
  SELECT 'boards' AS kind, id FROM unnest($1::text[]) AS id
    WHERE NOT EXISTS (SELECT FROM boards WHERE boards.id = id.id)
  UNION ALL SELECT 'links', id FROM unnest($2::text[] || $4::text[]) AS id
    WHERE NOT EXISTS (SELECT FROM links WHERE links.id = id.id AND revoked_at IS NULL)
  UNION ALL SELECT 'frozen', id FROM unnest($2::text[]) AS id
    WHERE EXISTS (SELECT FROM links WHERE links.id = id.id AND revoked_at IS NULL AND frozen_at IS NOT NULL)
  UNION ALL SELECT 'frozen', id FROM unnest($4::text[]) AS id
    WHERE EXISTS (SELECT FROM links WHERE links.id = id.id AND revoked_at IS NULL AND frozen_at IS NULL)
  UNION ALL SELECT 'sessions', id FROM unnest($3::text[]) AS id
    WHERE NOT EXISTS (SELECT FROM sessions WHERE hash = id.id AND instructor_until IS NOT NULL)`;

/** What a node asks on a timer, so that a message that never came loses nothing. */
export function following(db: Postgres): Pick<SharedStore, 'behind' | 'ended'> {
  return {
    async behind(open) {
      if (open.length === 0) return [];
      const { rows } = await db.query(BEHIND, [
        open.map(({ board }) => board),
        open.map(({ area }) => area),
        open.map(({ head }) => head),
      ]);
      return rows;
    },
    async ended({ boards, links, frozen, sessions }) {
      const { rows } = await db.query(ENDED, [boards, links, sessions, frozen]);
      const of = (kind: string) => rows.filter((row) => row.kind === kind).map((row) => String(row.id));
      return { boards: of('boards'), links: of('links'), frozen: of('frozen'), sessions: of('sessions') };
    },
  };
}
