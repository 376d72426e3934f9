// The form: built from the table of fields, read when a field is left or after a pause, written when the brief changes.

import { byId, fill, h } from '../common/dom.js';
import { keepPlace } from '../common/in-hand.js';
import { systemOf } from '../common/lengths.js';
import { createEntry } from './entries.js';
import { sentence } from './errors.js';
import { edgeFields, fieldAt, fieldsOf, idOf, isAsked, isOptional } from './fields.js';
import { layout, placeOf } from './layout.js';
import { openBefore } from './steps.js';
import { fullName } from './names.js';
import { isApart } from '../plan/doubts.js';
import { carryOver } from './carry.js';
import {
  FIRST,
  briefOf,
  edgesIn,
  ownValues,
  startingValues,
  usualInstead,
  valuesOf,
  withEdge,
  withSomeEdges,
  withoutEdge,
} from './values.js';

/** @import { Brief, Knit } from '../types/brief.d.ts' */
/** @import { Child } from '../common/dom.js' */
/** @import { Entry } from './entries.js' */
/** @import { Problem } from './errors.js' */
/** @import { Field } from './fields.js' */
/** @import { Tools } from './layout.js' */
/** @import { FormValue, FormValues } from './values.js' */
/** @import { Doubt } from '../plan/doubts.js' */
/** @import { Reckoner, Unit } from '../plan/reckoner.js' */
/** @import { State } from '../common/state.js' */
/** @import { Words } from '../common/words.js' */

/** How long a pause in typing is before what stands there is read, ms: longer than a slow typist's next key. */
const PAUSE = 1200;

/** The readings of both halves that a person types. */
const READINGS = ['front', 'back'].flatMap((half) => ['half_length', 'depth', 'half_width'].map((name) => `${half}.${name}`));

/**
 * Shows or hides; written only where it changes, for all the form's fields are gone through at each change.
 * @param {HTMLElement} element @param {boolean} isShown
 */
function show(element, isShown) {
  if (element.hidden === isShown) element.hidden = !isShown;
}

/** Where a step's fields stand. @param {string} step */
const stepBody = (step) => byId(`step-${step}-body`);

/** The field that an element belongs to. @param {EventTarget | null} element */
const keyAt = (element) => (element instanceof Element ? element.closest('[data-key]')?.getAttribute('data-key') : null) ?? null;

/** @typedef {{ state: State, reckoner: Reckoner, words: Words, tools: Tools }} Parts */
/**
 * @typedef {object} Unplanned what stands in the form and in no brief
 * @property {boolean} fresh whether the person has just started with readings of their own
 * @property {FormValues} sheet the form's values: kept work calls them so
 * @property {Record<string, string>} [texts] what cannot be read, by key
 */

/**
 * @param {HTMLElement} container
 * @param {Parts} parts
 */
export function createForm(container, parts) {
  return new Form(container, parts);
}

/** Emits `problems` whenever what is wrong or still needed may have changed. */
export class Form extends EventTarget {
  #container;
  #state;
  #reckoner;
  #words;
  #tools;
  #values;
  /** @type {Map<string, Entry>} */
  #entries = new Map();
  /** @type {Set<string>} */
  #open = new Set(openBefore());
  /** Whether the person has just started with readings of their own: what is empty is needed then, not wrong. */
  #fresh = false;
  /** Fields of a fresh start that had something in them: emptied again, they are wrong. */
  #touched = /** @type {Set<string>} */ (new Set());
  /** What cannot be read, by key: why. @type {Map<string, Problem['problem']>} */
  #unreadable = new Map();
  /** Says that no more edges may be named, where one more was asked for. */
  #tellFull = () => {};
  /** What the core said of a brief with unreadable entries. @type {Problem[]} */
  #reported = [];
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #pause;
  /** The field that the pause is for: what is typed there is not read yet. @type {string | null} */
  #typed = null;
  /** The unit that the entries are written in. */
  #unit;
  /** The field that the person was in last. @type {string | null} */
  #last = null;
  /** What happened in the form before it could be read. @type {Event[]} */
  #early = [];
  /** @param {Event} event */
  #note = (event) => this.#early.push(event);

  /** @param {HTMLElement} container @param {Parts} parts */
  constructor(container, { state, reckoner, words, tools }) {
    super();
    this.#container = container;
    this.#state = state;
    this.#reckoner = reckoner;
    this.#words = words;
    this.#tools = tools;
    this.#values = valuesOf(state.brief, this.#startingHere());
    this.#unit = state.unit;
  }

  /**
   * Builds the form for the first time, in its steps.
   * @param {() => Promise<void>} pause lets the browser paint between two of them
   */
  async build(pause) {
    this.#container.addEventListener('change', this.#note);
    this.#container.addEventListener('input', this.#note);
    /** @type {[HTMLElement, Child[]][]} */
    const made = [];
    for (const [step, make] of this.#parts()) {
      made.push([stepBody(step), make()]);
      await pause();
    }
    for (const [place, parts] of made) fill(place, parts);
    this.#ask();
  }

  /** Reads what is typed from now on, and what a quick person typed while the core was still on its way. */
  listen() {
    /** @param {Event} event */
    const act = (event) => (event.type === 'change' ? this.#left(event) : this.#typing(event));
    for (const name of ['change', 'input']) {
      this.#container.removeEventListener(name, this.#note);
      this.#container.addEventListener(name, act);
    }
    this.#state.addEventListener('change', () => this.#brief());
    this.#state.addEventListener('plan', () => this.tell());
    for (const event of this.#early.splice(0)) act(event);
    this.#container.addEventListener('focusin', ({ target }) => this.#entered(target));
    this.#container.addEventListener('keydown', (event) => this.#key(event));
    document.addEventListener('click', ({ target }) => this.#pressed(target), true);
  }

  get values() {
    return this.#values;
  }

  /** What stands in the form, right or wrong, as a brief. */
  get said() {
    return briefOf(this.#values);
  }

  /** The values that stand for another brief. @param {Brief} brief */
  valuesOf(brief) {
    return valuesOf(brief, valuesOf(this.#reckoner.example(this.#state.unit)));
  }

  /** What is usual in a unit, in place of values that are still what is usual in the other system. @param {Unit} unit */
  usualIn(unit) {
    return usualInstead(this.#values, unit);
  }

  /** What the form's fields hold of which a brief says nothing. */
  #startingHere() {
    const { unit } = this.#state;
    return valuesOf(this.#reckoner.example(unit), startingValues(unit));
  }

  /** Whether the person has begun with their own and no plan is made of it yet. */
  get isFresh() {
    return this.#fresh;
  }

  /** Puts the form in another language or unit; what was typed stays. @param {Words} words */
  refresh(words) {
    // In another unit what is being typed would say another length: it is read as it was meant.
    if (this.#unit !== this.#state.unit) this.readNow();
    this.#words = words;
    if (systemOf(this.#unit) !== systemOf(this.#state.unit)) this.#followUnit();
    this.#buildAgain();
    this.tell();
  }

  /**
   * What is usual in the new unit takes the place of what was usual in the other, where no brief holds it and nobody typed it: of
   * what is not asked now, and of a start of one's own. A brief that stands is never changed by a unit.
   */
  #followUnit() {
    const fields = new Map(fieldsOf(this.#values).map((field) => [field.key, field]));
    for (const [key, value] of Object.entries(usualInstead(this.#values, this.#state.unit))) {
      const field = fields.get(key);
      const isHeld = field && isAsked(field, this.#values) && !this.#fresh;
      if (!isHeld && !this.#touched.has(key)) this.#values[key] = value;
    }
  }

  /** Empties the readings for a person's own. */
  startOwn() {
    const { unit } = this.#state;
    this.#values = ownValues(this.#reckoner.example(unit), unit);
    this.#fresh = true;
    this.#touched.clear();
    this.#unreadable.clear();
    this.#forgetTyped();
    this.#build();
    this.#read('');
    this.focus(FIRST[0]);
  }

  /** Leaves a fresh start behind: the brief of the state is shown as it is. */
  startOver() {
    this.#fresh = false;
    this.#unreadable.clear();
    this.#reported = [];
    this.#forgetTyped();
    this.#values = valuesOf(this.#state.brief, this.#startingHere());
    keepPlace(this.#container, () => this.#build());
    this.tell();
  }

  /** Fields a fresh start still needs. @returns {{ key: string, name: string }[]} */
  get needed() {
    if (!this.#fresh) return [];
    return [...this.#unreadable]
      .filter(([key, problem]) => problem === 'missing' && !this.#touched.has(key))
      .sort(([a], [b]) => FIRST.indexOf(a) - FIRST.indexOf(b))
      .map(([key]) => ({ key, name: this.#nameOf(this.#entries.get(key)?.field) }));
  }

  /** What is wrong, each with its field. */
  get problems() {
    const errors = this.#unreadable.size ? this.#reported : this.#state.errors;
    const needed = new Set(this.needed.map(({ key }) => key));
    return errors
      .map((error) => {
        const field = fieldAt(error.field, this.#values);
        const share = field?.kind === 'share';
        const text = sentence(error, { words: this.#words, lengths: this.#state.unit, share, isLength: field?.kind === 'length' });
        return { key: field?.key, name: this.#nameOf(field), text };
      })
      .filter(({ key }) => key === undefined || !needed.has(key));
  }

  /** @param {Field | undefined} field */
  #nameOf(field) {
    return field ? fullName(field, this.#words, this.#values) : '';
  }

  /** What stands in the entries that cannot be read. @returns {[string, string][]} */
  #unreadableTexts() {
    return [...this.#unreadable.keys()].map((key) => [key, this.#entries.get(key)?.text() ?? '']);
  }

  /** Whether entries stand there that no plan has taken in. */
  get isBehind() {
    return this.#unreadable.size > 0;
  }

  /**
   * What stands in the form and in no brief, to be taken up again after a reload: the values, and the texts that cannot be read.
   * @returns {Unplanned | null}
   */
  get unplanned() {
    if (!this.isBehind) return null;
    // Kept work calls the values `sheet`, as it always has.
    return { fresh: this.#fresh, sheet: { ...this.#values }, texts: Object.fromEntries(this.#unreadableTexts()) };
  }

  /** Takes up what was left `unplanned`; where that cannot be shown, the brief is shown as it is. @param {Unplanned} left */
  resume({ fresh, sheet: values, texts }) {
    const edges = edgesIn(values);
    if (this.#tooManyEdges(edges)) {
      this.startOver();
      return;
    }
    this.#values = { ...this.#values, ...values, edges };
    this.#fresh = Boolean(fresh);
    this.#touched.clear();
    this.#unreadable.clear();
    this.#forgetTyped();
    try {
      keepPlace(this.#container, () => {
        this.#build();
        for (const [key, text] of Object.entries(texts ?? {})) this.#entries.get(key)?.restore(String(text));
      });
      this.#read('');
    } catch {
      this.startOver();
    }
  }

  /** Whether something stands there that was typed a moment ago and is not read yet. */
  get isTyping() {
    return this.#typed !== null;
  }

  /** Reads at once what was typed a moment ago, as when the page is about to go. */
  readNow() {
    if (this.#typed) this.#readAt(this.#typed);
  }

  /** Reads what was typed a moment ago, and leaves its field: what comes in its place is not to be typed into by mistake. */
  leave() {
    const entry = this.#typed ? this.#entries.get(this.#typed) : undefined;
    this.readNow();
    entry?.control.blur();
  }

  #forgetTyped() {
    clearTimeout(this.#pause);
    this.#typed = null;
  }

  /**
   * Puts a knit in the place of the garment's or the strip's, whatever else still stands open.
   * @param {'garment_knit' | 'strip_knit'} part @param {Knit} knit @param {string} label
   */
  useKnit(part, knit, label) {
    const name = part.replace('_knit', '');
    const values = valuesOf({ ...this.#state.brief, [part]: knit }, this.#values);
    const taken = Object.entries(values).filter(([key]) => key.startsWith(`${name}.`));
    this.change({ ...Object.fromEntries(taken), ...(name === 'strip' && { 'strip.other': 'other' }) }, label);
  }

  /** Changes values as the person would, in one step. @param {Record<string, FormValue>} changed @param {string} label */
  change(changed, label) {
    Object.assign(this.#values, changed);
    for (const key of Object.keys(changed)) {
      this.#unreadable.delete(key);
      this.#entries.get(key)?.write(changed[key]);
    }
    this.#ask();
    this.#read(label);
  }

  /** Shows beside the fields what is doubted of them, though a plan was made. @param {Doubt[]} doubts */
  doubt(doubts) {
    for (const note of this.#container.querySelectorAll('.doubt')) note.remove();
    /** @type {Map<string, string>} */
    const said = new Map(doubts.flatMap(({ keys, text }) => keys.map((key) => [key, text])));
    if (doubts.some(({ isOfWidths }) => isOfWidths)) {
      for (const key of READINGS) {
        const slip = this.#slipAt(key);
        if (slip) said.set(key, [said.get(key), slip].filter(Boolean).join(' '));
      }
    }
    for (const [key, text] of said)
      this.#entries.get(key)?.element.append(h('p', { class: 'caution doubt', id: `${idOf(key)}-doubt` }, `▲ ${text}`));
  }

  /** A reading whose first digit slipped in: asked about where front and back would belong together without it. @param {string} key */
  #slipAt(key) {
    const entry = this.#entries.get(key);
    const text = entry?.text().trim() ?? '';
    if (!entry || entry.element.hidden || !/^\d\d/.test(text)) return '';
    const { mm } = this.#reckoner.parseLength(text.slice(1), this.#state.unit);
    const { plan } = mm ? this.#reckoner.planQuick(briefOf({ ...this.#values, [key]: mm })) : {};
    if (!mm || !plan || isApart(plan)) return '';
    return this.#words.t('doubt.slip', { other: this.#words.length(mm, this.#state.unit), typed: text.replaceAll(' ', '\u00a0') });
  }

  /** Brings a field into view and puts the caret there. @param {string} key */
  focus(key) {
    const entry = this.#entries.get(key);
    if (!entry) return;
    for (let fold = entry.element.closest('details'); fold; fold = fold.parentElement?.closest('details') ?? null) fold.open = true;
    entry.control.focus();
    entry.element.scrollIntoView({ block: 'nearest' });
  }

  /** Brings the person back to the field they were in last; whether there is one. */
  comeBack() {
    if (this.#last === null || !this.#entries.has(this.#last)) return false;
    this.focus(this.#last);
    return true;
  }

  /** The keyboard of a phone says what its Enter does. @param {EventTarget | null} target */
  #entered(target) {
    this.#last = keyAt(target) ?? this.#last;
    if (target instanceof HTMLInputElement && target.type === 'text')
      target.enterKeyHint = this.#nextOf(this.#last ?? '') ? 'next' : 'done';
  }

  /** Enter leads from one reading to the next, and from the last to the figure. @param {KeyboardEvent} event */
  #key(event) {
    const { target, key, isComposing } = event;
    if (key !== 'Enter' || isComposing || !(target instanceof HTMLInputElement) || target.type !== 'text') return;
    event.preventDefault();
    const at = keyAt(target);
    if (at === null) return;
    const wasFresh = this.#fresh;
    this.#readAt(at);
    // What cannot be read is looked at first.
    if (this.#unreadable.has(at) && this.#touched.has(at)) return;
    const next = wasFresh && !this.#fresh ? undefined : this.#nextOf(at);
    if (next === undefined) {
      byId('bar').focus();
      return;
    }
    this.focus(next);
    const { control } = /** @type {Entry} */ (this.#entries.get(next));
    if (control instanceof HTMLInputElement) control.select();
  }

  /** The reading to come to after a field: of a fresh start the next that is needed, else the next that can be seen. @param {string} key */
  #nextOf(key) {
    const needed = this.needed.map((one) => one.key).filter((one) => one !== key);
    if (this.#fresh) return needed.find((one) => FIRST.indexOf(one) > FIRST.indexOf(key)) ?? needed[0];
    const all = /** @type {HTMLInputElement[]} */ ([...this.#container.querySelectorAll('input[type=text]')]);
    const seen = all.filter((input) => input.checkVisibility());
    const at = seen.findIndex((input) => keyAt(input) === key);
    return keyAt(seen[at + 1] ?? null) ?? undefined;
  }

  #build() {
    for (const fold of /** @type {NodeListOf<HTMLDetailsElement>} */ (this.#container.querySelectorAll('details details'))) {
      if (fold.open) this.#open.add(fold.id);
      else this.#open.delete(fold.id);
    }
    this.#entries.clear();
    for (const [step, make] of this.#parts()) fill(stepBody(step), make());
    this.#ask();
  }

  /** Builds the form anew: what stands there and is not read stays, and the person where they are. */
  #buildAgain() {
    const texts = this.#unreadableTexts();
    if (this.#typed) texts.push([this.#typed, this.#entries.get(this.#typed)?.text() ?? '']);
    keepPlace(this.#container, () => {
      this.#build();
      for (const [key, text] of texts) this.#entries.get(key)?.restore(text);
    });
  }

  #parts() {
    this.#unit = this.#state.unit;
    const how = { words: this.#words, unit: this.#state.unit, reckoner: this.#reckoner };
    const fields = new Map(fieldsOf(this.#values).map((field) => [field.key, field]));
    /** @param {string} key */
    const entry = (key) => {
      const made = createEntry(/** @type {Field} */ (fields.get(key)), how);
      this.#entries.set(key, made);
      made.write(this.#values[key]);
      return made.element;
    };
    return layout({ entry, words: this.#words, tools: this.#tools, edges: () => this.#edges(entry), isOpen: (id) => this.#open.has(id) });
  }

  /** @param {(key: string) => HTMLElement} entry */
  #edges(entry) {
    const words = this.#words;
    const rows = Array.from({ length: this.#values.edges }, (_, index) =>
      h(
        'fieldset',
        { class: 'edge' },
        h('legend', { text: words.t('edges.nth', { n: words.number(index + 1) }) }),
        edgeFields(index).map(({ key }) => entry(key)),
        h('button', {
          type: 'button',
          class: 'quiet',
          onclick: () => this.#changeEdges(withoutEdge(this.#values, index)),
          text: words.t('edges.remove'),
        }),
      ),
    );
    const full = h('p', { class: 'error', hidden: true });
    /** @type {Problem | undefined} */
    let refused;
    // Said again with all else that is wrong: in another unit, or once its words have come.
    this.#tellFull = () => {
      full.hidden = !refused;
      full.textContent = refused ? sentence(refused, { words: this.#words, lengths: this.#state.unit }) : '';
    };
    const add = () => {
      refused = this.#tooManyEdges(this.#values.edges + 1);
      this.#tellFull();
      if (refused) return;
      this.#changeEdges(withEdge(this.#values, this.#state.unit));
      this.focus(`edge${this.#values.edges - 1}.name`);
    };
    return h(
      'div',
      { class: 'edges' },
      rows,
      h('button', { type: 'button', class: 'quiet', onclick: add, text: words.t('edges.add') }),
      full,
    );
  }

  /** What the core says of so many edges, where they are more than a brief may hold. @param {number} count */
  #tooManyEdges(count) {
    const { errors } = this.#reckoner.planQuick(withSomeEdges(this.#state.brief, count));
    return errors?.find(({ field }) => field === 'stays.edges');
  }

  /** @param {FormValues} values */
  #changeEdges(values) {
    this.#values = values;
    this.#forgetEdges();
    this.#buildAgain();
    this.#read(this.#words.t('section.stays'));
  }

  // What could not be read of one edge would stand at another.
  #forgetEdges() {
    for (const key of [...this.#unreadable.keys()]) if (key.startsWith('edge')) this.#unreadable.delete(key);
    if (this.#typed?.startsWith('edge')) this.#forgetTyped();
  }

  /** Shows the fields that are asked now. */
  #ask() {
    for (const { element, field } of this.#entries.values()) {
      show(element, isAsked(field, this.#values));
    }
    // What may stay empty is out of the way until it counts.
    for (const place of this.#container.querySelectorAll('[data-place]')) {
      const [key, wanted] = (place.getAttribute('data-place') ?? '').split('=');
      const entry = this.#entries.get(key);
      if (!entry || place.contains(entry.element)) continue;
      if (placeOf(entry.field, this.#values) === wanted) place.append(entry.element);
    }
    for (const part of /** @type {NodeListOf<HTMLElement>} */ (this.#container.querySelectorAll('[data-when]'))) {
      const [key, value] = (part.dataset.when ?? '').split('=');
      show(part, String(this.#values[key]) === value);
    }
  }

  /** @param {Event} event */
  #typing({ target }) {
    if (!(target instanceof HTMLInputElement) || target.type !== 'text') return;
    this.#forgetTyped();
    this.#typed = keyAt(target);
    // Whoever types what stands there already has said it all the same.
    if (this.#typed && target.value.trim()) this.#touched.add(this.#typed);
    this.#pause = setTimeout(() => this.readNow(), PAUSE);
  }

  /** @param {Event} event */
  #left({ target }) {
    const key = keyAt(target);
    if (key) this.#readAt(key);
  }

  // What is pressed finds read what was typed before: on a phone a button may be pressed without the field being left.
  /** @param {EventTarget | null} target */
  #pressed(target) {
    if (this.#typed && keyAt(target) !== this.#typed) this.readNow();
  }

  /** Reads the form after something was done in one of its fields. @param {string} key */
  #readAt(key) {
    this.#forgetTyped();
    const entry = this.#entries.get(key);
    if (!entry) return;
    const { field } = entry;
    if (entry.text().trim() !== '') this.#touched.add(key);
    const before = this.#values[key];
    const { value } = entry.read();
    if (field.kind === 'choice' && value !== before) {
      const carried = carryOver(key, value, this.#told());
      Object.assign(this.#values, carried);
      for (const [other, one] of Object.entries(carried)) this.#entries.get(other)?.write(one);
    }
    this.#read(fullName(field, this.#words, this.#values));
  }

  #told() {
    // A fresh start has nothing yet to carry over: the brief is still the example's.
    if (this.#fresh) return null;
    const answer = this.#reckoner.told(this.#state.brief);
    return answer.told ?? null;
  }

  /** Reads every entry that is asked. Where one cannot be read, the core still says what it would accept. @param {string} label */
  #read(label) {
    /** @type {FormValues} */
    const values = { ...this.#values };
    for (const [key, entry] of this.#entries) {
      const { value, problem } = entry.read();
      values[key] = value ?? null;
      if (problem) values[key] = NaN;
      this.#unreadable.delete(key);
      if (problem) this.#unreadable.set(key, problem);
    }
    for (const [key, { field }] of this.#entries) {
      const numeric = ['length', 'number', 'share'].includes(field.kind);
      if (!isAsked(field, values)) this.#unreadable.delete(key);
      else if (numeric && values[key] === null && !isOptional(field, values)) {
        values[key] = NaN;
        this.#unreadable.set(key, 'missing');
      }
    }
    this.#needEither(values);
    const brief = briefOf(values);
    for (const key of this.#unreadable.keys()) values[key] = this.#values[key] ?? null;
    this.#values = values;
    this.#ask();
    if (!this.#unreadable.size) {
      this.#reported = [];
      this.#fresh = false;
      this.#state.set(brief, { label });
      return;
    }
    this.#reported = this.#overlaid(this.#reckoner.planQuick(brief).errors ?? []);
    this.#state.report(this.#reported);
  }

  /** A fresh start asks for both of a measured half's first readings, though a plan could do with another. @param {FormValues} values */
  #needEither(values) {
    for (const [key, other] of [
      ['front.depth', 'front.half_width'],
      ['back.half_width', 'back.depth'],
    ]) {
      const half = key.split('.')[0];
      const neither = values[key] === null && values[other] === null;
      if (values[`${half}.way`] === 'measured' && neither && !this.#unreadable.has(other)) {
        values[key] = NaN;
        this.#unreadable.set(key, 'missing');
      }
    }
  }

  /** The core's errors, each unreadable entry with what the form knows of it. @param {Problem[]} errors @returns {Problem[]} */
  #overlaid(errors) {
    const found = new Set();
    const named = errors.map((error) => {
      const key = fieldAt(error.field, this.#values)?.key;
      const problem = key && this.#unreadable.get(key);
      if (!problem) return error;
      found.add(key);
      return { ...error, problem };
    });
    for (const [key, problem] of this.#unreadable) {
      const field = this.#entries.get(key)?.field;
      if (field && !found.has(key)) named.push({ field: field.paths[0], problem });
    }
    return named;
  }

  /** Takes over a brief that came from elsewhere: a drag, an undo, a file. */
  #brief() {
    if (this.#state.isDragging) return;
    const next = valuesOf(this.#state.brief, this.#values);
    const before = this.#values;
    this.#values = next;
    const changed = [...this.#entries].filter(([key]) => next[key] !== before[key] && (next[key] != null || before[key] != null));
    for (const [key] of changed) this.#unreadable.delete(key);
    // What is not asked any more is not missing any more, though its value stays none.
    for (const key of this.#unreadable.keys()) {
      const field = this.#entries.get(key)?.field;
      if (field && !isAsked(field, next)) this.#unreadable.delete(key);
    }
    if (next.edges !== before.edges) {
      this.#forgetEdges();
      this.#buildAgain();
      return;
    }
    // What the form itself has just said stands there already.
    if (!changed.length) return;
    for (const [key, entry] of changed) entry.write(next[key]);
    this.#ask();
  }

  /** Says what is wrong beside each field. */
  tell() {
    /** @type {Map<string, string>} */
    const wrong = new Map();
    for (const { key, text } of this.problems) if (key && !wrong.has(key)) wrong.set(key, text);
    for (const [key, entry] of this.#entries) entry.complain(wrong.get(key) ?? '');
    this.#tellFull();
    this.dispatchEvent(new Event('problems'));
  }
}
