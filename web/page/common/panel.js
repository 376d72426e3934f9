// What the panels do alike: they show themselves in a place, listen as long as they are there, and are built anew in another language.

import { isText, selectionOf } from './in-hand.js';

/** @import { Steps } from '../form/steps.js' */
/** @import { NumberStyle, Values, Words } from './words.js' */
/** @import { Reckoner } from '../plan/reckoner.js' */
/** @import { Session } from '../keep/session.js' */
/** @import { State } from './state.js' */
/** @import { Unit } from '../plan/reckoner.js' */

/** @typedef {{ state: State, reckoner: Reckoner, words: Words }} Shown what every panel is shown with */
/** @typedef {Shown & { form: Steps, session: Session }} Page what a panel of kept things is shown with */

/**
 * Shows a panel in a place.
 * @template {Shown} With @template {Panel<With>} Made
 * @param {new (container: HTMLElement, page: With) => Made} Kind @param {HTMLElement} container @param {With} page
 */
export function showPanel(Kind, container, page) {
  const panel = new Kind(container, page);
  panel.build();
  return panel;
}

/** @template {Shown} [With=Page] */
export class Panel {
  /** Where this panel's words stand in the catalogue. */
  static words = '';

  #stop = new AbortController();
  /** The unit that it is written in. @type {Unit} */
  #unit;

  /** @param {HTMLElement} container @param {With} page */
  constructor(container, page) {
    this.container = container;
    this.page = page;
    this.state = page.state;
    this.reckoner = page.reckoner;
    this.words = page.words;
    this.#unit = page.state.unit;
  }

  /** Puts the panel's elements in its place; each panel does so in its own way. */
  build() {}

  /** The panel is opened again. */
  unfolded() {}

  /** Hears an event for as long as the panel is there. @param {EventTarget} target @param {string} name @param {() => void} act */
  listen(target, name, act) {
    target.addEventListener(name, act, { signal: this.#stop.signal });
  }

  get isGone() {
    return this.#stop.signal.aborted;
  }

  /** @param {Words} words */
  refresh(words) {
    this.words = words;
    this.rebuild();
  }

  /** Builds the panel anew; what was typed there stays, and the person in the field where they are. */
  rebuild() {
    const before = this.#fields();
    const texts = before.map((one) => (one.value === one.defaultValue ? null : this.#inUnit(one)));
    const at = before.findIndex((one) => one.matches(':focus'));
    const back = at < 0 ? null : selectionOf(before[at]);
    this.#unit = this.state.unit;
    this.build();
    const after = this.#fields();
    // Where it has other fields now, nothing says which was which.
    if (after.length !== before.length) return;
    for (const [index, text] of texts.entries()) if (text !== null) after[index].value = text;
    if (!back) return;
    const [field, fold] = [after[at], after[at].closest('details')];
    if (fold) fold.open = true;
    field.focus({ preventScroll: true });
    back(field);
  }

  /** The fields that are typed in. @returns {HTMLInputElement[]} */
  #fields() {
    return [...this.container.querySelectorAll('input')].filter((one) => isText(one) && !one.readOnly);
  }

  /** What was typed in a field, in the unit of now: the same length, where it is one. @param {HTMLInputElement} input */
  #inUnit(input) {
    const isLength = input.inputMode === 'decimal' && this.#unit !== this.state.unit;
    const mm = isLength ? this.reckoner.parseLength(input.value, this.#unit).mm : undefined;
    return mm === undefined ? input.value : this.words.read(mm, this.state.unit);
  }

  destroy() {
    this.#stop.abort();
    this.container.replaceChildren();
  }

  /** A key of the catalogue in full. @param {string} key */
  #full(key) {
    return `${/** @type {typeof Panel} */ (this.constructor).words}.${key}`;
  }

  /** @param {string} key @param {Values} [values] */
  t(key, values) {
    return this.words.t(this.#full(key), values);
  }

  /** @param {string} key @param {number} count @param {Values} [values] */
  count(key, count, values) {
    return this.words.count(this.#full(key), count, values);
  }

  /** @param {number} mm @param {NumberStyle & { suffix?: boolean }} [options] */
  length(mm, options) {
    return this.words.length(mm, this.state.unit, options);
  }

  /** @param {number} value */
  percent(value) {
    return this.words.percent(value);
  }
}
