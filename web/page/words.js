// The page's words in one language, and its numbers as that language writes them.

import { inert } from './inert.js';
import { known } from './known.js';
import { loadCatalogue } from './languages.js';
import { formatLength } from './reckoner.js';

/** Decimals of a written length: what a tape or a ruler shows. */
const DECIMALS = { mm: 1, cm: 2 };
const NO_BREAK_SPACE = '\u00a0';

/** @typedef {Awaited<ReturnType<typeof loadWords>>} Words */

/**
 * Loads one language's catalogue.
 * @param {string} language a key of LANGUAGES
 */
export async function loadWords(language) {
  return new Words(language, await loadCatalogue(language));
}

export class Words {
  #catalogue;
  #formats = new Map();
  #plurals;

  constructor(language, catalogue) {
    this.language = language;
    this.#catalogue = catalogue;
    this.#plurals = new Intl.PluralRules(language);
  }

  #find(key) {
    let found = this.#catalogue;
    for (const part of key.split('.')) found = typeof found === 'object' ? known(found, part) : undefined;
    return typeof found === 'string' ? found : undefined;
  }

  /** Whether the catalogue has words for a key. */
  has(key) {
    return this.#find(key) !== undefined;
  }

  /** The words for a dotted key, `{name}` replaced by `values.name`. */
  t(key, values = {}) {
    const text = this.#find(key);
    if (text === undefined) {
      if (globalThis.lieflatStrictWords) throw new Error(`no words for ${key} in ${this.language}`);
      return key;
    }
    return text.replace(/\{(\w+)\}/g, (whole, name) => inert(String(values[name] ?? whole)));
  }

  /** Words that depend on a count: `key.one`, `key.other` and so on, with `{count}`. */
  count(key, count, values = {}) {
    return this.t(`${key}.${this.#plurals.select(count)}`, { count: this.number(count), ...values });
  }

  /** A number as this language writes it, with at most so many decimals. */
  number(value, { digits = 0, sign = false } = {}) {
    if (!Number.isFinite(value)) return '—';
    const key = `${digits}${sign}`;
    if (!this.#formats.has(key)) {
      const options = { maximumFractionDigits: digits, useGrouping: false, signDisplay: sign ? 'exceptZero' : 'negative' };
      this.#formats.set(key, new Intl.NumberFormat(this.language, options));
    }
    return this.#formats.get(key).format(value);
  }

  /** A length in the person's unit: decimals by language, inches in fractions. */
  length(mm, unit, { suffix = true, sign = false, digits = DECIMALS[unit] } = {}) {
    const plus = sign && mm > 0 ? '+' : '';
    const number = unit === 'in'
      ? formatLength(mm, unit)
      : this.number(unit === 'cm' ? mm / 10 : mm, { digits });
    return plus + number + (suffix ? NO_BREAK_SPACE + unit : '');
  }

  /** Things named one after the other, as this language strings them together. */
  list(items) {
    // The catalogue's English is British: no comma before "and".
    return new Intl.ListFormat(this.language === 'en' ? 'en-GB' : this.language, { type: 'conjunction' }).format(items);
  }

  /** A percentage. */
  percent(value, options) {
    return `${this.number(value, { digits: 1, ...options })}${NO_BREAK_SPACE}%`;
  }
}
