// The real script of the second copy (public/echo.js) against a simulated browser that fails: the process is
// killed before localStorage reached the disk, connections to IndexedDB are lost, answers come late, one of
// the two stores is wiped, under an open page too, two windows write at once, a question is never answered, a page is
// kept for the way back with all that it has begun, a text is lost, or its version; the clock is set back, writes reach
// the disk in any order. Everything is chosen by a seed, so every history can
// be played again.
//
//   node copies.mjs SCRIPT HISTORIES [FIRST-SEED]
//   node copies.mjs SCRIPT steps STEP,STEP,...
//   node copies.mjs SCRIPT taken DAYS [lost | anew]
//   node copies.mjs SCRIPT emptied [apart]
//
// Each text is the list of the touches in it, a log's behind form, number and checksum as the app writes it. After
// each start: what either store held on its disk is in
// what the knitter sees or, where two lines of touches have parted, set aside. Prints the shortest history
// that breaks this, by its seed, and ends with 1. The first log is planned anew now and then: it never lies under a plan
// that it does not name. The third form says what either store still knows of a text that was taken away so many days
// ago, `lost` with the second copy lost in between, `anew` where another takes its place while the copies are compared.
// The last one says what becomes of a pair whose localStorage is emptied while a touch waits for room, `apart` where
// another window had gone on without that touch.

import { readFileSync } from 'node:fs';
import vm from 'node:vm';

const [script, histories = '1000', first = '1'] = process.argv.slice(2);
// So long after a start the copies are compared.
const COMPARED_AFTER = 5_000;
// Packing fills this and the keys in; here it is done by hand.
const keys = {
  ROOT: 'evenloop:',
  PAIR: 'evenloop:pair:',
  ASIDE: 'evenloop:aside:',
  PARTED: 'evenloop:parted:',
  NUMBER: 'evenloop:number',
  VERSION: 'evenloop-version:',
  COMPARED: 'evenloop-compared',
};
const source = readFileSync(script, 'utf8')
  .replace(/^export /gm, '')
  .replace(/__KEY_(\w+?)__/g, (_, name) => keys[name])
  .replace('__COMPARED_AFTER__', String(COMPARED_AFTER));
const program = new vm.Script(`(function () {${source}\nreturn { start, echo: globalThis.evenloopEcho };})()`);

const KEYS = ['evenloop:pair:a:log:1:0', 'evenloop:pair:a:head', 'evenloop:pair:b:log:1:0'];
const LOGS = KEYS.filter((key) => key.includes(':log:'));
// What the first log is knitted by: the touch that changed it last comes first, so none of these goes on from another.
const PLAN = 'evenloop:pair:a:plan:1';
const ALL = [...KEYS, PLAN];
const ASIDE = /^evenloop:aside:\d+:(?:evenloop:parted:)?(.*)$/;
const PATIENCE = 2_000;
// By then what was given up and lost has been asked for again, however long the script waits between.
const A_WHILE = 200_000;

/** A text as the app writes it: its checksum stands for one that is another with each. */
function written(key, touches) {
  if (key === PLAN) return touches.toReversed().join(',');
  const sum = String(Number(touches.at(-1)) * 7919).padStart(8, '0');
  return `${key.includes(':log:') ? `1 0 ${sum} ` : ''}${touches.join(',')}`;
}

/** The touches that a text lists. */
function touchesIn(text) {
  return text?.split(' ').at(-1).split(',').filter(Boolean) ?? [];
}

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

  /** Says how to call it off. */
  after(delay, run, owner) {
    const one = { at: this.now + delay, order: this.#order++, run, owner };
    this.#due.push(one);
    return one;
  }

  callOff(one) {
    this.#due = this.#due.filter((each) => each !== one);
  }

  forget(owner) {
    this.#due = this.#due.filter((one) => one.owner !== owner);
  }

  async pass(duration) {
    const end = this.now + duration;
    for (;;) {
      let next;
      for (const one of this.#due) {
        if (one.owner?.frozen) continue;
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

  /** Of what was not on the disk yet some reaches it, in any order; what is none of these logs together with its
   * version. A version alone says that its text was taken away, so it never comes first. */
  reorder(logs, happens) {
    const reach = (key) => {
      const text = this.memory.get(key);
      if (text === undefined) this.disk.delete(key);
      else this.disk.set(key, text);
    };
    const chances = new Map();
    const all = [...new Set([...this.memory.keys(), ...this.disk.keys()])];
    const [versions, texts] = [true, false].map((wanted) => all.filter((key) => key.startsWith(keys.VERSION) === wanted));
    for (const key of [...texts, ...versions]) {
      const of = key.replace(keys.VERSION, '').replace('#', '');
      const one = logs.includes(of) ? key : of;
      if (!chances.has(one)) chances.set(one, happens(0.5));
      if (chances.get(one) && (key === of || this.disk.has(of) || !this.memory.has(of))) reach(key);
    }
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
  /** Whether nothing is answered, and questions that were not. */
  silent = false;
  unanswered = [];
  connections = new Set();
  /** Transactions in the order in which they were begun: the next one waits for the one before, whose ever it is. */
  queue = [];

  constructor(clock) {
    this.clock = clock;
  }

  lose() {
    for (const connection of this.connections) connection.lose();
  }

  /** It answers again: of what was asked meanwhile only what may be answered late, and never a transaction. */
  speak(late) {
    this.silent = false;
    const unanswered = this.unanswered.splice(0);
    if (late) for (const answer of unanswered) answer();
  }

  done(transaction) {
    this.queue = this.queue.filter((one) => one !== transaction);
  }

  face(owner) {
    const { clock } = this;
    return {
      open: () => {
        const request = {};
        const answer = () => clock.after(1 + this.slow, () => {
          if (this.silent) {
            this.unanswered.push(answer);
            return;
          }
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
        answer();
        return request;
      },
    };
  }
}

class Connection {
  /** @type {(() => void) | undefined} */
  onclose;
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
    for (const transaction of this.#running) {
      this.store.done(transaction);
      clock.after(0, () => transaction.onabort?.(), this.owner);
    }
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
    const transaction = {
      objectStore: () => texts,
      abort: () => {
        if (!this.#running.delete(transaction)) throw new Error('InvalidStateError');
        this.store.done(transaction);
        clock.after(0, () => transaction.onabort?.(), this.owner);
      },
    };
    const ask = (result) => {
      const request = { transaction };
      requests.push({ request, result });
      return request;
    };
    const look = (key) => (changes.has(key) ? changes.get(key) : disk.get(key));
    const all = () => [...disk.values()].map((entry) => ({ ...entry }));
    const texts = {
      get: (key) => ask(() => look(key) && { ...look(key) }),
      getAll: (range = () => true) => ask(() => all().filter(range)),
      getAllKeys: () => ask(() => [...disk.keys()].sort()),
      put: (entry) => ask(() => void changes.set(entry.key, { ...entry })),
      delete: (key) => ask(() => void changes.set(key, undefined)),
      index: () => ({
        getAll: (range) => ask(() => all().filter(range).sort((a, b) => a.number - b.number)),
      }),
    };
    this.#running.add(transaction);
    this.store.queue.push(transaction);
    const step = () => {
      // What is not answered now never is, and until it is given up nothing behind it either.
      if (this.store.silent || !this.#running.has(transaction)) return;
      if (this.store.queue[0] !== transaction) {
        clock.after(1, step, this.owner);
        return;
      }
      const next = requests.shift();
      if (next) {
        next.request.result = next.result();
        next.request.onsuccess?.();
        clock.after(0, step, this.owner);
        return;
      }
      this.#running.delete(transaction);
      this.store.done(transaction);
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
  /** The page that is kept for the way back, and runs no more. */
  kept = undefined;
  touches = 0;
  removed = new Set();
  takenAway = new Set();
  /** Touches that changed what the first log is knitted by. */
  replans = new Set();
  /** Whether a log and its plan can have come apart by what no script can help. */
  torn = false;
  /** Touches since a page was last left, by key: as long as all pages live, none of them may be lost. */
  living = new Map();
  /** By how much the device's clock is wrong, in milliseconds. */
  wrong = 0;
  /** After how many milliseconds a page has nothing to do, and after how many it is painted. */
  busy = 1;
  frame = 16;

  /** Opens a page; comes back when the script lets the app start. */
  async open() {
    const owner = { listeners: [] };
    const { clock } = this;
    const globals = {
      localStorage: this.local.face(),
      indexedDB: this.indexed.face(owner),
      IDBKeyRange: {
        lowerBound: (bound, open) => (entry) => (open ? entry.number > bound : entry.number >= bound),
        bound: (from, to) => ({ key }) => from <= key && key <= to,
      },
      document: { hidden: false },
      addEventListener: (kind, run) => owner.listeners.push({ kind, run }),
      dispatchEvent: () => true,
      StorageEvent: class {},
      setTimeout: (run, delay = 0) => clock.after(delay, run, owner),
      clearTimeout: (one) => clock.callOff(one),
      queueMicrotask,
      requestAnimationFrame: (run) => clock.after(this.frame, run, owner),
      requestIdleCallback: (run, { timeout }) => clock.after(Math.min(this.busy, timeout), run, owner),
      Date: { now: () => clock.now + this.wrong },
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
    for (let i = 0; i < waiting.length; i += 2) {
      page.held.set(waiting[i], { text: waiting[i + 1], over: this.local.memory.get(waiting[i]) ?? null });
    }
    return page;
  }

  /** The app stores a text that has one touch more. Where there is no room it waits, and while anything does, all else
   * finds none either (app/src/store/waiting.rs). */
  touch(page, key) {
    const { localStorage } = page.globals;
    this.touches += 1;
    if (!this.living.has(key)) this.living.set(key, new Set());
    this.living.get(key).add(`${this.touches}`);
    const before = page.held.get(key);
    const now = localStorage.getItem(key);
    const text = written(key, [...touchesIn(before?.over === now ? before.text : now), this.touches]);
    this.settle(page);
    const [first] = page.held.keys();
    if ((first ?? key) === key && this.store(page, key, text)) {
      page.held.delete(key);
      this.settle(page);
      return;
    }
    page.held.set(key, { text, over: localStorage.getItem(key) });
    page.echo.put(key, text, true);
  }

  store(page, key, text) {
    try {
      page.globals.localStorage.setItem(key, text);
    } catch {
      return false;
    }
    page.echo.put(key, text, false);
    return true;
  }

  /** What waits goes first, oldest first. What another window has gone on without stays as that one left it. */
  settle(page) {
    for (const [key, { text, over }] of page.held) {
      if (page.globals.localStorage.getItem(key) === over && !this.store(page, key, text)) return;
      page.held.delete(key);
    }
  }

  /** localStorage is emptied. The second copy need not have all by then. */
  wipeLocal() {
    this.local.wipe();
    this.living.clear();
    this.torn ||= this.mixedIn((key) => this.indexed.disk.get(key)?.text) !== undefined;
  }

  /** The rest is planned anew: a touch in the log, and another plan. The app does nothing of it where there is no room. */
  replan(page) {
    if (this.local.full || this.windows.some(({ held }) => held.size > 0)) return;
    this.touches += 1;
    this.replans.add(`${this.touches}`);
    for (const key of [LOGS[0], PLAN]) {
      const touches = touchesIn(page.globals.localStorage.getItem(key));
      const before = key === PLAN ? touches.toReversed() : touches;
      this.store(page, key, written(key, [...before, this.touches]));
    }
  }

  /** Whether the first log lies under a plan that it does not name. */
  mixed(page) {
    if (this.torn || this.takenAway.has(LOGS[0])) return undefined;
    return this.mixedIn((key) => {
      const held = page.held.get(key);
      const now = this.local.memory.get(key);
      return held && held.over === (now ?? null) ? held.text : now;
    });
  }

  mixedIn(text) {
    const named = touchesIn(text(LOGS[0])).filter((touch) => this.replans.has(touch)).at(-1);
    const plan = touchesIn(text(PLAN))[0];
    return named === plan ? undefined : `the plan of the log (it names ${named}, there is ${plan})`;
  }

  /** An operation of the app that changes several texts in one go, while the page is hidden; the browser is killed
   * before the page is asked anything else. Says which of the texts reached the second copy. */
  async operation(page) {
    const { localStorage, document } = page.globals;
    const hidden = document.hidden;
    document.hidden = true;
    this.touches += 1;
    for (const key of KEYS) this.store(page, key, written(key, [...touchesIn(localStorage.getItem(key)), this.touches]));
    // The connection may be lost while the texts are on their way.
    for (let i = 0; i < 12; i++) await null;
    await this.clock.pass(1);
    this.indexed.lose();
    document.hidden = hidden;
    return KEYS.filter((key) => touchesIn(this.indexed.disk.get(key)?.text).includes(`${this.touches}`));
  }

  /** The app takes a text away, as when a pair leaves the basket. */
  remove(page, key) {
    const { localStorage } = page.globals;
    // What waits in the second copy goes with it.
    const { text, number } = this.indexed.disk.get(key) ?? {};
    const gone = [localStorage.getItem(key), number >= 1e15 ? text : undefined].flatMap(touchesIn);
    for (const touch of gone) this.removed.add(touch);
    this.takenAway.add(key);
    localStorage.removeItem(key);
    page.echo.put(key, null, false);
  }

  hide(page, persisted = false) {
    page.globals.document.hidden = true;
    const tell = (event) => {
      for (const { kind, run } of page.owner.listeners) if (kind === event) run({ persisted });
    };
    tell('pagehide');
    tell('visibilitychange');
  }

  /** Goes from a page to another one, a new one or back to the one that is kept. Browsers keep a page for that as it
   * is; what it has begun stays begun. */
  async leave(page, back) {
    this.living.clear();
    this.hide(page, true);
    page.owner.frozen = true;
    this.windows = this.windows.filter((one) => one !== page);
    const before = this.kept;
    this.kept = page;
    if (!before) return this.open();
    if (!back) {
      this.discard(before);
      return this.open();
    }
    before.owner.frozen = false;
    before.globals.document.hidden = false;
    this.windows.push(before);
    return before;
  }

  /** A page that was kept long enough: what it has begun is aborted. */
  discard(page) {
    this.clock.forget(page.owner);
    for (const connection of this.indexed.connections) if (connection.owner === page.owner) connection.lose();
    this.clock.forget(page.owner);
  }

  kill() {
    this.living.clear();
    for (const connection of this.indexed.connections) connection.close();
    for (const page of [...this.windows, ...(this.kept ? [this.kept] : [])]) this.clock.forget(page.owner);
    this.windows = [];
    this.kept = undefined;
    this.indexed.unanswered = [];
    this.indexed.connections.clear();
    this.indexed.queue = [];
    this.local.kill();
  }

  /** How many connections that window has which has the most. */
  connections() {
    const owners = [...this.indexed.connections].map(({ owner }) => owner);
    return Math.max(0, ...this.windows.map((page) => owners.filter((one) => one === page.owner).length));
  }

  /** Whether every window has found both copies to be the same, where nothing waits for room. */
  isCompared() {
    const waits = this.local.full || [...this.indexed.disk.values()].some(({ number }) => number >= 1e15);
    return waits || this.windows.every(({ echo }) => echo.compared() > 0);
  }

  /** Keys of texts whose removal is on a disk, and not only in a memory. */
  removals() {
    return ALL.filter((key) => {
      const there = this.indexed.disk.get(key);
      const version = Number(this.local.disk.get(`evenloop-version:${key}#`) ?? 0);
      return (there?.text === null && there.version > version) || (!this.local.disk.has(key) && version > (there?.version ?? 0));
    });
  }

  /** The touches that are on a disk, by key. */
  durable() {
    const found = new Map(ALL.map((key) => [key, new Set()]));
    const add = (key, text) => {
      const of = key.match(ASIDE)?.[1] ?? key;
      for (const touch of touchesIn(text)) if (!this.removed.has(touch)) found.get(of)?.add(touch);
    };
    for (const [key, text] of this.local.disk) if (key.startsWith('evenloop:')) add(key, text);
    for (const { key, text } of this.indexed.disk.values()) add(key, text);
    return found;
  }

  /** The touches in localStorage, whether or not they are on the disk. */
  stored() {
    const found = new Map(ALL.map((key) => [key, new Set()]));
    for (const key of ALL) {
      // A text that was taken away may lie there again, from the disk, while a later one finds no room.
      for (const touch of touchesIn(this.local.memory.get(key))) if (!this.removed.has(touch)) found.get(key).add(touch);
    }
    return found;
  }

  /** The touches in the second copy. */
  second() {
    const found = new Map(ALL.map((key) => [key, new Set()]));
    for (const key of ALL) for (const touch of touchesIn(this.indexed.disk.get(key)?.text)) found.get(key).add(touch);
    return found;
  }

  /** The touches since a page was last left that were not taken away. */
  alive() {
    return new Map([...this.living].map(([key, touches]) => [key, [...touches].filter((one) => !this.removed.has(one))]));
  }

  /** The touches that lie in any store. */
  inStores() {
    const found = new Map(ALL.map((key) => [key, new Set()]));
    const second = [...this.indexed.disk.values()].map(({ key, text }) => [key, text]);
    for (const [key, text] of [...this.local.memory, ...second]) {
      const of = key.match(ASIDE)?.[1] ?? key;
      for (const touch of touchesIn(text)) found.get(of)?.add(touch);
    }
    return found;
  }

  /** The touches of texts that wait for room in any window. */
  held() {
    const found = new Map(ALL.map((key) => [key, new Set()]));
    for (const { held } of this.windows) {
      for (const [key, { text }] of held) {
        const of = key.match(ASIDE)?.[1] ?? key;
        for (const touch of touchesIn(text)) if (!this.removed.has(touch)) found.get(of)?.add(touch);
      }
    }
    return found;
  }

  /** The touches that any page shows, or that lie anywhere. */
  anywhere() {
    const found = this.inStores();
    for (const [key, touches] of this.held()) for (const touch of touches) found.get(key).add(touch);
    return found;
  }

  /** The touches that the knitter sees, or finds set aside. */
  seen(page) {
    const found = new Map(ALL.map((key) => [key, new Set()]));
    const waiting = page.echo.waiting();
    const pairs = waiting.flatMap((key, i) => (i % 2 ? [] : [[key, waiting[i + 1]]]));
    const held = [...page.held].map(([key, { text }]) => [key, text]);
    for (const [key, text] of [...this.local.memory, ...held, ...pairs]) {
      const of = key.match(ASIDE)?.[1] ?? key;
      for (const touch of touchesIn(text)) found.get(of)?.add(touch);
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

/** Which numbers below 100 stand for which kind of step: each ends below the next. */
const KINDS = [3, 5, 45, 57, 60, 68, 76, 80, 83, 86, 90, 97, 100];
const TOUCH = 2;

/** The steps of a history, each a seed of its own: without one of them the others are the same. Each history does
 * without some of the kinds, so that the others meet more often. */
function history(seed) {
  const { below, happens } = chance(seed);
  const there = KINDS.map((_, kind) => kind === TOUCH || happens(0.7));
  const step = () => {
    const one = below(EXTRA);
    const number = chance(one).below(100);
    return there[KINDS.findIndex((end) => number < end)] ? one : step();
  };
  const steps = Array.from({ length: 5 + (seed % 30) }, step);
  // In every other one of what else may happen.
  return steps.map((one) => (seed % 2 && happens(0.08) ? one + EXTRA * (1 + below(EXTRAS.length)) : one));
}

/** What else may happen, beside the kinds above: a step that is so many times 2 ** 32 larger is one of these. */
const EXTRA = 2 ** 32;
const EXTRAS = [
  'texts without a version',
  'localStorage emptied under an open page',
  'one text lost',
  'another time',
  'writes in any order',
  'planned anew',
  'planned anew, killed, and IndexedDB answers late',
  'much happens while the copies are compared',
];

/** Everything answers again, and nothing happens for a while. */
async function rest(browser) {
  browser.local.full = false;
  browser.indexed.refuses = false;
  browser.indexed.slow = 0;
  browser.indexed.speak(true);
  await browser.clock.pass(A_WHILE);
}

/** One of these happens. Comes back with the page that is open then, what has been on a disk where that is another than
 * before, and whether it has to be seen at once. */
async function extra(browser, page, kind, { below, happens }) {
  const { local, clock } = browser;
  if (kind === 'another time') {
    browser.wrong = (below(2_000) - 1_000) * 86_400_000;
    return { page, once: browser.durable(), seen: false };
  }
  if (kind === 'planned anew') {
    browser.replan(page);
    await clock.pass(below(3_000));
    return { page, seen: false };
  }
  if (kind === 'planned anew, killed, and IndexedDB answers late') {
    await rest(browser);
    local.commit();
    if (happens(0.5)) browser.replan(page);
    else browser.touch(page, LOGS[0]);
    await clock.pass(below(3_000));
    browser.kill();
    const once = browser.durable();
    browser.indexed.slow = 2_500 + below(4_000);
    page = await browser.open();
    for (let touches = below(3); touches > 0; touches--) {
      if (happens(0.5)) browser.replan(page);
      else browser.touch(page, KEYS[below(KEYS.length)]);
      await clock.pass(below(300));
    }
    await rest(browser);
    return { page, once, seen: true };
  }
  if (kind === 'much happens while the copies are compared') return muchHappens(browser, page, { below, happens });
  // Emptied while the second copy is being told of a touch, too.
  if (kind === 'localStorage emptied under an open page' && happens(0.5)) browser.touch(page, KEYS[below(KEYS.length)]);
  else await rest(browser);
  // The app takes nothing up again that was taken away: keys of pairs are made by chance.
  const neverTakenAway = LOGS.filter((key) => !browser.takenAway.has(key));
  if (kind === 'localStorage emptied under an open page') {
    // Without room for as much as a number from the very beginning, nobody could tell.
    if (!local.memory.has(keys.NUMBER)) return { page, once: browser.durable(), seen: false };
    browser.wipeLocal();
    const once = browser.durable();
    const touches = below(3);
    for (let touch = 0; touch < touches; touch++) {
      browser.touch(page, KEYS[below(KEYS.length)]);
      await clock.pass(below(300));
    }
    if (happens(0.5)) return { page, once, seen: false };
    // Where anything is stored or told, it is put back at once; else with the next start.
    await rest(browser);
    return { page, once, seen: touches > 0 && browser.windows.every(({ held }) => held.size === 0) };
  }
  browser.torn = true;
  if (kind === 'writes in any order') {
    for (let touches = below(4); touches > 0; touches--) {
      browser.touch(page, KEYS[below(KEYS.length)]);
      await clock.pass(below(300));
    }
    local.reorder(neverTakenAway, happens);
    browser.kill();
  } else {
    if (happens(0.5)) local.commit();
    browser.kill();
  }
  if (kind === 'one text lost') {
    const key = KEYS[below(KEYS.length)];
    local.memory.delete(key);
    if (happens(0.5)) local.memory.delete(`${keys.VERSION}${key}#`);
  }
  if (kind === 'texts without a version') {
    // A page without the script, or one that was killed between a text and its version.
    for (let touches = 1 + below(3); touches > 0 && neverTakenAway.length > 0; touches--) {
      const key = neverTakenAway[below(neverTakenAway.length)];
      browser.touches += 1;
      const before = local.memory.get(key);
      local.memory.set(key, written(key, [...(before === undefined ? [] : touchesIn(before)), browser.touches]));
    }
  }
  local.commit();
  const once = browser.durable();
  page = await browser.open();
  await rest(browser);
  // By then it is on the disk, too.
  local.commit();
  return { page, once, seen: true };
}

/** The second copy lacks something, and between the slices in which it is compared the app, another window, the
 * knitter and the browser do what they like. */
async function muchHappens(browser, page, { below, happens }) {
  const { local, indexed, clock } = browser;
  await rest(browser);
  local.commit();
  browser.kill();
  // What an older Evenloop never told it.
  for (const key of ALL) {
    if (indexed.disk.get(key)?.text === local.disk.get(key) && happens(0.3)) indexed.disk.delete(key);
  }
  let once = browser.durable();
  page = await browser.open();
  browser.busy = 100 + below(900);
  browser.frame = 16 + below(400);
  await clock.pass(COMPARED_AFTER - below(200));
  for (let steps = 2 + below(8); steps > 0; steps--) {
    await clock.pass(below(browser.busy));
    const what = below(12);
    const other = browser.windows[below(browser.windows.length)];
    if (what < 5) browser.touch(other, KEYS[below(KEYS.length)]);
    else if (what < 6) browser.replan(other);
    else if (what < 7) local.full = !local.full || happens(0.3);
    else if (what < 8) indexed.lose();
    else if (what < 9) indexed.slow = happens(0.5) ? below(4_000) : 0;
    else if (what < 10) local.commit();
    else if (what < 11 && browser.windows.length === 1) await browser.open();
    else if (happens(0.3) && local.memory.has(keys.NUMBER)) {
      // Then there is room again; what the second copy lacked is gone.
      local.full = false;
      browser.wipeLocal();
      once = browser.durable();
    }
  }
  const wiped = local.memory.size === 0;
  const killed = happens(0.5);
  if (killed) {
    // Killed between two slices; what was told by then is not lost.
    for (const [key, touches] of browser.durable()) for (const touch of touches) once.get(key).add(touch);
    indexed.slow = 0;
    browser.kill();
    page = await browser.open();
  }
  browser.busy = 1;
  browser.frame = 16;
  await rest(browser);
  // The comparison after a start comes to its end.
  const unseen = killed && !browser.isCompared() ? 'sight of whether the copies are the same' : undefined;
  const lost = unseen ?? missing(browser.held(), browser.inStores());
  const seen = !wiped && browser.windows.every(({ held }) => held.size === 0);
  return { page, once, seen, lost };
}

/** Plays a history; says what was lost, if anything. */
async function play(steps) {
  const browser = new Browser();
  const story = [];
  let page = await browser.open();
  // The touches that were on a disk at any time: none of them may be put over.
  let once = browser.durable();
  for (const step of steps) {
    const { below, happens } = chance(step % EXTRA);
    for (const [key, touches] of browser.durable()) for (const touch of touches) once.get(key).add(touch);
    if (step >= EXTRA) {
      if (!browser.windows.includes(page)) page = browser.windows[0] ?? (await browser.open());
      const told = EXTRAS[Math.floor(step / EXTRA) - 1];
      story.push(told);
      const after = await extra(browser, page, told, { below, happens });
      page = after.page;
      once = after.once ?? once;
      const lost = after.lost ?? (after.seen && (missing(once, browser.seen(page)) ?? browser.mixed(page)));
      if (lost) return { lost, story };
      continue;
    }
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
      if (happens(0.4)) {
        browser.indexed.silent = true;
        story.push('not at all');
      }
    } else if (kind < 83) {
      browser.indexed.refuses = false;
      browser.indexed.slow = 0;
      browser.indexed.speak(happens(0.5));
      await browser.clock.pass(A_WHILE);
      story.push('IndexedDB is back, and nothing happens for a while');
      // Then the second copy is whole.
      const lost = missing(browser.stored(), browser.second());
      if (lost) return { lost: `${lost} (not in the second copy)`, story };
      const waits = missing(browser.held(), browser.inStores());
      if (waits) return { lost: `${waits} (it waits for room in a window alone)`, story };
      const forgotten = missing(browser.alive(), browser.anywhere());
      if (forgotten) return { lost: `${forgotten} (and no page was closed)`, story };
      if (browser.connections() > 1) return { lost: 'track of a connection', story };
    } else if (kind < 86 && browser.windows.length === 1) {
      await browser.open();
      story.push('second window');
    } else {
      const wiped = kind >= 97;
      const only = browser.windows.length === 1 && browser.windows[0];
      if (kind < 88 && only) {
        const back = happens(0.5);
        story.push(back && browser.kept ? 'back to the page before' : 'on to another page');
        page = await browser.leave(only, back);
        continue;
      }
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
        if (happens(0.5)) browser.wipeLocal();
        else browser.indexed.disk.clear();
        story.push('one store wiped');
      }
      if (wiped) once = browser.durable();
      const before = new Map([...once].map(([key, touches]) => [key, [...touches].filter((one) => !browser.removed.has(one))]));
      const removals = browser.removals();
      browser.indexed.refuses = happens(0.1);
      browser.indexed.silent = happens(0.1);
      if (happens(0.8)) browser.indexed.slow = 0;
      page = await browser.open();
      story.push('opened');
      // Where the second copy does not answer in time, the knitter may go on without it.
      if (browser.indexed.refuses || browser.indexed.silent || browser.indexed.slow > 0) {
        for (let touches = below(4); touches > 0; touches--) {
          if (happens(0.2)) {
            browser.local.full = !browser.local.full;
            story.push(browser.local.full ? 'full' : 'room again');
          }
          browser.touch(page, KEYS[below(KEYS.length)]);
          story.push('touch');
          await browser.clock.pass(below(300));
        }
        browser.indexed.refuses = false;
        browser.indexed.slow = 0;
        browser.indexed.speak(happens(0.5));
        story.push('goes on before IndexedDB answers');
        await browser.clock.pass(A_WHILE);
        // What the answer brought may have found no room, and the knitter goes on from what was there before.
        if (browser.local.full && happens(0.5)) {
          browser.local.full = false;
          browser.touch(page, KEYS[below(KEYS.length)]);
          await browser.clock.pass(300);
          story.push('room again', 'touch');
        }
      } else {
        // The app never takes up again what it took away, as a log may be here: then the copies part over its pair.
        const judged = (key) => LOGS.includes(key) || !browser.takenAway.has(LOGS[0]);
        const back = removals.find((key) => judged(key) && browser.local.memory.has(key));
        if (back) return { lost: `the removal of ${back}`, story };
      }
      const lost = missing(before, browser.seen(page)) ?? (browser.local.full ? undefined : browser.mixed(page));
      if (lost) return { lost, story };
    }
  }
  return undefined;
}

/** What either store still knows of a text that was taken away. */
async function taken(days, meanwhile) {
  const browser = new Browser();
  const [, key] = KEYS;
  const page = await browser.open();
  browser.touch(page, key);
  await rest(browser);
  browser.remove(page, key);
  await rest(browser);
  browser.local.commit();
  browser.kill();
  if (meanwhile === 'lost') {
    browser.indexed.disk.clear();
    await browser.open();
    await rest(browser);
    browser.local.commit();
    browser.kill();
  }
  browser.wrong = days * 86_400_000;
  const later = await browser.open();
  if (meanwhile === 'anew') {
    browser.touch(later, LOGS[1]);
    // The group that it is in has been compared by then, and another has not.
    browser.busy = 500;
    await browser.clock.pass(COMPARED_AFTER + 700);
    browser.touch(later, key);
    browser.busy = 1;
  }
  await rest(browser);
  const { memory } = browser.local;
  const known = [
    ['a text', memory.has(key)],
    ['a version', memory.has(`${keys.VERSION}${key}#`)],
    ['an entry', browser.indexed.disk.has(key)],
  ];
  return `known: ${known.filter(([, there]) => there).map(([what]) => what).join(', ')}`;
}

/** What becomes of a planned pair when localStorage is emptied while a touch of it waits for room. */
async function emptied(apart) {
  const browser = new Browser();
  const [log] = LOGS;
  const page = await browser.open();
  const other = await browser.open();
  browser.replan(page);
  await rest(browser);
  browser.local.full = true;
  if (apart) {
    for (const connection of browser.indexed.connections) if (connection.owner === page.owner) connection.lose();
    browser.touch(page, log);
    browser.local.full = false;
    browser.touch(other, log);
    await browser.clock.pass(100);
  } else {
    browser.touch(page, log);
    await browser.clock.pass(1_000);
    browser.touch(page, log);
  }
  browser.wipeLocal();
  await rest(browser);
  const { memory } = browser.local;
  const aside = [...memory].filter(([key]) => ASIDE.test(key)).map(([, text]) => touchesIn(text));
  return `${touchesIn(memory.get(log))} by plan ${touchesIn(memory.get(PLAN))}, set aside: ${aside.join(' and ')}`;
}

/** The shortest history in which still something is lost. */
async function shorten(steps) {
  for (let at = 0; at < steps.length; ) {
    const fewer = steps.toSpliced(at, 1);
    if (await play(fewer)) {
      steps = fewer;
      at = 0;
    } else {
      at += 1;
    }
  }
  return steps;
}

if (histories === 'taken') {
  console.log(await taken(Number(first), process.argv[5]));
  process.exit(0);
}

if (histories === 'emptied') {
  console.log(await emptied(first === 'apart'));
  process.exit(0);
}

// So many are shortened: enough to see one that is easily understood.
const SHORTENED = 3;
// One history by its steps, as it was told once.
const given = histories === 'steps' ? first.split(',').map(Number) : undefined;
const seeds = given ? [0] : Array.from({ length: Number(histories) }, (_, index) => Number(first) + index);
const lossy = [];
let shortest;
const begin = performance.now();
for (const seed of seeds) {
  const steps = given ?? history(seed);
  if (!(await play(steps))) continue;
  lossy.push(seed);
  if (lossy.length > SHORTENED) continue;
  const short = await shorten(steps);
  if (!shortest || short.length < shortest.short.length) shortest = { seed, short, ...(await play(short)) };
}
const seconds = ((performance.now() - begin) / 1000).toFixed(1);
console.log(`${seeds.length} histories from seed ${seeds[0]} in ${seconds} s, ${lossy.length} lost something`);
if (shortest) {
  console.log(`seeds ${lossy.slice(0, SHORTENED).join(' ')}`);
  console.log(`shortest, seed ${shortest.seed}: ${shortest.lost} lost after\n  ${shortest.story.join('\n  ')}`);
  console.log(`steps ${shortest.short.join(',')}`);
  process.exit(1);
}
