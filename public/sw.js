// Keeps the night card readable without a network. It holds only what the card's page posts to it: that page and its own
// program files. Links, requests to the API, the calendar and audio never pass through here.
const PAGES = 'larkstep-pages-1';
const FILES = 'larkstep-files-1';
const isFile = (url) => url.origin === location.origin && url.pathname.startsWith('/_next/static/');
const isCard = (url) => url.origin === location.origin && /^\/board\/[^/]+\/night$/.test(url.pathname);

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));

self.addEventListener('message', (event) => {
  const { keep, forget } = event.data ?? {};
  if (keep)
    event.waitUntil(keepCard(keep.page, keep.files).then((kept) => event.source?.postMessage({ kept })));
  if (forget) event.waitUntil(forgetCard(forget));
});

async function keepCard(page, files) {
  const address = new URL(page, location.origin);
  if (!isCard(address)) return false;
  const wanted = files.map((file) => new URL(file, location.origin)).filter(isFile);
  const [pages, store] = [await caches.open(PAGES), await caches.open(FILES)];
  try {
    const answer = await fetch(address, { credentials: 'same-origin' });
    if (!isPage(answer)) return false;
    for (const file of wanted) if (!(await store.match(file))) await store.add(file.href);
    await pages.put(address, answer);
  } catch {
    // No network just now: it may have been kept before.
    return (await pages.match(address)) !== undefined;
  }
  // What an older version of the program used is not needed any more, unless another card still is of that version.
  const names = new Set(wanted.map((file) => file.href));
  if ((await pages.keys()).length === 1)
    for (const request of await store.keys()) if (!names.has(request.url)) await store.delete(request);
  return true;
}

/** A page of its own, and no redirection to the front page for want of a right. */
const isPage = (answer) => answer.ok && !answer.redirected && answer.type === 'basic';

async function forgetCard(page) {
  await (await caches.open(PAGES)).delete(new URL(page, location.origin));
}

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET') return;
  if (isFile(url)) event.respondWith(caches.match(request).then((kept) => kept ?? fetch(request)));
  else if (isCard(url) && request.mode === 'navigate') event.respondWith(card(request, url));
});

/** The network first; without one, what was kept. A right that was taken back takes the kept page with it. */
async function card(request, url) {
  try {
    const answer = await fetch(request);
    // A navigation's redirections come back opaque: the server leads away whoever may not see the page.
    if (answer.type === 'opaqueredirect' || (answer.status >= 400 && answer.status < 500))
      await forgetCard(url);
    return answer;
  } catch {
    return (await (await caches.open(PAGES)).match(url)) ?? Response.error();
  }
}
