/**
 * What is promised, or an error once it has taken too long: a browser that does not answer is told of, and holds nobody up.
 * @param what it is waited for, for the error
 */
export async function within<T>(ms: number, what: string, promised: Promise<T>): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error(`${what}: no answer in ${ms / 1000} s`)), ms);
  });
  return Promise.race([promised, late]).finally(() => clearTimeout(timer));
}

/** Milliseconds that a browser may take to start, on a machine that has other things to do. */
export const START = 90_000;
/** Milliseconds that it may take for one thing that it is asked: a song is decoded in a page. */
export const ANSWER = 120_000;
