import type { AttemptTable } from '../store.ts';
import type { Postgres } from './database.ts';

/** After so long every vessel is empty. */
const FORGOTTEN_MS = 3_600_000;

/** In one statement, so that many at once, at several nodes, count one after the other. */
const TAKE = `
  INSERT INTO attempts AS known VALUES ($1, 1, $2)
  ON CONFLICT (key) DO UPDATE
    SET level = greatest(0, known.level - (excluded.at - known.at) / 1000 / $3) + 1, at = excluded.at
    WHERE greatest(0, known.level - (excluded.at - known.at) / 1000 / $3) + 1 <= $4
  RETURNING level`;

export function attemptTable(db: Postgres): AttemptTable {
  return {
    async take(key, { atOnce, secondsEach }, longest, now) {
      const { rows } = await db.query(TAKE, [key, now, secondsEach, atOnce + longest / secondsEach]);
      return rows.length === 0 ? null : Math.max(0, Number(rows[0].level) - atOnce) * secondsEach;
    },
  };
}

export async function forgetAttempts(db: Postgres, now: number): Promise<void> {
  await db.query('DELETE FROM attempts WHERE at < $1', [now - FORGOTTEN_MS]);
}
