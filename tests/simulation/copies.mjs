// The real script of the second copy (public/echo.js) against a simulated browser that fails: the process is
// killed before localStorage reached the disk, connections to IndexedDB are lost, answers come late, one of
// the two stores is wiped, two windows write at once. Everything is chosen by a seed, so every history can
// be played again.
//
//   node copies.mjs SCRIPT HISTORIES [FIRST-SEED]
//
// Each text is the list of the touches in it. After each start: what either store held on its disk is in
// what the knitter sees or, where two lines of touches have parted, set aside. Prints the shortest history
// that breaks this, by its seed, and ends with 1.

import { readFileSync } from 'node:fs';
import vm from 'node:vm';

const [script, histories = '1000', first = '1'] = process.argv.slice(2);
// Packing fills the keys in; here it is done by hand.
const keys = { ROOT: 'evenloop:', ASIDE: 'evenloop:aside:', NUMBER: 'evenloop:number', VERSION: 'evenloop-version:' };
const source = readFileSync(script, 'utf8')
  .replace(/^export /gm, '')
  .replace(/__KEY_(\w+?)__/g, (_, name) => keys[name]);
const program = new vm.Script(`(function () {${source}\nreturn { start, echo: globalThis.evenloopEcho };})()`);

const KEYS = ['evenloop:pair:a:log:1:0', 'evenloop:pair:a:head', 'evenloop:pair:b:log:1:0'];
const ASIDE = /^evenloop:aside:\d+:(.*)$/;
const PATIENCE = 2_000;

/** Numbers from a seed (mulberry32). */
function chance(seed) {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return { below: (n) => Math.floor(next() * n), happens: (p) => next() < p };
}

/** Time passes only here: what is due runs in its order, each with its microtasks. */
class Clock {
  now = 1_700_000_000_000;
  #due = [];
  #order = 0;

  after(delay, run, owner) {
    this.#due.push({ at: this.now + delay, order: this.#order++, run, owner });
  }

  forget(owner) {
    this.#due = this.#due.filter((one) => one.owner !== owner);
  }

  async pass(duration) {
    const end = this.now + duration;
    for (;;) {
      let next;
      for (const one of this.#due) {
        if (one.at <= end && (!next || one.at < next.at || (one.at === next.at && one.order < next.order))) next = one;
      }
      if (!next) break;
      this.#due.splice(this.#due.indexOf(next), 1);
      this.now = Math.max(this.now, next.at);
      next.run();
      for (let i = 0; i < 12; i++) await null;
    }
    this.now = end;
  }
}

/** localStorage: one memory for all windows of a browser, and what of it is on the disk. */
class Local {
  memory = new Map();
  disk = new Map();
  full = false;

  commit() {
    this.disk = new Map(this.memory);
  }

  kill() {
    this.memory = new Map(this.disk);
  }

  wipe() {
    this.memory.clear();
    this.disk.clear();
  }

  face() {
    const { memory } = this;
    const methods = {
      getItem: (key) => memory.get(String(key)) ?? null,
      setItem: (key, text) => {
        if (this.full && String(text).length > (memory.get(String(key))?.length ?? -1)) throw new Error('QuotaExceededError');
        memory.set(String(key), String(text));
      },
      removeItem: (key) => void memory.delete(String(key)),
    };
    return new Proxy(methods, {
      ownKeys: () => [...memory.keys()],
      getOwnPropertyDescriptor: (_, key) => ({ value: memory.get(key), enumerable: true, configurable: true }),
      get: (target, key) => target[key],
    });
  }
}

/** IndexedDB: entries on the disk; connections that can be lost, answers that can be late. */
class Indexed {
  disk = new Map();
  slow = 0;
  refuses = false;
  connections = new Set();

  constructor(clock) {
    this.clock = clock;
  }

  lose() {
    for (const connection of this.connections) connection.lose();
  }

  face(owner) {
    const { clock } = this;
    return {
      open: () => {
        const request = {};
        clock.after(1 + this.slow, () => {
          if (this.refuses) {
            request.error = new Error('UnknownError');
            request.onerror?.();
            return;
          }
          const connection = new Connection(this, owner);
          this.connections.add(connection);
          request.result = connection;
          request.onsuccess?.();
        }, owner);
        return request;
      },
    };
  }
}

class Connection {
  #lost = false;
  #running = new Set();

  constructor(store, owner) {
    this.store = store;
    this.owner = owner;
  }

  // As when the browser's storage process ends: what runs is aborted, what comes is refused.
  lose() {
    if (this.#lost) return;
    this.#lost = true;
    this.store.connections.delete(this);
    const { clock } = this.store;
    for (const transaction of this.#running) clock.after(0, () => transaction.onabort?.(), this.owner);
    this.#running.clear();
    clock.after(0, () => this.onclose?.(), this.owner);
  }

  close() {
    this.#lost = true;
    this.store.connections.delete(this);
  }

  transaction() {
    if (this.#lost) throw new Error('InvalidStateError');
    const { clock, disk } = this.store;
    const changes = new Map();
    const requests = [];
    const transaction = { objectStore: () => texts };
    const ask = (result) => {
      const request = { transaction };
      requests.push({ request, result });
      return request;
    };
    const look = (key) => (changes.has(key) ? changes.get(key) : disk.get(key));
    const all = () => [...disk.values()].map((entry) => ({ ...entry }));
    const texts = {
      get: (key) => ask(() => look(key) && { ...look(key) }),
      getAll: () => ask(all),
      put: (entry) => ask(() => void changes.set(entry.key, { ...entry })),
      delete: (key) => ask(() => void changes.set(key, undefined)),
      index: () => ({
        getAll: (range) => ask(() => all().filter(range).sort((a, b) => a.number - b.number)),
        getAllKeys: (range) => ask(() => all().filter(range).map((entry) => entry.key)),
      }),
    };
    this.#running.add(transaction);
    const step = () => {
      if (!this.#running.has(transaction)) return;
      const next = requests.shift();
      if (next) {
        next.request.result = next.result();
        next.request.onsuccess?.();
        clock.after(0, step, this.owner);
        return;
      }
      this.#running.delete(transaction);
      for (const [key, entry] of changes) {
        if (entry) disk.set(key, entry);
        else disk.delete(key);
      }
      transaction.oncomplete?.();
    };
    clock.after(1 + this.store.slow, step, this.owner);
    return transaction;
  }
}

class Browser {
  clock = new Clock();
  local = new Local();
  indexed = new Indexed(this.clock);
  windows = [];
  touches = 0;
  removed = new Set();

  /** Opens a page; comes back when the script lets the app start. */
  async open() {
    const owner = { listeners: [] };
    const { clock } = this;
    const globals = {
      localStorage: this.local.face(),
      indexedDB: this.indexed.face(owner),
      IDBKeyRange: {
        lowerBound: (bound, open) => (entry) => (open ? entry.number > bound : entry.number >= bound),
        upperBound: (bound) => (entry) => entry.number <= bound,
      },
      document: { hidden: false },
      addEventListener: (kind, run) => owner.listeners.push({ kind, run }),
      dispatchEvent: () => true,
      StorageEvent: class {},
      setTimeout: (run, delay = 0) => clock.after(delay, run, owner),
      queueMicrotask,
      requestAnimationFrame: (run) => clock.after(16, run, owner),
      Date: { now: () => clock.now },
      console: { warn: () => {} },
    };
    globals.globalThis = globals;
    const { start, echo } = program.runInContext(vm.createContext(globals));
    const page = { owner, globals, echo, held: new Map() };
    let started = false;
    Promise.resolve().then(start).catch(() => {}).then(() => (started = true));
    for (let waited = 0; !started && waited <= PATIENCE + 100; waited += 20) await clock.pass(20);
    if (!started) throw new Error('the app never starts');
    this.windows.push(page);
    const waiting = page.echo.waiting();
    for (let i = 0; i < waiting.length; i += 2) page.held.set(waiting[i], waiting[i + 1]);
    return page;
  }

  /** The app stores a text that has one touch more; what found no room before goes first. */
  touch(page, key) {
    const { localStorage } = page.globals;
    this.touches += 1;
    const text = `${page.held.get(key) ?? localStorage.getItem(key) ?? ''}${this.touches} `;
    page.held.set(key, text);
    for (const [held, what] of page.held) {
      try {
        localStorage.setItem(held, what);
      } catch {
        page.echo.put(held, what, true);
        continue;
      }
      page.held.delete(held);
      page.echo.put(held, what, false);
    }
  }

  /** An operation of the app that changes several texts in one go, while the page is hidden; the browser is killed
   * before the page is asked anything else. Says which of the texts reached the second copy. */
  async operation(page) {
    const { localStorage, document } = page.globals;
    const hidden = document.hidden;
    document.hidden = true;
    this.touches += 1;
    const touch = `${this.touches} `;
    for (const key of KEYS) {
      localStorage.setItem(key, `${localStorage.getItem(key) ?? ''}${touch}`);
      page.echo.put(key, localStorage.getItem(key), false);
    }
    // The connection may be lost while the texts are on their way.
    for (let i = 0; i < 12; i++) await null;
    await this.clock.pass(1);
    this.indexed.lose();
    document.hidden = hidden;
    return KEYS.filter((key) => this.indexed.disk.get(key)?.text?.includes(` ${touch}`) || this.indexed.disk.get(key)?.text === touch);
  }

  /** The app takes a text away, as when a pair leaves the basket. */
  remove(page, key) {
    const { localStorage } = page.globals;
    for (const touch of localStorage.getItem(key)?.match(/\d+/g) ?? []) this.removed.add(touch);
    localStorage.removeItem(key);
    page.echo.put(key, null, false);
  }

  hide(page) {
    page.globals.document.hidden = true;
    for (const { kind, run } of page.owner.listeners) if (kind === 'pagehide') run();
  }

  end(page) {
    this.clock.forget(page.owner);
    this.windows = this.windows.filter((one) => one !== page);
  }

  kill() {
    for (const connection of this.indexed.connections) connection.close();
    for (const page of this.windows) this.clock.forget(page.owner);
    this.windows = [];
    this.indexed.connections.clear();
    this.local.kill();
  }

  /** Keys of texts whose removal is on a disk, and not only in a memory. */
  removals() {
    return KEYS.filter((key) => {
      const there = this.indexed.disk.get(key);
      const version = Number(this.local.disk.get(`evenloop-version:${key}#`) ?? 0);
      return (there?.text === null && there.version > version) || (!this.local.disk.has(key) && version > (there?.version ?? 0));
    });
  }

  /** The touches that are on a disk, by key. */
  durable() {
    const found = new Map(KEYS.map((key) => [key, new Set()]));
    const add = (key, text) => {
      const of = key.match(ASIDE)?.[1] ?? key;
      for (const touch of text?.match(/\d+/g) ?? []) if (!this.removed.has(touch)) found.get(of)?.add(touch);
    };
    for (const [key, text] of this.local.disk) if (key.startsWith('evenloop:')) add(key, text);
    for (const { key, text } of this.indexed.disk.values()) add(key, text);
    return found;
  }

  /** The touches in localStorage, whether or not they are on the disk. */
  stored() {
    const found = new Map(KEYS.map((key) => [key, new Set()]));
    for (const key of KEYS) for (const touch of this.local.memory.get(key)?.match(/\d+/g) ?? []) found.get(key).add(touch);
    return found;
  }

  /** The touches in the second copy. */
  second() {
    const found = new Map(KEYS.map((key) => [key, new Set()]));
    for (const key of KEYS) for (const touch of this.indexed.disk.get(key)?.text?.match(/\d+/g) ?? []) found.get(key).add(touch);
    return found;
  }

  /** The touches that the knitter sees, or finds set aside. */
  seen(page) {
    const found = new Map(KEYS.map((key) => [key, new Set()]));
    const waiting = page.echo.waiting();
    const pairs = waiting.flatMap((key, i) => (i % 2 ? [] : [[key, waiting[i + 1]]]));
    for (const [key, text] of [...this.local.memory, ...page.held, ...pairs]) {
      const of = key.match(ASIDE)?.[1] ?? key;
      for (const touch of text?.match(/\d+/g) ?? []) found.get(of)?.add(touch);
    }
    return found;
  }
}

function missing(wanted, there) {
  for (const [key, touches] of wanted) {
    for (const touch of touches) if (!there.get(key).has(touch)) return `touch ${touch} of ${key}`;
  }
  return undefined;
}

/** One history; says what was lost, if anything. `faults` are the kinds that may happen in it. */
async function play(seed, length) {
  const { below, happens } = chance(seed);
  const browser = new Browser();
  const story = [];
  let page = await browser.open();
  for (let step = 0; step < length; step++) {
    const kind = below(100);
    if (kind < 3) {
      const only = browser.windows.length === 1 && browser.windows[0];
      if (only && only.held.size === 0) {
        browser.remove(only, KEYS[below(KEYS.length)]);
        story.push('remove');
      }
    } else if (kind < 5 && !browser.local.full && page.held.size === 0 && page.echo.waiting().length === 0 && browser.windows.includes(page)) {
      const reached = await browser.operation(page);
      story.push('operation in a hidden page, connection lost');
      if (reached.length % KEYS.length) return { lost: `a part of an operation (only ${reached} reached the second copy)`, story };
    } else if (kind < 45) {
      const other = browser.windows[below(browser.windows.length)];
      browser.touch(other, KEYS[below(KEYS.length)]);
      story.push('touch');
      await browser.clock.pass(below(60));
    } else if (kind < 57) {
      await browser.clock.pass(below(6_000));
      story.push('rest');
    } else if (kind < 60) {
      browser.local.full = !browser.local.full;
      story.push(browser.local.full ? 'full' : 'room again');
    } else if (kind < 68) {
      browser.local.commit();
      story.push('localStorage reaches the disk');
    } else if (kind < 76) {
      browser.indexed.lose();
      browser.indexed.refuses = happens(0.3);
      story.push(`connection lost${browser.indexed.refuses ? ' for good' : ''}`);
    } else if (kind < 80) {
      browser.indexed.slow = happens(0.5) ? below(4_000) : 0;
      story.push(`IndexedDB answers after ${browser.indexed.slow}`);
    } else if (kind < 83) {
      browser.indexed.refuses = false;
      browser.indexed.slow = 0;
      await browser.clock.pass(130_000);
      story.push('IndexedDB is back, and nothing happens for a while');
      // Then the second copy is whole.
      const lost = missing(browser.stored(), browser.second());
      if (lost) return { lost: `${lost} (not in the second copy)`, story };
    } else if (kind < 86 && browser.windows.length === 1) {
      await browser.open();
      story.push('second window');
    } else {
      const wiped = kind >= 97;
      // Closed by the knitter, or killed.
      if (kind < 90) {
        for (const each of [...browser.windows]) browser.hide(each);
        await browser.clock.pass(below(30));
        browser.local.commit();
        story.push('closed');
      } else {
        story.push('killed');
      }
      browser.kill();
      if (wiped) {
        // Only what the other copy has can be had back.
        if (happens(0.5)) browser.local.wipe();
        else browser.indexed.disk.clear();
        story.push('one store wiped');
      }
      const before = browser.durable();
      const removals = browser.removals();
      browser.indexed.refuses = happens(0.1);
      if (happens(0.8)) browser.indexed.slow = 0;
      page = await browser.open();
      story.push('opened');
      // Where the second copy does not answer in time, the knitter may go on without it.
      if (browser.indexed.refuses || browser.indexed.slow > 0) {
        if (happens(0.5)) browser.touch(page, KEYS[below(KEYS.length)]);
        browser.indexed.refuses = false;
        browser.indexed.slow = 0;
        story.push('goes on before IndexedDB answers');
        await browser.clock.pass(130_000);
      } else {
        const back = removals.find((key) => browser.local.memory.has(key));
        if (back) return { lost: `the removal of ${back}`, story };
      }
      const lost = missing(before, browser.seen(page));
      if (lost) return { lost, story };
    }
  }
  return undefined;
}

let shortest;
let broken = 0;
const begin = performance.now();
for (let seed = Number(first); seed < Number(first) + Number(histories); seed++) {
  const length = 5 + (seed % 30);
  const found = await play(seed, length);
  if (!found) continue;
  broken += 1;
  if (!shortest || found.story.length < shortest.story.length) shortest = { seed, ...found };
}
const seconds = ((performance.now() - begin) / 1000).toFixed(1);
console.log(`${histories} histories from seed ${first} in ${seconds} s, ${broken} lost something`);
if (shortest) {
  console.log(`shortest, seed ${shortest.seed}: ${shortest.lost} lost after\n  ${shortest.story.join('\n  ')}`);
  process.exit(1);
}
