// The class view: the neckline and one idea at a time, in letters that the back row can read, led by keys, a clicker or a finger.

import { byId, fill, h } from '../common/dom.js';
import { isForPage, isModified } from '../common/keys.js';
import { ideasOf, litBy } from './ideas.js';
import { headline, verdicts } from './ticket.js';
import { fitFormulas, lettersIn, line } from './working.js';

/** @import { Plan } from '../types/plan.d.ts' */
/** @import { Idea } from './ideas.js' */
/** @import { Reckoner } from './reckoner.js' */
/** @import { Shown } from './working.js' */
/** @import { State } from '../common/state.js' */
/** @import { Values } from '../common/words.js' */

/** Decimals of a number that a class follows: the core's own are in the working. */
const DECIMALS = 2;
/** What is taller than the room that it has is set smaller, by this much at a time, and no smaller than this. */
const [LESS, LEAST] = [0.05, 0.5];
/** A formula is tried as wide as it may be, its letters taken for narrow: one alone is soon set anew. */
const NARROW_LETTER = 0.44;
/** A finger that goes so far to a side, px, and more to the side than up or down, turns over. */
const SWIPE = 48;

/** What keys do, those of clickers among them: they send the keys of a slide show. @type {Record<string, Act>} */
const KEYS = {
  ArrowRight: 'next',
  PageDown: 'next',
  ArrowDown: 'down',
  ' ': 'down',
  ArrowLeft: 'previous',
  PageUp: 'previous',
  ArrowUp: 'up',
  Home: 'first',
  End: 'last',
  b: 'black',
  '.': 'black',
  f: 'full',
  F5: 'full',
  Escape: 'leave',
};

/** @typedef {'next' | 'previous' | 'down' | 'up' | 'first' | 'last' | 'black' | 'full' | 'leave'} Act */

/**
 * @param {HTMLElement} container for the working
 * @param {{ state: State, reckoner: Reckoner, what: () => Shown, onToggle: () => void }} parts
 */
export function createClassView(container, { state, reckoner, what, onToggle }) {
  const root = document.documentElement;
  const words = () => what().words;
  let at = 0;
  let isWhole = false;
  let isDark = false;
  /** @type {Plan | null} */
  let asked = null;
  /** @type {Idea[]} */
  let all = [];
  /** @type {Element | null} */
  let returnTo = null;
  /** @type {HTMLElement | null} */
  let black = null;
  const isOpen = () => root.classList.contains('class-view');
  /** @param {string} key @param {Values} [values] */
  const t = (key, values) => words().t(key, values);

  // Made once: what stays is not read out anew.
  const dom = {
    topic: h('h2', { tabindex: '-1' }),
    count: h('p', { class: 'count' }),
    line: h('div', { class: 'line', 'aria-live': 'polite' }),
    previous: h('button', { type: 'button', class: 'previous', onclick: () => go(at - 1) }),
    next: h('button', { type: 'button', class: 'next primary', onclick: () => go(at + 1) }),
    whole: h('button', { type: 'button', onclick: () => showWhole(!isWhole) }),
    tone: h('button', { type: 'button', onclick: () => setTone(!isDark) }),
    full: h('button', { type: 'button', onclick: () => void toggleFull() }),
    black: h('button', { type: 'button', onclick: goBlack }),
    close: h('button', { type: 'button', class: 'close', onclick: close }),
  };
  fill(
    container,
    h('div', { class: 'heading-row' }, dom.topic, dom.count),
    dom.line,
    h(
      'div',
      { class: 'buttons' },
      dom.previous,
      dom.next,
      h('span', { class: 'spread' }),
      dom.whole,
      dom.tone,
      dom.full,
      dom.black,
      dom.close,
    ),
  );

  /** Those that are led through: the main ideas, or every line. */
  const ideas = () => all.filter(({ isMain }) => isWhole || isMain);

  /** Reads the working where the plan is another one than it was read for. */
  function read() {
    if (state.quick || asked === state.plan) return;
    asked = state.plan;
    all = ideasOf(reckoner.working(state.planned));
  }

  /** What stands before the first idea: what is made, and what it comes to. @param {Shown} shown */
  function start(shown) {
    const { plan, unit } = shown;
    const { lies, head } = verdicts(plan, words(), unit);
    return [
      h('h3', { text: plan.title || t('class_view.topic.start') }),
      h('p', { class: 'result', text: headline(plan, words(), unit) }),
      [...lies.map(({ text }) => text), head].map((text) => h('p', { class: 'rule', text })),
      h('p', { class: 'source', text: t('class_view.keys') }),
      h('p', { class: 'source', text: t('class_view.letters') }),
    ];
  }

  function show() {
    if (!isOpen() || !state.plan) return;
    read();
    const led = ideas();
    at = Math.max(0, Math.min(at, led.length));
    const idea = at ? led[at - 1] : undefined;
    const topic = idea?.topic ?? 'start';
    root.dataset.topic = topic;
    root.dataset.lit = litBy(idea?.step.figure ?? '');
    sayButtons();
    fill(dom.topic, t(`class_view.topic.${topic}`));
    fill(dom.count, at > 0 && t('class_view.count', { n: words().number(at), all: words().number(led.length) }));
    dom.previous.disabled = at === 0;
    dom.next.disabled = at === led.length;
    setLine(idea);
  }

  /** The idea's words and sums, as large as there is room for. @param {Idea | undefined} idea */
  function setLine(idea) {
    const shown = what();
    for (let size = 1; size >= LEAST; size -= LESS) {
      dom.line.style.fontSize = `${size}em`;
      fill(dom.line, idea ? line(idea.step, shown, { decimals: DECIMALS, room: lettersIn(dom.line, NARROW_LETTER) }) : start(shown));
      fitFormulas(dom.line);
      if (dom.line.scrollHeight <= dom.line.clientHeight || getComputedStyle(dom.line).overflowY === 'visible') return;
    }
  }

  function sayButtons() {
    for (const name of /** @type {const} */ (['previous', 'next', 'whole', 'tone', 'full', 'black', 'close']))
      fill(dom[name], t(`class_view.${name}`));
    dom.whole.setAttribute('aria-pressed', String(isWhole));
    dom.tone.setAttribute('aria-pressed', String(isDark));
    dom.full.hidden = !document.fullscreenEnabled;
  }

  /** @param {number} to */
  function go(to) {
    at = to;
    show();
  }

  /** With every line or the main ones, at the idea that is there or the last before it. @param {boolean} whole */
  function showWhole(whole) {
    const led = ideas();
    const idea = led[at - 1];
    isWhole = whole;
    const now = ideas();
    const before = idea ? all.slice(0, all.indexOf(idea) + 1) : [];
    at = now.filter((one) => before.includes(one)).length;
    show();
  }

  /** @param {boolean} dark */
  function setTone(dark) {
    isDark = dark;
    root.dataset.tone = dark ? 'dark' : 'light';
    sayButtons();
  }

  async function toggleFull() {
    try {
      if (document.fullscreenElement) await document.exitFullscreen();
      else await root.requestFullscreen();
    } catch {
      // A browser that gives none, or not now: all is there without it.
    }
  }

  /** Nothing to be seen, so that the class looks at the teacher; any key or touch brings it back. */
  function goBlack() {
    const before = document.activeElement;
    black = h('button', { type: 'button', class: 'blackness', 'aria-label': t('class_view.black_over'), onclick: light });
    document.body.append(black);
    black.focus();
    function light() {
      black?.remove();
      black = null;
      if (before instanceof HTMLElement) before.focus();
    }
  }

  /** @param {boolean} open */
  function toggle(open) {
    root.classList.toggle('class-view', open);
    if (!open) {
      delete root.dataset.tone;
      delete root.dataset.topic;
      delete root.dataset.lit;
    }
    container.hidden = !open;
    for (const part of document.querySelectorAll('[data-not-in-class]')) part.toggleAttribute('inert', open);
    onToggle();
    show();
  }

  function open() {
    // Asked for twice while it was on its way.
    if (isOpen()) return;
    returnTo = document.activeElement;
    setTone(matchMedia('(prefers-color-scheme: dark)').matches);
    toggle(true);
    dom.next.focus();
    scrollTo(0, 0);
  }

  function close() {
    if (document.fullscreenElement) void document.exitFullscreen();
    toggle(false);
    (returnTo instanceof HTMLElement && returnTo.isConnected ? returnTo : byId('open-class-view')).focus();
  }

  /** Whether all is in sight, so that a key that scrolls has nothing else to do. */
  const isInSight = () => root.scrollHeight <= innerHeight + 1;

  /** @param {KeyboardEvent} event */
  function key(event) {
    if (!isOpen() || !isForPage(event) || isModified(event)) return;
    if (black) {
      event.preventDefault();
      black.click();
      return;
    }
    const act = KEYS[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    // A button that a key presses is pressed.
    const isPress = event.key === ' ' && event.target instanceof HTMLButtonElement;
    if (!act || isPress || ((act === 'down' || act === 'up') && !isInSight())) return;
    event.preventDefault();
    if (act === 'next' || act === 'down') go(at + 1);
    else if (act === 'previous' || act === 'up') go(at - 1);
    else if (act === 'first') go(0);
    else if (act === 'last') go(Number.POSITIVE_INFINITY);
    else if (act === 'black') goBlack();
    else if (act === 'full') void toggleFull();
    else close();
  }

  /** @type {{ x: number, y: number } | null} */
  let touched = null;
  container.addEventListener('pointerdown', ({ pointerType, clientX: x, clientY: y, isPrimary }) => {
    touched = pointerType === 'touch' && isPrimary ? { x, y } : null;
  });
  container.addEventListener('pointerup', ({ clientX, clientY }) => {
    if (!touched) return;
    const [dx, dy] = [clientX - touched.x, clientY - touched.y];
    touched = null;
    if (Math.abs(dx) >= SWIPE && Math.abs(dx) > 2 * Math.abs(dy)) go(dx < 0 ? at + 1 : at - 1);
  });

  state.addEventListener('plan', show);
  addEventListener('keydown', key);
  new ResizeObserver(() => show()).observe(container);
  return { open, close, refresh: show };
}
