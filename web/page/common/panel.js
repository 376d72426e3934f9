// What the panels do alike: they show themselves in a place, listen as long as they are there, and are built anew in another language.

/** @import { Form } from '../form/form.js' */
/** @import { NumberStyle, Values, Words } from './words.js' */
/** @import { Reckoner } from '../plan/reckoner.js' */
/** @import { Session } from '../keep/session.js' */
/** @import { State } from './state.js' */

/** @typedef {{ state: State, reckoner: Reckoner, words: Words }} Shown what every panel is shown with */
/** @typedef {Shown & { form: Form, session: Session }} Page what a panel of kept things is shown with */

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

  /** @param {HTMLElement} container @param {With} page */
  constructor(container, page) {
    this.container = container;
    this.page = page;
    this.state = page.state;
    this.reckoner = page.reckoner;
    this.words = page.words;
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
    this.build();
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
