// Problems in words: what is wrong and what is accepted, in the person's unit and language.

import { fieldAt } from './fields.js';
import { setApart } from '../common/foreign-text.js';
import { partsFor } from '../common/lengths.js';
import { UNIT_MM } from '../generated/lengths.js';

/** @import { Accepted } from '../types/errors.d.ts' */
/** @import { Field } from './fields.js' */
/** @import { FormValues } from './values.js' */
/** @import { Unit } from '../plan/reckoner.js' */
/** @import { Values, Words } from '../common/words.js' */

/** @typedef {{ field: string, problem: string | object, accepted?: Accepted }} Problem what the core found wrong, or the form */
/** @typedef {{ words: Words, lengths: Unit, share?: boolean, isLength?: boolean }} How whether a field's number is shown as percent, or is a length */
/** @typedef {{ x_mm?: number, y_mm?: number, place?: number, found?: string, apart?: number, together?: number }} Place on the line, or in a text and what stands there; or both values of a text */

/** A code and what it carries: "missing" or { cusp_at: {…} }. @param {Problem['problem']} problem @returns {[string, Place]} */
export function codeOf(problem) {
  if (typeof problem === 'string') return [problem, {}];
  const [code, data] = Object.entries(problem)[0] ?? ['unreadable', {}];
  return [code, data];
}

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
 * @param {Place} place @param {How} how @returns {Values}
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

/**
 * A field's name with its half, knit or way, as it is called away from its place in the form.
 * @param {Field} field @param {Words} words @param {FormValues} values
 */
export function fullName(field, words, values) {
  const parts = [];
  if (field.half) parts.push(words.t(`half.${field.half}`));
  if (field.knit) parts.push(words.t(`knit.${field.knit}`));
  if (field.way) parts.push(words.t(`way_of_stretch.${field.way}`));
  if (field.edge !== undefined)
    parts.push(setApart(String(values[`edge${field.edge}.name`] ?? '')) || words.t('edges.nth', { n: words.number(field.edge + 1) }));
  parts.push(words.t(`${field.words}.label`));
  return parts.join(words.t('list.inside'));
}

/** Names the reading at a path of a brief. @param {string | undefined} path @param {Words} words @param {FormValues} values */
export function nameAt(path, words, values) {
  const field = path && fieldAt(path, values);
  return field ? fullName(field, words, values) : '';
}
