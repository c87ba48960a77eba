/** What both databases are told: plain SQL of the dialect that they share, `?` for each value. */
export type Value = string | number | null | Uint8Array;
export interface Statement {
  sql: string;
  values: Value[];
}
export type Row = Record<string, Value>;
export interface Results {
  rows: Row[];
  changes: number;
}

/** A database as the tables see it. */
export interface Database {
  /** Runs the statements together, all or none; resolves when they are durable. */
  run(statements: Statement[]): Promise<Results[]>;
  rows(query: Statement): Promise<Row[]>;
  row(query: Statement): Promise<Row | null>;
  /** Number of rows that the last of the statements changed. */
  change(...statements: Statement[]): Promise<number>;
}

/** The short forms, from `run`. */
export function databaseOf(run: Database['run']): Database {
  const rows: Database['rows'] = async (query) => (await run([query]))[0]!.rows;
  return {
    run,
    rows,
    row: async (query) => (await rows(query))[0] ?? null,
    change: async (...statements) => (await run(statements)).at(-1)!.changes,
  };
}

/**
 * The only way to make a statement. The embedded driver ends the whole process on a bound boolean, Date or undefined, so
 * every value is looked at here.
 */
export function statement(sql: string, ...values: Value[]): Statement {
  for (const value of values) {
    const fine =
      value === null ||
      typeof value === 'string' ||
      (typeof value === 'number' && Number.isFinite(value)) ||
      value instanceof Uint8Array;
    if (!fine) throw new TypeError(`A ${typeof value} cannot be bound to: ${sql}`);
  }
  // A view is posted to a worker with all of the buffer it looks into, which may be a socket's: so its bytes alone.
  return {
    sql,
    values: values.map((value) => (value instanceof Uint8Array ? new Uint8Array(value) : value)),
  };
}
