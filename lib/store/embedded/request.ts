import type { Results, Statement } from '../tables/database.ts';

/** What the worker is started with: the database's file, and whether many will write to it, for long. */
export interface Opening {
  file: string;
  serving: boolean;
}

/** What crosses to the worker, which knows nothing of boards. All statements of a request take effect together, or none. */
export interface Request {
  id: number;
  statements: Statement[];
  /** For what cannot run inside a transaction. */
  alone: boolean;
}
export type Reply = { id: number; results: Results[] } | { id: number; error: Failure };
/** An error without what cannot cross. */
export interface Failure {
  message: string;
  /** SQLite's own (sqlite.org/rescode.html), where it has one. */
  code: string | undefined;
}
