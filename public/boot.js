// Wakes the page: loads the app and lets it take over what the server rendered.
// Packing fills in the hashed names and the store's keys.

// It stands there for the case that this script never comes.
document.getElementById('unbooted')?.remove();

// The app's framework looks for these; its pages carry no data, so they are empty.
Object.assign(globalThis, {
  __RESOLVED_RESOURCES: [],
  __SERIALIZED_ERRORS: [],
  __PENDING_RESOURCES: [],
  __RESOURCE_RESOLVERS: [],
  __INCOMPLETE_CHUNKS: [],
});

// The knitter's own light, letters and hand before the app is here: a dark room stays dark. And a
// knitter with pairs does not see, even for a moment, what is meant for those without.
try {
  const page = document.documentElement.dataset;
  if (Object.keys(localStorage).some((key) => key.startsWith('__KEY_PAIR__'))) page.pairs = '';
  const wanted = JSON.parse(localStorage.getItem('__KEY_SETTINGS__') ?? 'null') ?? {};
  if (wanted.theme === 'light' || wanted.theme === 'dark') page.theme = wanted.theme;
  if (wanted.big_text === true) page.text = 'big';
  if (wanted.style?.hand === 'left') page.knits = 'left';
  // The installed app opens where the needles are. In a window that is open the bar, the way back and a reload lead to
  // the basket as ever.
  const installed = matchMedia('(display-mode: standalone)').matches || ('standalone' in navigator && navigator.standalone);
  if (installed && sessionStorage.getItem('__KEY_OPENED__') === null) {
    sessionStorage.setItem('__KEY_OPENED__', '');
    const base = page.base ?? '';
    const asked = location.pathname === `${base}/` && location.search === '';
    if (asked && localStorage.getItem('__KEY_CURRENT__') !== null) location.replace(`${base}/now`);
  }
} catch {
  // No storage, or nothing that can be read: the app deals with it and says so.
}

// The app's framework makes elements of text, and so do the pictures and the plan on paper. Where the browser
// guards that (Trusted Types), only text passes that nothing runs in: elements that show something, attributes
// in double quotes of which none is a handler, a style or an address, and links to this place.
const SHOWN =
  'a|article|aside|b|br|button|caption|circle|code|dd|defs|details|div|dl|dt|fieldset|figcaption|figure|g|h[1-6]|' +
  'header|hr|i|input|label|legend|li|nav|ol|option|p|path|pattern|pre|progress|rect|section|select|small|span|strong|' +
  'summary|svg|table|tbody|td|text|th|thead|tr|tspan|ul|use';
const ATTRIBUTE = '(?!on|src|style|href|form|action)[a-z][a-z0-9-]*(?:="[^"<]*")?';
const LINK = 'href="[#?/](?![/\\\\])[^"<]*"';
const TAG = new RegExp(`</?(?:${SHOWN})(?: (?:${ATTRIBUTE}|${LINK}))*/?>|<!(?:----)?>`, 'gi');
const WORKER = `${location.origin}${document.documentElement.dataset.base ?? ''}/sw.js`;
globalThis.trustedTypes?.createPolicy('default', {
  createHTML: (text) => (text.replace(TAG, '').includes('<') ? null : text),
  createScriptURL: (url) => (new URL(url, location.href).href === WORKER ? url : null),
});

// Until the script of the second copy arrives (echo.js), what is stored gets its version all the same, so that the
// next start knows what is newer; and it is kept in mind for that script.
const VERSION = '__KEY_VERSION__';
/** @type {Map<string, EvenloopEarly>} */
const early = new Map();
globalThis.evenloopEarly = early;
globalThis.evenloopEcho ??= {
  put(key, text, waits) {
    const name = `${VERSION}${key}#`;
    const version = Number(localStorage.getItem(name)) || 0;
    const { before } = early.get(key) ?? { before: version };
    early.set(key, waits ? { before, held: text ?? null } : { before });
    if (waits) return;
    try {
      localStorage.setItem(name, String(version + 1).padStart(10, '0'));
    } catch {
      // No room for a first version: the text is newer by what it says.
    }
  },
  waiting: () => [],
  whole: () => false,
  compared: () => 0,
  restored: () => [],
};

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

// How often a script that is loaded on demand could not be had, by its address.
/** @type {Map<string, number>} */
const failures = new Map();
async function onDemand(/** @type {string} */ address) {
  const again = failures.get(address) ?? 0;
  try {
    return await import(await scriptAt(address, again));
  } catch (error) {
    failures.set(address, again + 1);
    throw error;
  }
}

// What listens and what paints an image are loaded on demand.
Object.assign(globalThis, {
  evenloopListening: async () => {
    /** @type {typeof import('./listening.js')} */
    const listening = await onDemand('./listening.js');
    return listening;
  },
  evenloopImage: async (/** @type {[Element, string, string, string]} */ ...image) => {
    /** @type {typeof import('./image.js')} */
    const painter = await onDemand('./image.js');
    return painter.keep(...image);
  },
});

// What stands hidden in the page until it is needed.
const show = (/** @type {string} */ id, /** @type {boolean} */ shown) => document.getElementById(id)?.toggleAttribute('hidden', !shown);

// A wasm that stopped leaves a page on which nothing answers any more. That is said, however much later
// it happens.
const look = (/** @type {unknown} */ error) => {
  if (error instanceof WebAssembly.RuntimeError) show('trouble', true);
};
addEventListener('error', ({ error }) => look(error));
addEventListener('unhandledrejection', ({ reason }) => look(reason));

// Resolves after so many seconds, or as soon as there is signal again.
const pause = (/** @type {number} */ seconds) =>
  new Promise((resolve) => {
    setTimeout(resolve, seconds * 1000);
    addEventListener('online', resolve, { once: true });
  });

// Lets the app have the worker installed. A browser forgets a first worker whose installation failed, and would
// try again with the next page only. On a full device each attempt fails and starts from the beginning: so the pauses grow
// long. A browser that takes no workers fails in the same way as a line on which another machine answers for the server.
const SHORTEST_PAUSE = 15;
const LONGEST_PAUSE = 3600;
globalThis.evenloopInstall = async () => {
  for (let seconds = SHORTEST_PAUSE; ; seconds = Math.min(4 * seconds, LONGEST_PAUSE)) {
    const registration = await worker.register(WORKER, { updateViaCache: 'none' }).catch(console.warn);
    if (registration) {
      const { active, waiting, installing } = registration;
      if (active || waiting || (await isInstalled(installing))) return registration;
    }
    await pause(seconds);
  }
};

/**
 * @param {ServiceWorker | null} installing
 * @returns {Promise<boolean>}
 */
function isInstalled(installing) {
  return new Promise((resolve) => {
    const look = () => {
      const state = installing?.state ?? 'redundant';
      if (state !== 'parsed' && state !== 'installing') resolve(state !== 'redundant');
    };
    installing?.addEventListener('statechange', look);
    look();
  });
}

// One file that is lost on a bad line is asked for again, for as long as the page is open. After a while
// the knitter is advised to reload: on a line that works, that may find what this page cannot. What the page
// can do without is asked for in silence.
const LONGEST = 8;
/**
 * @template T
 * @param {(again: number) => T | Promise<T>} load
 * @returns {Promise<T>}
 */
async function persistently(load, silent = false) {
  for (let again = 0; ; again += 1) {
    try {
      return await load(again);
    } catch (error) {
      if (error instanceof WebAssembly.RuntimeError) throw error;
      console.warn(error);
      const seconds = Math.min(2 ** again, LONGEST);
      const late = seconds === LONGEST && navigator.onLine;
      if (!silent) {
        show('waiting', !late);
        show('trouble', late);
      }
      await pause(seconds);
    }
  }
}

// A script that failed to load may be remembered as failed under its address, and what came cut short
// may be stored as if it were whole.
async function scriptAt(/** @type {string} */ address, /** @type {number} */ again) {
  const script = new URL(address, import.meta.url);
  if (again) {
    await fetch(script, { cache: 'reload' });
    script.hash = String(again);
  }
  return script.href;
}

// Puts back what the disk missed.
async function secondCopy(/** @type {number} */ again) {
  /** @type {typeof import('./echo.js')} */
  const { start } = await import(await scriptAt('./echo.js', again));
  globalThis.evenloopFirst?.tell();
  // Where storage is denied there is nothing to put back.
  await start().catch(console.warn);
}

// Whatever keeps the page from waking is said.
const LATE = 15_000;
setTimeout(() => {
  if (!('awake' in document.documentElement.dataset)) show('waiting', true);
}, LATE);

try {
  // The app does not wait for a second copy that cannot be had just now; it is asked for again beside it.
  const echo = secondCopy(0).catch((error) => {
    console.warn(error);
    persistently(secondCopy, true);
  });
  const app = await persistently(async (again) => {
    /** @type {typeof import('./evenloop.js')} */
    const module = await import(await scriptAt('./evenloop.js', again));
    return module;
  });
  const wasm = new URL('./evenloop_bg.wasm', import.meta.url);
  await persistently(async (again) => {
    app.initSync({ module: await app.compiled(wasm, again ? 'reload' : 'default') });
  });
  await echo;
  await persistently(() => app.hydrate());
  show('waiting', false);
  show('trouble', false);
  document.documentElement.dataset.awake = '';
} catch (error) {
  console.error(error);
  show('waiting', false);
  show('trouble', true);
}
