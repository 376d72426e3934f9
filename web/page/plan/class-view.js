// The class view: the drawing and one line of the working at a time, large enough for the back row of a workshop.

import { byId, fill, h } from '../common/dom.js';
import { isForPage } from '../common/keys.js';
import { wholeWords } from '../common/words.js';

/**
 * @param {HTMLElement} container for the working
 * @param {{ state: object, reckoner: import('./reckoner.js').Reckoner, words: () => import('../common/words.js').Words, formValues: () => object, onToggle: () => void }} parts
 */
export function createClassView(container, { state, reckoner, words, formValues, onToggle }) {
  let at = 0;
  let asked = null;
  let steps = [];
  /** Writes a step; there once steps are. */
  let line;
  let isMissing = false;
  let returnTo = null;
  const isOpen = () => document.documentElement.classList.contains('class-view');

  /** Fetches the working where the plan is another one than it was fetched for. */
  async function read() {
    if (!isOpen() || state.quick || asked === state.plan) return;
    const plan = state.plan;
    asked = plan;
    isMissing = false;
    const parts = [import('../later-parts.js'), reckoner.working(state.planned), wholeWords(words)];
    const fetched = await Promise.all(parts).catch(() => null);
    if (asked !== plan) return;
    isMissing = fetched === null;
    const [later, found] = fetched ?? [];
    line = later?.line;
    steps = found ?? [];
    show();
  }

  function show() {
    if (!isOpen() || !state.plan) return;
    read();
    at = Math.max(0, Math.min(at, steps.length - 1));
    const t = (key, values) => words().t(key, values);
    const move = (by) => {
      if (steps.length) at = (at + by + steps.length) % steps.length;
      if (isMissing) asked = null;
      show();
      container.querySelector(by > 0 ? '.next' : '.previous').focus();
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
      h(
        'div',
        { class: 'line', 'aria-live': 'polite' },
        steps.length ? line(steps[at], words(), formValues()) : t(isMissing ? 'working.not_fetched' : 'working.fetching'),
      ),
      h(
        'div',
        { class: 'buttons' },
        h('button', { type: 'button', class: 'previous', onclick: () => move(-1), text: t('class_view.previous') }),
        h('button', { type: 'button', class: 'next', onclick: () => move(1), text: t('class_view.next') }),
      ),
    );
  }

  function toggle(open) {
    document.documentElement.classList.toggle('class-view', open);
    container.hidden = !open;
    for (const part of document.querySelectorAll('[data-not-in-class]')) part.inert = open;
    onToggle();
    show();
  }

  function open() {
    returnTo = document.activeElement;
    toggle(true);
    container.querySelector('.next').focus();
    scrollTo(0, 0);
  }

  function close() {
    toggle(false);
    (returnTo?.isConnected ? returnTo : byId('open-class-view')).focus();
  }

  state.addEventListener('plan', show);
  addEventListener('keydown', (event) => {
    if (isOpen() && event.key === 'Escape' && isForPage(event)) close();
  });
  return { open, close, refresh: show };
}
