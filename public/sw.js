// The service worker: one cache per build, filled whole or not at all. Pages and files of two
// builds are never mixed, and a new build waits until the knitter asks for it.
// Packing fills in the build's id, its pages and its files.

const BUILD = '__BUILD__';
const PAGES = ['__PAGES__'];
const FILES = ['__FILES__'];

const PREFIX = 'evenloop-';
const CACHE = PREFIX + BUILD;
const MARK = `name="evenloop-build" content="${BUILD}"`;

self.addEventListener('install', (event) => event.waitUntil(install()));
self.addEventListener('activate', (event) => event.waitUntil(activate()));
self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  const ours = url.origin === self.location.origin && !url.pathname.startsWith('/api/');
  if (request.method === 'GET' && ours) event.respondWith(answer(request, url));
});
self.addEventListener('message', (event) => {
  if (event.data === 'SKIP_WAITING') self.skipWaiting();
});

// One failure fails the whole: the browser keeps the old worker and tries again later.
async function install() {
  const cache = await caches.open(CACHE);
  try {
    await Promise.all([
      ...PAGES.map((url) => storePage(cache, url)),
      ...FILES.map((url) => storeFile(cache, url)),
    ]);
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

// Only our own caches go, and only now, when no page of the old build asks any more.
async function activate() {
  for (const name of await ourCaches()) {
    if (name !== CACHE) await caches.delete(name);
  }
  await self.clients.claim();
}

// A page is told by its path alone. What was not stored is asked for; it is never replaced by
// something else, so a missing script is an error and not a page.
async function answer(request, url) {
  const key = request.mode === 'navigate' ? pageAt(url.pathname) : url.pathname + url.search;
  const cache = await caches.open(CACHE);
  return (await cache.match(key)) ?? fetch(request);
}

// A static host answers for /now with the index of a folder, at /now/.
function pageAt(path) {
  return path.length > 1 ? path.replace(/\/$/, '') : path;
}

// The server may have moved on while we were fetching: a page of another build is refused.
async function storePage(cache, url) {
  const response = await fetch(url, { cache: 'reload' });
  const there = pageAt(new URL(response.url).pathname);
  if (!response.ok || there !== url) throw new Error(`${url}: ${response.status}`);
  const html = await response.clone().text();
  if (!html.includes(MARK)) throw new Error(`${url} is of another build than ${BUILD}`);
  // What a host redirected to its folder is stored as the page it is: a redirected answer cannot be
  // given to a browser that asks for a page.
  await cache.put(url, response.redirected ? new Response(html, { headers: response.headers }) : response);
}

// A file under /pkg/ has its content's hash in its name, so an older build's copy is as good.
async function storeFile(cache, url) {
  const known = url.startsWith('/pkg/') ? await findStored(url) : undefined;
  await cache.put(url, known ?? (await load(url)));
}

async function load(url) {
  const response = await fetch(url, { cache: 'reload' });
  if (!response.ok || response.redirected) throw new Error(`${url}: ${response.status}`);
  return response;
}

async function findStored(url) {
  for (const name of await ourCaches()) {
    const stored = await (await caches.open(name)).match(url);
    if (stored) return stored;
  }
  return undefined;
}

async function ourCaches() {
  return (await caches.keys()).filter((name) => name.startsWith(PREFIX));
}
