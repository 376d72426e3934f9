// A part of the page that is fetched when it is wanted. One that does not come says so, and may be asked for again.

import { button, make } from './controls.js';

/**
 * A try may fail again for good, as where a script came and one that it needs did not: so a reload is offered too.
 * @template Part
 * @param {Element} container where it is said
 * @param {() => Promise<Part>} load
 * @param {{ key: string, words: () => { t(key: string): string }, beforeReload?: () => unknown }} how
 * @returns {Promise<Part>} once it has come, if need be after several tries
 */
export async function fetched(container, load, how) {
  for (;;) {
    try {
      const part = await load();
      container.querySelector(':scope > .missing')?.remove();
      return part;
    } catch (error) {
      console.error(error);
      await asked(container, how);
    }
  }
}

/**
 * Says that a part is missing; done when the person asks for it again.
 * @param {Element} container @param {{ key: string, words: () => { t(key: string): string }, beforeReload?: () => unknown }} how
 * @returns {Promise<void>}
 */
function asked(container, { key, words, beforeReload }) {
  /** @param {string} name */
  const t = (name) => words().t(name);
  return new Promise((resolve) => {
    const reload = async () => {
      await beforeReload?.();
      location.reload();
    };
    container.querySelector(':scope > .missing')?.remove();
    container.append(
      make(
        'div',
        { class: 'missing warning', role: 'alert' },
        make('p', { text: t(key) }),
        make(
          'p',
          { class: 'buttons' },
          button(t('offline.again'), () => resolve()),
          button(t('offline.reload'), reload),
        ),
      ),
    );
  });
}
