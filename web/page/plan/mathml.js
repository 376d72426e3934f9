// A formula's tree set as mathematics, which every current browser draws, and the same read out in words.

/** @import { Input } from '../types/plan.d.ts' */
/** @import { Tree } from './formula.js' */

/**
 * @typedef {object} Said how names and numbers are said
 * @property {(symbol: string) => string} name of a symbol, in words
 * @property {(input: Input) => string} value of a number put in, as the language writes it
 * @property {(text: string) => string} numeral of the formula's own, as the language writes it
 * @property {(key: string, values?: Record<string, string>) => string} t the page's words
 */

const MATHML = 'http://www.w3.org/1998/Math/MathML';
const MINUS = '−';
/** How tightly parts of a formula hold together: what holds less than its place asks for stands in brackets. */
const LOOSE = 0;
const TIMES = 1;
const TIGHT = 2;
const ALONE = 3;
/** Letters that a sign, a bracket or a stroke takes up. */
const SIGN = 3;
/** Letters, its sign with it, that begin no row of their own. */
const SHORT = 7;

/** @param {string} tag @param {Record<string, string>} attributes @param {(Node | string)[]} children */
function m(tag, attributes, ...children) {
  const element = document.createElementNS(MATHML, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}

/** @param {string} text @param {Record<string, string>} [attributes] */
const sign = (text, attributes = {}) => m('mo', attributes, text);

/** Brackets, as tall as what is in them only where that is more than a line. @param {Element} inner @param {[string, string]} pair */
function bracketed(inner, [open, close] = ['(', ')']) {
  const stretchy = String(isTall(inner));
  return row(sign(open, { stretchy }), inner, sign(close, { stretchy }));
}

/** @param {Element} element @returns {boolean} */
const isTall = (element) => ['mfrac', 'mtable'].includes(element.localName) || [...element.children].some(isTall);
/** @param {(Node | string)[]} children */
const row = (...children) => (children.length === 1 && children[0] instanceof Element ? children[0] : m('mrow', {}, ...children));

/** Parts beneath one another, each on a row of its own. @param {Node[]} rows */
const stacked = (rows) => m('mtable', { displaystyle: 'true', columnalign: 'left' }, ...rows.map((one) => m('mtr', {}, m('mtd', {}, one))));

/** Whether a number put in is less than nothing, and so holds like a sum. @param {Tree} tree */
const isBelowZero = (tree) => tree.kind === 'value' && tree.input.value < 0;

/** How tightly a tree holds together. @param {Tree} tree */
function hold(tree) {
  if (tree.kind === 'sum' || isBelowZero(tree)) return LOOSE;
  if (tree.kind === 'product') return TIMES;
  return tree.kind === 'quotient' || tree.kind === 'power' ? TIGHT : ALONE;
}

/** What goes over several numbers, once they stand in it: a sum, or a sum over how many there are. @param {Tree} tree @returns {Tree} */
export function writtenOut(tree) {
  if (tree.kind !== 'call' || tree.of.length === 1 || !['sum', 'mean'].includes(tree.name)) return tree;
  /** @type {Tree} */
  const sum = tree.of.length ? { kind: 'sum', terms: tree.of.map((of) => ({ isLess: false, of })) } : { kind: 'number', text: '0' };
  return tree.name === 'sum' ? sum : { kind: 'quotient', over: sum, under: { kind: 'number', text: String(tree.of.length) } };
}

/** About how many letters across a tree is. @param {Tree} given @param {Said} said @returns {number} */
function across(given, said) {
  const tree = writtenOut(given);
  /** @param {Tree} one */
  const of = (one) => across(one, said);
  /** @param {Tree[]} all */
  const sum = (all) => all.reduce((total, one) => total + of(one) + SIGN, 0);
  switch (tree.kind) {
    case 'number':
      return tree.text.length;
    case 'name':
      return said.name(tree.symbol).length;
    case 'value':
      return said.value(tree.input).length;
    case 'sum':
      return sum(tree.terms.map((term) => term.of));
    case 'product':
      return sum(tree.factors) + SIGN * tree.factors.filter((factor) => hold(factor) < TIMES).length;
    case 'quotient':
      return Math.max(of(tree.over), of(tree.under)) + 1;
    case 'power':
      return of(tree.base) + of(tree.exponent) + SIGN;
    default:
      return sum(tree.of) + nameOf(tree.name, said).length + SIGN;
  }
}

/** A name, on several lines where it is longer than there is room for. @param {string} name @param {number} room */
function named(name, room) {
  if (name.length <= room) return m('mi', {}, name);
  /** @type {string[]} */
  const lines = [];
  for (const word of name.split(' ')) {
    const last = lines.length - 1;
    if (lines.length && lines[last].length + word.length < room) lines[last] += ` ${word}`;
    else lines.push(word);
  }
  return stacked(lines.map((line) => m('mi', {}, line)));
}

/** What stands before a function's brackets. @param {string} name @param {Said} said */
const nameOf = (name, said) => (['sqrt', 'exp', 'deg', 'abs'].includes(name) ? '' : said.t(`codes.function.${name}`));

/**
 * A tree as MathML.
 * @param {Tree} given @param {Said} said @param {number} room in letters; what is wider is broken into rows @param {number} [asks] how tightly its place asks it to hold
 * @returns {Element}
 */
function set(given, said, room, asks = LOOSE) {
  const tree = writtenOut(given);
  // What is raised to a power is told from what stands beside it, a name of several words too.
  const isSeveral = asks === ALONE && tree.kind === 'name' && said.name(tree.symbol).includes(' ');
  if (hold(tree) < asks || isSeveral) return bracketed(set(tree, said, room - SIGN));
  switch (tree.kind) {
    case 'number':
      return m('mn', {}, said.numeral(tree.text));
    case 'name':
      return named(said.name(tree.symbol), room);
    case 'value':
      return m('mn', {}, said.value(tree.input).replace('-', MINUS));
    case 'sum':
      return inRows(
        tree.terms.map(({ isLess, of }, i) => ({
          mark: isLess ? MINUS : i ? '+' : '',
          of,
          asks: isLess ? TIMES : isBelowZero(of) && i ? TIMES : LOOSE,
        })),
        said,
        room,
      );
    case 'product':
      return inRows(
        tree.factors.map((of, i) => ({ mark: i ? '×' : '', of, asks: TIMES })),
        said,
        room,
      );
    case 'quotient':
      return m('mfrac', {}, set(tree.over, said, room - 1), set(tree.under, said, room - 1));
    case 'power':
      return m('msup', {}, set(tree.base, said, room - SIGN, ALONE), set(tree.exponent, said, room));
    default:
      return call(tree, said, room);
  }
}

/**
 * Parts with their signs one after the other, as many to a row as there is room for.
 * @param {{ mark: string, of: Tree, asks: number }[]} parts @param {Said} said @param {number} room
 */
function inRows(parts, said, room) {
  /** @type {Element[][]} */
  const rows = [[]];
  let filled = 0;
  for (const { mark, of, asks } of parts) {
    const width = across(of, said) + SIGN;
    // A short one keeps what follows it beside it: a number with what it counts.
    if (filled > SHORT && filled + width > room) {
      rows.push([]);
      filled = 0;
    }
    filled += width;
    const row = rows[rows.length - 1];
    if (mark) row.push(sign(mark));
    row.push(set(of, said, room - (filled - width) - SIGN, asks));
  }
  return rows.length === 1 ? row(...rows[0]) : stacked(rows.map((one) => m('mrow', {}, ...one)));
}

/** @param {Tree & { kind: 'call' }} tree @param {Said} said @param {number} room */
function call({ name, of }, said, room) {
  const [first] = of;
  if (name === 'deg') return set(first, said, room);
  if (name === 'sqrt') return m('msqrt', {}, set(first, said, room - SIGN));
  if (name === 'exp') return m('msup', {}, m('mi', {}, 'e'), set(first, said, room));
  if (name === 'abs') return bracketed(set(first, said, room - SIGN), ['|', '|']);
  const before = nameOf(name, said);
  // What follows a long name stands beside it only where there is room.
  const inner = of.map((one, i) =>
    row(set(one, said, room - SIGN), ...(i < of.length - 1 ? [m('mo', { separator: 'true' }, said.t('codes.function.separator'))] : [])),
  );
  const width = of.reduce((sum, one) => sum + across(one, said) + SIGN, 0);
  const brackets = bracketed(width + before.length > room && of.length > 1 ? stacked(inner) : row(...inner));
  return before.length > 3 && width + before.length > room ? stacked([named(before, room), brackets]) : row(named(before, room), brackets);
}

/** A formula as MathML, after an equals sign. @param {Tree} tree @param {Said} said @param {number} room in letters @returns {Element} */
export function math(tree, said, room) {
  return m('math', { displaystyle: 'true', 'aria-hidden': 'true' }, m('mrow', {}, sign('='), set(tree, said, room)));
}

/** The same in words, for whoever hears it. @param {Tree} given @param {Said} said @param {number} [asks] @returns {string} */
export function readable(given, said, asks = LOOSE) {
  const tree = writtenOut(given);
  /** @param {string} key @param {Record<string, string>} values */
  const t = (key, values) => said.t(`codes.spoken.${key}`, values);
  /** @param {Tree} one @param {number} [tight] */
  const read = (one, tight) => readable(one, said, tight);
  if (tree.kind !== 'value' && hold(tree) < asks) return t('group', { a: read(tree) });
  switch (tree.kind) {
    case 'number':
      return said.numeral(tree.text);
    case 'name':
      return said.name(tree.symbol);
    case 'value':
      return said.value(tree.input);
    case 'sum':
      return tree.terms.reduce((text, { isLess, of }) => {
        const term = read(of, isLess ? TIMES : LOOSE);
        if (!text) return isLess ? t('less', { a: term }) : term;
        return t(isLess ? 'minus' : 'plus', { a: text, b: term });
      }, '');
    case 'product':
      return tree.factors.map((one) => read(one, TIMES)).reduce((a, b) => t('times', { a, b }));
    case 'quotient':
      return t('over', { a: read(tree.over, TIMES), b: read(tree.under, ALONE) });
    case 'power':
      return t('power', { a: read(tree.base, ALONE), b: read(tree.exponent, ALONE) });
    default: {
      const values = tree.of.map((one) => read(one)).reduce((a, b) => t('and', { a, b }));
      if (tree.name === 'deg') return t('degrees', { a: values });
      return t('of', {
        name: said.t(`codes.function.${tree.name}`),
        a: tree.of.length > 1 || hold(tree.of[0]) < ALONE ? t('group', { a: values }) : values,
      });
    }
  }
}
