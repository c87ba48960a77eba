import type { Result } from '../../lib/core/result.ts';

/** Wrong use or input: one sentence for standard error, exit 2. */
export class Wrong extends Error {}

/** The value, or its problem's sentence as wrong input. */
export function need<T>(result: Result<T>, about = ''): T {
  if (result.ok) return result.value;
  throw new Wrong(`${about}${about ? ': ' : ''}${result.problem.sentence}`);
}
