// The page's words in one language, and its numbers as that language writes them.

import { setApart } from './foreign-text.js';
import { known } from './known.js';
import { joined, loadCatalogue, loadFirstWords, loadLaterWords } from './languages.js';
import { fraction, shown, told } from './lengths.js';

/** @import { Catalogue } from './languages.js' */
/** @import { Shown } from './lengths.js' */
/** @import { Unit } from '../plan/reckoner.js' */

/** Digits beyond which a number is rounding. */
const ALL_DIGITS = 12;
/** Digits of a number in a field. */
const FIELD_DIGITS = 4;
/** How many numbers of a kind are remembered as written. */
const MOST_WRITTEN = 1000;
const NO_BREAK_SPACE = '\u00a0';

/** @typedef {{ digits?: number, sign?: boolean }} NumberStyle at most so many decimals; a plus sign too */
/** @typedef {Record<string, string | number | undefined>} Values what is put into a sentence, by the names in it */

/** Done when words are said that have not come yet. */
let whenWanted = () => {};

/** @param {() => void} act fetches them and says anew what was to be said in them */
export function onWanted(act) {
  whenWanted = act;
}

/** Whether a part that comes later has asked for its words: from then on each language is loaded whole. */
let isWholeWanted = false;

/**
 * Loads what the page says in one language: a first visit's words, and all others once a part has asked for them.
 * @param {string} language a key of LANGUAGES
 */
export async function loadWords(language) {
  const words = new Words(language, await loadFirstWords(language), false);
  // A part that is open goes on in the new language.
  if (isWholeWanted) await words.whole();
  return words;
}

/** Loads all that is said in one language. @param {string} language a key of LANGUAGES */
export async function loadAllWords(language) {
  return new Words(language, await loadCatalogue(language));
}

/** Done once the page's words are whole, whatever language is chosen meanwhile. @param {() => Words} current */
export async function wholeWords(current) {
  /** @type {Words} */
  let words;
  do {
    words = current();
    await words.whole();
  } while (words !== current());
}

export class Words {
  /** @type {Catalogue} */
  #catalogue;
  /** @type {Map<string, string>} */
  #found = new Map();
  /** How numbers are written, and those that were: a drag writes the same ones in every frame. @type {Map<string, { format: Intl.NumberFormat, written: Map<number, string> }>} */
  #formats = new Map();
  #plurals;
  /** @type {Promise<void> | undefined} */
  #later;
  #isWhole;

  /** @param {string} language @param {Catalogue} catalogue @param {boolean} [isWhole] whether that is all there is */
  constructor(language, catalogue, isWhole = true) {
    this.language = language;
    this.#catalogue = catalogue;
    this.#isWhole = isWhole;
    this.#plurals = new Intl.PluralRules(language);
  }

  /** Fetches the words of parts that come later, once; a fetch that failed is tried again the next time. */
  whole() {
    isWholeWanted = true;
    this.#later ??= loadLaterWords(this.language).then(
      (later) => {
        this.#catalogue = joined(this.#catalogue, later);
        this.#isWhole = true;
      },
      (error) => {
        this.#later = undefined;
        throw error;
      },
    );
    return this.#later;
  }

  /** Looked up once each: a drag says the same words in every frame. @param {string} key */
  #find(key) {
    const before = this.#found.get(key);
    if (before !== undefined) return before;
    /** @type {string | Catalogue | undefined} */
    let found = this.#catalogue;
    for (const part of key.split('.')) found = typeof found === 'object' ? known(found, part) : undefined;
    if (typeof found !== 'string') return undefined;
    this.#found.set(key, found);
    return found;
  }

  /** Whether the catalogue has words for a key. @param {string} key */
  has(key) {
    return this.#find(key) !== undefined;
  }

  /** The words for a dotted key, `{name}` replaced by `values.name`; dots where they are still on their way. @param {string} key @param {Values} [values] */
  t(key, values = {}) {
    const text = this.#find(key);
    if (text === undefined) {
      if (!this.#isWhole) {
        whenWanted();
        return '…';
      }
      if (globalThis.lieflatStrictWords) throw new Error(`no words for ${key} in ${this.language}`);
      return key;
    }
    // Most say the same whatever the figures.
    if (!text.includes('{')) return text;
    return text.replace(/\{(\w+)\}/g, (whole, name) => setApart(String(values[name] ?? whole)));
  }

  /**
   * Words that depend on a count: `key.one`, `key.other` and so on, with `{count}`.
   * @param {string} key @param {number} count @param {Values} [values]
   */
  count(key, count, values = {}) {
    return this.t(`${key}.${this.#plurals.select(count)}`, { count: this.number(count), ...values });
  }

  /** A number as this language writes it, with at most so many decimals. @param {number} value @param {NumberStyle} [how] */
  number(value, { digits = 0, sign = false } = {}) {
    if (!Number.isFinite(value)) return '—';
    const key = `${digits}${sign}`;
    let { format, written } = this.#formats.get(key) ?? {};
    if (!format || !written) {
      const signDisplay = sign ? 'exceptZero' : 'negative';
      format = new Intl.NumberFormat(this.language, { maximumFractionDigits: digits, useGrouping: false, signDisplay });
      written = new Map();
      this.#formats.set(key, { format, written });
    }
    let text = written.get(value);
    if (text === undefined) {
      text = format.format(value);
      if (written.size === MOST_WRITTEN) written.clear();
      written.set(value, text);
    }
    return text;
  }

  /**
   * A length in the person's unit and in the precision one cuts by, marked where it is not the length itself: decimals by
   * language, inches in fractions.
   * @param {number} mm @param {Unit} unit @param {NumberStyle & { suffix?: boolean }} [how]
   */
  length(mm, unit, { suffix = true, sign = false, digits } = {}) {
    if (!Number.isFinite(mm)) return this.number(mm);
    const seen = shown(mm, unit);
    const number = digits === undefined || unit === 'in' ? this.#counted(seen) : this.number(unit === 'cm' ? mm / 10 : mm, { digits });
    // A whole number and its fraction are one number, and stay on one line; what is put into a field is typed over.
    const length = (sign && mm > 0 ? '+' : '') + (suffix ? number.replace(' ', NO_BREAK_SPACE) + NO_BREAK_SPACE + unit : number);
    return seen.nearness ? this.t(`length.${seen.nearness}`, { length }) : length;
  }

  /**
   * A length as a field shows it, to the last digit where the unit can say it. Where it cannot, `exactly` says what it is.
   * @param {number} mm @param {Unit} unit @returns {{ text: string, exactly: string }}
   */
  told(mm, unit) {
    const all = told(mm, unit);
    if (all) return { text: this.#counted(all), exactly: '' };
    const { nearness = 'about', ...seen } = shown(mm, unit);
    const text = this.#counted(seen);
    const length = text + NO_BREAK_SPACE + unit;
    return { text, exactly: this.#exactly(this.t(`length.${nearness}`, { length }), this.#millimetres(mm)) };
  }

  /** A number as a field shows it; the same. @param {number} value */
  toldNumber(value) {
    const text = this.number(value, { digits: FIELD_DIGITS });
    const all = this.number(value, { digits: ALL_DIGITS });
    return { text, exactly: text === all ? '' : this.#exactly(this.t('length.about', { length: text }), all) };
  }

  /** A text that reads as the length, whatever unit it is read in. @param {number} mm @param {Unit} unit */
  read(mm, unit) {
    const { text, exactly } = this.told(mm, unit);
    return exactly ? this.#millimetres(mm) : text;
  }

  /** @param {number} mm */
  #millimetres(mm) {
    return `${this.number(mm, { digits: ALL_DIGITS })}${NO_BREAK_SPACE}mm`;
  }

  /** @param {string} about @param {string} exact */
  #exactly(about, exact) {
    return this.t('length.exactly', { about, exact });
  }

  /** So many parts of a unit: halves and their kind as a fraction, tenths and theirs as decimals. @param {Shown} shown */
  #counted({ count, parts }) {
    return parts % 10 ? fraction(count, parts) : this.number(count / parts, { digits: ALL_DIGITS });
  }

  /** Things named one after the other, as this language strings them together. @param {string[]} items */
  list(items) {
    // The catalogue's English is British: no comma before "and".
    return new Intl.ListFormat(this.language === 'en' ? 'en-GB' : this.language, { type: 'conjunction' }).format(items);
  }

  /** A percentage. @param {number} value @param {NumberStyle} [options] */
  percent(value, options) {
    return `${this.number(value, { digits: 1, ...options })}${NO_BREAK_SPACE}%`;
  }
}
