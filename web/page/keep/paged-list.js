// A list of rows of which a page is drawn at a time, however many there are: a change costs no more among thousands
// than among fifty. The pages are chosen by keys, mouse or screen reader, in a place that does not move.

import { button, freshId, make } from '../common/controls.js';

/** @import { Values } from '../common/words.js' */

/** @typedef {{ state?: string, head?: () => Node[], none?: string }} How */

/** Rows on a page. */
const ROWS = 50;

/** @template {object} Item */
export class PagedList {
  element = make('div');
  /** The first row that is drawn. */
  #from = 0;
  /** @type {readonly Item[]} */
  #items = [];
  /** What is drawn now, and in which state. @type {readonly Item[]} */
  #drawn = [];
  /** @type {string | null} */
  #state = null;
  #what;

  /**
   * @param {object} what
   * @param {(item: Item) => HTMLElement} what.row one row; it has its item's key in `data-entry`
   * @param {(item: Item) => string} what.key
   * @param {(key: string, values?: Values) => string} what.t words for the pages
   */
  constructor(what) {
    this.#what = what;
  }

  /**
   * Shows these items; drawn anew only where the page would show something else, for a button must not go from under the finger.
   * @param {readonly Item[]} items each the same object as long as nothing of it has changed
   * @param {How} [how] `state`: whatever else the rows depend on;
   *   `head`: what stands above the rows; `none`: what is said where there are none
   */
  show(items, { state = '', head = () => [], none = '' } = {}) {
    this.#items = items;
    this.#from = Math.max(0, Math.min(this.#from, Math.floor((items.length - 1) / ROWS) * ROWS));
    const rows = items.slice(this.#from, this.#from + ROWS);
    const now = JSON.stringify([state, none, items.length, this.#from]);
    if (now === this.#state && rows.length === this.#drawn.length && rows.every((item, i) => item === this.#drawn[i])) return;
    this.#state = now;
    this.#drawn = rows;
    this.#how = { state, head, none };
    const focus = this.#focused();
    const list = rows.length
      ? make('ul', { class: 'entries' }, ...rows.map(this.#what.row))
      : make('p', { class: 'hint', text: none, hidden: none === '' });
    this.element.replaceChildren(...head(), ...this.#pages(), list);
    this.#refocus(focus);
  }

  /** @type {How} */
  #how = {};

  /** Draws the rows anew, whatever is drawn. */
  redraw() {
    this.#state = null;
    this.show(this.#items, this.#how);
  }

  /** Starts again from the first row. */
  toFirst() {
    this.#from = 0;
  }

  /** Turns to the page of an item, and puts the focus on one of its buttons. @param {string} key @param {string} action */
  focus(key, action) {
    const at = this.#items.findIndex((item) => this.#what.key(item) === key);
    if (at >= 0) this.#turn(Math.floor(at / ROWS) * ROWS);
    this.#refocus({ entry: key, action });
  }

  /** @param {number} from */
  #turn(from) {
    this.#from = from;
    this.show(this.#items, this.#how);
  }

  /** @param {number} from */
  #range(from) {
    return this.#what.t('rows.range', {
      from: String(from + 1),
      to: String(Math.min(from + ROWS, this.#items.length)),
      count: String(this.#items.length),
    });
  }

  #pages() {
    const count = Math.ceil(this.#items.length / ROWS);
    if (count < 2) return [];
    const id = freshId('kept-rows');
    const options = Array.from({ length: count }, (_, i) => make('option', { value: String(i * ROWS), text: this.#range(i * ROWS) }));
    const select = make('select', { id, 'data-action': 'rows' }, ...options);
    select.addEventListener('change', () => this.#turn(Number(select.value)));
    select.value = String(this.#from);
    /** @param {string} name @param {number} from */
    const step = (name, from) =>
      button(this.#what.t(`rows.${name}`), () => this.#turn(from), {
        'data-action': name,
        disabled: from < 0 || from >= this.#items.length,
      });
    return [
      make(
        'p',
        { class: 'pages' },
        make('label', { for: id, text: this.#what.t('rows.shown') }),
        select,
        step('previous', this.#from - ROWS),
        step('next', this.#from + ROWS),
      ),
    ];
  }

  #focused() {
    const at = document.activeElement;
    if (!(at instanceof HTMLElement) || !this.element.contains(at)) return null;
    return { entry: at.closest('li')?.dataset.entry, action: at.dataset.action };
  }

  /** @param {{ entry?: string, action?: string } | null} focus */
  #refocus(focus) {
    if (!focus) return;
    const rows = [...this.element.querySelectorAll('li')];
    const row = rows.find((one) => one.dataset.entry === focus.entry);
    const place = focus.entry === undefined ? this.element : row;
    /** @type {HTMLElement | null | undefined} */
    const wanted = place?.querySelector(`[data-action="${focus.action}"]`);
    const usable =
      wanted && !wanted.matches(':disabled')
        ? wanted
        : (row?.querySelector('button') ?? this.element.querySelector('select') ?? rows[0]?.querySelector('button'));
    usable?.focus();
  }
}
