// The four steps of what is asked, each folded to a line that says what was told, and what is seldom changed. The form in them comes
// when a person begins: until then all the rest of the page has of it is what stands here, and what is asked of it waits for it.

import { fill, h, settle } from '../common/dom.js';
import { fetched } from '../common/fetched.js';
import { laterStyles } from '../common/later-styles.js';
import { pause } from '../common/turns.js';
import { wholeWords } from '../common/words.js';
import { tab } from '../keep/small-storage.js';
import { idOf } from './fields.js';
import { STEPS, toldOf } from './told.js';

/** @import { Knit } from '../types/brief.d.ts' */
/** @import { Form, Unplanned } from './form.js' */
/** @import { Tools } from './layout.js' */
/** @import { Told } from './told.js' */
/** @import { FormValue } from './values.js' */
/** @import { Doubt } from '../plan/doubts.js' */
/** @import { Reckoner } from '../plan/reckoner.js' */
/** @import { State } from '../common/state.js' */
/** @import { Words } from '../common/words.js' */

/** @typedef {{ state: State, reckoner: Reckoner, words: Words, tools: Tools }} Parts */
/** @typedef {{ details: HTMLDetailsElement, title: HTMLElement, told: HTMLElement }} Step */

const ALL = [...STEPS, 'rest'];
/** What of this tab is remembered: the ids of the folds that stand open, steps and what is rare in them. */
const OPEN = 'open.asks';

/** The folds of what is asked that stood open in this tab. @returns {string[]} */
export function openBefore() {
  const ids = tab.get(OPEN);
  return Array.isArray(ids) ? ids.filter((id) => typeof id === 'string') : [];
}

const whenIdle = globalThis.requestIdleCallback ?? ((/** @type {() => void} */ act) => setTimeout(act, 200));

/** Emits `problems` whenever what is wrong or still needed may have changed. */
export class Steps extends EventTarget {
  #container;
  #parts;
  /** @type {Map<string, Step>} */
  #steps = new Map();
  /** @type {Form | undefined} */
  #form;
  /** @type {Promise<Form> | undefined} */
  #coming;
  /** Left from before, to be taken up once the form is there. @type {Unplanned | undefined} */
  #left;
  #isListening = false;
  /** @type {Doubt[]} */
  #doubts = [];

  /** @param {HTMLElement} container @param {Parts} parts */
  constructor(container, parts) {
    super();
    this.#container = container;
    this.#parts = parts;
    parts.state.addEventListener('plan', () => this.#follow());
    // It does not bubble.
    container.addEventListener('toggle', () => this.#toggled(), true);
  }

  /** Draws the folded steps; those that stood open in this tab come with their fields. */
  async show() {
    const open = openBefore();
    const isOpen = (/** @type {string} */ step) => open.includes(`step-${step}`);
    for (const step of ALL) this.#steps.set(step, this.#draw(step, isOpen(step)));
    this.#write();
    fill(
      this.#container,
      [...this.#steps.values()].map(({ details }) => details),
    );
    if (ALL.some(isOpen)) await Promise.race([this.whole(), this.#isMissing()]);
  }

  /** @param {string} step @param {boolean} isOpen @returns {Step} */
  #draw(step, isOpen) {
    const title = h('span');
    const told = h('span', { class: 'told' });
    const number = STEPS.indexOf(/** @type {Told} */ (step)) + 1;
    const details = h(
      'details',
      { id: `step-${step}`, class: 'step', open: isOpen },
      h('summary', {}, h('h2', {}, number > 0 && h('span', { class: 'number', 'aria-hidden': 'true', text: number }), title), told),
      h('div', { class: 'step-body', id: `step-${step}-body` }),
    );
    return { details, title, told };
  }

  #toggled() {
    const open = [...this.#container.querySelectorAll('details[open]')].map(({ id }) => id);
    // Those of a form that has not come yet stay as they were.
    tab.set(OPEN, [...open, ...openBefore().filter((id) => !document.getElementById(id))]);
    if (open.length) void this.whole();
  }

  /** Done when it is said that the form did not come. */
  #isMissing() {
    return new Promise((resolve) => {
      const watcher = new MutationObserver(() => {
        if (!this.#container.querySelector(':scope > .missing')) return;
        watcher.disconnect();
        resolve(undefined);
      });
      watcher.observe(this.#container, { childList: true });
    });
  }

  // ---- what was told

  /** Writes what each step is called and what was told of it. */
  #write() {
    const { words, state } = this.#parts;
    const brief = (this.#form?.isBehind && this.#form.said) || state.brief;
    for (const [step, { title, told }] of this.#steps) {
      title.textContent = words.t(`section.${step}`);
      const isTold = STEPS.find((one) => one === step);
      const parts = isTold ? toldOf(isTold, brief, { words, unit: state.unit }) : [];
      settle(
        told,
        parts.map((text) => [h('span', { text }), ' ']),
        this.#stillOpen(step),
      );
    }
  }

  /** How many entries of a step are still needed, or need a look. @param {string} step */
  #stillOpen(step) {
    const { words } = this.#parts;
    const body = this.#steps.get(step)?.details;
    /** @param {{ key?: string }[]} all */
    const here = (all) => all.filter(({ key }) => key && body?.querySelector(`#${idOf(key)}`)).length;
    const [needed, wrong] = [here(this.needed), here(this.problems)];
    return [
      needed > 0 && h('span', { class: 'still', text: words.count('told.needed', needed) }),
      wrong > 0 && h('span', { class: 'still bad', text: words.count('told.wrong', wrong) }),
    ];
  }

  // A form that is there tells of each plan by itself. What is wrong with a brief is told by the form.
  #follow() {
    if (this.#form) return;
    this.#write();
    if (this.#parts.state.errors.length) void this.whole();
  }

  // ---- the form

  /** Asks for the form ahead of need, and builds it when nothing else is done; where it does not come, whoever opens a step is told. */
  async ahead() {
    try {
      await Promise.all([import('./form.js'), this.#parts.words.whole(), laterStyles()]);
    } catch {
      return;
    }
    whenIdle(() => void this.whole());
  }

  /** The form, once it is there. @returns {Promise<Form>} */
  whole() {
    this.#coming ??= this.#come();
    return this.#coming;
  }

  async #come() {
    const words = () => this.#parts.words;
    const load = () => Promise.all([import('./form.js'), wholeWords(words), laterStyles()]);
    const [{ Form }] = await fetched(this.#container, load, { key: 'offline.missing', words });
    const form = new Form(this.#container, this.#parts);
    await form.build(pause);
    this.#form = form;
    form.addEventListener('problems', () => {
      this.#write();
      this.dispatchEvent(new Event('problems'));
    });
    if (this.#isListening) this.#listen(form);
    return form;
  }

  /** Reads what is entered from now on, and what was before. */
  listen() {
    this.#isListening = true;
    if (this.#form) this.#listen(this.#form);
  }

  /** @param {Form} form */
  #listen(form) {
    form.listen();
    const left = this.#left;
    this.#left = undefined;
    if (left) form.resume(left);
    form.tell();
    form.doubt(this.#doubts);
  }

  // ---- the form as the rest of the page knows it

  /** Its values by key; none before it is there. */
  get values() {
    return this.#form?.values;
  }

  /** Whether the person has begun with their own and no plan is made of it yet. */
  get isFresh() {
    return this.#form?.isFresh ?? Boolean(this.#left?.fresh);
  }

  /** Whether entries stand there that no plan has taken in. */
  get isBehind() {
    return this.#left !== undefined || Boolean(this.#form?.isBehind);
  }

  get isTyping() {
    return Boolean(this.#form?.isTyping);
  }

  get unplanned() {
    return this.#left ?? this.#form?.unplanned ?? null;
  }

  get needed() {
    return this.#form?.needed ?? [];
  }

  get problems() {
    return this.#form?.problems ?? [];
  }

  readNow() {
    this.#form?.readNow();
  }

  leave() {
    this.#form?.leave();
  }

  /** Says what is wrong beside each field, and here. */
  tell() {
    this.#write();
    this.#form?.tell();
  }

  /** Puts all of it in another language or unit. @param {Words} words */
  refresh(words) {
    this.#parts = { ...this.#parts, words };
    this.#write();
    this.#form?.refresh(words);
  }

  /** @param {Doubt[]} doubts */
  doubt(doubts) {
    this.#doubts = doubts;
    this.#form?.doubt(doubts);
  }

  /** @param {Unplanned} unplanned */
  resume(unplanned) {
    if (this.#form && this.#isListening) {
      this.#form.resume(unplanned);
      return;
    }
    this.#left = unplanned;
    void this.whole();
  }

  startOver() {
    this.#left = undefined;
    this.#form?.startOver();
  }

  /** Does something with the form: at once where it is there, else when it is. @param {(form: Form) => void} act */
  #with(act) {
    if (this.#form) act(this.#form);
    else void this.whole().then(act);
  }

  startOwn() {
    this.#with((form) => form.startOwn());
  }

  /** @param {Record<string, FormValue>} changed @param {string} label */
  change(changed, label) {
    this.#with((form) => form.change(changed, label));
  }

  /** @param {'garment_knit' | 'strip_knit'} part @param {Knit} knit @param {string} label */
  useKnit(part, knit, label) {
    this.#with((form) => form.useKnit(part, knit, label));
  }

  /** Brings a field into view and puts the caret there. @param {string} key */
  focus(key) {
    this.#with((form) => form.focus(key));
  }

  /** Brings a person back to the field they were in last, or to the steps. */
  comeBack() {
    if (this.#form?.comeBack()) return;
    this.#container.querySelector('summary')?.focus();
    this.#container.scrollIntoView();
  }
}
