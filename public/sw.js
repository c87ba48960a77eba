// Keeps pages of a board readable without a network: only those that a page of it posts here, and program files. What a page shows
// of the board lies in the page's own store. Links, requests to the API, the calendar and audio never pass through here.
const PAGES = 'larkstep-pages-2';
const FILES = 'larkstep-files-2';
/** Milliseconds after which a kept page is shown while the network still tries. */
const PATIENCE = 4000;
const MEMBERSHIP = 'x-membership';
const SCREENS = /^\/board\/([^/]+)\/(home|sheet|song|practise|lessons|remarks|dj|show|night)$/;

const isOurs = (url) => url.origin === location.origin;
const isFile = (url) => isOurs(url) && url.pathname.startsWith('/_next/static/');
const isPage = (url) => isOurs(url) && SCREENS.test(url.pathname);
const isFront = (url) => isOurs(url) && url.pathname === '/';
/** A page's address with nothing but what tells it from others. */
const keyOf = (url) => `${location.origin}${url.pathname}?as=${url.searchParams.get('as')}`;

// A newer worker takes over at once: it serves open pages the same files, which are named by what they hold.
self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil(takeOver()));

async function takeOver() {
  const names = await caches.keys();
  const older = names.filter(
    (name) => /^larkstep-(pages|files)-/.test(name) && name !== PAGES && name !== FILES,
  );
  await Promise.all(older.map((name) => caches.delete(name)));
  await self.clients.claim();
}

self.addEventListener('message', (event) => {
  const { keep, forget } = event.data ?? {};
  if (keep) event.waitUntil(keepAll(keep).then((kept) => event.ports[0]?.postMessage({ kept })));
  if (forget) event.waitUntil(forgetBoard(forget.board, forget.role));
});

/** Which of the pages are kept now. */
async function keepAll({ pages, files, membership }) {
  const wanted = files.map((file) => new URL(file, location.origin)).filter(isFile);
  const program = new Set(wanted.map((file) => file.href));
  const store = await caches.open(PAGES);
  const asked = pages.map((page) => new URL(page, location.origin)).filter(isPage);
  try {
    const held = await caches.open(FILES);
    for (const file of wanted) if (!(await held.match(file.href))) await held.add(file.href);
    let isNew = false;
    for (const url of asked) isNew = (await keepPage(store, url, program, membership)) || isNew;
    if (isNew) await dropUnused(store, held, program);
  } catch {
    // No network just now: they may have been kept before.
  }
  const kept = [];
  for (const url of asked) if (await store.match(keyOf(url))) kept.push(url.pathname + url.search);
  return kept;
}

/** Whether there was anything to change. */
async function keepPage(store, url, program, membership) {
  const before = await store.match(keyOf(url));
  if (before?.headers.get(MEMBERSHIP) === membership && isOf(program, await before.text())) return false;
  const answer = await fetch(keyOf(url), { credentials: 'same-origin' });
  // Led to the front page for want of a right, or refused.
  if (!answer.ok || answer.redirected || answer.type !== 'basic') return false;
  const text = await answer.text();
  // From a newer program than the page that asks, whose files are not at hand: that page will ask once it is of the newer one.
  if (!isOf(program, text)) return false;
  const headers = new Headers(answer.headers);
  headers.set(MEMBERSHIP, membership);
  await store.put(keyOf(url), new Response(text, { headers }));
  return true;
}

/** Every program file that the page names is among these. */
const isOf = (program, text) =>
  [...text.matchAll(/(?:src|href)="(\/_next\/static\/[^"?]+)/g)].every(([, path]) =>
    program.has(location.origin + path),
  );

/** What an older program used goes, once no kept page is of it. */
async function dropUnused(pages, files, program) {
  for (const page of await pages.keys()) {
    const kept = await pages.match(page.url);
    if (kept && !isOf(program, await kept.text())) return;
  }
  for (const file of await files.keys()) if (!program.has(file.url)) await files.delete(file.url);
}

/** The pages of a board as a role saw it, and the music of that membership. */
async function forgetBoard(board, role) {
  const store = await caches.open(PAGES);
  for (const { url } of await store.keys()) {
    const { pathname, searchParams } = new URL(url);
    if (SCREENS.exec(pathname)?.[1] !== board || searchParams.get('as') !== role) continue;
    const membership = (await store.match(url))?.headers.get(MEMBERSHIP);
    await store.delete(url);
    for (const name of await caches.keys())
      if (membership && name.endsWith(` ${membership}/${board}`)) await caches.delete(name);
  }
}

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET') return;
  if (isFile(url)) event.respondWith(file(request));
  else if (request.mode === 'navigate' && (isPage(url) || isFront(url))) event.respondWith(page(event, url));
});

/** Files are named by what they hold, so one that is kept is never outdated. Others are kept as soon as a page uses them. */
async function file(request) {
  const kept = await caches.match(request.url);
  // A worker is told its program by the fragment of its address, and reads that from the answer: of several workers that begin with one
  // file, the kept answer would bring the first one's. A copy has no address of its own.
  if (kept) return request.destination === 'worker' ? new Response(kept.body, kept) : kept;
  const answer = await fetch(request);
  if (answer.ok && answer.type === 'basic') await (await caches.open(FILES)).put(request.url, answer.clone());
  return answer;
}

/** The network first; without one, or when it takes too long or its server is in trouble, what was kept. */
async function page(event, url) {
  const kept = isPage(url) ? await (await caches.open(PAGES)).match(keyOf(url)) : undefined;
  const fresh = fromNetwork(event.request, url);
  event.waitUntil(fresh.catch(() => undefined));
  try {
    if (!kept) return await fresh;
    const late = new Promise((resolve) => setTimeout(() => resolve(kept), PATIENCE));
    const first = await Promise.race([fresh, late]);
    return first.status >= 500 ? kept : first;
  } catch {
    return kept ?? (await notKept());
  }
}

/** A right that was taken back takes what was kept with it. */
async function fromNetwork(request, url) {
  const answer = await fetch(request);
  // A navigation's redirections come back opaque: the server leads away whoever may not see the page.
  const refused = answer.type === 'opaqueredirect' || (answer.status >= 400 && answer.status < 500);
  if (refused && isPage(url)) await forgetBoard(SCREENS.exec(url.pathname)[1], url.searchParams.get('as'));
  return answer;
}

const SCREEN_WORDS = {
  home: 'Home',
  night: 'Night card',
  practise: 'Practise',
  sheet: 'Sheet',
  dj: 'For the DJ',
  show: 'Run of show',
  song: 'Song',
  lessons: 'Lessons',
  remarks: 'Remarks',
};

/** That there is a network does not yet mean that the server is reached: it is asked now and then. */
const LOOKING =
  "const look=()=>fetch('/health',{cache:'no-store'}).then(({ok})=>ok&&location.reload(),()=>0);addEventListener('online',look);setInterval(look,5000)";

/** In place of a page that was not kept: that there is no network, and what opens without one. */
async function notKept() {
  const pages = (await (await caches.open(PAGES)).keys()).map(({ url }) => new URL(url));
  const links = pages.map((url) => {
    const screen = SCREENS.exec(url.pathname)[2];
    const address = (url.pathname + url.search).replaceAll('&', '&amp;').replaceAll('"', '&quot;');
    return `<li><a href="${address}">${SCREEN_WORDS[screen]}</a></li>`;
  });
  const more = links.length
    ? `<p>These open without one:</p><ul>${links.join('')}</ul>`
    : '<p>Nothing was kept on this device yet. Open your board once while there is a network.</p>';
  const style =
    'body{margin:0;background:#1d1a15;color:#f3ecdc;font:1.1rem/1.5 "Segoe UI",sans-serif}main{max-width:32rem;margin:auto;padding:1.5rem}h1{font:2rem/1.2 Georgia,serif}ul{list-style:none;padding:0}a{color:inherit;display:block;padding:.7rem 0;text-underline-offset:.2em}a:focus-visible{outline:3px solid}';
  const nonce = crypto.randomUUID();
  const again = `<p><a href="">Try again</a></p><script nonce="${nonce}">${LOOKING}</script>`;
  const html = `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>No network - Larkstep</title><style>${style}</style></head><body><main><h1>No network</h1><p>This page needs one. It will open as soon as there is a network again.</p>${again}${more}</main></body></html>`;
  return new Response(html, {
    status: 503,
    headers: {
      'content-type': 'text/html; charset=utf-8',
      'content-security-policy': `default-src 'none'; style-src 'unsafe-inline'; script-src 'nonce-${nonce}'; connect-src 'self'`,
    },
  });
}
