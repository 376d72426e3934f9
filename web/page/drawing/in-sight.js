// While a reading's field has the focus the drawing lights what it measures. Where the drawing does not stand beside the form, it
// comes to the window's top, above the field and its keyboard, for as long.

import { FIELDS } from '../form/fields.js';
import { element } from './nodes.js';

/** @import { Drawing } from './drawing.js' */

/** Where the drawing stays beside the form by itself, as in style.css. */
const BESIDE = '(min-width: 64rem) and (min-height: 40rem)';
/** How much of what the keyboard leaves of a window the drawing takes: a share, and in px the least and the most. */
const [SHARE, LEAST, MOST] = [0.38, 140, 300];
/** Between the drawing and the field, px. */
const AIR = 8;

/** @type {WeakSet<object>} */
const followed = new WeakSet();

/** Follows the focus through the form's fields, from now on; asked again it does nothing more. @param {{ drawing?: Drawing }} page */
export function followFocus(page) {
  if (followed.has(page)) return;
  followed.add(page);
  const beside = matchMedia(BESIDE);
  /** Keeps the drawing's own place in the page meanwhile. @type {HTMLElement | undefined} */
  let holder;

  const stage = () => /** @type {HTMLElement | null} */ (document.querySelector('.draw-stage'));

  /** @param {EventTarget | null} target */
  function follow(target) {
    if (!(target instanceof Element) || stage()?.contains(target)) return;
    const field = /** @type {HTMLElement | null} */ (target.closest('[data-key]'));
    const isLit = page.drawing?.light(FIELDS.find(({ key }) => key === field?.dataset.key)?.paths[0]);
    if (!field || !isLit || beside.matches) letGo();
    else raise(field);
  }

  /** @param {HTMLElement} field */
  function raise(field) {
    const drawn = stage();
    if (!drawn) return;
    if (!holder) {
      holder = element('div');
      holder.style.height = `${drawn.offsetHeight}px`;
      drawn.before(holder);
      document.documentElement.classList.add('is-raised');
      fitIn();
      page.drawing?.fit();
    }
    const over = field.getBoundingClientRect().top - drawn.getBoundingClientRect().bottom - AIR;
    if (over < 0) scrollBy(0, over);
  }

  // An on-screen keyboard leaves less of the window, and may push it up.
  function fitIn() {
    const drawn = stage();
    if (!holder || !drawn) return;
    const { height, offsetTop } = visualViewport ?? { height: innerHeight, offsetTop: 0 };
    const { style } = document.documentElement;
    style.setProperty('--raised', `${Math.min(MOST, Math.max(LEAST, SHARE * height))}px`);
    style.setProperty('--pushed', `${offsetTop}px`);
  }

  function letGo() {
    if (!holder) return;
    holder.remove();
    holder = undefined;
    document.documentElement.classList.remove('is-raised');
    page.drawing?.fit();
  }

  addEventListener('focusin', ({ target }) => follow(target));
  addEventListener('focusout', ({ relatedTarget }) => {
    // Another window's turn leaves the focus where it is.
    if (!relatedTarget && document.hasFocus()) follow(document.body);
  });
  for (const name of ['resize', 'scroll']) visualViewport?.addEventListener(name, fitIn);
  beside.addEventListener('change', () => follow(document.activeElement));
  follow(document.activeElement);
}
