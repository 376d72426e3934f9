// The languages the page is written in, one for each file in www/words/, and which of them a person is met in.

import catalogues from 'built:catalogues';
import { known } from './known.js';
import { recall } from './settings.js';

/** Each language's own name by its code. @type {Record<string, string>} */
export const LANGUAGES = Object.fromEntries(Object.entries(catalogues).map(([code, { name }]) => [code, name]));

/** Where the words of a first visit are: beside this module under a name of the build, whatever page runs it. @returns {URL} */
export const firstWordsOf = (language) => catalogues[language].first;

/** Whether a word, wherever it comes from, is the code of a language there is. */
export const isLanguage = (code) => known(LANGUAGES, code) !== undefined;

/** The language the person chose last, or the first of the browser's own that there is. */
export function firstLanguage() {
  const wanted = [recall('language'), ...navigator.languages.map((tag) => tag.split('-')[0])];
  return wanted.find(isLanguage) ?? 'en';
}

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
  return joined(...(await Promise.all([loadFirstWords(language), loadLaterWords(language)])));
}

/** Two parts of one catalogue as one. @param {object} first @param {object} later @returns {object} */
export function joined(first, later) {
  const all = { ...first };
  for (const [name, value] of Object.entries(later)) all[name] = typeof value === 'object' ? joined(all[name] ?? {}, value) : value;
  return all;
}
