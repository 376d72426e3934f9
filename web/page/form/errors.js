// Problems in words: what is wrong and what is accepted, in the person's unit and language.

import { codeOf } from '../common/known.js';
import { partsFor } from '../common/lengths.js';
import { UNIT_MM } from '../generated/lengths.js';

/** @import { Accepted } from '../types/errors.d.ts' */
/** @import { Carried } from '../common/known.js' */
/** @import { Unit } from '../plan/reckoner.js' */
/** @import { Values, Words } from '../common/words.js' */

/** @typedef {{ field: string, problem: string | object, accepted?: Accepted }} Problem what the core found wrong, or the form */
/** @typedef {{ words: Words, lengths: Unit, share?: boolean, isLength?: boolean }} How whether a field's number is shown as percent, or is a length */

/** A value with the unit it is counted in. @param {number} value @param {Accepted['unit']} unit @param {How} how */
export function valueIn(value, unit, { words, lengths, share = false }) {
  if (unit === 'mm') return words.length(value, lengths);
  if (unit === 'percent') return words.percent(value);
  if (unit === 'ratio') return share ? words.percent(100 * value) : words.number(value, { digits: 3 });
  if (unit === 'deg') return `${words.number(value, { digits: 1 })}°`;
  if (unit === 'months') return words.count('unit.months', value);
  return words.number(value, { digits: 2 });
}

/** What a division by a step may be off. */
const SLIGHT = 1e-6;

/** An end of a range as it can be written and is still accepted. @param {number} value @param {(value: number) => number} round @param {Unit} lengths */
function within(value, round, lengths) {
  const step = UNIT_MM[lengths] / partsFor(value, lengths);
  return round(value / step + (round === Math.ceil ? -SLIGHT : SLIGHT)) * step;
}

/** @param {Problem} error @param {How} how */
function accepted(error, how) {
  const { min, max, unit, code, words: english } = error.accepted ?? {};
  const { words } = how;
  const asWritten = (/** @type {number | undefined} */ value, /** @type {(value: number) => number} */ round) =>
    value !== undefined && unit === 'mm' ? within(value, round, how.lengths) : value;
  const [least, most] = [asWritten(min, Math.ceil), asWritten(max, Math.floor)];
  /** @param {number | undefined} value */
  const show = (value) => (value === undefined ? undefined : valueIn(value, unit, how));
  if (code && words.has(`codes.accepted.${code}`)) return words.t(`codes.accepted.${code}`, { min: show(least), max: show(most) });
  if (min !== undefined && max !== undefined) return words.t('errors.range', { min: show(least), max: show(most) });
  if (min !== undefined) return words.t('errors.at_least', { min: show(least) });
  if (max !== undefined) return words.t('errors.at_most', { max: show(most) });
  return words.language === 'en' && english ? english : '';
}

/**
 * What a problem carries, as it stands in a sentence: a place on the line, or in a text and what stands there; what a text may mean.
 * @param {Carried} data @param {How} how @returns {Values}
 */
function carried({ x_mm: x, y_mm: y, place, found, apart, together }, { words, lengths, isLength }) {
  /** @param {number} value */
  const written = (value) => (isLength ? words.length(value, lengths) : words.number(value, { digits: 3 }));
  if (apart !== undefined && together !== undefined) return { apart: written(apart), together: written(together) };
  if (x !== undefined && y !== undefined) return { x: words.length(x, lengths), y: words.length(y, lengths) };
  return place === undefined ? {} : { place: words.number(place), found };
}

/**
 * @param {Problem} error of the core, or with a problem the form found
 * @param {How} how
 * @returns {string} one or two sentences
 */
export function sentence(error, how) {
  const { words } = how;
  const [code, data] = codeOf(error.problem);
  // Each of what it may mean is accepted, or will be told why not.
  if (code === 'either') return words.t('codes.problem.either', carried(data, how));
  const key = words.has(`codes.problem.${code}`) ? code : 'unreadable';
  const wrong = words.t(`codes.problem.${key}`, carried(data, how));
  const instead = accepted(error, how);
  return instead ? `${wrong} ${words.t('errors.accepted', { what: instead })}` : wrong;
}
