// The working: each figure's rule, the numbers put in, the result, and what it rests on, line by line.

import { fill, h } from '../common/dom.js';
import { nameAt } from '../form/names.js';
import { formulas } from '../generated/formulas.js';
import { source } from './sources.js';

/** @import { Step } from '../types/plan.d.ts' */
/** @import { FormValues } from '../form/values.js' */
/** @import { Words } from '../common/words.js' */

/** Decimals of a number in the working: enough to follow the sum by hand. */
const DECIMALS = 4;

/**
 * A code's words, or what the core wrote where the catalogue has none.
 * @param {Words} words @param {string} key @param {string} otherwise
 */
const worded = (words, key, otherwise) => (words.has(key) ? words.t(key) : otherwise);

/**
 * Millimetres always, whatever the person's unit: a sum cannot be followed in rounded fractions.
 * @param {number} value @param {Step['unit']} unit @param {Words} words
 */
function exact(value, unit, words) {
  const number = words.number(value, { digits: DECIMALS });
  if (unit === 'mm') return `${number}\u00a0mm`;
  if (unit === 'percent') return `${number}\u00a0%`;
  return unit === 'deg' ? `${number}°` : number;
}

/**
 * A number's name: its symbol's, or, in a range, that of the reading the symbol is the path of.
 * @param {string} symbol @param {Words} words @param {FormValues} formValues
 */
const symbolName = (symbol, words, formValues) =>
  (symbol.includes('.') && nameAt(symbol, words, formValues)) || worded(words, `codes.name.${symbol}`, symbol);

/**
 * A rule's formula with its names in the page's language; letters and functions are the same in all of them.
 * @param {Step['rule']} rule @param {Words} words
 */
export const formula = (rule, words) =>
  worded(
    words,
    `codes.formula.${rule}`,
    formulas[rule].replace(/[a-z]\w*/gi, (name) => worded(words, `codes.name.${name}`, name)),
  );

/** One line of the working. @param {Step} step @param {Words} words @param {FormValues} formValues */
export function line(step, words, formValues) {
  const inputs = step.inputs.map(({ symbol, value, unit }) =>
    h('li', {}, h('span', { class: 'symbol', text: symbolName(symbol, words, formValues) }), ' = ', exact(value, unit, words)),
  );
  return [
    h('h3', { text: worded(words, `codes.rule.${step.rule}`, step.rule) }),
    h('p', { class: 'where' }, h('code', { text: step.figure })),
    h('p', { class: 'formula' }, h('code', { text: formula(step.rule, words) })),
    h('ul', { class: 'inputs' }, inputs),
    h('p', { class: 'result' }, words.t('working.result', { value: exact(step.result, step.unit, words) })),
    h('p', { class: 'source', text: words.t('working.source', { source: source(step.source, words) }) }),
  ];
}

/** @param {HTMLElement} container @param {{ steps: Step[], words: Words, formValues: FormValues }} what */
export function showWorking(container, { steps, words, formValues }) {
  fill(
    container,
    h('p', { class: 'hint', text: words.t('working.lead') }),
    h(
      'ol',
      { class: 'working-lines' },
      steps.map((step) => h('li', {}, line(step, words, formValues))),
    ),
  );
}
