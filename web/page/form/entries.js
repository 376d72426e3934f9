// One field of the form: its element, what is typed in it, and the value that stands for.

import { h } from '../common/dom.js';
import { putText } from '../common/in-hand.js';
import { idOf } from './fields.js';
import { picture } from './pictures.js';

/** @import { Field } from './fields.js' */
/** @import { FormValue } from './values.js' */
/** @import { Reckoner, TextProblem, Unit } from '../plan/reckoner.js' */
/** @import { Words } from '../common/words.js' */

/** Values that round to the same text are the same reading. */
const SAME = 1e-9;
/** @type {Record<string, string>} */
const SUFFIX = { percent: '%', deg: '°' };

/** @typedef {{ words: Words, unit: Unit, reckoner: Reckoner }} How */
/** @typedef {{ value?: FormValue, problem?: TextProblem }} Reading what stands in an entry, or why it cannot be read */
/**
 * @typedef {object} Entry
 * @property {Field} field
 * @property {HTMLElement} element
 * @property {HTMLElement} control what takes the focus
 * @property {(text: string) => void} complain shows or clears what is wrong
 * @property {() => string} text as it stands there
 * @property {(text: string) => void} restore puts a text back that could not be read
 * @property {() => Reading} read
 * @property {(value: FormValue) => void} write
 */
/** @typedef {(field: Field, how: How) => Omit<Entry, 'field'>} Maker */

/**
 * A field's element and how to read and write it.
 * @param {import('./fields.js').Field} field
 * @param {How} how
 * @returns {Entry}
 */
export function createEntry(field, how) {
  const entry = Object.assign(makerOf(field)(field, how), { field });
  entry.element.dataset.key = field.key;
  return entry;
}

/** @param {Field} field @returns {Maker} */
function makerOf({ kind, look }) {
  if (kind === 'choice') return look === 'cards' ? cards : list;
  return kind === 'check' ? check : kind === 'text' ? text : typed;
}

/** @param {Field} field @param {Words} words */
const labelOf = (field, words) => words.t(`${field.words}.label`);

/** @param {Field} field @param {Words} words */
function hintOf(field, words) {
  const key = [`${field.words}.hint_${field.half}`, `${field.words}.hint`].find((one) => words.has(one));
  return key ? h('p', { class: 'hint', id: `${idOf(field.key)}-hint`, text: words.t(key) }) : null;
}

/** @param {Field} field */
const errorOf = (field) => h('p', { class: 'error', id: `${idOf(field.key)}-error`, hidden: true });

/** @param {Field} field @param {Element | null} hint */
function describedBy(field, hint) {
  return `${hint ? `${hint.id} ` : ''}${idOf(field.key)}-error ${idOf(field.key)}-doubt`;
}

/**
 * Shows or clears what is wrong, beside the field.
 * @param {HTMLElement} error @param {HTMLElement} control @returns {(text: string) => void}
 */
function complaint(error, control) {
  return (text) => {
    if (text === error.textContent) return;
    error.textContent = text;
    error.hidden = text === '';
    if (text) control.setAttribute('aria-invalid', 'true');
    else control.removeAttribute('aria-invalid');
  };
}

/** A number or a length: text that stays as typed as long as it says the value. @param {Field} field @param {How} how @returns {Omit<Entry, 'field'>} */
function typed(field, { words, unit, reckoner }) {
  const id = idOf(field.key);
  const hint = hintOf(field, words);
  const error = errorOf(field);
  const control = h('input', {
    id,
    type: 'text',
    inputmode: 'decimal',
    autocomplete: 'off',
    spellcheck: 'false',
    'aria-describedby': `${describedBy(field, hint)} ${id}-exactly`,
  });
  const inUnit = field.kind === 'length' && field.unit === 'mm' ? 'mm' : unit;
  const suffix = unitOf(field, words, inUnit);
  const exactly = h('p', { class: 'hint exactly', id: `${id}-exactly`, hidden: true });
  const element = h(
    'div',
    { class: 'field' },
    h(
      'label',
      { for: id },
      h('span', { class: 'name', text: labelOf(field, words) }),
      suffix.spoken && h('span', { class: 'unseen', text: words.t('field.in_unit', { unit: suffix.spoken }) }),
    ),
    hint,
    h('div', { class: 'entry' }, control, h('span', { class: 'suffix', 'aria-hidden': 'true', text: suffix.shown })),
    exactly,
    error,
  );
  /** @type {{ text: string, value: number | null, exactly: string }} */
  let written = { text: '', value: null, exactly: '' };
  // Whoever types what stands there means what it says, where it was about something else.
  let isTyped = false;
  control.addEventListener('input', () => {
    isTyped = true;
    mark('');
  });
  /** Says what the value is exactly, where what is shown is not that. @param {string} text */
  const mark = (text) => {
    if (text === exactly.textContent) return;
    exactly.textContent = text;
    exactly.hidden = text === '';
  };
  /** @param {string} given @returns {{ value?: number | null, problem?: TextProblem }} */
  const parse = (given) => {
    const result = field.kind === 'length' ? reckoner.parseLength(given, inUnit) : reckoner.parseNumber(given);
    if (result.problem === 'empty') return { value: null };
    if (result.problem !== undefined) return { problem: result.problem };
    const value = 'mm' in result ? result.mm : result.value;
    return { value: field.kind === 'share' ? value / 100 : value };
  };
  /** @param {number} value */
  const told = (value) =>
    field.kind === 'length' ? words.told(value, inUnit) : words.toldNumber(field.kind === 'share' ? 100 * value : value);
  const read = () => (control.value === written.text && !isTyped ? { value: written.value } : parse(control.value));
  return {
    element,
    control,
    complain: complaint(error, control),
    text: () => control.value,
    restore(given) {
      putText(control, given);
      mark('');
    },
    read,
    write(given) {
      const value = typeof given === 'number' ? given : null;
      const now = read().value;
      if (typeof now === 'number' && value !== null && Math.abs(now - value) < SAME) return;
      const { text: shown, exactly: said } = value === null ? { text: '', exactly: '' } : told(value);
      putText(control, shown);
      written = { text: control.value, value, exactly: said };
      isTyped = false;
      mark(said);
    },
  };
}

/** @param {Field} field @param {Words} words @param {Unit} unit */
function unitOf(field, words, unit) {
  if (field.kind === 'length') return { shown: unit, spoken: words.t(`unit.${unit}`) };
  if (field.kind === 'share') return { shown: '%', spoken: words.t('unit.percent') };
  if (field.unit === 'ratio' || field.unit === 'count') return { shown: '', spoken: '' };
  const name = words.t(`unit.${field.unit === 'months' ? 'months_name' : field.unit}`);
  return { shown: SUFFIX[field.unit ?? ''] ?? name, spoken: name };
}

/** @param {Field} field @param {How} how @returns {Omit<Entry, 'field'>} */
function text(field, { words }) {
  const id = idOf(field.key);
  const hint = hintOf(field, words);
  const error = errorOf(field);
  const control = h('input', {
    id,
    type: 'text',
    autocomplete: 'off',
    spellcheck: 'false',
    class: 'wide',
    'aria-describedby': describedBy(field, hint),
  });
  const element = h('div', { class: 'field' }, h('label', { for: id, text: labelOf(field, words) }), hint, control, error);
  return {
    element,
    control,
    complain: complaint(error, control),
    text: () => control.value,
    restore(given) {
      putText(control, given);
    },
    read: () => ({ value: control.value === '' ? null : control.value }),
    write(value) {
      putText(control, String(value ?? ''));
    },
  };
}

/** @param {Field} field @param {How} how @returns {Omit<Entry, 'field'>} */
function list(field, { words }) {
  const id = idOf(field.key);
  const hint = hintOf(field, words);
  const error = errorOf(field);
  const control = h(
    'select',
    { id, autocomplete: 'off', 'aria-describedby': describedBy(field, hint) },
    field.options?.map((option) => h('option', { value: option, text: words.t(`${field.words}.options.${option}`) })),
  );
  const element = h('div', { class: 'field' }, h('label', { for: id, text: labelOf(field, words) }), hint, control, error);
  return {
    element,
    control,
    complain: complaint(error, control),
    text: () => control.value,
    restore() {},
    read: () => ({ value: control.value }),
    write(value) {
      control.value = String(value);
    },
  };
}

/** @param {Field} field @param {How} how @returns {Omit<Entry, 'field'>} */
function check(field, { words }) {
  const id = idOf(field.key);
  const hint = hintOf(field, words);
  const error = errorOf(field);
  const control = h('input', { id, type: 'checkbox', autocomplete: 'off', 'aria-describedby': describedBy(field, hint) });
  const element = h(
    'div',
    { class: 'field' },
    h('label', { class: 'check', for: id }, control, h('span', { text: labelOf(field, words) })),
    hint,
    error,
  );
  return {
    element,
    control,
    complain: complaint(error, control),
    text: () => String(control.checked),
    restore() {},
    read: () => ({ value: control.checked }),
    write(value) {
      control.checked = Boolean(value);
    },
  };
}

/** A choice shown whole, side by side, with pictures. @param {Field} field @param {How} how @returns {Omit<Entry, 'field'>} */
function cards(field, { words }) {
  const id = idOf(field.key);
  const hint = hintOf(field, words);
  const error = errorOf(field);
  const radios = (field.options ?? []).map((option) =>
    h('input', { type: 'radio', name: id, value: option, id: `${id}-${option}`, autocomplete: 'off' }),
  );
  const options = field.options?.map((option, index) =>
    h(
      'label',
      { class: 'pick', for: `${id}-${option}` },
      radios[index],
      field.pictures && picture(`${field.pictures}.${option}`),
      h('span', { text: words.t(`${field.words}.options.${option}`) }),
    ),
  );
  const element = h(
    'fieldset',
    { class: `field picks picks-${field.pictures ?? 'plain'}`, id, 'aria-describedby': describedBy(field, hint) },
    h('legend', { text: labelOf(field, words) }),
    hint,
    h('div', { class: 'options' }, options),
    error,
  );
  const chosen = () => radios.find((radio) => radio.checked) ?? radios[0];
  return {
    element,
    get control() {
      return chosen();
    },
    complain(message) {
      if (message === error.textContent) return;
      error.textContent = message;
      error.hidden = message === '';
    },
    text: () => chosen().value,
    restore() {},
    read: () => ({ value: chosen().value }),
    write(value) {
      for (const radio of radios) radio.checked = radio.value === value;
    },
  };
}
