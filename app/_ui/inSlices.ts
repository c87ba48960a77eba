import { whenIdle } from './whenIdle.ts';

/**
 * Does long work in small pieces, as the page has time; gives what calls it off.
 * @param begin fetches and begins the work, a piece a step
 * @param slice ms of work after which the page may do other things
 * @param latest ms within which it is taken up again on a page that is never idle
 * @param done told once, unless it was called off; null where the work could not be fetched
 */
export function inSlices<T>(
  begin: () => Promise<Iterator<unknown, T>>,
  { slice, latest }: { slice: number; latest?: number },
  done: (result: T | null) => void,
): () => void {
  let off = false;
  const run = async () => {
    const steps = await begin();
    const piece = () => {
      const until = performance.now() + slice;
      do {
        const step = steps.next();
        if (step.done) return done(step.value);
      } while (performance.now() < until);
      stop = whenIdle(piece, latest);
    };
    if (!off) stop = whenIdle(piece, latest);
  };
  let stop = whenIdle(() => {
    run().catch(() => {
      if (!off) done(null);
    });
  });
  return () => {
    off = true;
    stop();
  };
}
