// What stands above the figures: the summary of what is wrong, what is still needed, and whether the plan is older.

import { byId, fill, h } from '../common/dom.js';
import { idOf } from '../form/fields.js';

/** @import { Steps } from '../form/steps.js' */
/** @import { State } from '../common/state.js' */
/** @import { Words } from '../common/words.js' */

/** @typedef {(key: string, text: string) => HTMLElement} Link leads to a field of the form */

/**
 * @param {{ form: Steps, state: State, words: Words, isExample: boolean }} what
 */
export function showNotices({ form, state, words, isExample }) {
  /** @type {Link} */
  const link = (key, text) =>
    h(
      'a',
      {
        href: `#${idOf(key)}`,
        onclick: (event) => {
          event.preventDefault();
          form.focus(key);
        },
      },
      text,
    );
  problems(form, words, link);
  needed(form, words, link);
  byId('example-note').hidden = !isExample || form.isFresh;
  // Under a finger the drawing says so itself: a line above it would move what is held.
  const older = (state.stale || form.isBehind) && !form.isFresh && !state.isDragging;
  for (const note of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll('.older'))) {
    note.hidden = !older;
    note.textContent = older ? words.t('page.older') : '';
  }
  document.documentElement.classList.toggle('is-older', older);
  document.documentElement.classList.toggle('is-fresh', form.isFresh);
}

/** Whether the figures leave out what stands in the form. */
export const isOlder = () => document.documentElement.classList.contains('is-older');

/** A place that says so, as long as it is so: `showNotices` keeps it true. @param {Words} words */
export const olderNote = (words) => h('p', { class: 'older', hidden: !isOlder(), text: words.t('page.older') });

/** @param {Steps} form @param {Words} words @param {Link} link */
function problems(form, words, link) {
  const container = byId('problems');
  const all = form.problems;
  container.hidden = all.length === 0;
  /** @param {Steps['problems'][number]} problem */
  const item = ({ key, name, text }) => h('li', {}, key ? [link(key, name), ` ${text}`] : text);
  fill(
    container,
    all.length > 0 && [h('h3', { id: 'problems-title', text: words.count('errors.heading', all.length) }), h('ul', {}, all.map(item))],
  );
}

/** @param {Steps} form @param {Words} words @param {Link} link */
function needed(form, words, link) {
  const container = byId('needed');
  const all = form.needed;
  container.hidden = !form.isFresh;
  fill(
    container,
    form.isFresh && [
      h('p', { text: all.length ? words.count('page.needed', all.length) : words.t('page.check') }),
      all.length > 0 &&
        h(
          'ul',
          {},
          all.map(({ key, name }) => h('li', {}, link(key, name))),
        ),
    ],
  );
}
