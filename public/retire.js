// Served in the service worker's place when an operator retires it: takes away what it stored,
// ends it, and has the windows it answered for ask the server again. Socks lie in localStorage and
// are not touched.

// Only those that belong to this place on the host.
const PREFIX = `evenloop${new URL(self.registration.scope).pathname.replace(/\/$/, '')}-`;

addEventListener('install', () => self.skipWaiting());
addEventListener('activate', (event) => event.waitUntil(retire()));

async function retire() {
  for (const name of await caches.keys()) {
    if (name.startsWith(PREFIX)) await caches.delete(name);
  }
  // Only those that were answered by a worker; a window that came from the server is as it should be.
  const windows = await self.clients.matchAll({ type: 'window' });
  await self.registration.unregister();
  for (const window of windows) window.postMessage('RELOAD');
  // One that does not listen is sent to where it once began: a window's present address is not told.
  await new Promise((done) => setTimeout(done, 3000));
  for (const { id } of windows) {
    const window = /** @type {WindowClient | undefined} */ (await self.clients.get(id));
    await window?.navigate(window.url).catch(() => {});
  }
}
