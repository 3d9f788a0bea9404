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
// Before the copies are compared: long after the first touches have had their answers. Filled in by packing.
const COMPARE = Number('__COMPARED_AFTER__');
// What differed is told, and compared again; after so many times another window is at work all the time.
const COMPARISONS = 4;
const COMPARE_AGAIN = 1_000;
// So many texts that belong to no pair are compared in one go, and the next once the page has nothing to do: a touch must
// not wait for a hundred pairs. A page that is never at rest goes on after so many milliseconds all the same; where
// nobody says when it is, after a few.
const COMPARED_AT_ONCE = 10;
const AT_REST_WITHIN = 1_000;
const BREATH = 10;
// What was taken away so long ago, in milliseconds, is taken away on the disk too: nothing older can come back, and
// nobody need remember it.
const FORGOTTEN = 30 * 24 * 3_600_000;

/** @typedef {{ key: string, text: string | null, version: number, number: number }} Entry */

/** @type {IDBDatabase | undefined} */
let base;
let last = 0;
let mended = false;
let asked = false;
// Whether the app has begun, and with what waited by then.
let started = false;
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
// Newer texts of the second copy that came when the app had begun, and found no room.
/** @type {Map<string, string>} */
const withheld = new Map();
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
    if (withheld.size > 0) setWithheldAside(key);
    // What waits here and was not told yet: another window went on without it, and so does this one now.
    const held = unconfirmed.get(key)?.held?.text ?? null;
    if (held !== null && text && !saysAll(text, held)) keepAside([{ key, text: held, version: 0, number: 0 }], new Set());
    const before = versionOf(key);
    if (!begun.has(key)) begun.set(key, before);
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
  if (emptied()) {
    // Versions have begun anew, and would say nothing beside those of the second copy.
    putBack().catch(disconnect);
    return;
  }
  try {
    const done = () => {
      answeredIn = ANSWERED_IN;
      for (const one of batch) {
        // What is held is still out of the app's sight.
        if (!one.held) withheld.delete(one.key);
        overtaken.delete(one.key);
        if (unconfirmed.get(one.key) === one) unconfirmed.delete(one.key);
      }
      reach(reached);
    };
    const texts = begin(base, 'readwrite', done, () => lose(batch));
    for (const key of plansUnder(batch)) {
      last = Math.max(known(), last, Date.now() - 1) + 1;
      const number = last;
      const there = texts.get(key);
      there.onsuccess = () => {
        const [text, version] = [localStorage.getItem(key), versionOf(key)];
        if (text !== null && version > (there.result?.version ?? 0)) texts.put({ key, text, version, number });
      };
    }
    /** @type {Map<string, string>} */
    const beside = new Map();
    for (const one of batch) {
      one.sent = true;
      last = Math.max(known(), last, Date.now() - 1) + 1;
      const { text, version } = one.held ?? { text: localStorage.getItem(one.key), version: versionOf(one.key) };
      const entry = { key: one.key, text, version, number: one.held ? WAITS + last : last };
      const there = texts.get(one.key);
      there.onsuccess = () => {
        const newest = there.result?.version ?? 0;
        const said = there.result?.text ?? null;
        // Of what this page goes on without, another window may have told more since it was set aside.
        const without = overtaken.has(one.key) && !one.gone;
        const lacks = text === null ? without : said !== null && !goesOn(said, text);
        const apart = said !== null && said !== overtaken.get(one.key) && lacks;
        if (one.held && apart && text !== null) {
          // Another window went on meanwhile, and that had room.
          keepBeside(texts, one.key, text, beside);
          return;
        }
        if (newest > entry.version) {
          // Another window was faster with a later text, or localStorage was emptied meanwhile.
          if (one.held || text === null || versionOf(one.key) > entry.version) return;
          // Only the version was lost.
          entry.version = raise(one.key, newest + 1);
        }
        // What waits lies in no other window's sight, so that one may have gone on without it. No log is put over one
        // that it does not go on from: windows in processes of their own can hear of each other's touches late.
        const unseen = there.result?.number >= WAITS || withheld.has(one.key);
        if (apart && (unseen || (isLog(said) && isLog(text)))) keepBeside(texts, one.key, said, beside);
        texts.put(entry);
      };
    }
    const reached = last;
  } catch {
    lose(batch);
  }
}

// The plans by which the logs of a batch are knitted. Another window may have stored a new one, and its log, and not
// told either yet: whoever tells that log tells the plan, so that neither copy ever has one without the other. What
// this page itself has still to tell of a plan it tells as ever.
function plansUnder(/** @type {{ key: string, held?: Held }[]} */ batch) {
  const plans = new Set();
  for (const { key, held } of batch) {
    const [, pair, sock] = (!held && OF_LOG.exec(key)) || [];
    if (pair) for (const plan of [`${pair}plan`, `${pair}plan:${sock}`]) plans.add(plan);
  }
  return [...plans].filter((key) => !unconfirmed.has(key) && !withheld.has(key) && !overtaken.has(key) && !unstored.has(key));
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
  started = true;
}

async function connect(number = known()) {
  const opened = await open();
  opened.onversionchange = () => opened.close();
  opened.onclose = () => {
    if (base === opened) disconnect();
  };
  const above = IDBKeyRange.lowerBound(number, true);
  const look = async () => {
    const found = await read(opened, (texts) => texts.index('number').getAll(above));
    if (number === 0) return found;
    if (!mended) await readPairsGoneOnWith(opened, found);
    // Where localStorage was emptied meanwhile, everything matters.
    return emptied() ? read(opened, (texts) => texts.getAll()) : found;
  };
  const looking = look();
  looking.catch(() => opened.close());
  const found = await looking;
  // Emptied while the connection was lost, it has no number any more, and all entries were read.
  if (!mended || emptied()) mend(found, emptied() ? 0 : number);
  base = opened;
  mended = true;
  backOff = BACK_OFF;
  tell();
  same = false;
  compareIn(COMPARE, opened, COMPARISONS);
}

// Where this page went on already, it matters what else the second copy has of the same pairs.
async function readPairsGoneOnWith(/** @type {IDBDatabase} */ opened, /** @type {Entry[]} */ found) {
  const known = new Set(found.map((entry) => entry.key));
  const looked = new Set();
  const toRead = () => {
    const pairs = [...unconfirmed.keys()].map((key) => beginningOfPair(key));
    return pairs.find((pair) => pair !== undefined && !looked.has(pair));
  };
  // More can be gone on with while this waits.
  for (let pair = toRead(); pair !== undefined; pair = toRead()) {
    looked.add(pair);
    const texts = await readBetween(opened, pair, endOfPair(pair));
    found.push(...texts.filter((entry) => !known.has(entry.key)));
  }
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
  if (cleared) {
    // What found no room has room now; what still waits goes on from its version.
    unstored.clear();
    for (const { key, held } of unconfirmed.values()) if (held) unstored.set(key, held.version);
  }
  // An entry of an older Evenloop has no version: above the number it is what localStorage lost.
  const versioned = (/** @type {Entry} */ entry) =>
    entry.version ?? (versionOf(entry.key) === 0 && entry.number > number ? 1 : 0);
  const entries = found.map((entry) => ({ ...entry, version: versioned(entry) }));
  for (const key of keys) {
    const mine = unconfirmed.get(key);
    // What this page stored is gone before it was told.
    if (cleared && mine && !mine.held && !mine.gone && localStorage.getItem(key) === null) unconfirmed.delete(key);
  }
  // From an emptied store this page goes on from nothing.
  const before = (/** @type {string} */ key) =>
    cleared ? 0 : ((unconfirmed.has(key) ? begun.get(key) : undefined) ?? versionOf(key));
  const isParted = parting(entries, keys, before);
  for (const entry of entries) {
    if (isParted(entry)) continue;
    if (!unconfirmed.has(entry.key)) {
      bringTogether(entry, keys, number === 0);
    } else if (cleared && goesOnFrom(entry)) {
      putInPlace(entry);
    } else if (number === 0 || entry.version > before(entry.key)) {
      // This page went on before the answer came, from an older text. Both are kept.
      setAside(entry, keys);
      goOnWithout(entry);
    }
  }
  const numbers = found.map((entry) => entry.number).filter((each) => each < WAITS);
  note(Math.max(0, ...numbers));
  // What is emptied from here on is noticed, whether or not anything was found.
  numbered = known() > 0;
}

// Whether what waits here for room goes on from the second copy's text, and nothing else lies in its place.
function goesOnFrom(/** @type {Entry} */ { key, text }) {
  const held = unconfirmed.get(key)?.held?.text ?? null;
  const here = localStorage.getItem(key);
  return saysAll(held, text) && (here === null || saysAll(held, here));
}

// What waited for room while the text that it went on from was emptied away is put in that place: there, nothing is as
// the app left it, and it would take it for another window's. Where there still is no room it waits on,
// out of the app's sight.
function putInPlace(/** @type {Entry} */ entry) {
  const { key } = entry;
  const text = unconfirmed.get(key)?.held?.text ?? null;
  if (text === null) return;
  const above = Math.max(entry.version, versionOf(key));
  try {
    localStorage.setItem(key, text);
  } catch {
    goOnWithout(entry);
    if (started) withheld.set(key, text);
    return;
  }
  tellAgain(key, above);
  restored.add(key);
  dispatchEvent(new StorageEvent('storage', { key, newValue: text }));
}

// Brings both copies of one text together, of which this page has nothing to tell. The higher version is the newer
// text. A kill between a text and its version, or a page without this script, leaves a text with the version of
// the one before; so of logs, which only grow at their end, it is also looked at which goes on from which. What was
// stored `anew` after localStorage was emptied goes on from nothing. Says whether both were the same.
function bringTogether(/** @type {Entry} */ entry, /** @type {Set<string>} */ keys, anew = false) {
  const { key, text, version, number } = entry;
  const here = localStorage.getItem(key);
  const mine = versionOf(key);
  const logs = isLog(here) && isLog(text);
  if (here === text) {
    // Only a version was lost.
    if (version > mine) raise(key, version);
    else if (version < mine) unconfirmed.set(key, { key, sent: false });
    return version === mine;
  }
  if (number >= WAITS && version <= mine) {
    // One window's text found no room, and another went on without it. One that was taken away may go. In the window
    // where it waits nothing is to be done.
    if (unstored.get(key) !== version && here !== null) {
      setAside(entry, keys);
      tellAgain(key, mine);
    }
  } else if (version > mine) {
    if (logs && saysAll(here, text)) tellAgain(key, version);
    else restore(entry, version);
    if (anew && !logs && here !== null) setAside({ ...entry, text: here }, keys);
  } else if ((here === null && version === mine) || (logs && saysAll(text, here))) {
    // A text was lost, and its version not.
    restore(entry, mine);
    if (version < mine) unconfirmed.set(key, { key, sent: false });
  } else {
    // Of a pair nothing is dropped, or what was damaged in here would be the only one.
    if (here !== null && (anew || (version === mine && key.startsWith(PAIR)))) setAside(entry, keys);
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
    if (started) withheld.set(key, text);
    hold(key, { text, version });
  }
}

// Says whether there was anything to set aside.
function setAside(/** @type {Entry} */ entry, /** @type {Set<string>} */ taken) {
  if (entry.text === null || saysAll(localStorage.getItem(entry.key), entry.text)) return false;
  keepAside([entry], taken);
  return true;
}

// Under keys that neither copy has, all by the same number; what was set aside before a kill stays where it is.
function keepAside(/** @type {Entry[]} */ entries, /** @type {Set<string>} */ taken) {
  let number = 1;
  const isFree = () =>
    entries.every(({ key, text }) => {
      const there = localStorage.getItem(asideKey(number, key));
      return there === null ? !taken.has(asideKey(number, key)) : there === (text ?? '');
    });
  while (!isFree()) number += 1;
  for (const { key, text } of entries) {
    const free = asideKey(number, key);
    const kept = text ?? '';
    taken.add(free);
    if (localStorage.getItem(free) === kept) {
      // The second copy need not have it yet.
      tellAgain(free, versionOf(free));
      continue;
    }
    try {
      localStorage.setItem(free, kept);
      globalThis.evenloopEcho.put(free, kept, false);
    } catch {
      waiting.push(free, kept);
      hold(free, { text: kept, version: 1 });
    }
  }
}

// A text of a pair can be read: the app brings it together with the pair. What is set aside already, under a number that
// both copies took for something else, only gets another.
function asideKey(/** @type {number} */ number, /** @type {string} */ key) {
  if (key.startsWith(ASIDE)) return `${ASIDE}${number}${key.slice(key.indexOf(':', ASIDE.length))}`;
  return `${ASIDE}${number}:${key.startsWith(PAIR) ? PARTED : ''}${key}`;
}

// Sets a text aside in the transaction that puts or leaves another in its place; what was set aside there before, by its
// new key, is in `beside`: two are looked up before either is put.
function keepBeside(
  /** @type {IDBObjectStore} */ texts,
  /** @type {string} */ key,
  /** @type {string} */ text,
  /** @type {Map<string, string>} */ beside,
  number = 1,
) {
  const free = asideKey(number, key);
  const mine = localStorage.getItem(free);
  const there = texts.get(free);
  there.onsuccess = () => {
    // An earlier part of the same may be set aside already, and what is set aside may have been let go.
    const known = [mine, there.result?.text ?? null, beside.get(free) ?? null];
    const other = known.some((one) => one !== null && !goesOn(one, text));
    if (other || there.result?.text === null || unconfirmed.has(free)) {
      keepBeside(texts, key, text, beside, number + 1);
      return;
    }
    beside.set(free, text);
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

const isLog = (/** @type {string | null} */ text) => text !== null && BEFORE_EVENTS.test(text);

// Whether one of two texts says all that the other does; a text that was taken away says nothing, and is said by none.
function saysAll(/** @type {string | null} */ text, /** @type {string | null} */ other) {
  return text !== null && other !== null && goesOn(other, text);
}

// Two logs of which neither goes on from the other.
function areApart(/** @type {string | null} */ one, /** @type {string | null} */ other) {
  return isLog(one) && isLog(other) && !saysAll(one, other) && !saysAll(other, one);
}

// What a pair is knitted by and what was done belong together: a plan of one copy under a log of the other would be the
// plan of another sock. So where each copy has something of a pair that the other lacks, all that the second one has
// otherwise is set aside together, an empty text for what it does not have, and what is stored here stays whole. The
// ways back from plans made anew go by the events of a log; alone they do nothing. `before` says from which version
// this page went on. In a store that was emptied a text that is missing went no other way; and where the plan is, what
// is left here is no pair, so the second copy's is put back whole and this is set aside. Says whether the copies have
// parted.
const OF_PAIR = new RegExp(`^(${PAIR}[^:]+:)(?:plan|log|(head))`);
const BEGINNING_OF_PAIR = new RegExp(`^${PAIR}[^:]+:`);
// All keys of a pair lie between these two, and none of another.
const beginningOfPair = (/** @type {string} */ key) => BEGINNING_OF_PAIR.exec(key)?.[0];
const endOfPair = (/** @type {string} */ beginning) => `${beginning}\uffff`;
const OF_PLAN = new RegExp(`^${PAIR}[^:]+:plan(?::|$)`);
const OF_LOG = /^(.*:)log:(\d+):/;
const pairOf = (/** @type {string} */ key) => OF_PAIR.exec(key)?.[1];
const isHead = (/** @type {string} */ key) => OF_PAIR.exec(key)?.[2] !== undefined;
function part(
  /** @type {string} */ pair,
  /** @type {Entry[]} */ entries,
  /** @type {Set<string>} */ keys,
  /** @type {(key: string) => number} */ before,
) {
  const ours = (/** @type {string} */ key) => unconfirmed.get(key)?.held?.text ?? localStorage.getItem(key);
  // What waits in this window, and was told, is its own.
  const isTheirs = (/** @type {Entry} */ one) =>
    one.number < WAITS || unstored.get(one.key) !== one.version || unconfirmed.has(one.key);
  const all = entries.filter((one) => pairOf(one.key) === pair && isTheirs(one));
  for (const key of unconfirmed.keys()) {
    if (pairOf(key) === pair && !keys.has(key)) all.push({ key, text: null, version: 0, number: 0 });
  }
  const differ = all.filter(({ key, text }) => ours(key) !== text);
  const cleared = emptied();
  const isMissing = (/** @type {string} */ key) => cleared && ours(key) === null && !unconfirmed.has(key);
  const rounds = differ.filter(({ key }) => !isHead(key));
  const here = rounds.some(({ key, text, version }) => {
    const mine = ours(key);
    return areApart(mine, text) || ((unconfirmed.has(key) || versionOf(key) > version) && !saysAll(text, mine));
  });
  const there = rounds.some(({ key, text, version }) => {
    const mine = ours(key);
    return areApart(mine, text) || (version > before(key) && !saysAll(mine, text) && !isMissing(key));
  });
  if (!here || !there) return false;
  if (all.some(({ key, text }) => OF_PLAN.test(key) && text !== null && isMissing(key))) {
    const left = differ.filter(({ key }) => ours(key) !== null);
    keepAside(
      left.map((entry) => ({ ...entry, text: ours(entry.key) })),
      keys,
    );
    for (const entry of differ) putBackWhole(entry);
    return true;
  }
  // A head that is lost is put back like any other text.
  const parted = differ.filter(({ key }) => !isHead(key) || ours(key) !== null);
  // Also what is said in here, and more beside: with that the second copy's would not be as it was.
  if (parted.some(({ key, text }) => text !== null && !saysAll(ours(key), text))) keepAside(parted, keys);
  for (const entry of parted) goOnWithout(entry);
  return true;
}

// The second copy's text takes the place of what was stored or waited here, which is set aside by now.
function putBackWhole(/** @type {Entry} */ entry) {
  const { key, version } = entry;
  const mine = versionOf(key);
  unconfirmed.delete(key);
  restore(entry, Math.max(version, mine));
  if (mine > version && !unconfirmed.has(key)) unconfirmed.set(key, { key, sent: false });
}

// The app goes on with a pair of which something was withheld, and all of that is set aside.
function setWithheldAside(/** @type {string} */ stored) {
  const pair = isHead(stored) ? undefined : pairOf(stored);
  const entries = [];
  for (const [key, text] of pair === undefined ? [] : withheld) {
    if (pairOf(key) === pair) entries.push({ key, text, version: versionOf(key), number: WAITS });
  }
  keepAside(
    entries.filter(({ key, text }) => !saysAll(localStorage.getItem(key), text)),
    new Set(),
  );
  for (const entry of entries) {
    withheld.delete(entry.key);
    unconfirmed.delete(entry.key);
    goOnWithout(entry);
  }
}

// Says for each entry, when it is met, whether its pair has parted.
function parting(
  /** @type {Entry[]} */ entries,
  /** @type {Set<string>} */ keys,
  /** @type {(key: string) => number} */ before,
) {
  /** @type {Map<string, boolean>} */
  const judged = new Map();
  return (/** @type {Entry} */ { key, text }) => {
    const pair = pairOf(key);
    if (pair === undefined || localStorage.getItem(key) === text) return false;
    const parted = judged.get(pair) ?? part(pair, entries, keys, before);
    judged.set(pair, parted);
    return parted && (!isHead(key) || localStorage.getItem(key) !== null);
  };
}

// What is stored here stays, with a version above both, and the second copy's is set aside by now.
function goOnWithout(/** @type {Entry} */ { key, text, version }) {
  overtaken.set(key, text);
  const above = Math.max(version, versionOf(key));
  const held = unconfirmed.get(key)?.held;
  if (held) hold(key, { ...held, version: above + 1 });
  else tellAgain(key, above);
}

function compareIn(/** @type {number} */ delay, /** @type {IDBDatabase} */ opened, /** @type {number} */ more) {
  const begin = () => {
    // What is lost by now is compared over the next connection.
    if (base !== opened) return;
    compare(opened, more).catch(() => {
      if (base === opened) disconnect();
    });
  };
  setTimeout(begin, delay);
}

// Both copies are made the same: what either lacks is told to it. Of a text that was taken away both keep the version,
// which says that an older copy of it is not to come back. A hundred pairs would keep the page busy for long, so it goes
// on whenever that has nothing to do. What is read of a pair is compared in one go, because its texts belong
// together, and with what localStorage holds by then: between two groups the app or another window can write any text.
async function compare(/** @type {IDBDatabase} */ opened, /** @type {number} */ more) {
  let found = unconfirmed.size > 0;
  const keys = new Set(await readKeys(opened));
  /** @type {string[]} */
  const forgotten = [];
  for (const group of grouped(keys)) {
    await atRest();
    if (base !== opened) return;
    const entries = await readBetween(opened, group.from, group.to);
    if (emptied()) {
      // Versions have begun anew, and would say nothing beside those of the second copy.
      await putBack();
      found = true;
      break;
    }
    found = compareGroup(entries, group.keys, keys, forgotten) || found;
    tell();
  }
  same = !found;
  if (found) {
    if (more > 1) compareIn(COMPARE_AGAIN, opened, more - 1);
  } else {
    write(COMPARED, String(Date.now()));
    if (forgotten.length) forget(opened, forgotten);
  }
}

/** @typedef {{ from: string, to: string, keys: string[] }} Group */

// The keys of both copies in groups that lie side by side: those of each pair, and some others at a time.
function grouped(/** @type {Iterable<string>} */ second) {
  const all = new Set(second);
  for (const key of Object.keys(localStorage)) {
    if (key.startsWith(ROOT) && key !== NUMBER) all.add(key);
    // Of a text that was taken away before the second copy was lost, only its version is left.
    else if (key.startsWith(VERSION)) all.add(key.slice(VERSION.length, -1));
  }
  /** @type {Group[]} */
  const groups = [];
  let before;
  for (const key of [...all].sort()) {
    const pair = beginningOfPair(key);
    const last = groups.at(-1);
    if (last && before === pair && (pair !== undefined || last.keys.length < COMPARED_AT_ONCE)) {
      last.keys.push(key);
      if (pair === undefined) last.to = key;
    } else {
      groups.push({ from: pair ?? key, to: pair === undefined ? key : endOfPair(pair), keys: [key] });
    }
    before = pair;
  }
  return groups;
}

// Waits until the page has nothing to do. In a window that nobody sees, nobody waits for an answer.
function atRest() {
  if (document.hidden) return Promise.resolve();
  return new Promise((resolve) => {
    if ('requestIdleCallback' in globalThis) requestIdleCallback(resolve, { timeout: AT_REST_WITHIN });
    else setTimeout(resolve, BREATH);
  });
}

/**
 * Compares what both copies have of a group. Says whether anything was not the same.
 * @param {Entry[]} entries What the second copy has of the group.
 * @param {string[]} group The keys that either had when the comparison began.
 * @param {Set<string>} keys All keys of the second copy.
 * @param {string[]} forgotten Takes the keys of texts that were taken away long ago.
 */
function compareGroup(entries, group, keys, forgotten) {
  for (const { key } of entries) keys.add(key);
  const isParted = parting(entries, keys, versionOf);
  const old = Date.now() - FORGOTTEN;
  let found = false;
  for (const entry of entries) {
    const { key, text, number } = entry;
    // Stored since it was read, or held here: the second copy is about to hear of it.
    if (unconfirmed.has(key)) continue;
    if (isParted(entry) || !bringTogether({ ...entry, version: entry.version ?? 0 }, keys)) found = true;
    else if (text === null && number < old) forgotten.push(key);
  }
  const there = new Set(entries.map(({ key }) => key));
  for (const key of group) {
    if (there.has(key) || unconfirmed.has(key)) continue;
    const isStored = localStorage.getItem(key) !== null;
    const version = versionOf(key);
    // Another window forgot it.
    if (!isStored && !version) continue;
    if (!version) raise(key, 1);
    unconfirmed.set(key, { key, sent: false });
    found = true;
  }
  return found;
}

// Forgets the versions of texts that both copies know to be taken away: first in localStorage, so that what a kill
// leaves is what the next start puts right.
function forget(/** @type {IDBDatabase} */ opened, /** @type {string[]} */ keys) {
  // What was stored anew since it was compared is not forgotten.
  const gone = keys.filter((key) => localStorage.getItem(key) === null && !unconfirmed.has(key));
  for (const key of gone) {
    localStorage.removeItem(versionKey(key));
    begun.delete(key);
  }
  const texts = begin(opened, 'readwrite', () => {}, disconnect);
  for (const key of gone) {
    const there = texts.get(key);
    there.onsuccess = () => {
      if (there.result?.text === null) texts.delete(key);
    };
  }
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

function readBetween(/** @type {IDBDatabase} */ opened, /** @type {string} */ from, /** @type {string} */ to) {
  return read(opened, (texts) => /** @type {IDBRequest<Entry[]>} */ (texts.getAll(IDBKeyRange.bound(from, to))));
}

function readKeys(/** @type {IDBDatabase} */ opened) {
  return read(opened, (texts) => /** @type {IDBRequest<string[]>} */ (texts.getAllKeys()));
}

/**
 * What a request comes to, in a transaction of its own.
 * @template T
 * @param {IDBDatabase} opened
 * @param {(texts: IDBObjectStore) => IDBRequest<T>} ask
 * @returns {Promise<T>}
 */
function read(opened, ask) {
  return new Promise((resolve, reject) => {
    // A connection that is lost takes its requests with it.
    const failed = () => reject(new Error('IndexedDB does not answer'));
    const asked = ask(begin(opened, 'readonly', () => {}, failed));
    asked.onsuccess = () => resolve(asked.result);
  });
}
