// Which parts of a brief this version does not know. The core refuses such parts in a file's text; a value that is already an
// object reaches it without them.

import { Brief, Knit } from '../generated/fields.js';

/** @typedef {{ [name: string]: Known }} Fields */
/** @typedef {number | Fields | Known[]} Known what is known of a field: 0 for a plain value, its own fields, or a list of such */

/** @param {unknown} value @returns {value is object} */
const isObject = (value) => typeof value === 'object' && value !== null;

/** @param {unknown} value @param {Known} known @param {string} path @param {string[]} found */
function search(value, known, path, found) {
  if (!isObject(value) || typeof known === 'number') return;
  if (Array.isArray(known)) {
    if (Array.isArray(value)) for (const [i, one] of value.entries()) search(one, known[0], `${path}[${i}]`, found);
    return;
  }
  for (const [name, field] of Object.entries(value)) {
    const at = path ? `${path}.${name}` : name;
    if (Object.hasOwn(known, name)) search(field, known[name], at, found);
    else if (field !== undefined) found.push(at);
  }
}

/** Paths of the fields that this version does not know. @param {unknown} brief @returns {string[]} */
export function unknownFields(brief) {
  /** @type {string[]} */
  const found = [];
  search(brief, Brief, '', found);
  return found;
}

/** The same for a knit alone. @param {unknown} knit @returns {string[]} */
export function unknownInKnit(knit) {
  /** @type {string[]} */
  const found = [];
  search(knit, Knit, '', found);
  return found;
}
