import { bad, type Result } from '../core/result.ts';

/** What the system, SQLite and PostgreSQL (its appendix A, class 53) say where no more can be stored. */
const CODES = ['ENOSPC', 'EDQUOT', 'EFBIG', 'SQLITE_FULL', '53100'];

const FULL = bad(
  'disk full',
  'The server’s disk is full: nothing was changed. Whoever runs the server must make room.',
);

/** The answer where the work failed because nothing more can be stored; any other failure is thrown on. */
export async function orDiskFull<T>(work: Promise<Result<T>>): Promise<Result<T>> {
  try {
    return await work;
  } catch (error) {
    for (let at = error; at instanceof Object; at = (at as { cause?: unknown }).cause)
      if (CODES.includes(String((at as { code?: unknown }).code))) return FULL;
    throw error;
  }
}
