// The service worker: one cache per build. A build takes over only when all of it is stored and
// every file is what it should be; pages and files of two builds are never mixed, and a new build
// waits until the knitter asks for it.
// Packing fills in the build's id, its pages, its files with the beginning of their SHA-256, what the
// changelog says of it, and the sentences.

// Where the app lives on its host: empty at the root, else such as /socks. Two apps of one host have
// each their own stores.
const BASE = new URL(self.registration.scope).pathname.replace(/\/$/, '');

const BUILD = '__BUILD__';
const PAGES = ['__PAGES__'].map((url) => BASE + url);
/** @type {Map<string, string>} */
const FILES = new Map(['__FILES__'].map(([url, hash]) => [BASE + url, hash]));

// What this build brings, for the page that offers it.
const NEWS = ['__NEWS__'];

// What is said where a page is neither here nor to be had.
const NO_SIGNAL = ['__NO_SIGNAL__'];

const PREFIX = `evenloop${BASE}-`;
const CACHE = PREFIX + BUILD;
const MARK = `name="evenloop-build" content="${BUILD}"`;
// Under this name each store says of what it is to be whole, for a later build that is not whole itself.
const LIST = `${BASE}/sw.js?list`;
// Milliseconds after which a page from here is better than none from the network.
const PATIENCE = 4000;

addEventListener('install', (event) => event.waitUntil(fill()));
addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));
addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  const within = url.pathname.startsWith(`${BASE}/`) && !url.pathname.startsWith(`${BASE}/api/`);
  const ours = url.origin === self.location.origin && within;
  if (request.method === 'GET' && ours) event.respondWith(answer(event, url));
});
addEventListener('message', (event) => {
  const [port] = event.ports;
  if (event.data === 'SKIP_WAITING') event.waitUntil(takeOver(port));
  if (event.data === 'WHO') port?.postMessage({ build: BUILD, news: NEWS });
  if (event.data === 'AWAKE') event.waitUntil(welcome(port));
});

// A page has woken up beside this worker: the time to answer for it, to mend and to tidy. One that
// began to load while the worker took over, or that was loaded past it, has none yet.
/** @param {MessagePort | undefined} port */
async function welcome(port) {
  await self.clients.claim().catch(() => {});
  const whole = await isFilled();
  port?.postMessage({ build: BUILD, whole });
  // An older build that is whole may be all there is without signal.
  if (whole) await tidy();
  // What is gone here and no longer on the server can only come with the next build.
  else lookForNext();
}

// The browser may have thrown files away while this build waited. Without them it would leave the knitter
// worse off than the build in use does.
/** @param {MessagePort | undefined} port */
async function takeOver(port) {
  const whole = await isFilled();
  if (whole) self.skipWaiting();
  port?.postMessage({ whole });
  if (!whole) lookForNext();
}

function isFilled() {
  return fill().then(
    () => true,
    () => false,
  );
}

// Not waited for: a browser lets no other worker take over while this one waits for anything.
function lookForNext() {
  self.registration.update().catch(() => {});
}

// Stores what is not there yet: all of it at first, later what the browser has thrown away. One
// failure fails an installation as a whole: the browser keeps the old worker and tries again later,
// and what has come by then need not come again.
async function fill() {
  const cache = await caches.open(CACHE);
  const there = await stored(cache);
  const files = [...FILES].filter(([url]) => !there.has(url));
  const pages = PAGES.filter((url) => !there.has(url));
  try {
    await all(files.map(([url, hash]) => storeFile(cache, url, hash)));
    // Last: as long as the server's pages are of this build, so were its files.
    await all(pages.map((url) => storePage(cache, url)));
    if (!there.has(LIST)) await cache.put(LIST, new Response(JSON.stringify([...PAGES, ...FILES.keys()])));
  } catch (error) {
    // A full device is not filled further.
    const isFull = error instanceof Error && error.name === 'QuotaExceededError';
    if (isFull && there.size === 0) await caches.delete(CACHE);
    throw error;
  }
  if (files.length + pages.length === 0) return;
  if (!(await isWhole())) throw new Error('thrown away');
}

/** @param {Cache} cache */
async function stored(cache) {
  const urls = (await cache.keys()).map((request) => new URL(request.url));
  return new Set(urls.map(({ pathname, search }) => pathname + search));
}

// Like Promise.all, but it waits for all of them: after a failure none is still running.
/** @param {Promise<void>[]} promises */
async function all(promises) {
  const settled = await Promise.allSettled(promises);
  const failed = settled.find((result) => result.status === 'rejected');
  if (failed) throw failed.reason;
}

// Whatever another build has stored is as good if its content is the same.
/**
 * @param {Cache} cache
 * @param {string} url
 * @param {string} hash
 */
async function storeFile(cache, url, hash) {
  for (const name of await ourCaches()) {
    const known = await caches.match(url, { cacheName: name, ignoreVary: true });
    if (known && (await digest(known)) === hash) return cache.put(url, known);
  }
  const response = await fetch(url, { cache: 'reload' });
  if (!response.ok || response.redirected) throw new Error(`${url}: ${response.status}`);
  if ((await digest(response)) !== hash) throw new Error(`${url} is not what it should be`);
  return cache.put(url, response);
}

/** @param {Response} response */
async function digest(response) {
  const bits = await crypto.subtle.digest('SHA-256', await response.clone().arrayBuffer());
  const bytes = [...new Uint8Array(bits, 0, 8)];
  return bytes.map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

// The server may have moved on while we were fetching: a page of another build is refused, and so is
// one that breaks off.
/**
 * @param {Cache} cache
 * @param {string} url
 */
async function storePage(cache, url) {
  const response = await fetch(url, { cache: 'reload' });
  const there = pageAt(new URL(response.url).pathname);
  if (!response.ok || there !== url) throw new Error(`${url}: ${response.status}`);
  const html = await response.clone().text();
  if (!html.includes(MARK)) throw new Error(`${url} is of another build than ${BUILD}`);
  if (!html.includes('</html>')) throw new Error(`${url} breaks off`);
  // What a host redirected to its folder is stored as the page it is: a redirected answer cannot be
  // given to a browser that asks for a page.
  await cache.put(url, response.redirected ? new Response(html, { headers: response.headers }) : response);
}

// A page is recognised by its path alone; a file is of the build of the window that asks. What was not stored is
// asked for; it is never replaced by something else, so a missing script is an error and not a page.
/**
 * @param {FetchEvent} event
 * @param {URL} url
 */
async function answer({ request, clientId }, url) {
  if (request.mode === 'navigate') return page(request, pageAt(url.pathname));
  const key = url.pathname + url.search;
  if (key.startsWith(`${BASE}/pkg/`)) return (await matchAny(key)) ?? fetch(request);
  const name = await cacheFor(clientId);
  const file = name && (await match(key, name));
  return file || fetch(request);
}

// A page is of this build as long as all of it is here: one whose files are gone from here and from the server
// would never wake. Then the server's page is as good as any, and without signal that of another build which is
// whole.
/**
 * @param {Request} request
 * @param {string} path
 * @returns {Promise<Response>}
 */
async function page(request, path) {
  const [here, whole] = await Promise.all([match(path, CACHE), isWhole()]);
  if (here && whole) return here;
  const other = whole ? undefined : await otherWhole();
  const kept = other ? await match(path, other) : here;
  const answered = fetch(request).catch(() => kept ?? noSignal());
  if (!kept) return answered;
  const fresh = answered.then((response) => (response.status < 400 ? response : kept));
  return Promise.race([fresh, later(kept)]);
}

async function isWhole() {
  const there = await stored(await caches.open(CACHE));
  return [...PAGES, ...FILES.keys()].every((url) => there.has(url));
}

// The store of another build that has all it lists.
async function otherWhole() {
  for (const name of await ourCaches()) {
    const cache = await caches.open(name);
    const list = name === CACHE ? undefined : await cache.match(LIST);
    const there = list && (await stored(cache));
    if (there && (await list.json()).every((/** @type {string} */ url) => there.has(url))) return name;
  }
  return undefined;
}

/**
 * @param {Response} response
 * @returns {Promise<Response>}
 */
function later(response) {
  return new Promise((resolve) => setTimeout(resolve, PATIENCE, response));
}

/**
 * @param {string} key
 * @param {string} cacheName
 */
function match(key, cacheName) {
  return caches.match(key, { cacheName, ignoreVary: true });
}

// Names under /pkg/ hold a hash of the content: whichever build brought it, it is the same file.
/** @param {string} key */
async function matchAny(key) {
  for (const name of [CACHE, ...(await ourCaches())]) {
    const found = await match(key, name);
    if (found) return found;
  }
  return undefined;
}

// A static host answers for /now with the index of a folder, at /now/.
/** @param {string} path */
function pageAt(path) {
  return path === `${BASE}/` ? path : path.replace(/\/$/, '');
}

// The store of the build that runs in a window. Where that is gone, or the window does not say, nothing here is
// known to be its. What the browser asks for by itself is for no window.
/** @param {string} id */
async function cacheFor(id) {
  const client = await self.clients.get(id);
  if (!client) return CACHE;
  const name = PREFIX + (await buildIn(client, 2000));
  return (await ourCaches()).find((one) => one === name);
}

// Takes away the builds that no window runs any more, unless another build is on its way or a window
// does not say what it runs. There is no hurry: a busy window has time to answer.
async function tidy() {
  const names = await ourCaches();
  // A browser lets no other build take over while this one waits for a window that says nothing.
  const another = new Promise((resolve) => self.registration.addEventListener('updatefound', resolve, { once: true }));
  if (names.length < 2 || isFollowed()) return;
  const windows = await self.clients.matchAll({ type: 'window' });
  const asking = Promise.all(windows.map((client) => buildIn(client, 30000)));
  const running = await Promise.race([asking, another.then(() => undefined)]);
  if (!running) return;
  const silent = windows.filter((_, index) => running[index] === undefined);
  // One that was closed meanwhile needs nothing any more.
  const asleep = await Promise.all(silent.map(({ id }) => self.clients.get(id)));
  if (isFollowed() || asleep.some(Boolean)) return;
  const kept = new Set([BUILD, ...running].map((build) => PREFIX + build));
  for (const name of names) {
    if (!kept.has(name)) await caches.delete(name);
  }
}

// Whether another build is on its way or was faster: then it is not for this one to judge what is old.
function isFollowed() {
  const { installing, waiting } = self.registration;
  return Boolean(installing || waiting) || self.serviceWorker?.state === 'redundant';
}

// The build that runs in a window; undefined where it does not say within so many milliseconds: it is
// still waking up, or put to sleep.
/**
 * @param {Client} client
 * @param {number} patience
 * @returns {Promise<string | undefined>}
 */
function buildIn(client, patience) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data.build);
    setTimeout(resolve, patience);
    client.postMessage('WHO', [port2]);
  });
}

async function ourCaches() {
  return (await caches.keys()).filter((name) => name.startsWith(PREFIX));
}

// The browser has thrown our files away, or there never was such a page, and no server answers.
function noSignal() {
  const [language, title, text, again, basket] = NO_SIGNAL;
  const page = `<!DOCTYPE html>
<html lang="${language}">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<link rel="icon" href="data:,">
<title>${title} · Evenloop</title>
<style>body { max-width: 34rem; margin: 2rem auto; padding: 0 1rem; font: 1.125rem/1.5 system-ui, sans-serif }</style>
<h1>${title}</h1>
<p>${text}</p>
<p><a href="">${again}</a></p>
<p><a href="${BASE}/">${basket}</a></p>
</html>`;
  return new Response(page, { status: 503, headers: { 'content-type': 'text/html; charset=utf-8' } });
}
