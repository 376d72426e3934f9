// The class view: the drawing and one line of the working at a time, large enough for the back row of a workshop.

import { byId, fill, h } from '../common/dom.js';
import { isForPage } from '../common/keys.js';
import { line } from './working.js';

/** @import { Plan, Step } from '../types/plan.d.ts' */
/** @import { Reckoner } from './reckoner.js' */
/** @import { State } from '../common/state.js' */
/** @import { Values, Words } from '../common/words.js' */
/** @import { FormValues } from '../form/values.js' */

/**
 * @param {HTMLElement} container for the working
 * @param {{ state: State, reckoner: Reckoner, words: () => Words, formValues: () => FormValues, onToggle: () => void }} parts
 */
export function createClassView(container, { state, reckoner, words, formValues, onToggle }) {
  let at = 0;
  /** @type {Plan | null} */
  let asked = null;
  /** @type {Step[]} */
  let steps = [];
  /** @type {Element | null} */
  let returnTo = null;
  /** @param {string} selector */
  const focusOn = (selector) => /** @type {HTMLElement | null} */ (container.querySelector(selector))?.focus();
  const isOpen = () => document.documentElement.classList.contains('class-view');

  /** Reads the working where the plan is another one than it was read for. */
  function read() {
    if (state.quick || asked === state.plan) return;
    asked = state.plan;
    steps = reckoner.working(state.planned);
  }

  function show() {
    if (!isOpen() || !state.plan) return;
    read();
    at = Math.max(0, Math.min(at, steps.length - 1));
    /** @param {string} key @param {Values} [values] */
    const t = (key, values) => words().t(key, values);
    /** @param {number} by */
    const move = (by) => {
      if (steps.length) at = (at + by + steps.length) % steps.length;
      show();
      focusOn(by > 0 ? '.next' : '.previous');
    };
    fill(
      container,
      h(
        'div',
        { class: 'heading-row' },
        h('h2', { text: t('class_view.heading') }),
        h('button', { type: 'button', class: 'close', onclick: close, text: t('class_view.close') }),
      ),
      h('p', {
        class: 'count',
        hidden: !steps.length,
        text: t('class_view.count', { n: words().number(at + 1), all: words().number(steps.length) }),
      }),
      h('div', { class: 'line', 'aria-live': 'polite' }, steps.length > 0 && line(steps[at], words(), formValues())),
      h(
        'div',
        { class: 'buttons' },
        h('button', { type: 'button', class: 'previous', onclick: () => move(-1), text: t('class_view.previous') }),
        h('button', { type: 'button', class: 'next', onclick: () => move(1), text: t('class_view.next') }),
      ),
    );
  }

  /** @param {boolean} open */
  function toggle(open) {
    document.documentElement.classList.toggle('class-view', open);
    container.hidden = !open;
    for (const part of document.querySelectorAll('[data-not-in-class]')) part.toggleAttribute('inert', open);
    onToggle();
    show();
  }

  function open() {
    // Asked for twice while it was on its way.
    if (isOpen()) return;
    returnTo = document.activeElement;
    toggle(true);
    focusOn('.next');
    scrollTo(0, 0);
  }

  function close() {
    toggle(false);
    (returnTo instanceof HTMLElement && returnTo.isConnected ? returnTo : byId('open-class-view')).focus();
  }

  state.addEventListener('plan', show);
  addEventListener('keydown', (event) => {
    if (isOpen() && event.key === 'Escape' && isForPage(event)) close();
  });
  return { open, close, refresh: show };
}
