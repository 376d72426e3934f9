// What may be taken up from outside the page: from a database, a file, a link, another tab, or what an earlier or later
// version left. Anything may stand there; what passes here is plain and small enough to be walked, copied and written.

/** @import { Unplanned } from '../form/form.js' */
/** @import { Sizes } from '../sizes/size-set.js' */

// Twice and more what the largest work takes that the core accepts: 200 records of both knits, 12 edges, a drawn path.
const MOST_VALUES = 20_000;
const MOST_LETTERS = 500_000;
const MOST_DEPTH = 16;
const MOST_ID = 200;

/** Whether a value may be an entry's id. @param {unknown} value @returns {value is string} */
export const isId = (value) => typeof value === 'string' && value !== '' && value.length <= MOST_ID;

/**
 * Whether a value is an object of plain fields, and no list, date, bytes or the like.
 * @param {unknown} value @returns {value is Record<string, unknown>}
 */
export function isPlain(value) {
  if (typeof value !== 'object' || value === null) return false;
  const above = Object.getPrototypeOf(value);
  return above === Object.prototype || above === null;
}

/**
 * Whether a value is what JSON can say, with no more in it than a person's work may hold. A value that holds itself is too deep.
 * @param {unknown} value
 */
export function isAcceptable(value) {
  let values = 0;
  let letters = 0;
  /** @param {unknown} one @param {number} depth @returns {boolean} */
  const fits = (one, depth) => {
    values += 1;
    if (values > MOST_VALUES || letters > MOST_LETTERS) return false;
    if (typeof one === 'string') {
      letters += one.length;
      return letters <= MOST_LETTERS;
    }
    if (typeof one === 'number') return Number.isFinite(one);
    if (one === null || one === undefined || typeof one === 'boolean') return true;
    if (depth === 0) return false;
    // A list says how long it is, whatever of it is there: no step is taken for what is not.
    if (Array.isArray(one)) return one.length <= MOST_VALUES && Array.from(one).every((part) => fits(part, depth - 1));
    if (!isPlain(one)) return false;
    return Object.keys(one).every((name) => {
      letters += name.length;
      return fits(one[name], depth - 1);
    });
  };
  return fits(value, MOST_DEPTH);
}

/** @param {unknown} value */
const isValue = (value) => value === null || value === undefined || ['string', 'number', 'boolean'].includes(typeof value);
/** @param {unknown} value @returns {value is Record<string, unknown>[]} */
const isListOfObjects = (value) => Array.isArray(value) && value.every(isPlain);

/**
 * Whether this is what stood in the form and in no brief: the form's values, each plain, and the texts that could not be read.
 * @param {unknown} value @returns {value is Unplanned}
 */
export function isUnplanned(value) {
  if (!isPlain(value) || !isValue(value.fresh) || !isPlain(value.sheet) || !isPlain(value.texts ?? {})) return false;
  const values = Object.entries(value.sheet);
  return (
    values.every(([key, one]) => isValue(one) || (key.endsWith('.learned') && isListOfObjects(one))) &&
    Object.values(value.texts ?? {}).every((text) => typeof text === 'string')
  );
}

/** How many sizes either way a table may have. */
export const MOST_EITHER_WAY = 12;

const MODES = ['growth', 'readings'];
/** @param {unknown} value */
const isCount = (value) => isStep(value) && Number(value) >= 0;
/** @param {unknown} value */
const isStep = (value) => Number.isInteger(value) && Math.abs(Number(value)) <= MOST_EITHER_WAY;
/** @param {(one: unknown) => boolean} is @param {unknown} record */
const allAre = (is, record) => isPlain(record) && Object.values(record).every(is);
/** @param {unknown} value */
const isLength = (value) => value === undefined || value === null || typeof value === 'number';
/** @param {unknown} value */
const isHalf = (value) => allAre(isLength, value);

/** @param {unknown} value */
const areLines = (value) =>
  value === undefined || (isListOfObjects(value) && value.every((one) => typeof one.path_mm === 'string' && isLength(one.uncertainty_mm)));
/** @param {unknown} value */
const isBrought = (value) => value === undefined || (isPlain(value) && areLines(value.front) && areLines(value.back));

/** Whether a value is a table of sizes, in every part. @param {unknown} value @returns {value is Sizes} */
export function isTable(value) {
  if (!isPlain(value) || !MODES.includes(String(value.mode)) || !isCount(value.smaller) || !isCount(value.larger)) return false;
  const { names, backs, growth, readings, brought } = value;
  return (
    isBrought(brought) &&
    allAre((name) => typeof name === 'string', names) &&
    allAre(isStep, backs) &&
    isPlain(growth) &&
    isHalf(growth.front) &&
    isHalf(growth.back) &&
    isLength(growth.head_mm) &&
    allAre((one) => isPlain(one) && isHalf(one.front) && isHalf(one.back) && isLength(one.head_mm), readings)
  );
}

/** Whether a value is a unit that lengths are shown in. @param {unknown} value @returns {value is import('../plan/reckoner.js').Unit} */
export const isUnit = (value) => value === 'mm' || value === 'cm' || value === 'in';
