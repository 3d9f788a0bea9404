// Wakes the page: loads the app and lets it take over what the server rendered.
// Packing fills in the hashed names and the store's keys.

// The app's framework looks for these; its pages carry no data, so they are empty.
Object.assign(globalThis, {
  __RESOLVED_RESOURCES: [],
  __SERIALIZED_ERRORS: [],
  __PENDING_RESOURCES: [],
  __RESOURCE_RESOLVERS: [],
  __INCOMPLETE_CHUNKS: [],
});

// The knitter's own light and letters before the app is here: a dark room stays dark. Nor is somebody
// who knits shown for a moment what is there for those who have nothing on the needles.
try {
  const page = document.documentElement.dataset;
  if (Object.keys(localStorage).some((key) => key.startsWith('__KEY_PAIR__'))) page.pairs = '';
  const wanted = JSON.parse(localStorage.getItem('__KEY_SETTINGS__') ?? 'null') ?? {};
  if (wanted.theme === 'light' || wanted.theme === 'dark') page.theme = wanted.theme;
  if (wanted.big_text === true) page.text = 'big';
} catch {
  // No storage, or nothing that can be read: the app deals with it and says so.
}

// The worker asks its windows which build they run, so that each gets the files of its own.
/** @type {HTMLMetaElement | null} */
const meta = document.querySelector('meta[name=evenloop-build]');
const build = meta?.content;
const worker = navigator.serviceWorker;
worker?.addEventListener('message', ({ data, ports: [port] }) => {
  if (data === 'WHO') port?.postMessage({ build });
  if (data === 'RELOAD') location.reload();
});
worker?.startMessages();

// The screen's part of the app is asked for once the page is seen: on a slow line the main part is on
// its way until then, and both at once would only be later. Where the worker answers there is no line.
const ask = () => {
  /** @type {NodeListOf<HTMLLinkElement>} */
  const links = document.querySelectorAll('link[rel=later]');
  for (const link of links) link.rel = 'preload';
};
if (worker?.controller) ask();
else requestAnimationFrame(() => setTimeout(ask));

try {
  // What the disk missed is put back while the app is loaded; without that the app works as well.
  const echo = import('./echo.js').then(({ start }) => start()).catch(console.warn);
  const app = await import('./evenloop.js');
  await app.default({ module_or_path: new URL('./evenloop_bg.wasm', import.meta.url) });
  await echo;
  await app.hydrate();
  document.documentElement.dataset.awake = '';
} catch (error) {
  console.error(error);
  document.getElementById('trouble')?.removeAttribute('hidden');
}
