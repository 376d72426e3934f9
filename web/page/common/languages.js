// The languages the page is written in, one for each file in www/words/, and which of them a person is met in.

import catalogues from 'built:catalogues';
import { known } from './known.js';
import { recall } from './settings.js';

/** @typedef {{ [name: string]: string | Catalogue }} Catalogue words by key, group in group */

/** Each language's own name by its code. @type {Record<string, string>} */
export const LANGUAGES = Object.fromEntries(Object.entries(catalogues).map(([code, { name }]) => [code, name]));

/**
 * Where the words of a first visit are: beside this module under a name of the build, whatever page runs it.
 * @returns {URL} @param {string} language
 */
export const firstWordsOf = (language) => catalogues[language].first;

/** Whether a word, wherever it comes from, is the code of a language there is. @param {string} code */
export const isLanguage = (code) => known(LANGUAGES, code) !== undefined;

/** The language the person chose last, or the first of the browser's own that there is. */
export function firstLanguage() {
  const wanted = [recall('language'), ...navigator.languages.map((tag) => tag.split('-')[0])];
  return wanted.find((code) => typeof code === 'string' && isLanguage(code)) ?? 'en';
}

/** @param {URL} address @returns {Promise<Catalogue>} */
async function json(address) {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${response.url}: ${response.status}`);
  return response.json();
}

/** What a first visit says in a language. @param {string} language */
export const loadFirstWords = (language) => json(firstWordsOf(language));

/** What only parts say that come later. @param {string} language */
export const loadLaterWords = (language) => json(catalogues[language].later);

/** One language's catalogue, as it is in its file. @param {string} language */
export async function loadCatalogue(language) {
  const [first, later] = await Promise.all([loadFirstWords(language), loadLaterWords(language)]);
  return joined(first, later);
}

/** Two parts of one catalogue as one. @param {Catalogue} first @param {Catalogue} later @returns {Catalogue} */
export function joined(first, later) {
  const all = { ...first };
  for (const [name, value] of Object.entries(later)) {
    const before = all[name];
    all[name] = typeof value === 'object' ? joined(typeof before === 'object' ? before : {}, value) : value;
  }
  return all;
}
