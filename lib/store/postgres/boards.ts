import type { AreaTable, BoardTable, Claim, StoredArea } from '../store.ts';
import { asideRows, boardRows } from '../tables/boards.ts';
import type { Appending } from './append.ts';
import { bytesOf, type Postgres } from './database.ts';

export function boardTable(db: Postgres): BoardTable {
  return {
    ...boardRows(db.database),
    add: (id, madeAt, areas) =>
      db.transaction(async (client) => {
        await client.query('INSERT INTO boards VALUES ($1, $2)', [id, madeAt]);
        for (const { area, update } of areas)
          await client.query("SELECT append_update($1, $2, $3, '[]')", [id, area, Buffer.from(update)]);
      }),
  };
}

/** One statement, because it sees one state: a snapshot and the updates that it replaces are never both there, or both gone. */
const LOAD = `
  SELECT through AS number, head, CASE WHEN through > $3 THEN snapshot END AS bytes, NULL::bigint AS client, NULL AS membership
    FROM areas WHERE board = $1 AND area = $2
  UNION ALL SELECT number, NULL, bytes, NULL, NULL FROM updates WHERE board = $1 AND area = $2 AND number > $3
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
    async load(board, area, after = 0) {
      if (after === 0) await appending.settled();
      const { rows } = await db.query(LOAD, [board, area, after], 'load');
      return storedArea(rows as Loaded[]);
    },
    append: (board, area, update, claims) => appending.add(board, area, update, claims),
    compact: (board, area, through, snapshot) =>
      db.transaction(async (client) => {
        const of = [board, area, through];
        const taken = await client.query(
          `UPDATE areas SET snapshot = $4, through = $3
           WHERE board = $1 AND area = $2 AND through < $3 AND head >= $3`,
          [...of, Buffer.from(snapshot)],
        );
        // Otherwise another node's snapshot goes further.
        if (taken.rowCount === 1)
          await client.query('DELETE FROM updates WHERE board = $1 AND area = $2 AND number <= $3', of);
      }),
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
