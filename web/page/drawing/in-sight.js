// While a reading's field has the focus the drawing lights what it measures. Where the drawing does not stand beside the form, it
// comes to the window's top, above the field and its keyboard, for as long.

import { FIELDS } from '../form/fields.js';
import { element } from './nodes.js';

/** @import { Drawing } from './drawing.js' */

/** Where the drawing stays beside the form by itself, as in style.css. */
const BESIDE = '(min-width: 64rem) and (min-height: 40rem)';
/** How much of what the keyboard leaves of a window the drawing takes: a share, and in px the most, and the least that is of use. */
const [SHARE, LEAST, MOST] = [0.38, 110, 300];
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

  // What is pressed stays where it is until it is let go, or the press would come to nothing.
  let isPressed = false;
  for (const name of ['pointerdown', 'pointerup', 'pointercancel'])
    addEventListener(
      name,
      ({ type }) => {
        isPressed = type === 'pointerdown';
      },
      true,
    );

  /** How tall the drawing may be above a field; less than is of use where the window is too low. */
  const height = () => Math.min(MOST, SHARE * (visualViewport?.height ?? innerHeight));

  const stage = () => /** @type {HTMLElement | null} */ (document.querySelector('.draw-stage'));

  /** @param {EventTarget | null} target */
  function follow(target) {
    if (!(target instanceof Element) || stage()?.contains(target)) return;
    const field = /** @type {HTMLElement | null} */ (target.closest('[data-key]'));
    const isLit = page.drawing?.light(FIELDS.find(({ key }) => key === field?.dataset.key)?.paths[0]);
    const isTyped = field?.querySelector('input[type=text]') === target;
    if (!field || !isLit || !isTyped || beside.matches || height() < LEAST) letGo();
    else if (isPressed) addEventListener('pointerup', () => requestAnimationFrame(() => raise(field)), { once: true });
    else requestAnimationFrame(() => raise(field));
  }

  /** @param {HTMLElement} field */
  function raise(field) {
    const drawn = stage();
    if (!drawn || !field.contains(document.activeElement)) return;
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
    if (!holder) return;
    const { style } = document.documentElement;
    style.setProperty('--raised', `${height()}px`);
    style.setProperty('--pushed', `${visualViewport?.offsetTop ?? 0}px`);
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
  visualViewport?.addEventListener('scroll', fitIn);
  visualViewport?.addEventListener('resize', () => {
    fitIn();
    follow(document.activeElement);
  });
  beside.addEventListener('change', () => follow(document.activeElement));
  follow(document.activeElement);
}
