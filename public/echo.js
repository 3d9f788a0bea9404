// The echo of localStorage. A browser writes localStorage to the disk when it pleases, which can be
// minutes later; when it is killed, what was stored since is gone. IndexedDB writes at once. So every
// text the app stores is put here too, as soon as the touch that stored it is painted, under a number
// that only grows and that localStorage holds as well. At the next start what localStorage does not
// know of is put back, before the app looks. A text that localStorage had no room for waits here, under
// a number of its own kind.

const NUMBER = '__KEY_NUMBER__'; // filled in by packing
// Numbers are milliseconds since 1970 where the clock allows; those that wait lie above all of them.
const WAITS = 1e15;
const DAY = 86_400_000;
// A browser whose IndexedDB does not answer must not keep the app from starting.
const PATIENCE = 2_000;
// A window that is covered may be painted late, or never.
const UNSEEN = 250;

/** @typedef {{ key: string, text: string | null, waits: boolean }} Untold */
/** @typedef {{ key: string, text: string | null, number: number }} Entry */

/** @type {IDBDatabase | undefined} */
let base;
let last = 0;
let late = false;
let asked = false;
/** @type {Untold[]} */
const untold = [];
/** @type {string[]} */
const waiting = [];

globalThis.evenloopEcho = {
  // Told to the disk once the eye has its answer: a knitter waits for that, and for nothing else.
  put(key, text, waits) {
    if (!base) return;
    untold.push({ key, text: text ?? null, waits });
    if (document.hidden) {
      tell();
      return;
    }
    if (asked) return;
    asked = true;
    requestAnimationFrame(() => setTimeout(tell));
    setTimeout(tell, UNSEEN);
  },
  // Keys and texts that are still without room, oldest first.
  waiting: () => waiting,
};

// Nor does a window that goes away paint any more.
for (const going of ['visibilitychange', 'pagehide']) addEventListener(going, tell);

// What is put in one go, as when a backup comes in, goes in one transaction.
function tell() {
  asked = false;
  const entries = untold.splice(0);
  if (!base || !entries.length) return;
  try {
    const batch = texts();
    for (const { key, text, waits } of entries) {
      last = Math.max(known(), last, Date.now() - 1) + 1;
      batch.put({ key, text, number: waits ? WAITS + last : last });
    }
  } catch {
    base = undefined;
  }
  try {
    if (entries.some(({ waits }) => !waits)) localStorage.setItem(NUMBER, String(last));
  } catch {
    // No room for a first number: then all that lies here is put back, and changes nothing.
  }
}

// Puts back what is missing. Never fails: without an echo the app is what it was before.
export async function start() {
  const begun = putBack().catch(() => {});
  await Promise.race([begun, new Promise((resolve) => setTimeout(resolve, PATIENCE))]);
  late = true;
}

async function putBack() {
  const number = known(); // throws where storage is denied
  const opened = await open();
  opened.onversionchange = () => {
    opened.close();
    base = undefined;
  };
  base = opened;
  /** @type {Entry[]} */
  const missing = await answer(texts('readonly').index('number').getAll(IDBKeyRange.lowerBound(number, true)));
  if (late) return;
  // Another window may have gone on meanwhile.
  for (const entry of missing) if (entry.number > known()) store(entry);
  const old = IDBKeyRange.upperBound(Math.min(number, Date.now() - DAY));
  for (const key of await answer(texts('readonly').index('number').getAllKeys(old))) texts().delete(key);
}

/** @param {Entry} entry */
function store({ key, text, number }) {
  try {
    if (text === null) localStorage.removeItem(key);
    else localStorage.setItem(key, text);
    if (number < WAITS) localStorage.setItem(NUMBER, String(number));
    else globalThis.evenloopEcho.put(key, text, false);
  } catch {
    // Only a text can lack room.
    if (text !== null) waiting.push(key, text);
  }
}

function known() {
  const number = Number(localStorage.getItem(NUMBER));
  return number > 0 && number < WAITS ? number : 0;
}

function open() {
  const asked = indexedDB.open('evenloop', 1);
  asked.onupgradeneeded = () => {
    asked.result.createObjectStore('texts', { keyPath: 'key' }).createIndex('number', 'number');
  };
  return answer(asked);
}

/** @param {IDBTransactionMode} mode */
function texts(mode = 'readwrite') {
  if (!base) throw new Error('the database is closed');
  return base.transaction('texts', mode, { durability: 'strict' }).objectStore('texts');
}

/**
 * @template T
 * @param {IDBRequest<T>} asked
 * @returns {Promise<T>}
 */
function answer(asked) {
  return new Promise((resolve, reject) => {
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
}
