// A length in a unit, as the core's module `shown` shows it, by the steps that it tells; and to the last digit, for a field.

import { CLOSE_MM, EXACT_INCH_PARTS, NOTHING_MM, SAME_MM, STEPS, UNIT_MM } from '../generated/lengths.js';

/** @import { Unit } from '../plan/reckoner.js' */

/** @typedef {'about' | 'under' | undefined} Nearness nothing where what is shown is the length */
/** @typedef {{ count: number, parts: number, nearness?: Nearness }} Shown so many parts of the unit */

/** Which of two systems a unit is of: metric, or inches. @param {Unit} unit */
export const systemOf = (unit) => (unit === 'in' ? 1 : 0);

/** Decimals of a field: an inch's 64ths have six in millimetres, sixteenths four. */
const FIELD_DECIMALS = { mm: 4, cm: 5, in: 3 };

/** The nearest count of a unit's parts. @param {number} mm @param {Unit} unit @param {number} parts */
const counted = (mm, unit, parts) => Math.sign(mm) * Math.round((Math.abs(mm) * parts) / UNIT_MM[unit]);

/** Whether so many parts are the length. @param {number} mm @param {Unit} unit @param {number} parts @param {number} off */
const isWhole = (mm, unit, parts, off = SAME_MM) => Math.abs((counted(mm, unit, parts) * UNIT_MM[unit]) / parts - mm) <= off;

/** The parts of the unit that a length is shown in. @param {number} mm @param {Unit} unit */
export const partsFor = (mm, unit) => STEPS[unit].filter(([from]) => from <= Math.abs(mm)).slice(-1)[0][1];

/** A length in the precision one cuts by. @param {number} mm @param {Unit} unit @returns {Shown} */
export function shown(mm, unit) {
  if (unit === 'in' && isWhole(mm, unit, EXACT_INCH_PARTS)) return { count: counted(mm, unit, EXACT_INCH_PARTS), parts: EXACT_INCH_PARTS };
  const parts = partsFor(mm, unit);
  const count = counted(mm, unit, parts);
  if (!count && Math.abs(mm) >= NOTHING_MM) return { count: 1, parts, nearness: 'under' };
  return { count, parts, nearness: unit === 'in' && !isWhole(mm, unit, parts, CLOSE_MM) ? 'about' : undefined };
}

/**
 * A length to the last digit: a fraction of an inch that a ruler has, else a decimal number; in parts of the unit, nothing where
 * neither of them is the length.
 * @param {number} mm @param {Unit} unit @returns {Shown | undefined}
 */
export function told(mm, unit) {
  const decimal = 10 ** FIELD_DECIMALS[unit];
  const parts = [...(unit === 'in' ? [EXACT_INCH_PARTS] : []), decimal].find((one) => isWhole(mm, unit, one));
  return parts ? { count: counted(mm, unit, parts), parts } : undefined;
}

/** A count of an inch's parts as a mixed number, reduced: 15 3/8. @param {number} count @param {number} parts */
export function fraction(count, parts) {
  let [n, d] = [Math.abs(count), parts];
  while (n % 2 === 0 && d > 1) [n, d] = [n / 2, d / 2];
  const [whole, rest] = [Math.floor(n / d), n % d];
  const number = rest ? `${whole ? `${whole} ` : ''}${rest}/${d}` : String(whole);
  return count < 0 ? `-${number}` : number;
}
