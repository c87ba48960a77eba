/**
 * Does the work when the page has nothing else to do; gives what calls it off.
 * @param latest ms after which it is done even on a page that is never idle
 */
export function whenIdle(work: () => void, latest = 2000): () => void {
  // Not every browser tells when it is idle.
  if (!('requestIdleCallback' in window)) {
    const timer = setTimeout(work, 50);
    return () => clearTimeout(timer);
  }
  const id = requestIdleCallback(work, { timeout: latest });
  return () => cancelIdleCallback(id);
}
