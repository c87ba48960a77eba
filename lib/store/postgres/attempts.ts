import type { AttemptTable } from '../store.ts';
import type { Postgres } from './database.ts';

/** After so long every vessel is empty. */
const FORGOTTEN_MS = 3_600_000;

/** By so much a clock may be behind because of who came first to the row. What is more was set back. */
const SET_BACK_MS = 60_000;

/** What is left in a vessel by now. Where the clock was set back nobody knows for how long it leaked: it counts as empty. */
const LEFT = `CASE WHEN known.at > excluded.at + ${SET_BACK_MS} THEN 0
  ELSE greatest(0, known.level - greatest(0, excluded.at - known.at) / 1000 / $2) END`;

/** In one statement, so that many at once, at several nodes, count one after the other; by the database's clock, which all share. */
const TAKE = `
  INSERT INTO attempts AS known VALUES ($1, 1, extract(epoch FROM clock_timestamp()) * 1000)
  ON CONFLICT (key) DO UPDATE SET level = ${LEFT} + 1, at = excluded.at WHERE ${LEFT} + 1 <= $3
  RETURNING level`;

const FORGET = `
  DELETE FROM attempts
  WHERE abs(extract(epoch FROM clock_timestamp()) * 1000 - at) > ${FORGOTTEN_MS}`;

export function attemptTable(db: Postgres): AttemptTable {
  return {
    async take(key, { atOnce, secondsEach }, longest) {
      const { rows } = await db.query(TAKE, [key, secondsEach, atOnce + longest / secondsEach]);
      return rows.length === 0 ? null : Math.max(0, Number(rows[0].level) - atOnce) * secondsEach;
    },
  };
}

export async function forgetAttempts(db: Postgres): Promise<void> {
  await db.query(FORGET, []);
}
