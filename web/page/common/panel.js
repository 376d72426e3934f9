// What the panels do alike: they show themselves in a place, listen as long as they are there, and are built anew in another language.

export class Panel {
  /** Where this panel's words stand in the catalogue. */
  static words = '';

  /** Shows a panel in a place. @param {Element} container @param {{ state: object, reckoner: object, words: object }} page */
  static in(container, page) {
    const panel = new this(container, page);
    panel.build();
    return panel;
  }

  #stop = new AbortController();

  constructor(container, page) {
    const { state, reckoner, words } = page;
    Object.assign(this, { container, page, state, reckoner, words });
  }

  /** Hears an event for as long as the panel is there. */
  listen(target, name, act) {
    target.addEventListener(name, act, { signal: this.#stop.signal });
  }

  get isGone() {
    return this.#stop.signal.aborted;
  }

  refresh(words) {
    this.words = words;
    this.build();
  }

  destroy() {
    this.#stop.abort();
    this.container.replaceChildren();
  }

  t(key, values) {
    return this.words.t(`${this.constructor.words}.${key}`, values);
  }

  count(key, count, values) {
    return this.words.count(`${this.constructor.words}.${key}`, count, values);
  }

  length(mm, options) {
    return this.words.length(mm, this.state.unit, options);
  }

  percent(value) {
    return this.words.percent(value);
  }
}
