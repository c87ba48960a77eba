/** For failures that are expected: bad input, a rule that cannot be met. A bug throws. */
export type Result<T, E = Problem> = { ok: true; value: T } | { ok: false; problem: E };

/** `sentence` says in one line what is wrong and what to do; `code` is for programs and tests. */
export interface Problem {
  code: string;
  sentence: string;
}

export const good = <T>(value: T): { ok: true; value: T } => ({ ok: true, value });
export const bad = (code: string, sentence: string): { ok: false; problem: Problem } => ({
  ok: false,
  problem: { code, sentence },
});
