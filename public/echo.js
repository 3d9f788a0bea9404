// The second copy of what localStorage holds, in IndexedDB.
//
// A browser writes localStorage to the disk when it pleases, which can be minutes later; when it is
// killed, what was stored since is gone. IndexedDB writes at once, but its connection can be lost. So every
// text is kept in both, each with a version of its own that only grows: whichever copy has the higher
// version is the newer one, whatever happened to the other. At the start, before the app looks, what
// localStorage lost is put back; some seconds later both copies are compared, text by text. What a copy has that
// the other went on without is set aside, not dropped. What localStorage had no room for waits in the second copy
// alone.

// Keys are filled in by packing.
const ROOT = '__KEY_ROOT__';
const ASIDE = '__KEY_ASIDE__';
// What all keys of pairs begin with, and what comes before the key of a pair's text that is set aside because the
// other copy went another way: the app makes a pair of its own of it.
const PAIR = '__KEY_PAIR__';
const PARTED = '__KEY_PARTED__';
// How far the second copy has been looked through: entries above this number may hold something newer.
const NUMBER = '__KEY_NUMBER__';
// Before a text's key: the key of its version. Not below ROOT, so that no backup carries it.
const VERSION = '__KEY_VERSION__';
// When both copies were last found to be the same, in milliseconds since 1970.
const COMPARED = '__KEY_COMPARED__';
// Numbers are milliseconds since 1970 where the clock allows; those that wait lie above all of them.
const WAITS = 1e15;
// A browser whose IndexedDB does not answer must not keep the app from starting.
const PATIENCE = 2_000;
// A window that is covered may be painted late, or never.
const UNSEEN = 250;
// Before a lost connection is opened again: doubled each time, up to a minute.
const BACK_OFF = 250;
// What is not answered in so long is given up and asked again, or one question that is never answered would be
// the last. Doubled each time, too: the answer may only be late.
const ANSWERED_IN = 8_000;
const LONGEST = 60_000;
// Before the copies are compared: long after the first touches have had their answers.
const COMPARE = 5_000;
// What differed is told, and compared again; after so many times another window is at work all the time.
const COMPARISONS = 4;
const COMPARE_AGAIN = 1_000;
// So many texts are compared in one go: a touch must not wait for a hundred pairs.
const COMPARED_AT_ONCE = 100;
// What was taken away so long ago, in milliseconds, is taken away on the disk too: nothing older can come back, and
// nobody need remember it.
const FORGOTTEN = 30 * 24 * 3_600_000;

/** @typedef {{ key: string, text: string | null, version: number, number: number }} Entry */

/** @type {IDBDatabase | undefined} */
let base;
let last = 0;
let mended = false;
let asked = false;
let backOff = BACK_OFF;
let answeredIn = ANSWERED_IN;
// Transactions that have begun and not ended.
/** @type {Set<IDBTransaction>} */
const running = new Set();
// Keys whose texts IndexedDB has not yet confirmed. What it is told is what localStorage holds by then, which
// another window may have gone on with; only a text that found no room is held here.
/** @typedef {{ text: string | null, version: number }} Held */
/** @typedef {{ key: string, held?: Held, gone?: boolean, sent: boolean }} Unconfirmed */
/** @type {Map<string, Unconfirmed>} */
const unconfirmed = new Map();
// The versions that keys had when this page first wrote them.
/** @type {Map<string, number>} */
const begun = new Map();
// Versions for which localStorage had no room.
/** @type {Map<string, number>} */
const unstored = new Map();
// Keys of which the second copy has a newer text that came when the app had begun, and found no room.
/** @type {Set<string>} */
const withheld = new Set();
// Texts of the second copy that were set aside because this page goes on from others.
/** @type {Map<string, string | null>} */
const overtaken = new Map();
/** @type {string[]} */
const waiting = [];
// Whether localStorage held a number before: where it holds none now, all of it was taken away under this page.
let numbered = false;
let puttingBack = false;
// Keys of texts that were put back, and of which the app has not been told.
/** @type {Set<string>} */
const restored = new Set();
// Whether both copies were found to be the same since this page was opened.
let same = false;

globalThis.evenloopEcho = {
  // Called when a text has been stored (or, with `waits`, found no room). It reaches IndexedDB once
  // the eye has its answer: a knitter waits for that, and for nothing else.
  put(key, text, waits) {
    if (emptied()) putBack().catch(disconnect);
    const before = versionOf(key);
    // Versions only grow, unless localStorage was emptied meanwhile.
    begun.set(key, Math.min(before, begun.get(key) ?? before));
    const version = before + 1;
    if (waits) hold(key, { text: text ?? null, version });
    else {
      raise(key, version);
      unconfirmed.set(key, { key, gone: text === null || text === undefined, sent: false });
    }
    if (asked) return;
    asked = true;
    if (document.hidden) {
      // Nothing will be painted. Once the app has done all of what it is doing: an operation of several texts goes
      // in one transaction, or it could tear in here.
      queueMicrotask(tell);
      return;
    }
    requestAnimationFrame(() => setTimeout(tell));
    setTimeout(tell, UNSEEN);
  },
  // Keys and texts that are still without room, oldest first.
  waiting: () => waiting,
  // Whether the second copy is there and has confirmed all that it was told.
  whole: () => base !== undefined && unconfirmed.size === 0,
  // When both copies were last found to be the same, if nothing else was found since this page was opened.
  compared: () => (same ? Number(localStorage.getItem(COMPARED)) || 0 : 0),
  // Keys of texts that were put back since this was last asked.
  restored() {
    const keys = [...restored];
    restored.clear();
    return keys;
  },
};
// What was stored before this script arrived; see public/boot.js.
for (const [key, { before, held }] of globalThis.evenloopEarly ?? []) {
  begun.set(key, before);
  if (held === undefined) unconfirmed.set(key, { key, sent: false });
  else hold(key, { text: held, version: before + 1 });
}

// Another window, or the browser's own settings, took everything away.
addEventListener('storage', ({ key }) => {
  if (key === null && emptied()) putBack().catch(disconnect);
});
// Nor does a window that goes away paint any more.
addEventListener('visibilitychange', tell);
addEventListener('pagehide', ({ persisted }) => {
  if (!persisted) {
    tell();
    return;
  }
  // Kept for the way back, the page runs no more. What it has begun would not end and shut out every other page
  // (WebKit). The next page's comparison tells what is aborted here, or this page does on the way back.
  for (const transaction of running) abort(transaction);
  disconnect();
});

// The key of a key's version. It ends otherwise than the key itself, so that nobody takes it for that.
const versionKey = (/** @type {string} */ key) => `${VERSION}${key}#`;

function versionOf(/** @type {string} */ key) {
  // What is no number counts as no version.
  const version = Number(localStorage.getItem(versionKey(key))) || 0;
  return Math.max(version, unstored.get(key) ?? 0);
}

// Gives a key's text its version. All versions are equally long, so that only the first of a key needs room.
function raise(/** @type {string} */ key, /** @type {number} */ version) {
  try {
    localStorage.setItem(versionKey(key), String(version).padStart(10, '0'));
  } catch {
    // After this page the second copy counts as newer, and it has the same text.
    unstored.set(key, version);
  }
  return version;
}

// Keeps a text that found no room for the second copy.
function hold(/** @type {string} */ key, /** @type {Held} */ held) {
  unstored.set(key, held.version);
  unconfirmed.set(key, { key, held, sent: false });
}

// What is put in one go, as when a backup comes in, goes in one transaction. Before the copies have been
// looked through nothing is sent: it could cover what localStorage lost.
function tell() {
  asked = false;
  const batch = [...unconfirmed.values()].filter((one) => !one.sent);
  if (!base || !batch.length) return;
  try {
    const done = () => {
      answeredIn = ANSWERED_IN;
      for (const one of batch) {
        withheld.delete(one.key);
        overtaken.delete(one.key);
        if (unconfirmed.get(one.key) === one) unconfirmed.delete(one.key);
      }
      reach(reached);
    };
    const texts = begin(base, 'readwrite', done, () => lose(batch));
    for (const one of batch) {
      one.sent = true;
      last = Math.max(known(), last, Date.now() - 1) + 1;
      const { text, version } = one.held ?? { text: localStorage.getItem(one.key), version: versionOf(one.key) };
      const entry = { key: one.key, text, version, number: one.held ? WAITS + last : last };
      const there = texts.get(one.key);
      there.onsuccess = () => {
        const newest = there.result?.version ?? 0;
        const said = there.result?.text ?? null;
        const apart = said !== null && text !== null && said !== overtaken.get(one.key) && !goesOn(said, text);
        if (one.held && apart) {
          // Another window went on meanwhile, and that had room.
          keepBeside(texts, one.key, text);
          return;
        }
        if (newest > entry.version) {
          // Another window was faster with a later text, or localStorage was emptied meanwhile.
          if (one.held || text === null || versionOf(one.key) > entry.version) return;
          // Only the version was lost.
          entry.version = raise(one.key, newest + 1);
        }
        // What waits lies in no other window's sight, so that one may have gone on without it. No log is put over one
        // that it does not go on from.
        const unseen = there.result?.number >= WAITS || withheld.has(one.key);
        if (apart && (unseen || (isLog(said) && isLog(text)))) keepBeside(texts, one.key, said);
        texts.put(entry);
      };
    }
    const reached = last;
  } catch {
    lose(batch);
  }
}

// The connection is gone, or a transaction failed: nothing of it counts as told.
function lose(/** @type {{ sent: boolean }[]} */ batch) {
  for (const one of batch) one.sent = false;
  disconnect();
}

function disconnect() {
  const lost = base;
  if (!lost) return;
  base = undefined;
  try {
    lost.close();
  } catch {
    // It was closed already.
  }
  again();
}

function again() {
  setTimeout(() => connect().catch(again), backOff);
  backOff = Math.min(2 * backOff, LONGEST);
}

// Puts back what is missing. Never fails: without a second copy the app is what it was before.
export async function start() {
  const number = known(); // throws where storage is denied
  const patience = new Promise((resolve) => setTimeout(resolve, PATIENCE));
  await Promise.race([connect(number).catch(again), patience]);
}

async function connect(number = known()) {
  const opened = await open();
  opened.onversionchange = () => opened.close();
  opened.onclose = () => {
    if (base === opened) disconnect();
  };
  const above = IDBKeyRange.lowerBound(number, true);
  const reading = read(opened, (texts) => texts.index('number').getAll(above));
  reading.catch(() => opened.close());
  const found = await reading;
  // Emptied while the connection was lost, it has no number any more, and all entries were read.
  if (!mended || emptied()) mend(found, number);
  base = opened;
  mended = true;
  backOff = BACK_OFF;
  tell();
  same = false;
  setTimeout(() => compare(COMPARISONS).catch(disconnect), COMPARE);
}

// Whether localStorage was emptied under this page. What it holds since says nothing of what the second copy has.
function emptied() {
  const number = known();
  numbered ||= number > 0;
  return numbered && number === 0;
}

// Puts back what was taken away under this page, before anything says again how far the second copy is known.
async function putBack() {
  // Without a connection it is done with the next one.
  if (!base || puttingBack) return;
  puttingBack = true;
  try {
    const found = await read(base, (texts) => texts.getAll());
    if (emptied()) mend(found, 0);
  } finally {
    puttingBack = false;
  }
  tell();
}

// The copies are brought together, entry by entry: the higher version is the newer text.
function mend(/** @type {Entry[]} */ found, /** @type {number} */ number) {
  const keys = new Set(found.map((entry) => entry.key));
  const cleared = emptied();
  // What found no room has room now.
  if (cleared) unstored.clear();
  for (const entry of found) {
    // An entry of an older Evenloop has no version: above the number it is what localStorage lost.
    const version = entry.version ?? (versionOf(entry.key) === 0 && entry.number > number ? 1 : 0);
    let mine = unconfirmed.get(entry.key);
    if (cleared && mine && !mine.held && !mine.gone && localStorage.getItem(entry.key) === null) {
      // What this page stored is gone before it was told.
      unconfirmed.delete(entry.key);
      mine = undefined;
    }
    if (!mine) {
      bringTogether({ ...entry, version }, keys, number === 0);
    } else if (version > (begun.get(entry.key) ?? versionOf(entry.key))) {
      // This page went on before the answer came, from an older text. Both are kept.
      setAside(entry, keys);
      overtaken.set(entry.key, entry.text);
      const above = Math.max(version, versionOf(entry.key));
      if (mine.held) hold(entry.key, { ...mine.held, version: above + 1 });
      else tellAgain(entry.key, above);
    }
  }
  const numbers = found.map((entry) => entry.number).filter((each) => each < WAITS);
  numbered = false;
  note(Math.max(0, ...numbers));
}

// Brings both copies of one text together, of which this page has nothing to tell. The higher version is the newer
// text. A kill between a text and its version, or a page without this script, leaves a text with the version of
// the one before; so of logs, which only grow at their end, it is also looked at which goes on from which. What was
// stored `anew` after localStorage was emptied goes on from nothing. Says whether both were the same.
function bringTogether(/** @type {Entry} */ entry, /** @type {Set<string>} */ keys, anew = false) {
  const { key, text, version, number } = entry;
  const here = localStorage.getItem(key);
  const mine = versionOf(key);
  const logs = here !== null && text !== null && isLog(here) && isLog(text);
  const apart = logs && !goesOn(here, text) && !goesOn(text, here);
  if (here === text) {
    // Only a version was lost.
    if (version > mine) raise(key, version);
    else if (version < mine) unconfirmed.set(key, { key, sent: false });
    return version === mine;
  }
  if (number >= WAITS && version <= mine) {
    // One window's text found no room, and another went on without it. One that was taken away may go. In the window
    // where it waits nothing is to be done.
    if (unstored.get(key) !== version && here !== null && setAside(entry, keys)) tellAgain(key, mine);
  } else if (version > mine) {
    if (apart) setAside(entry, keys);
    if (apart || (logs && goesOn(text, here))) tellAgain(key, version);
    else restore(entry, version);
    if (anew && !logs && here !== null) setAside({ ...entry, text: here }, keys);
  } else if ((here === null && version === mine) || (logs && goesOn(here, text))) {
    // A text was lost, and its version not.
    restore(entry, mine);
    if (version < mine) unconfirmed.set(key, { key, sent: false });
  } else {
    // Of a pair nothing is dropped, or what was damaged in here would be the only one.
    const both = anew || (version === mine && key.startsWith(PAIR));
    if (apart || (both && here !== null)) setAside(entry, keys);
    tellAgain(key, mine);
  }
  return false;
}

// Has the second copy take the text that localStorage holds, with a version above both.
function tellAgain(/** @type {string} */ key, /** @type {number} */ version) {
  raise(key, version + 1);
  unconfirmed.set(key, { key, sent: false });
}

function restore(/** @type {Entry} */ { key, text, number }, /** @type {number} */ version) {
  try {
    if (text === null) localStorage.removeItem(key);
    else localStorage.setItem(key, text);
    raise(key, version);
    begun.set(key, version);
    if (text !== null) restored.add(key);
    // It waits for room no more.
    if (number >= WAITS) unconfirmed.set(key, { key, sent: false });
    dispatchEvent(new StorageEvent('storage', { key, newValue: text }));
  } catch {
    if (text === null) return;
    // It waits in the second copy, above every number that is looked through.
    waiting.push(key, text);
    withheld.add(key);
    hold(key, { text, version });
  }
}

// Under a key that neither copy has. Says whether there was anything to set aside.
function setAside(/** @type {Entry} */ { key, text }, /** @type {Set<string>} */ taken) {
  const mine = localStorage.getItem(key);
  if (text === null || (mine !== null && goesOn(text, mine))) return false;
  let number = 1;
  const free = () => asideKey(number, key);
  for (; taken.has(free()) || localStorage.getItem(free()) !== null; number += 1) {
    if (localStorage.getItem(free()) === text) return true;
  }
  taken.add(free());
  try {
    localStorage.setItem(free(), text);
    globalThis.evenloopEcho.put(free(), text, false);
  } catch {
    waiting.push(free(), text);
    hold(free(), { text, version: 1 });
  }
  return true;
}

// A text of a pair can be read: the app brings it together with the pair.
function asideKey(/** @type {number} */ number, /** @type {string} */ key) {
  return `${ASIDE}${number}:${key.startsWith(PAIR) ? PARTED : ''}${key}`;
}

// Sets a text aside in the transaction that puts or leaves another in its place.
function keepBeside(
  /** @type {IDBObjectStore} */ texts,
  /** @type {string} */ key,
  /** @type {string} */ text,
  number = 1,
) {
  const free = asideKey(number, key);
  const mine = localStorage.getItem(free);
  const there = texts.get(free);
  there.onsuccess = () => {
    // An earlier part of the same may be set aside already, and what is set aside may have been let go.
    const other = [mine, there.result?.text ?? null].some((one) => one !== null && !goesOn(one, text));
    if (other || there.result?.text === null || unconfirmed.has(free)) {
      keepBeside(texts, key, text, number + 1);
      return;
    }
    last += 1;
    const version = Math.max(versionOf(free), there.result?.version ?? 0) + 1;
    const entry = { key: free, text, version, number: last };
    try {
      localStorage.setItem(free, text);
      raise(free, version);
    } catch {
      entry.number += WAITS;
    }
    texts.put(entry);
  };
}

// Whether a later text says all that an earlier one did. Logs only grow at their end; what comes before their
// events, up to the checksum, is another with each.
const BEFORE_EVENTS = /^\d+ \d+ [\da-f]{8} /;
function goesOn(/** @type {string} */ text, /** @type {string} */ later) {
  const events = (/** @type {string} */ chunk) => `${chunk.replace(BEFORE_EVENTS, '')},`;
  return events(later).startsWith(events(text));
}

const isLog = (/** @type {string} */ text) => BEFORE_EVENTS.test(text);

// Both copies are made the same: what either lacks is told to it. Of a text that was taken away both keep the version,
// which says that an older copy of it is not to come back.
async function compare(/** @type {number} */ more) {
  const asked = base;
  if (!asked) return;
  const entries = await read(asked, (texts) => texts.getAll());
  if (emptied()) {
    mend(entries, 0);
    tell();
  }
  const keys = new Set(entries.map((entry) => entry.key));
  const old = Date.now() - FORGOTTEN;
  let found = unconfirmed.size > 0;
  /** @type {string[]} */
  const forgotten = [];
  for (const [nth, entry] of entries.entries()) {
    if (nth % COMPARED_AT_ONCE === COMPARED_AT_ONCE - 1) await new Promise((resolve) => setTimeout(resolve));
    const { key, text, number } = entry;
    if (unconfirmed.has(key)) continue;
    const version = entry.version ?? 0;
    if (!bringTogether({ ...entry, version }, keys)) found = true;
    else if (text === null && number < old) forgotten.push(key);
  }
  for (const key of Object.keys(localStorage)) {
    if (!key.startsWith(ROOT) || key === NUMBER || keys.has(key) || unconfirmed.has(key)) continue;
    if (!versionOf(key)) raise(key, 1);
    unconfirmed.set(key, { key, sent: false });
    found = true;
  }
  same = !found;
  if (found) {
    if (more > 1) setTimeout(() => compare(more - 1).catch(disconnect), COMPARE_AGAIN);
  } else {
    write(COMPARED, String(Date.now()));
    if (forgotten.length) forget(asked, forgotten);
  }
  tell();
}

// Forgets the versions of texts that both copies know to be taken away: first in localStorage, so that what a kill
// leaves is what the next start puts right.
function forget(/** @type {IDBDatabase} */ opened, /** @type {string[]} */ keys) {
  for (const key of keys) {
    localStorage.removeItem(versionKey(key));
    begun.delete(key);
  }
  const texts = begin(opened, 'readwrite', () => {}, disconnect);
  for (const key of keys) texts.delete(key);
}

function known() {
  const number = Number(localStorage.getItem(NUMBER));
  return number > 0 && number < WAITS ? number : 0;
}

// Where localStorage was emptied, its number stays away until all is back: it would say that nothing is lost.
function reach(/** @type {number} */ number) {
  if (emptied()) putBack().catch(disconnect);
  else note(number);
}

function note(/** @type {number} */ number) {
  // No room for a first number: then all entries are looked at, which only takes longer.
  if (number > known() && write(NUMBER, String(number))) numbered = true;
}

// Says whether there was room.
function write(/** @type {string} */ key, /** @type {string} */ text) {
  try {
    localStorage.setItem(key, text);
    return true;
  } catch {
    return false;
  }
}

// Waits for an answer. What comes too late is given up; `over`, which this returns, says whether it came in time.
function waitFor(/** @type {() => void} */ giveUp) {
  let waits = true;
  const over = () => {
    const inTime = waits;
    waits = false;
    clearTimeout(late);
    return inTime;
  };
  const late = setTimeout(() => {
    if (!over()) return;
    answeredIn = Math.min(2 * answeredIn, LONGEST);
    giveUp();
  }, answeredIn);
  return over;
}

/** @returns {Promise<IDBDatabase>} */
function open() {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open('evenloop', 1);
    const over = waitFor(() => reject(new Error('IndexedDB does not open')));
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore('texts', { keyPath: 'key' }).createIndex('number', 'number');
    };
    asked.onsuccess = () => {
      if (over()) resolve(asked.result);
      else asked.result.close();
    };
    asked.onerror = () => {
      if (over()) reject(asked.error);
    };
  });
}

/**
 * Begins a transaction. One of the two is called, once: `failed` also when it has been given up.
 * @param {IDBDatabase} opened
 * @param {IDBTransactionMode} mode
 * @param {() => void} done
 * @param {() => void} failed
 */
function begin(opened, mode, done, failed) {
  const transaction = opened.transaction('texts', mode, { durability: 'strict' });
  running.add(transaction);
  const over = waitFor(() => {
    abort(transaction);
    failed();
  });
  const ended = (/** @type {() => void} */ then) => () => {
    running.delete(transaction);
    if (over()) then();
  };
  transaction.oncomplete = ended(done);
  transaction.onabort = ended(failed);
  return transaction.objectStore('texts');
}

function abort(/** @type {IDBTransaction} */ transaction) {
  running.delete(transaction);
  try {
    transaction.abort();
  } catch {
    // It has ended already.
  }
}

/**
 * What a request comes to, in a transaction of its own.
 * @param {IDBDatabase} opened
 * @param {(texts: IDBObjectStore) => IDBRequest<Entry[]>} ask
 * @returns {Promise<Entry[]>}
 */
function read(opened, ask) {
  return new Promise((resolve, reject) => {
    // A connection that is lost takes its requests with it.
    const failed = () => reject(new Error('IndexedDB does not answer'));
    const asked = ask(begin(opened, 'readonly', () => {}, failed));
    asked.onsuccess = () => resolve(asked.result);
  });
}
