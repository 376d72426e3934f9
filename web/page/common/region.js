// Where a browser says that it is at home, and what is measured and printed in there. Nothing is asked of anyone: it is read off
// the languages that the browser sends with every request.

/** @import { Paper } from '../sheets/sheets.js' */
/** @import { Unit } from '../plan/reckoner.js' */

// Unicode CLDR 47, supplemental data: measurementData, measurementSystem US.
const INCHES = new Set(['LR', 'US']);
// The same: paperSize US-Letter; all others A4.
const LETTER = new Set('BZ CA CL CO CR GT MX NI PA PH PR SV US VE'.split(' '));

// Some systems' browsers name a language that is none, such as `C`.
/** @param {string} tag */
function regionOf(tag) {
  try {
    return new Intl.Locale(tag).region;
  } catch {
    return undefined;
  }
}

/** The first region that the languages name. A language without one is spoken in many. @param {readonly string[]} languages */
const homeOf = (languages) => languages.map(regionOf).find(Boolean) ?? '';

/** The unit that a first visit is met in. @param {readonly string[]} [languages] @returns {Unit} */
export const usualUnit = (languages = navigator.languages) => (INCHES.has(homeOf(languages)) ? 'in' : 'cm');

/** The paper that a person most likely has. @param {readonly string[]} [languages] @returns {Paper} */
export const usualPaper = (languages = navigator.languages) => (LETTER.has(homeOf(languages)) ? 'letter' : 'a4');
