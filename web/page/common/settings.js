// What the page remembers of a person on this device: unit, language, the screen's scale. It does without where storing is refused.

import { usualUnit } from './region.js';

/** @import { Unit } from '../plan/reckoner.js' */

const PREFIX = 'lieflat.';

/** @type {readonly Unit[]} */
export const UNITS = ['mm', 'cm', 'in'];

/** The unit that the person chose last, or the one in use where they are. */
export function firstUnit() {
  const kept = recall('unit');
  return UNITS.find((unit) => unit === kept) ?? usualUnit();
}

/** @param {string} name @returns {string | null} */
export function recall(name) {
  try {
    return localStorage.getItem(PREFIX + name);
  } catch {
    return null;
  }
}

/** @param {string} name @param {string} value */
export function remember(name, value) {
  try {
    localStorage.setItem(PREFIX + name, value);
  } catch {
    // A private window or a full store: the page works, it only forgets.
  }
}
