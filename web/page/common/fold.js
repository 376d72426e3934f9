// A panel behind its heading: fetched when it is first unfolded, so that a first visit does without it.

import { make } from './controls.js';
import { fetched } from './fetched.js';
import { laterStyles } from './later-styles.js';
import { showPanel } from './panel.js';
import { tab } from '../keep/small-storage.js';
import { wholeWords } from './words.js';

/** @import { Page, Panel } from './panel.js' */
/** @import { Words } from './words.js' */

/** The panels, in the order of the page. Each class is shown once the person's work has been taken up. */
export const PANELS = {
  sizes: () => import('../sizes/sizes-panel.js').then(({ SizesPanel }) => SizesPanel),
  keep: () => import('../keep/keep-panel.js').then(({ KeepPanel }) => KeepPanel),
  share: () => import('../share/share-panel.js').then(({ SharePanel }) => SharePanel),
  outcome: () => import('../learned/outcome-panel.js').then(({ OutcomePanel }) => OutcomePanel),
};

/** One panel's heading, and the panel once it was wanted. */
export class Fold {
  /** @type {Panel | undefined} */
  #panel;
  #isComing = false;

  /**
   * @param {HTMLElement} container
   * @param {keyof typeof PANELS} key
   * @param {Page} page
   */
  constructor(container, key, page) {
    this.key = key;
    this.page = page;
    this.words = page.words;
    this.title = make('h2');
    this.body = make('div', { class: 'folded' });
    this.details = make(
      'details',
      { open: tab.get(`open.${key}`) === true, on: { toggle: () => this.#toggled() } },
      make('summary', {}, this.title),
      this.body,
    );
    container.classList.add('card', 'keep');
    container.hidden = false;
    container.replaceChildren(this.details);
    this.refresh(page.words);
  }

  /** @param {Words} words */
  refresh(words) {
    this.words = words;
    this.title.textContent = words.t(`${this.key}.heading`);
    this.#panel?.refresh(words);
  }

  #toggled() {
    tab.set(`open.${this.key}`, this.details.open);
    if (!this.details.open) return;
    if (this.#panel) this.#panel.unfolded();
    else void this.#fetch();
  }

  async #fetch() {
    if (this.#isComing) return;
    this.#isComing = true;
    const how = { key: 'offline.missing', words: () => this.words, beforeReload: () => this.page.session.flush() };
    /** @returns {Promise<new (container: HTMLElement, page: Page) => Panel>} */
    const load = async () => (await Promise.all([PANELS[this.key](), wholeWords(how.words), laterStyles()]))[0];
    const Kind = await fetched(this.body, load, how);
    this.#panel = showPanel(Kind, this.body, { ...this.page, words: this.words });
  }
}
