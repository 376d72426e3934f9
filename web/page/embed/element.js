// The embedded calculator: one neckline's few readings and what to cut, in any
// page. Importing this defines nothing; www/embed.js does.

import { visible } from '../common/foreign-text.js';
import { isLanguage } from '../common/languages.js';
import { loadReckoner } from '../plan/reckoner.js';
import { loadAllWords } from '../common/words.js';
import { LinkError, briefLink, decodeBrief } from '../share/codec.js';
import { button, make } from '../common/controls.js';
import { fieldsOf, finishOf, withFinish, withValue } from './fields.js';
import { adoptStyle } from './style.js';

const FINISHES = ['band', 'tape', 'bound', 'facing'];
const UNITS = ['mm', 'cm', 'in'];
const PAUSE_MS = 250;
const MISSING = {
  en: ['Lieflat could not be loaded.', 'Try again'],
  es: ['No se pudo cargar Lieflat.', 'Intentar de nuevo'],
};

const loadedWords = new Map();

function wordsIn(language) {
  if (!loadedWords.has(language)) loadedWords.set(language, loadAllWords(language));
  return loadedWords.get(language);
}

/**
 * `<lieflat-neckline brief finish unit lang>`
 *
 * Attributes: `brief`, the text of a link of this site's share panel (an invented
 * example without it); `finish`, one of band, tape, bound, facing; `unit`, one of
 * mm, cm, in; `lang`, en or es.
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
  #brief = null;
  #plan = null;
  #timer = 0;
  #drawing = 0;

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
    clearTimeout(this.#timer);
  }

  attributeChangedCallback(name, before, after) {
    if (before === after) return;
    if (name === 'brief') this.#brief = null;
    if (this.isConnected) void this.#draw();
  }

  get #unit() {
    return UNITS.includes(this.getAttribute('unit')) ? this.getAttribute('unit') : 'mm';
  }

  get #language() {
    const wanted = this.closest('[lang]')?.getAttribute('lang') ?? 'en';
    const short = wanted.toLowerCase().split('-')[0];
    return isLanguage(short) ? short : 'en';
  }

  async #draw() {
    // Attributes may change while words are still on their way: only the last drawing counts.
    const turn = ++this.#drawing;
    let reckoner;
    let words;
    try {
      [reckoner, words] = await Promise.all([loadReckoner(), wordsIn(this.#language)]);
    } catch {
      loadedWords.clear();
      if (turn === this.#drawing) this.#sayMissing();
      return;
    }
    if (turn !== this.#drawing) return;
    Object.assign(this, { reckoner, words });
    try {
      this.#brief ??= this.#given();
    } catch (error) {
      if (!(error instanceof LinkError)) throw error;
      this.#inside.replaceChildren(make('p', { role: 'alert', text: words.t(`share.broken.${error.code}`) }));
      return;
    }
    const finish = this.getAttribute('finish');
    if (FINISHES.includes(finish)) this.#brief = withFinish(this.#brief, finish);
    this.#build();
    this.#reckon();
  }

  // Without a network there are no words from the catalogue either.
  #sayMissing() {
    const [said, again] = MISSING[this.#language] ?? MISSING.en;
    this.#inside.replaceChildren(
      make('p', { role: 'alert', text: said }),
      button(again, () => void this.#draw()),
    );
  }

  #given() {
    const text = this.getAttribute('brief')?.trim();
    const brief = text ? decodeBrief(text) : this.reckoner.example();
    if (!this.reckoner.planQuick(brief).plan) throw new LinkError('not_a_brief');
    return brief;
  }

  #t(key, values) {
    return this.words.t(`embed.${key}`, values);
  }

  #build() {
    this.errors = new Map();
    this.result = make('div', { class: 'result', role: 'status', part: 'result' });
    this.link = make('a', { target: '_blank', rel: 'noopener', part: 'link', text: this.#t('open') });
    this.form = make(
      'form',
      { part: 'form', novalidate: true, on: { submit: (event) => event.preventDefault() } },
      this.#finishField(),
      ...fieldsOf(this.#brief).map((field) => this.#field(field)),
    );
    const title = this.#brief.title || this.#t('heading');
    this.#inside.replaceChildren(
      make('h2', { part: 'heading', text: visible(title) }),
      this.#isDrawn() ? make('p', { class: 'hint', part: 'hint', text: this.#t('drawn') }) : '',
      this.form,
      this.result,
      make('p', {}, this.link),
    );
  }

  #isDrawn() {
    const { front, back } = this.#brief.neckline;
    return 'drawn' in front.outline || 'drawn' in back.outline;
  }

  #finishField() {
    if (FINISHES.includes(this.getAttribute('finish'))) return null;
    const select = make('select', { id: 'finish', part: 'input' });
    for (const finish of FINISHES) select.append(make('option', { value: finish, text: this.#t(`finish.${finish}`) }));
    select.value = finishOf(this.#brief);
    select.addEventListener('change', () => {
      this.#brief = withFinish(this.#brief, select.value);
      this.#build();
      this.#reckon();
      this.#root.getElementById('finish')?.focus();
    });
    return make('div', { part: 'field' }, make('label', { for: 'finish', text: this.#t('finish.label') }), select);
  }

  #label({ key, half, isLength }) {
    const name = this.#t(`field.${key}`);
    const unit = isLength ? this.#unit : '%';
    return half ? this.#t(`of_${half}`, { name, unit }) : this.#t('with_unit', { name, unit });
  }

  #field(field) {
    const id = field.path.join('-');
    const text = field.isLength
      ? this.words.length(field.value, this.#unit, { suffix: false })
      : this.words.number(field.value, { digits: 1 });
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
    input.value = text;
    input.addEventListener('input', () => {
      clearTimeout(this.#timer);
      this.#timer = setTimeout(() => this.#read(field, input), PAUSE_MS);
    });
    input.addEventListener('change', () => this.#read(field, input));
    this.errors.set(field.path.join('.'), { input, error });
    return make('div', { part: 'field' }, make('label', { for: id, text: this.#label(field) }), input, error);
  }

  #read(field, input) {
    clearTimeout(this.#timer);
    const read = field.isLength ? this.reckoner.parseLength(input.value, this.#unit) : this.reckoner.parseNumber(input.value);
    const value = field.isLength ? read.mm : read.value;
    // What cannot be read is refused by the core, which knows what it would take.
    this.#brief = withValue(this.#brief, field.path, value ?? -1);
    this.#reckon();
  }

  #reckon() {
    const answer = this.reckoner.plan(this.#brief);
    for (const { input, error } of this.errors.values()) {
      input.removeAttribute('aria-invalid');
      error.hidden = true;
    }
    if (answer.plan) {
      this.#plan = answer.plan;
      this.#show();
      this.#tell('lieflat-plan', { brief: this.brief, plan: answer.plan });
    } else {
      this.#refuse(answer.errors);
      this.#tell('lieflat-errors', { brief: this.brief, errors: answer.errors });
    }
  }

  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  #refuse(errors) {
    let elsewhere = false;
    for (const { field, accepted } of errors) {
      const place = this.errors.get(field);
      const text = this.#accepted(accepted);
      if (place) {
        place.input.setAttribute('aria-invalid', 'true');
        place.error.textContent = text;
        place.error.hidden = false;
      } else elsewhere = true;
    }
    const older = make('p', { class: 'older', text: this.#t(elsewhere ? 'cannot' : 'older') });
    this.result.replaceChildren(...(this.#plan ? [older, ...this.#figures(this.#plan)] : [older]));
  }

  #accepted(accepted) {
    const { min, max, unit } = accepted ?? {};
    if (typeof min !== 'number' || typeof max !== 'number') return this.#t('not_taken');
    const said = (value) => (unit === 'mm' ? this.words.length(value, this.#unit) : this.words.number(value, { digits: 1 }));
    return this.#t('accepted', { min: said(min), max: said(max) });
  }

  #show() {
    this.result.replaceChildren(...this.#figures(this.#plan));
    this.link.href = briefLink(this.#brief, LieflatNeckline.home);
  }

  #figures(plan) {
    const length = (mm) => this.words.length(mm, this.#unit);
    const line = (text, name) => make('p', { class: name, part: name, text });
    const lines = [];
    if (plan.strip) {
      const { cut_length: long, cut_width: wide, outcome } = plan.strip;
      lines.push(
        line(this.#t(plan.strip.pieces === 2 ? 'cut_two' : 'cut', { length: length(long.cut_mm), width: length(wide.cut_mm) }), 'cut'),
      );
      lines.push(line(this.#t('range', { low: length(long.low_mm), high: length(long.high_mm) }), 'range'));
      lines.push(line(this.#t(`outcome.${outcome}`), 'outcome'));
    }
    if (plan.facing) lines.push(line(this.#t('facing', { width: length(plan.facing.cut_width.cut_mm) }), 'cut'));
    const { opening } = plan;
    lines.push(line(this.#t(opening.passes ? 'passes' : 'sticks', { by: length(Math.abs(opening.spare_mm)) }), 'opening'));
    return lines;
  }
}
