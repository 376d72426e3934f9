// Elements in few words. Text is only ever set as text.

/** @import { Listener } from './dom.js' */

/** @typedef {{ field: HTMLElement, input: HTMLInputElement, setError(text: string): void }} TextField */
/** @typedef {Record<string, string | number | boolean | null | undefined | Record<string, Listener>>} Options */

/**
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} tag
 * @param {Options} [options] - `text`, `class`, `on` (event name to listener);
 *   anything else is an attribute, left out where it is undefined, null or false
 * @param {...(Node | string | null | undefined)} children
 * @returns {HTMLElementTagNameMap[Tag]}
 */
export function make(tag, options = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(options)) {
    if (name === 'text') element.textContent = String(value);
    else if (typeof value === 'object' && value) {
      for (const [event, listener] of Object.entries(value)) element.addEventListener(event, listener);
    } else if (value === true) element.setAttribute(name, '');
    else if (value !== undefined && value !== null && value !== false) element.setAttribute(name, String(value));
  }
  element.append(...children.filter((child) => child !== null && child !== undefined));
  return element;
}

/** A button that submits nothing. @param {string} text @param {Listener} run @param {Options} [options] */
export const button = (text, run, options = {}) => make('button', { type: 'button', text, on: { click: run }, ...options });

let count = 0;

/** An id that no other element has. @param {string} stem */
export const freshId = (stem) => `${stem}-${++count}`;

/**
 * A labelled text field with its hint and its place for an error.
 * @returns {TextField}
 * @param {{ id?: string, label: string, unit?: string, hint?: string, value?: string, type?: string, inputmode?: string, list?: string,
 *   on?: Record<string, Listener> }} what
 */
export function textField({ id = freshId('kept-field'), label, unit, hint, value = '', type = 'text', inputmode, list, on = {} }) {
  const error = make('p', { class: 'error', id: `${id}-error`, hidden: true });
  const describedBy = [hint && `${id}-hint`, `${id}-error`].filter(Boolean).join(' ');
  const input = make('input', { id, type, inputmode, list, autocomplete: 'off', spellcheck: 'false', 'aria-describedby': describedBy, on });
  // So it can be told later whether someone typed there.
  input.defaultValue = value;
  const name = make('span', { class: 'name', text: label });
  const field = make(
    'div',
    { class: 'field' },
    make('label', { for: id }, name, unit ? make('span', { class: 'unseen', text: `, ${unit}` }) : null),
    hint ? make('p', { class: 'hint', id: `${id}-hint`, text: hint }) : null,
    make('div', { class: 'entry' }, input, unit ? make('span', { class: 'suffix', 'aria-hidden': 'true', text: unit }) : null),
    error,
  );
  return {
    field,
    input,
    setError(text) {
      error.textContent = text;
      error.hidden = text === '';
      if (text) input.setAttribute('aria-invalid', 'true');
      else input.removeAttribute('aria-invalid');
    },
  };
}

/**
 * A choice among a few, as radio buttons. `options`: [value, text] pairs.
 * @template {string} Option
 * @param {{ name?: string, legend: string, options: [Option, string][], value: Option, onChange?: (option: Option) => void }} what
 */
export function choice({ name = freshId('kept-choice'), legend, options, value, onChange }) {
  const picks = options.map(([option, text]) => {
    const input = make('input', { type: 'radio', name, id: `${name}-${option}`, value: option, on: { change: () => onChange?.(option) } });
    input.checked = option === value;
    return { input, label: make('label', { class: 'pick' }, input, make('span', { text })) };
  });
  const group = make(
    'fieldset',
    { class: 'picks' },
    make('legend', { text: legend }),
    make('div', { class: 'options' }, ...picks.map(({ label }) => label)),
  );
  return { group, value: () => picks.find(({ input }) => input.checked)?.input.value };
}

/** Hands a text to the person as a file. @param {string} name @param {string} type @param {BlobPart} text */
export function download(name, type, text) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = make('a', { href: address, download: name, hidden: true });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
