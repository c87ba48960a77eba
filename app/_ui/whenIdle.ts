/** After so long, ms, the work is done even on a page that is never idle. */
const LATEST = 2000;

/** Does the work when the page has nothing else to do; gives what calls it off. */
export function whenIdle(work: () => void): () => void {
  // Not every browser tells when it is idle.
  if (!('requestIdleCallback' in window)) {
    const timer = setTimeout(work, 50);
    return () => clearTimeout(timer);
  }
  const id = requestIdleCallback(work, { timeout: LATEST });
  return () => cancelIdleCallback(id);
}
