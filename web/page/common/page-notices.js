// Messages about the page itself, above everything else: a brief that came by a
// link, storage that fails, a new version that waits. Each is said once, politely.

/** @import { Values } from './words.js' */

/** @typedef {{ key: string, run: () => void }} Action */
/** @typedef {{ element: HTMLElement, key: string, values: Values, actions: Action[] }} Notice */
/** @typedef {{ t(key: string, values?: Values): string }} Said */
/** @typedef {ReturnType<typeof createNotices>} Notices */

/**
 * @param {HTMLElement} container
 * @param {Said} words
 */
export function createNotices(container, words) {
  /** @type {Map<string, Notice>} */
  const shown = new Map();
  let current = words;
  container.classList.add('notices');
  container.setAttribute('role', 'region');

  /** @param {Notice} notice */
  function draw(notice) {
    const { element, key, values, actions } = notice;
    const text = document.createElement('p');
    text.textContent = current.t(key, values);
    const buttons = actions.map(({ key: label, run }) => {
      const button = document.createElement('button');
      button.type = 'button';
      button.textContent = current.t(label);
      button.addEventListener('click', run);
      return button;
    });
    element.replaceChildren(text, ...buttons);
  }

  /** @param {Said} next */
  function setWords(next) {
    current = next;
    container.setAttribute('aria-label', current.t('keep.notices'));
    shown.forEach(draw);
  }

  setWords(words);
  return {
    /** Whether the next version was asked to take over. */
    updating: false,
    /**
     * @param {string} id - one message of this id at a time
     * @param {{ key: string, values?: Values, actions?: Action[], kind?: 'plain' | 'warning' }} what
     */
    show(id, { key, values = {}, actions = [], kind = 'plain' }) {
      this.hide(id);
      const element = document.createElement('div');
      element.className = `notice notice-${kind}`;
      element.dataset.notice = id;
      // An empty live region first: filled afterwards, it is read out.
      element.setAttribute('role', 'status');
      container.append(element);
      const notice = { element, key, values, actions };
      shown.set(id, notice);
      draw(notice);
    },
    /** @param {string} id */
    hide(id) {
      shown.get(id)?.element.remove();
      shown.delete(id);
    },
    /** @param {string} id */
    has: (id) => shown.has(id),
    /** What a message says, apart from its language. @param {string} id */
    saidOf: (id) => JSON.stringify([shown.get(id)?.key, shown.get(id)?.values]),
    setWords,
  };
}
