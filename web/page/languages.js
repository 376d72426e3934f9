// The languages the page is written in, one for each file in www/words/, and which of them a person is met in.

import catalogues from 'built:catalogues';
import { known } from './known.js';
import { recall } from './settings.js';

/** Each language's own name by its code. @type {Record<string, string>} */
export const LANGUAGES = Object.fromEntries(Object.entries(catalogues).map(([code, { name }]) => [code, name]));

/** Where a language's catalogue is: beside this module under a name of the build, whatever page runs it. @returns {URL} */
export const catalogueOf = (language) => catalogues[language].url;

/** Whether a word, wherever it comes from, is the code of a language there is. */
export const isLanguage = (code) => known(LANGUAGES, code) !== undefined;

/** The language the person chose last, or the first of the browser's own that there is. */
export function firstLanguage() {
  const wanted = [recall('language'), ...navigator.languages.map((tag) => tag.split('-')[0])];
  return wanted.find(isLanguage) ?? 'en';
}

/** One language's catalogue, as it is in its file. @param {string} language */
export async function loadCatalogue(language) {
  const response = await fetch(catalogueOf(language));
  if (!response.ok) throw new Error(`${response.url}: ${response.status}`);
  return response.json();
}
