/** What crosses to the worker: plain SQL with its values, so that the worker knows nothing of boards. */
export type Value = string | number | null | Uint8Array;
export interface Statement {
  sql: string;
  values: Value[];
}
export type Row = Record<string, Value>;

/** All statements of a request take effect together, or none of them. */
export interface Request {
  id: number;
  statements: Statement[];
  /** For what cannot run inside a transaction. */
  alone: boolean;
}
export type Reply =
  | { id: number; results: { rows: Row[]; changes: number }[] }
  | { id: number; error: string };

/**
 * The only way to make a statement. The driver ends the whole process on a bound boolean, Date or undefined, so every
 * value is looked at here.
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
  // A view is posted with all of the buffer it looks into, which may be a socket's: so its bytes alone.
  return {
    sql,
    values: values.map((value) => (value instanceof Uint8Array ? new Uint8Array(value) : value)),
  };
}
