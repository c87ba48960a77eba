import type { AreaTable, BoardTable, Claim, StoredArea } from '../store.ts';
import { asideRows, boardRows } from '../tables/boards.ts';
import { historyRows } from '../tables/history.ts';
import type { Appending } from './append.ts';
import { bytesOf, type Postgres } from './database.ts';

export function boardTable(db: Postgres): BoardTable {
  return {
    ...boardRows(db.database),
    add: (id, madeAt, areas, listed = null) =>
      db.transaction(async (client) => {
        await client.query('INSERT INTO boards (id, made_at, listed) VALUES ($1, $2, $3)', [
          id,
          madeAt,
          listed,
        ]);
        for (const { area, update } of areas)
          await client.query("SELECT append_update($1, $2, $3, '[]', $4, '')", [
            ...[id, area, Buffer.from(update), madeAt],
          ]);
      }),
  };
}

/** One statement, because it sees one state: a snapshot and the updates that it replaces are never both there, or both gone. */
const LOAD = `
  SELECT through AS number, head, CASE WHEN through > $3 THEN snapshot END AS bytes, NULL::bigint AS client, NULL AS membership
    FROM areas WHERE board = $1 AND area = $2
  UNION ALL SELECT number, NULL, bytes, NULL, NULL FROM updates WHERE board = $1 AND area = $2
    AND number > greatest($3, (SELECT through FROM areas WHERE board = $1 AND area = $2))
  UNION ALL SELECT number, NULL, NULL, client, membership FROM claims WHERE board = $1 AND area = $2 AND (number > $3 OR $3 = 0)
  ORDER BY number`;

interface Loaded {
  number: string;
  head: string | null;
  bytes: Buffer | null;
  client: string | null;
  membership: string | null;
}

export function areaTable(db: Postgres, appending: Appending): AreaTable {
  return {
    ...asideRows(db.database),
    ...historyRows(db.database),
    async load(board, area, after = 0) {
      if (after === 0) await appending.settled();
      const { rows } = await db.query(LOAD, [board, area, after], 'load');
      return storedArea(rows as Loaded[]);
    },
    append: (board, area, update, claims, writing) => appending.add(board, area, update, claims, writing),
  };
}

function storedArea(rows: Loaded[]): StoredArea {
  const stored: StoredArea = { updates: [], head: 0, loose: 0, claims: [] };
  const snapshot: Uint8Array[] = [];
  const claims: Claim[] = [];
  for (const { head, bytes, client, membership } of rows) {
    if (membership !== null) claims.push({ client: Number(client), membership });
    else if (head === null) stored.updates.push(bytesOf(bytes!));
    else {
      stored.head = Number(head);
      if (bytes) snapshot.push(bytesOf(bytes));
    }
  }
  return {
    head: stored.head,
    loose: stored.updates.length,
    updates: [...snapshot, ...stored.updates],
    claims,
  };
}
