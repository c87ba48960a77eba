import type { AreaName } from '../../core/areas/board.ts';
import type { AreaTable, EarlierArea } from '../store.ts';
import { type Database, type Row, statement } from './database.ts';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
/** How long an area's log stays after a snapshot has taken its place, and how much of it at most. */
export const HISTORY = { days: 30, rows: 20_000, bytes: 16 * 1024 * 1024 };
/** Bytes of an area's earlier snapshots, at most. Of the last day one an hour is kept, of the days before one a day. */
const BASES_BYTES = 32 * 1024 * 1024;

/** One state of an area that is kept whole: a snapshot, or one before it. */
interface Base {
  through: number;
  at: string;
  bytes: number;
}

/** An area's snapshot, and the log and the snapshots that it replaced, which nobody reads who opens the area. */
export function historyRows(
  db: Database,
): Pick<AreaTable, 'compact' | 'replace' | 'asOf' | 'writings' | 'hours'> {
  return {
    async compact(board, area, through, snapshot) {
      const of = [board, area] as const;
      const [before, , taken] = await db.run([
        statement('SELECT through, at FROM areas WHERE board = ? AND area = ?', ...of),
        statement(
          `INSERT INTO bases (board, area, through, at, bytes) SELECT board, area, through, at, snapshot FROM areas
           WHERE board = ? AND area = ? AND through < ? AND head >= ? AND snapshot IS NOT NULL ON CONFLICT DO NOTHING`,
          ...of,
          through,
          through,
        ),
        statement(
          `UPDATE areas SET snapshot = ?, through = ?, at = coalesce((${LAST_UP_TO}), at)
           WHERE board = ? AND area = ? AND through < ? AND head >= ?`,
          snapshot,
          through,
          ...of,
          through,
          ...of,
          through,
          through,
        ),
      ]);
      // Otherwise another node's snapshot goes further, or not all that it holds is stored.
      if (taken!.changes === 0) return;
      const kept = await db.row(
        statement(
          'SELECT snapshot, at FROM areas WHERE board = ? AND area = ? AND through = ?',
          ...of,
          through,
        ),
      );
      if (kept === null) return;
      // By the clock of who wrote last.
      if (areSame(kept.snapshot, snapshot)) return trim(db, board, area, Date.parse(String(kept.at)));
      const { through: last, at } = before!.rows[0]!;
      await db.change(
        statement(
          `UPDATE areas SET through = ?, at = ?,
             snapshot = (SELECT bytes FROM bases WHERE board = ? AND area = ? AND through = ?)
           WHERE board = ? AND area = ? AND through = ?`,
          ...([last!, at!, ...of, last!, ...of, through] as const),
        ),
      );
      throw new Error('A snapshot was not read back as it was written, so the one before stays.');
    },
    async replace(board, area, head, snapshot, { reason, at }) {
      const of = [board, area] as const;
      const [, replaced] = await db.run([
        statement(
          `INSERT INTO set_aside (board, area, bytes, reason, at) SELECT board, area, snapshot, ?, ? FROM areas
           WHERE board = ? AND area = ? AND snapshot IS NOT NULL AND head = ?`,
          reason,
          at,
          ...of,
          head,
        ),
        statement(
          'UPDATE areas SET snapshot = ?, through = head, at = ? WHERE board = ? AND area = ? AND head = ?',
          snapshot,
          at,
          ...of,
          head,
        ),
      ]);
      return replaced!.changes > 0;
    },
    async asOf(board, area, at, before = Number.MAX_SAFE_INTEGER) {
      const of = [board, area] as const;
      const [areas, bases, last] = await db.run([
        statement('SELECT trimmed, told_from FROM areas WHERE board = ? AND area = ?', ...of),
        statement(BASES, ...of, ...of),
        statement(LAST_BY, ...of, at),
      ]);
      const stored = areas!.rows[0];
      const empty: EarlierArea = { updates: [], number: 0, base: 0, at };
      if (!stored) return empty;
      if (String(stored.told_from) > at) return null;
      const trimmed = Number(stored.trimmed);
      // One that began the area anew holds what stood before it, too, but is none of that time.
      const known = bases!.rows.map(baseOf).filter((base) => base.at <= at && base.through < before);
      const newest = known.at(-1);
      const row = last!.rows[0];
      const logged = row ? { number: Number(row.number), at: String(row.at) } : null;
      const number = Math.max(newest?.through ?? 0, logged?.number ?? 0);
      if (number === 0) return trimmed === 0 ? empty : null;
      const base = known.filter(({ through }) => through <= number).at(-1);
      const isWhole = (base?.through ?? 0) >= trimmed;
      if (!base && !isWhole) return null;
      const [snapshot, updates] = await db.run([
        statement(BASE, ...of, base?.through ?? 0, ...of, base?.through ?? 0),
        statement(
          'SELECT bytes FROM updates WHERE board = ? AND area = ? AND number > ? AND number <= ? ORDER BY number',
          ...of,
          base?.through ?? 0,
          isWhole ? number : 0,
        ),
      ]);
      // Let go of since it was looked for: then by another.
      if (base && snapshot!.rows.length === 0) return this.asOf(board, area, at, before);
      return {
        updates: [...snapshot!.rows, ...updates!.rows].map(({ bytes }) => bytes as Uint8Array),
        number: isWhole ? number : base!.through,
        base: base?.through ?? 0,
        at: isWhole && logged?.number === number ? logged.at : base!.at,
      };
    },
    async writings(board, area, since) {
      const of = [board, area] as const;
      const rows = await db.rows(
        statement(
          `SELECT number, at, membership, bytes FROM updates WHERE board = ? AND area = ?
             AND number > coalesce((SELECT number FROM (${LAST_BY}) AS last), 0) ORDER BY number`,
          ...of,
          ...of,
          since,
        ),
      );
      return rows.map(({ number, at, membership, bytes }) => ({
        number: Number(number),
        at: String(at),
        membership: String(membership),
        update: bytes as Uint8Array,
      }));
    },
    async hours(board) {
      const rows = await db.rows(
        statement(
          `SELECT area, membership, min(at) AS first_at, max(at) AS last_at FROM updates
           WHERE board = ? AND membership <> '' GROUP BY area, membership, substr(at, 1, 13)
           ORDER BY last_at DESC, area, membership`,
          board,
        ),
      );
      return rows.map(({ area, membership, first_at, last_at }) => ({
        area: area as AreaName,
        membership: String(membership),
        from: String(first_at),
        to: String(last_at),
      }));
    },
  };
}

const LAST_UP_TO =
  'SELECT at FROM updates WHERE board = ? AND area = ? AND number <= ? ORDER BY number DESC LIMIT 1';
const LAST_BY =
  'SELECT number, at FROM updates WHERE board = ? AND area = ? AND at <= ? ORDER BY number DESC LIMIT 1';
const BASES = `
  SELECT through, at, length(bytes) AS bytes FROM bases WHERE board = ? AND area = ?
  UNION ALL SELECT through, at, length(snapshot) FROM areas WHERE board = ? AND area = ? AND snapshot IS NOT NULL
  ORDER BY through`;
const BASE = `
  SELECT bytes FROM bases WHERE board = ? AND area = ? AND through = ?
  UNION ALL SELECT snapshot FROM areas WHERE board = ? AND area = ? AND through = ? AND snapshot IS NOT NULL LIMIT 1`;

/** The newest update of the log that has no space beside those after it. To add up all is slow: so only where it must be. */
const BEYOND = `
  SELECT max(number) AS number FROM (
    SELECT number, sum(length(bytes)) OVER (ORDER BY number DESC) AS bytes FROM updates
    WHERE board = ? AND area = ? AND number <= (SELECT through FROM areas WHERE board = ? AND area = ?)
  ) AS log WHERE bytes > ${HISTORY.bytes}`;

const baseOf = ({ through, at, bytes }: Row): Base => ({
  through: Number(through),
  at: String(at),
  bytes: Number(bytes),
});

const areSame = (kept: unknown, written: Uint8Array): boolean =>
  kept instanceof Uint8Array && Buffer.compare(kept, written) === 0;

/** Lets go of what is older or more than an area's history holds. What stands beside the snapshot is no history yet. */
async function trim(db: Database, board: string, area: string, now: number): Promise<void> {
  const of = [board, area] as const;
  const oldest = new Date(now - HISTORY.days * DAY_MS).toISOString();
  const [log, bases] = await db.run([
    statement(
      `SELECT max(CASE WHEN at < ? OR number <= through - ${HISTORY.rows} THEN number END) AS number,
         sum(length(bytes)) AS bytes
       FROM (SELECT updates.*, through FROM updates JOIN areas USING (board, area)
             WHERE board = ? AND area = ? AND number <= through) AS log`,
      oldest,
      ...of,
    ),
    statement('SELECT through, at, length(bytes) AS bytes FROM bases WHERE board = ? AND area = ?', ...of),
  ]);
  const { number, bytes } = log!.rows[0]!;
  const tooLarge = Number(bytes) > HISTORY.bytes ? await db.row(statement(BEYOND, ...of, ...of)) : null;
  const last = Math.max(Number(number), Number(tooLarge?.number ?? 0));
  await db.run([
    ...(last === 0
      ? []
      : [
          statement('DELETE FROM updates WHERE board = ? AND area = ? AND number <= ?', ...of, last),
          statement('UPDATE areas SET trimmed = ? WHERE board = ? AND area = ?', last, ...of),
        ]),
    ...unwanted(bases!.rows.map(baseOf), now).map(({ through }) =>
      statement('DELETE FROM bases WHERE board = ? AND area = ? AND through = ?', ...of, through),
    ),
  ]);
}

/** Of each hour of the last day, and each day before, the first is kept; of these the newest that there is space for. */
export function unwanted(bases: readonly Base[], now: number): Base[] {
  const day = new Date(now - DAY_MS).toISOString();
  const oldest = new Date(now - HISTORY.days * DAY_MS).toISOString();
  const taken = new Set<string>();
  const first = [...bases]
    .sort((a, b) => a.through - b.through)
    .filter(({ at }) => {
      const slot = at.slice(0, at < day ? 'YYYY-MM-DD'.length : 'YYYY-MM-DDTHH'.length);
      const isFirst = !taken.has(slot);
      taken.add(slot);
      return isFirst && at >= oldest;
    });
  let space = BASES_BYTES;
  const kept = new Set(
    first.reverse().filter(({ bytes }) => {
      space -= bytes;
      return space >= 0;
    }),
  );
  return bases.filter((base) => !kept.has(base));
}

/** Trims what no snapshot has trimmed since it became too old. */
export async function trimOld(db: Database, now: number): Promise<void> {
  const before = new Date(now - HISTORY.days * DAY_MS).toISOString();
  const rows = await db.rows(
    statement(
      `SELECT board, area FROM areas WHERE through > trimmed AND (
         SELECT at FROM updates WHERE updates.board = areas.board AND updates.area = areas.area ORDER BY number LIMIT 1
       ) < ? OR EXISTS (
         SELECT 1 FROM bases WHERE bases.board = areas.board AND bases.area = areas.area AND bases.at < ?)`,
      before,
      before,
    ),
  );
  for (const { board, area } of rows) await trim(db, String(board), String(area), now);
}
