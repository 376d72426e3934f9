// The embedded calculator: one neckline's few readings and what to cut, in any
// page. Importing this defines nothing; www/embed.js does.

import lost from 'built:lost-words';
import { visible } from '../common/foreign-text.js';
import { loadReckoner } from '../plan/reckoner.js';
import { loadAllWords } from '../common/words.js';
import { LinkError, briefLink, decodeLink } from '../share/codec.js';
import { button, make } from '../common/controls.js';
import { keepPlace } from '../common/in-hand.js';
import { nameOf } from '../common/known.js';
import { Finish } from '../generated/choices.js';
import { languageOf } from './language.js';
import { fieldsOf, withFinish, withValue } from './fields.js';
import { adoptStyle } from './style.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { Accepted, BriefError } from '../types/errors.d.ts' */
/** @import { Plan } from '../types/plan.d.ts' */
/** @import { EmbedField } from './fields.js' */
/** @import { Reckoner, Unit } from '../plan/reckoner.js' */
/** @import { Words } from '../common/words.js' */

/** @type {Unit[]} */
const UNITS = ['mm', 'cm', 'in'];
const PAUSE_MS = 250;

/** @typedef {{ reckoner: Reckoner, words: Words }} Tools what is fetched before anything can be shown */

/** @type {Map<string, Promise<Words>>} */
const loadedWords = new Map();

/** @param {string} language */
function wordsIn(language) {
  const loading = loadedWords.get(language) ?? loadAllWords(language);
  loadedWords.set(language, loading);
  return loading;
}

/** A field by name: each finish has a width, and what is typed for it goes from one to the other. @param {EmbedField} field */
const nameOfField = ({ path }) => (path[0] === 'finish' ? `finish.${path[2]}` : path.join('.'));

/** Whether a half of a brief's neckline is drawn. @param {Brief} brief */
const isDrawn = ({ neckline: { front, back } }) => 'drawn' in front.outline || 'drawn' in back.outline;

/**
 * `<lieflat-neckline brief finish unit lang>`
 *
 * Attributes: `brief`, the text of a link of this site's share panel (an invented
 * example without it); `finish`, the name of a brief's finish; `unit`, one of
 * mm, cm, in (without it the unit that the link was made in, or mm); `lang`, a language that the page is written in.
 *
 * Events, both bubbling out of the shadow root: `lieflat-plan` with `detail`
 * `{ brief, plan }` whenever the plan changes, `lieflat-errors` with `{ brief, errors }`.
 */
export class LieflatNeckline extends HTMLElement {
  static observedAttributes = ['brief', 'finish', 'unit', 'lang'];

  /** The page that the whole calculator is on; set by www/embed.js. */
  static home = '';

  #root;
  /** Everything shown: what the host's styles set on the element itself ends here. */
  #inside = make('div', { class: 'inside' });
  /** @type {Brief | null} */
  #brief = null;
  /** The unit that the brief of a link was made in. @type {Unit | undefined} */
  #madeIn;
  /** @type {Plan | null} */
  #plan = null;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;
  #drawing = 0;
  /** What it is written in, once that has come. @type {Words | undefined} */
  words;
  /** Each field's input and its place for an error, by its path. @type {Map<string, { input: HTMLElement, error: HTMLElement }>} */
  #errors = new Map();
  /** What was typed and is no number, by its field: the brief cannot hold it. @type {Map<string, string>} */
  #unread = new Map();
  /** Reads what was typed a moment ago, where something was. @type {(() => void) | null} */
  #readNow = null;
  #result = make('div');
  #link = make('a');

  constructor() {
    super();
    this.#root = this.attachShadow({ mode: 'open', delegatesFocus: true });
    adoptStyle(this.#root);
    this.#root.append(this.#inside);
  }

  /** The brief as it stands, the person's changes included. */
  get brief() {
    return this.#brief && structuredClone(this.#brief);
  }

  /** The last good plan. */
  get plan() {
    return this.#plan;
  }

  connectedCallback() {
    void this.#draw();
  }

  disconnectedCallback() {
    this.#readNow?.();
  }

  /** @param {string} name @param {string | null} before @param {string | null} after */
  attributeChangedCallback(name, before, after) {
    if (before === after) return;
    if (name === 'brief') {
      clearTimeout(this.#timer);
      this.#brief = null;
      this.#readNow = null;
      this.#unread.clear();
    }
    if (this.isConnected) void this.#draw();
  }

  get #unit() {
    return UNITS.find((unit) => unit === this.getAttribute('unit')) ?? this.#madeIn ?? 'mm';
  }

  get #finish() {
    return Finish.find((finish) => finish === this.getAttribute('finish'));
  }

  get #language() {
    return languageOf(this.closest('[lang]')?.getAttribute('lang'));
  }

  async #draw() {
    // Attributes may change while words are still on their way: only the last drawing counts.
    const turn = ++this.#drawing;
    const loaded = await Promise.all([loadReckoner(), wordsIn(this.#language)]).catch(() => null);
    if (!loaded) {
      loadedWords.clear();
      if (turn === this.#drawing) this.#sayMissing();
      return;
    }
    if (turn !== this.#drawing) return;
    this.#readNow?.();
    const [reckoner, words] = loaded;
    this.words = words;
    let brief;
    try {
      brief = this.#brief ?? this.#given(reckoner);
    } catch (error) {
      if (!(error instanceof LinkError)) throw error;
      this.#inside.replaceChildren(make('p', { role: 'alert', text: words.t(`share.broken.${error.code}`) }));
      return;
    }
    this.#build(this.#finish ? withFinish(brief, this.#finish) : brief, { reckoner, words });
  }

  // Without a network there are no words from the catalogue either.
  #sayMissing() {
    const { not_loaded: said, again } = lost[this.#language];
    this.#inside.replaceChildren(
      make('p', { role: 'alert', text: said }),
      button(again, () => void this.#draw()),
    );
  }

  /** @param {Reckoner} reckoner */
  #given(reckoner) {
    const text = this.getAttribute('brief')?.trim();
    this.#madeIn = undefined;
    const { brief, unit } = text ? decodeLink(text) : { brief: reckoner.example(this.#unit), unit: undefined };
    this.#madeIn = unit;
    if (!reckoner.planQuick(brief).plan) throw new LinkError('not_a_brief');
    return brief;
  }

  /** @param {Brief} brief @param {Tools} tools */
  #build(brief, tools) {
    const { words } = tools;
    this.#errors.clear();
    this.#result = make('div', { class: 'result', role: 'status', part: 'result' });
    this.#link = make('a', { target: '_blank', rel: 'noopener', part: 'link', text: words.t('embed.open') });
    const form = make(
      'form',
      { part: 'form', novalidate: true, on: { submit: (event) => event.preventDefault() } },
      this.#finishField(brief, tools),
      ...fieldsOf(brief).map((field) => this.#field(field, tools)),
    );
    const title = brief.title || words.t('embed.heading');
    keepPlace(this.#inside, () =>
      this.#inside.replaceChildren(
        make('h2', { part: 'heading', text: visible(title) }),
        isDrawn(brief) ? make('p', { class: 'hint', part: 'hint', text: words.t('embed.drawn') }) : '',
        form,
        this.#result,
        make('p', {}, this.#link),
      ),
    );
    this.#reckon(brief, tools);
  }

  /** @param {Brief} brief @param {Tools} tools */
  #finishField(brief, tools) {
    if (this.#finish) return null;
    const { words } = tools;
    const select = make('select', { id: 'finish', part: 'input' });
    for (const finish of Finish) select.append(make('option', { value: finish, text: words.t(`field.finish.options.${finish}`) }));
    select.value = nameOf(brief.finish);
    select.addEventListener('change', () => {
      this.#readNow?.();
      this.#build(withFinish(this.#brief ?? brief, select.value), tools);
      this.#root.getElementById('finish')?.focus();
    });
    return make('div', { part: 'field' }, make('label', { for: 'finish', text: words.t('embed.finish') }), select);
  }

  /** @param {EmbedField} field @param {Words} words */
  #label({ key, half, isLength }, words) {
    const name = words.t(`embed.field.${key}`);
    const unit = isLength ? this.#unit : '%';
    return words.t(half ? `embed.of_${half}` : 'embed.with_unit', { name, unit });
  }

  /** @param {EmbedField} field @param {Tools} tools */
  #field(field, tools) {
    const { words } = tools;
    const id = field.path.join('-');
    const unit = this.#unit;
    const text = field.isLength ? words.read(field.value, unit) : words.toldNumber(field.value).text;
    const error = make('p', { class: 'error', id: `${id}-error`, hidden: true });
    const input = make('input', {
      id,
      type: 'text',
      inputmode: 'decimal',
      autocomplete: 'off',
      spellcheck: 'false',
      part: 'input',
      'aria-describedby': `${id}-error`,
    });
    input.value = this.#unread.get(nameOfField(field)) ?? text;
    // In the unit that the field is written in: the host's page may ask for another at any moment.
    const read = () => this.#read(field, input.value, { ...tools, unit });
    input.addEventListener('input', () => {
      clearTimeout(this.#timer);
      this.#readNow = read;
      this.#timer = setTimeout(read, PAUSE_MS);
    });
    input.addEventListener('change', read);
    this.#errors.set(field.path.join('.'), { input, error });
    return make('div', { part: 'field' }, make('label', { for: id, text: this.#label(field, words) }), input, error);
  }

  /** @param {EmbedField} field @param {string} text @param {Tools & { unit: Unit }} tools */
  #read(field, text, { unit, ...tools }) {
    clearTimeout(this.#timer);
    this.#readNow = null;
    if (!this.#brief) return;
    const { reckoner } = tools;
    const value = field.isLength ? reckoner.parseLength(text, unit).mm : reckoner.parseNumber(text).value;
    if (value === undefined) this.#unread.set(nameOfField(field), text);
    else this.#unread.delete(nameOfField(field));
    // What cannot be read is refused by the core, which knows what it would take.
    this.#reckon(withValue(this.#brief, field.path, value ?? -1), tools);
  }

  /** @param {Brief} brief @param {Tools} tools */
  #reckon(brief, tools) {
    this.#brief = brief;
    const answer = tools.reckoner.plan(brief);
    for (const { input, error } of this.#errors.values()) {
      input.removeAttribute('aria-invalid');
      error.hidden = true;
    }
    if (answer.plan) {
      this.#plan = answer.plan;
      this.#result.replaceChildren(...this.#figures(answer.plan, tools.words));
      this.#link.href = briefLink(brief, LieflatNeckline.home, this.#unit);
      this.#tell('lieflat-plan', { brief: this.brief, plan: answer.plan });
    } else {
      this.#refuse(answer.errors, tools.words);
      this.#tell('lieflat-errors', { brief: this.brief, errors: answer.errors });
    }
  }

  /** @param {string} name @param {object} detail */
  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  /** @param {BriefError[]} errors @param {Words} words */
  #refuse(errors, words) {
    let elsewhere = false;
    for (const { field, accepted } of errors) {
      const place = this.#errors.get(field);
      const text = this.#accepted(accepted, words);
      if (place) {
        place.input.setAttribute('aria-invalid', 'true');
        place.error.textContent = text;
        place.error.hidden = false;
      } else elsewhere = true;
    }
    const older = make('p', { class: 'older', text: words.t(elsewhere ? 'embed.cannot' : 'embed.older') });
    this.#result.replaceChildren(older, ...(this.#plan ? this.#figures(this.#plan, words) : []));
  }

  /** @param {Accepted} accepted @param {Words} words */
  #accepted({ min, max, unit }, words) {
    if (min === undefined || max === undefined) return words.t('embed.not_taken');
    /** @param {number} value */
    const said = (value) => (unit === 'mm' ? words.length(value, this.#unit) : words.number(value, { digits: 1 }));
    return words.t('embed.accepted', { min: said(min), max: said(max) });
  }

  /** @param {Plan} plan @param {Words} words */
  #figures(plan, words) {
    /** @param {number} mm */
    const length = (mm) => words.length(mm, this.#unit);
    /** @param {string} text @param {string} name */
    const line = (text, name) => make('p', { class: name, part: name, text });
    const lines = [];
    if (plan.strip) {
      const { cut_length: long, cut_width: wide, outcome, spans } = plan.strip;
      const off = Math.max(...spans.map((span) => span.stands_off_mm));
      lines.push(
        line(
          words.t(plan.strip.pieces === 2 ? 'embed.cut_two' : 'embed.cut', { length: length(long.cut_mm), width: length(wide.cut_mm) }),
          'cut',
        ),
      );
      lines.push(line(words.t('embed.range', { low: length(long.low_mm), high: length(long.high_mm) }), 'range'));
      lines.push(line(words.t(`embed.outcome.${outcome}`, { off: length(off) }), 'outcome'));
    }
    if (plan.facing) lines.push(line(words.t('embed.facing', { width: length(plan.facing.cut_width.cut_mm) }), 'cut'));
    const { opening } = plan;
    lines.push(line(words.t(opening.passes ? 'embed.passes' : 'embed.sticks', { by: length(Math.abs(opening.spare_mm)) }), 'opening'));
    return lines;
  }
}
