/** Drops what the browser's caches hold of a board for a membership: its pages, and its music as it is played. */
export async function forgetCaches(board: string, role: string, membership: string): Promise<void> {
  navigator.serviceWorker?.controller?.postMessage({ forget: { board, role } });
  if (typeof caches === 'undefined') return;
  // A cache that holds something of a membership has a name that ends with it.
  const names = (await caches.keys()).filter((name) => name.endsWith(` ${membership}/${board}`));
  await Promise.all(names.map((name) => caches.delete(name)));
}
