// Now from the first paint on. What was last shown is stored as it was shown, with the steps after it and a few
// before (app/src/screens/now/ahead.rs); this script shows it, and the pad answers, while the app is on its way.
// Every touch is stored at once under a key of its own. The app takes them into the log when it has woken: in
// one operation, and only where the log still is what was shown. This script counts no stitch and writes no log.

// Keys, and what tells a touch from a bounce (app/src/hands/guard.rs), are filled in by packing.
const SHOWN = '__KEY_SHOWN__';
const TOUCHED = '__KEY_TOUCHED__';
// In milliseconds: presses farther apart are two, a finger was lifted, it was held.
const [BOUNCE, LIFTED, HELD] = [Number('__BOUNCE__'), Number('__LIFTED__'), Number('__HELD__')];
// In CSS pixels: farther apart no finger bounces.
const SPOT = Number('__SPOT__');
// What marks the pad and the buttons beside it, and what else does something of its own with keys
// (app/src/hands/keys.rs).
const OWN = '__OWN__';
const CONTROLS = "__CONTROLS__";
// A finger that rests longer than that does not keep the app waiting.
const PATIENCE = 1_500;

/** @typedef {'d' | 'u'} Kind A round done, the last one undone. */
/** @typedef {string} Touch Its kind, and the milliseconds since 1970. */
/**
 * @typedef {object} Shown
 * @property {string} build
 * @property {[string, string | null][]} conditions Texts that have to be stored as they are here.
 * @property {string} base
 * @property {string} look The screen's classes.
 * @property {number} fit The last step of making room for the words.
 * @property {number} alone The step from which on only the letters give way.
 * @property {number} picture The least room in which a picture that gave way is shown, in px.
 * @property {boolean} buzz
 * @property {boolean} by_needle Whether a touch counts a needle.
 * @property {string} waking
 * @property {string[]} pieces Markup that steps share.
 * @property {number[][]} steps Pieces of what is shown now and after each touch.
 * @property {number[][]} back The same after each Undo.
 * @property {string[]} numbers What the pad shows after each touch, further on than the steps go.
 */

/** @type {HTMLMetaElement | null} */
const meta = document.querySelector('meta[name=evenloop-build]');
const main = document.querySelector('.app.at-now main');
const page = document.documentElement;
const shown = main ? read() : undefined;
const section = document.createElement('section');
// Steps on from what was shown.
let at = 0;
// Touches made in this window.
/** @type {Touch[]} */
const own = [];
// When the last one of them was made.
let last = 0;
// Nothing is counted here any more: the app is awake, or what is shown is not what is stored.
let over = shown === undefined;
// What else was touched, to be opened by the app.
/** @type {string | undefined} */
let wanted;
/** @type {{ pressed: number, x: number, y: number } | undefined} */
let down;
// Since when the app waits for a finger to be lifted.
/** @type {number | undefined} */
let asked;

globalThis.evenloopFirst = {
  // The app stands behind what is shown here and takes the touches into its log, if this says so: from then on none
  // is counted here. A touch that has begun still is.
  close() {
    asked ??= Date.now();
    if (!over && down && Date.now() - asked < PATIENCE) return false;
    over = true;
    return true;
  },
  leave,
  // The second copy can be told what was touched before it was there.
  tell() {
    if (own.length === 0) return;
    const text = localStorage.getItem(TOUCHED);
    if (text !== null) globalThis.evenloopEcho.put(TOUCHED, text, false);
  },
};

if (shown && main) {
  try {
    section.className = `${shown.look} first`;
    count();
    main.append(section);
    page.dataset.first = '';
    show();
    listen();
  } catch (error) {
    // The app will show it, a little later.
    console.warn(error);
    over = true;
    leave();
  }
}

/** @returns {Shown | undefined} */
function read() {
  try {
    /** @type {Shown & { form: number } | null} */
    const shown = JSON.parse(localStorage.getItem(SHOWN) ?? 'null');
    // Another build's markup is not this one's.
    if (shown?.form === 1 && shown.build === meta?.content && belongs(shown)) return shown;
  } catch {
    // No storage, or nothing that can be read.
  }
  return undefined;
}

// Whether pair, log and settings are still those that it was made of.
function belongs(/** @type {Shown} */ { conditions }) {
  return conditions.every(([key, text]) => localStorage.getItem(key) === text);
}

// All queues with that of the touches made on what is shown, and the touches, those of this window among them. A line
// is a queue: what was shown, `n` where a touch counts a needle, the touches (app/src/store/first_paint.rs).
function queue() {
  const base = shown?.base ?? '';
  const lines = (localStorage.getItem(TOUCHED) ?? '').split('\n').filter(Boolean);
  const others = lines.filter((line) => !line.startsWith(`${base}\t`));
  const mine = lines.filter((line) => !others.includes(line));
  const touches = mine.flatMap((line) => line.split('\t')[2]?.split(' ') ?? []);
  const missing = own.filter((touch) => !touches.includes(touch));
  touches.push(...missing);
  const text = [...others, [base, shown?.by_needle ? 'n' : 'r', touches.join(' ')].join('\t')].join('\n');
  return { text, touches, changed: missing.length > 0 };
}

// Goes on from touches that were stored before: a page that was closed too early left them.
function count() {
  at = 0;
  for (const touch of queue().touches) at += touch.startsWith('d') ? 1 : -1;
}

function store() {
  const { text, changed } = queue();
  if (!changed) return;
  localStorage.setItem(TOUCHED, text);
  globalThis.evenloopEcho?.put(TOUCHED, text, false);
}

function possible(/** @type {Kind} */ kind) {
  if (over || !shown) return false;
  return kind === 'd' ? at + 1 < shown.numbers.length : at > -shown.back.length;
}

function touched(/** @type {Kind} */ kind) {
  if (!shown || !possible(kind)) return wait();
  // No two are of the same millisecond, so that each can be told from the others.
  last = Math.max(Date.now(), last + 1);
  own.push(kind + last);
  try {
    store();
  } catch {
    // What finds no room is not counted; the app will say so.
    own.pop();
    return wait();
  }
  at += kind === 'd' ? 1 : -1;
  if (shown.buzz) navigator.vibrate?.(25);
  show();
}

function show() {
  if (!shown) return;
  const step = at < 0 ? shown.back[-at - 1] : shown.steps[at];
  if (step) {
    const focused = section.contains(document.activeElement) && document.activeElement?.closest(`[${OWN}]`);
    section.innerHTML = step.map((piece) => shown.pieces[piece]).join('');
    section.querySelector('.undo')?.toggleAttribute('disabled', !possible('u'));
    if (focused instanceof HTMLElement) hands(section, focused.dataset.hands)?.focus();
    fit();
    return;
  }
  const number = section.querySelector('.pad .number');
  if (number) {
    number.textContent = shown.numbers[at] ?? '';
    number.classList.toggle('even', at % 2 === 0);
    number.classList.toggle('odd', at % 2 !== 0);
  }
  wait();
}

// The words for what is at hand are not here yet.
function wait() {
  const label = section.querySelector('.pad .label');
  if (label && shown) label.textContent = shown.waking;
  for (const old of section.querySelectorAll('.needles, .then, .where')) old.classList.add('old');
  section.querySelector('.instruction')?.replaceChildren();
}

// As the app makes room for the words: see app/src/screens/now/fit.rs.
function fit() {
  const words = section.querySelector('.instruction');
  if (!words || !shown) return;
  room(0);
  // Nothing in the picture need be laid out for it.
  section.dataset.looking = '';
  for (let step = 0; step <= shown.fit; step += 1) {
    section.dataset.fit = String(Math.min(step, shown.alone));
    section.dataset.letters = String(Math.max(step - shown.alone, 0));
    if (words.scrollHeight <= words.clientHeight + 1) break;
  }
  const last = words.lastElementChild;
  const px = last instanceof HTMLElement ? Math.max(words.clientHeight - last.offsetTop - last.offsetHeight - 3, 0) : 0;
  section.toggleAttribute('data-small', isSmall(px));
  delete section.dataset.looking;
  room(px);
}

// Whether the picture, with so many px more, is less than three quarters as high as the whole picture.
function isSmall(/** @type {number} */ px) {
  const picture = section.querySelector('.needles');
  const whole = picture?.querySelector('svg')?.viewBox.baseVal;
  if (!picture || !whole) return false;
  return picture.clientHeight + px < (0.75 * picture.clientWidth * whole.height) / whole.width;
}

// What the words leave to the picture, in px.
function room(/** @type {number} */ px) {
  section.style.setProperty('--room', `${px}px`);
  section.toggleAttribute('data-picture', shown !== undefined && px >= shown.picture);
}

function leave() {
  page.removeAttribute('data-first');
  const focused = section.contains(document.activeElement);
  const remove = () => section.remove();
  // The app's own screen makes room for its words before it is painted.
  requestAnimationFrame(() => requestAnimationFrame(remove));
  setTimeout(remove, 250);
  const awake = main?.querySelector(':scope > :not(.first)');
  if (focused) hands(awake, 'pad')?.focus();
  if (wanted) hands(awake, wanted)?.click();
  wanted = undefined;
}

// The button of a screen that is called so.
/** @returns {HTMLElement | null | undefined} */
function hands(/** @type {Element | null | undefined} */ screen, /** @type {string | undefined} */ called) {
  return screen?.querySelector(`[${OWN}="${called}"]`);
}

function listen() {
  /** @type {Record<Kind, { pressed: number, lifted: number, x?: number, y?: number } | undefined>} */
  const before = { d: undefined, u: undefined };
  /** Whether it is the finger of the contact before, which left the glass for a moment only. */
  const bounces = (
    /** @type {Kind} */ kind,
    /** @type {{ pressed: number, lifted: number, x?: number, y?: number }} */ contact,
  ) => {
    const last = before[kind];
    before[kind] = contact;
    if (!last) return false;
    const { x, y, pressed } = contact;
    const far =
      x !== undefined && y !== undefined && last.x !== undefined && last.y !== undefined &&
      Math.hypot(x - last.x, y - last.y) > SPOT;
    const [sincePress, sinceLift] = [pressed - last.pressed, pressed - last.lifted];
    return !far && sincePress >= 0 && sincePress < BOUNCE && sinceLift >= 0 && sinceLift < LIFTED;
  };
  const button = (/** @type {Event} */ { target }) =>
    target instanceof Element ? target.closest('button') : null;
  const kindOf = (/** @type {Element | null} */ one) =>
    one?.matches('.pad') ? 'd' : one?.matches('.undo') ? 'u' : undefined;
  const lifted = () => {
    section.querySelector('.pad')?.classList.remove('pressed');
    // What a touch asks for comes with the click, which comes first.
    setTimeout(() => {
      down = undefined;
    });
  };
  section.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    const one = button(event);
    if (!kindOf(one)) return;
    down = { pressed: event.timeStamp, x: event.clientX, y: event.clientY };
    if (kindOf(one) === 'd') one?.classList.add('pressed');
  });
  for (const end of ['pointerup', 'pointercancel']) addEventListener(end, lifted);
  section.addEventListener('contextmenu', (event) => event.preventDefault());
  section.addEventListener('click', (event) => {
    if (over) return;
    const one = button(event);
    const kind = kindOf(one);
    if (!kind) {
      wanted = one?.dataset.hands ?? wanted;
      return;
    }
    const time = event.timeStamp;
    const contact = down ? { ...down, lifted: time } : { pressed: time, lifted: time };
    // Held, it asks for several at once, which is the app's.
    if (time - contact.pressed < HELD && !bounces(kind, contact)) touched(kind);
  });
  // Keys and pedals, as the app takes them: see app/src/hands/keys.rs.
  addEventListener('keydown', (event) => {
    const { key, timeStamp } = event;
    const target = event.target instanceof Element ? event.target : null;
    const own = target?.closest(`[${OWN}]`);
    const press = own && (key === ' ' || key === 'Enter');
    // A button repeats its press while Enter is held.
    if (press && event.repeat) event.preventDefault();
    const others = event.ctrlKey || event.altKey || event.metaKey || event.shiftKey;
    if (over || event.repeat || others || press || (!own && target?.closest(CONTROLS))) return;
    const kind = [' ', 'Enter', 'ArrowRight', 'PageDown'].includes(key)
      ? 'd'
      : ['Backspace', 'ArrowLeft', 'PageUp'].includes(key) ? 'u' : undefined;
    if (!kind) return;
    event.preventDefault();
    if (!bounces(kind, { pressed: timeStamp, lifted: timeStamp })) touched(kind);
  });
  // Kept for the way back, the page heard nothing of what went on meanwhile.
  addEventListener('pageshow', ({ persisted }) => {
    if (!persisted || over || !shown || belongs(shown)) return;
    over = true;
    leave();
  });
  // Another window counts, or the second copy puts back what was lost.
  addEventListener('storage', ({ key, newValue }) => {
    if (over || !shown) return;
    const taken = key === TOUCHED && own.length > 0 && !newValue?.includes(`${shown.base}\t`);
    if (taken || !belongs(shown)) {
      // Taken, they are counted; else the app says that they belong to something else.
      if (taken) own.length = 0;
      over = true;
      leave();
    } else if (key === TOUCHED) {
      store();
      count();
      show();
    }
  });
}
