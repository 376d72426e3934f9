// The working: each figure's rule, the numbers put in, the result, and what it rests on, line by line.

import { fill, h, printAlone } from '../common/dom.js';
import { nameAt } from '../form/names.js';
import { formulas } from '../generated/formulas.js';
import { figureName } from './figures.js';
import { isInAnyUnit, parsed, withNumbers } from './formula.js';
import { math, readable } from './mathml.js';
import { source } from './sources.js';

/** @import { Input, Plan, Rule, Step } from '../types/plan.d.ts' */
/** @import { FormValues } from '../form/values.js' */
/** @import { Tree } from './formula.js' */
/** @import { Said } from './mathml.js' */
/** @import { Words } from '../common/words.js' */
/** @import { Unit } from './reckoner.js' */

/** Decimals of a number in the working: enough to follow the sum by hand. */
const DECIMALS = 4;
/** The symbol of a number that a rule takes as it is. */
const AS_IT_IS = 'x';
/** How wide a letter of a formula is on an average, of the height of the text around it. */
const LETTER = 0.54;
const NO_BREAK_SPACE = '\u00a0';
const MM_PER = { mm: 1, cm: 10, in: 25.4 };

/** @typedef {{ plan: Plan, words: Words, unit: Unit, formValues: FormValues }} Shown what the working is of, and how it is said */
/** @typedef {{ decimals?: number, room: number }} Style how many decimals a number has, and how many letters a line has room for */

/** A rule's formula as a tree. @param {Rule} rule @returns {Tree} */
export const formulaOf = (rule) => parsed(formulas[rule]);

/** The unit that a rule's lengths are in: the person's, unless it counts millimetres. @param {Rule} rule @param {Unit} unit @returns {Unit} */
const unitOf = (rule, unit) => (isInAnyUnit(rule) ? unit : 'mm');

/**
 * Decimals, of inches too: a sum cannot be followed in rounded fractions.
 * @param {Pick<Input, 'value' | 'unit'>} number @param {Words} words @param {Unit} unit @param {number} [decimals]
 */
function plain({ value, unit: of }, words, unit, decimals = DECIMALS) {
  const isLength = of === 'mm';
  // A length of one unit is as exact as of the other.
  const digits = of === 'ratio' ? DECIMALS : isLength && unit !== 'mm' ? Math.min(DECIMALS, decimals + 1) : decimals;
  return words.number(isLength ? value / MM_PER[unit] : value, { digits });
}

/** The same with its unit. @param {Pick<Input, 'value' | 'unit'>} number @param {Words} words @param {Unit} unit @param {number} [decimals] */
function exact(number, words, unit, decimals) {
  const text = plain(number, words, unit, decimals);
  if (number.unit === 'mm') return text + NO_BREAK_SPACE + unit;
  if (number.unit === 'percent') return `${text}${NO_BREAK_SPACE}%`;
  return number.unit === 'deg' ? `${text}°` : text;
}

/** A symbol's name where one rule has its own for it, or as all have it. @param {string} symbol @param {Rule} rule @param {Words} words */
function symbolName(symbol, rule, words) {
  const found = [`codes.name_in.${rule}.${symbol}`, `codes.name.${symbol}`].find((key) => words.has(key));
  return found ? words.t(found) : symbol;
}

/** How a step's names and numbers are said. @param {Step} step @param {Shown} shown @param {number} [decimals] @returns {Said} */
export function saidOf({ rule }, { words, unit }, decimals) {
  return {
    name: (symbol) => symbolName(symbol, rule, words),
    value: (input) => plain(input, words, unitOf(rule, unit), decimals),
    numeral: (text) => words.number(Number(text), { digits: DECIMALS }),
    t: (key, values) => words.t(key, values),
  };
}

/** What a drawn formula is of, for setting it anew where its line turns out narrower than thought. @type {WeakMap<Element, { tree: Tree, said: Said, room: number }>} */
const set = new WeakMap();

/** A formula as it is drawn, and in words for whoever hears it. @param {Tree} tree @param {Said} said @param {number} room @param {string} [more] class */
function drawn(tree, said, room, more = '') {
  const reads = said.t('codes.spoken.equals', { a: readable(tree, said) });
  const paragraph = h('p', { class: `formula ${more}` }, h('span', { class: 'unseen', text: reads }), math(tree, said, room));
  set.set(paragraph, { tree, said, room });
  return paragraph;
}

/** Letters that each try takes off a line, the fewest that one is broken to, and how small a formula may then get. */
const NARROWER = 3;
const NARROWEST = 10;
const SMALLEST = 0.5;

/** Sets formulas that are wider than their lines in more rows, and smaller where that does not do. @param {Element} container */
export function fitFormulas(container) {
  for (const paragraph of container.querySelectorAll('.formula')) {
    const isWide = () => paragraph.scrollWidth > paragraph.clientWidth;
    const of = set.get(paragraph);
    for (let room = (of?.room ?? 0) - NARROWER; of && isWide() && room >= NARROWEST; room -= NARROWER)
      paragraph.lastElementChild?.replaceWith(math(of.tree, of.said, room));
    for (let size = 1; isWide() && size > SMALLEST; size -= 0.05)
      /** @type {HTMLElement} */ (paragraph.lastElementChild).style.fontSize = `${size}em`;
  }
}

/** One line of the working. @param {Step} step @param {Shown} shown @param {Style} style */
export function line(step, shown, { decimals, room }) {
  const { words, unit, formValues } = shown;
  const said = saidOf(step, shown, decimals);
  const tree = formulaOf(step.rule);
  const of = unitOf(step.rule, unit);
  /** @param {Input} input */
  const name = ({ symbol }) =>
    (symbol.includes('.') && nameAt(symbol, words, formValues)) || symbolName(symbol.replace(/.*\..*/, 'change'), step.rule, words);
  const inputs = step.inputs.map((input) =>
    h('li', {}, h('span', { class: 'symbol', text: name(input) }), ' = ', exact(input, words, of, decimals)),
  );
  // A number taken as it is says no more by being put in, and no formula where its rule says so.
  const isSum = tree.kind !== 'name';
  const isTaken = tree.kind === 'name' && tree.symbol === AS_IT_IS;
  return [
    h('h3', { text: figureName(step.figure, shown.plan, words) }),
    h('p', { class: 'rule', text: words.t(`codes.rule.${step.rule}`) }),
    !isTaken && drawn(tree, said, room),
    isSum && drawn(withNumbers(tree, step.inputs), said, room, 'numbers'),
    h('p', { class: 'result' }, words.t('working.result', { value: exact({ value: step.result, unit: step.unit }, words, of, decimals) })),
    isSum && h('ul', { class: 'inputs' }, inputs),
    h('p', { class: 'source', text: words.t('working.source', { source: source(step.source, words) }) }),
    of !== unit && h('p', { class: 'source', text: words.t('working.in_millimetres') }),
  ];
}

/** Letters that a line as wide as an element has room for, by the size of its text. @param {Element} element @param {number} [letter] how wide one is taken for */
export function lettersIn(element, letter = LETTER) {
  const { fontSize } = getComputedStyle(element);
  return Math.max(NARROWEST, Math.floor(element.clientWidth / (Number.parseFloat(fontSize) * letter)));
}

/** Letters that a column of the working has room for on paper: two columns of a sheet of A4 or Letter, in letters of 9 points. */
const PAPER_LETTERS = 44;

/** The lines of the working. @param {Step[]} steps @param {Shown} shown @param {number} room */
const lines = (steps, shown, room) => steps.map((step) => h('li', {}, line(step, shown, { room })));

/** @param {Step[]} steps @param {Shown} shown */
function printWorking(steps, shown) {
  const { words, plan, unit } = shown;
  const heading = plan.title ? words.t('working.printed', { title: plan.title }) : words.t('working.printed_untitled');
  printAlone([
    h('h2', { text: heading }),
    h('p', { text: words.t('working.lead', { unit: words.t(`unit.${unit}`) }) }),
    h('ol', { class: 'working-lines' }, lines(steps, shown, PAPER_LETTERS)),
  ]);
}

/** Watches the width of the working that is shown. @type {ResizeObserver | undefined} */
let watched;

/** @param {HTMLElement} container @param {Shown & { steps: Step[] }} what */
export function showWorking(container, { steps, ...shown }) {
  const { words, unit } = shown;
  const list = h('ol', { class: 'working-lines' }, h('li'));
  fill(
    container,
    h('p', { class: 'hint', text: words.t('working.lead', { unit: words.t(`unit.${unit}`) }) }),
    h(
      'p',
      { class: 'buttons' },
      h('button', { type: 'button', onclick: () => printWorking(steps, shown), text: words.t('working.print') }),
    ),
    list,
  );
  // As wide as a line of it is, columns and all; anew where the page gets another width.
  let wide = 0;
  const lay = () => {
    const { clientWidth, firstElementChild: first } = list;
    if (!first || !clientWidth || clientWidth === wide) return;
    wide = clientWidth;
    fill(list, lines(steps, shown, lettersIn(first)));
    fitFormulas(list);
  };
  lay();
  watched?.disconnect();
  watched = new ResizeObserver(lay);
  watched.observe(list);
}
