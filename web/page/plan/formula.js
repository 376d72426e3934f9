// The core's formulas as trees: what the notation of core/src/rule/formula.rs says, with numbers put in where they are wanted.

/** @import { Input, Rule, Step } from '../types/plan.d.ts' */

/**
 * @typedef {{ kind: 'number', text: string }} Numeral as the formula has it
 * @typedef {{ kind: 'name', symbol: string }} Name of a number that is put in
 * @typedef {{ kind: 'value', input: Input }} Value a number put in, in a name's place
 * @typedef {{ kind: 'sum', terms: { isLess: boolean, of: Tree }[] }} Sum
 * @typedef {{ kind: 'product', factors: Tree[] }} Product
 * @typedef {{ kind: 'quotient', over: Tree, under: Tree }} Quotient
 * @typedef {{ kind: 'power', base: Tree, exponent: Tree }} Power
 * @typedef {{ kind: 'call', name: string, of: Tree[] }} Call a function; `abs` for what stands between bars
 * @typedef {Numeral | Name | Value | Sum | Product | Quotient | Power | Call} Tree
 */

/** Functions that of one value go over every number that is put in for its symbols. */
const OVER_ALL = ['sum', 'mean', 'min'];
/** What a range's readings are called in its formula: each of them is put in by its own path. */
const CHANGE = 'change';

/** A formula's parts from left to right: numbers, words, signs. */
const PARTS = /\s*(\d+(?:\.\d+)?|[a-z]\w*|[-+/^(),|])/giy;

/** @param {string} formula @returns {string[]} */
function partsOf(formula) {
  const parts = [];
  PARTS.lastIndex = 0;
  while (PARTS.lastIndex < formula.length) {
    const found = PARTS.exec(formula);
    if (!found) throw new Error(`no formula: ${formula}`);
    parts.push(found[1]);
  }
  return parts;
}

/** A formula of the core as a tree. @param {string} formula @returns {Tree} */
export function parsed(formula) {
  const parts = partsOf(formula);
  /** @param {string} sign */
  const takes = (sign) => parts[0] === sign && parts.shift() !== undefined;
  /** @param {string} sign */
  const must = (sign) => {
    if (!takes(sign)) throw new Error(`${sign} is missing in ${formula}`);
  };

  /** @returns {Tree} */
  function sum() {
    const terms = [{ isLess: takes('-'), of: product() }];
    for (;;) {
      if (takes('+')) terms.push({ isLess: false, of: product() });
      else if (takes('-')) terms.push({ isLess: true, of: product() });
      else return terms.length === 1 && !terms[0].isLess ? terms[0].of : { kind: 'sum', terms };
    }
  }

  // What stands side by side is multiplied: one quotient divides what stands before its stroke, several make one fraction of it all.
  /** @returns {Tree} */
  function product() {
    const factors = [{ isUnder: false, of: power() }];
    for (;;) {
      if (takes('/')) factors.push({ isUnder: true, of: power() });
      else if (/^[\w(]/.test(parts[0] ?? '')) factors.push({ isUnder: false, of: power() });
      else break;
    }
    /** @param {typeof factors} some */
    const times = (some) => joined(some.map(({ of }) => of));
    const under = factors.filter(({ isUnder }) => isUnder);
    if (!under.length) return times(factors);
    const stroke = factors.indexOf(under[0]);
    if (under.length === 1)
      return joined([
        { kind: 'quotient', over: times(factors.slice(0, stroke)), under: under[0].of },
        ...factors.slice(stroke + 1).map(({ of }) => of),
      ]);
    return { kind: 'quotient', over: times(factors.filter(({ isUnder }) => !isUnder)), under: times(under) };
  }

  /** @returns {Tree} */
  function power() {
    const base = single();
    return takes('^') ? { kind: 'power', base, exponent: single() } : base;
  }

  /** @returns {Tree} */
  function single() {
    if (takes('(')) {
      const inner = sum();
      must(')');
      return inner;
    }
    if (takes('|')) {
      const inner = sum();
      must('|');
      return { kind: 'call', name: 'abs', of: [inner] };
    }
    const part = parts.shift() ?? '';
    if (/^\d/.test(part)) return { kind: 'number', text: part };
    if (!/^[a-z]/i.test(part)) throw new Error(`what is ${part} in ${formula}?`);
    // A symbol before brackets is multiplied by them: only what is written against its bracket is a function.
    if (!isFunction(part) || !takes('(')) return { kind: 'name', symbol: part };
    const of = [sum()];
    while (takes(',')) of.push(sum());
    must(')');
    return { kind: 'call', name: part, of };
  }

  const tree = sum();
  if (parts.length) throw new Error(`${parts.join(' ')} is left of ${formula}`);
  return tree;
}

/** @param {Tree[]} factors @returns {Tree} */
const joined = (factors) => (factors.length === 1 ? factors[0] : { kind: 'product', factors });

/** What the functions do with their values, by the names that the formulas have for them. @type {Record<string, (...values: number[]) => number>} */
export const FUNCTIONS = {
  abs: Math.abs,
  acos: Math.acos,
  asin: Math.asin,
  ceil: Math.ceil,
  deg: (angle) => (angle * 180) / Math.PI,
  exp: Math.exp,
  floor: Math.floor,
  ln: Math.log,
  // Of an angle that there is none of, the other is the greater.
  max: (...values) => Math.max(...values.filter((value) => !Number.isNaN(value))),
  mean: (...values) => values.reduce((sum, value) => sum + value, 0) / values.length,
  min: Math.min,
  // The widest that passes is sought: its rule says which number passed.
  passes: (width) => width,
  round: Math.round,
  sin: Math.sin,
  sqrt: Math.sqrt,
  sum: (...values) => values.reduce((sum, value) => sum + value, 0),
  tan: Math.tan,
};

/** @param {string} name */
const isFunction = (name) => name in FUNCTIONS;

/** A number's symbol in its formula. @param {Input} input */
const symbolOf = ({ symbol }) => (symbol.includes('.') ? CHANGE : symbol);

/** The symbols in a tree. @param {Tree} tree @returns {string[]} */
export function symbolsIn(tree) {
  if (tree.kind === 'name') return [tree.symbol];
  return inside(tree).flatMap(symbolsIn);
}

/** @param {Tree} tree @returns {Tree[]} */
function inside(tree) {
  if (tree.kind === 'sum') return tree.terms.map(({ of }) => of);
  if (tree.kind === 'product') return tree.factors;
  if (tree.kind === 'quotient') return [tree.over, tree.under];
  if (tree.kind === 'power') return [tree.base, tree.exponent];
  return tree.kind === 'call' ? tree.of : [];
}

/**
 * A formula with a step's numbers in the place of its names. Where a function goes over all numbers of a symbol, they follow one another in it.
 * @param {Tree} tree @param {Input[]} inputs @param {number} [turn] which of the numbers of one symbol is meant @returns {Tree}
 */
export function withNumbers(tree, inputs, turn = 0) {
  /** @param {Tree} one @param {number} [at] */
  const put = (one, at = turn) => withNumbers(one, inputs, at);
  switch (tree.kind) {
    case 'name': {
      const all = inputs.filter((input) => symbolOf(input) === tree.symbol);
      const input = all.length > 1 ? all[turn] : all[0];
      return input ? { kind: 'value', input } : tree;
    }
    case 'sum':
      return { kind: 'sum', terms: tree.terms.map(({ isLess, of }) => ({ isLess, of: put(of) })) };
    case 'product':
      return { kind: 'product', factors: tree.factors.map((one) => put(one)) };
    case 'quotient':
      return { kind: 'quotient', over: put(tree.over), under: put(tree.under) };
    case 'power':
      return { kind: 'power', base: put(tree.base), exponent: put(tree.exponent) };
    case 'call': {
      if (!OVER_ALL.includes(tree.name) || tree.of.length > 1) return { ...tree, of: tree.of.map((one) => put(one)) };
      const symbols = symbolsIn(tree);
      const times = Math.max(0, ...symbols.map((symbol) => inputs.filter((input) => symbolOf(input) === symbol).length));
      return { ...tree, of: Array.from({ length: times }, (_, at) => put(tree.of[0], at)) };
    }
    default:
      return tree;
  }
}

/** Rules in which a number that is none of a length counts millimetres: they are followed in those alone. @type {Rule[]} */
const IN_MILLIMETRES = ['tightest_radius', 'zigzag_length'];

/** Whether a rule holds in any unit of length. @param {Rule} rule */
export const isInAnyUnit = (rule) => !IN_MILLIMETRES.includes(rule);

/** What a formula with its numbers in comes to. @param {Tree} tree @param {(input: Input) => number} [value] of a number put in @returns {number} */
export function reckoned(tree, value = (input) => input.value) {
  /** @param {Tree} one */
  const of = (one) => reckoned(one, value);
  switch (tree.kind) {
    case 'number':
      return Number(tree.text);
    case 'value':
      return value(tree.input);
    case 'sum':
      return tree.terms.reduce((sum, term) => (term.isLess ? sum - of(term.of) : sum + of(term.of)), 0);
    case 'product':
      return tree.factors.reduce((product, factor) => product * of(factor), 1);
    case 'quotient':
      return of(tree.over) / of(tree.under);
    case 'power':
      return of(tree.base) ** of(tree.exponent);
    case 'call':
      return FUNCTIONS[tree.name](...tree.of.map(of));
    default:
      return Number.NaN;
  }
}
