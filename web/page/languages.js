// The languages the page is written in, and which of them a person is met in.

import { recall } from './settings.js';

/** A further one is a file in www/words/, a line here and a line below. */
export const LANGUAGES = { en: 'English', es: 'Español' };

/** Where each catalogue is: beside this module under a name of the build, whatever page runs it. A literal each, for the build to find. */
export const CATALOGUES = {
  en: new URL('../../www/words/en.json', import.meta.url),
  es: new URL('../../www/words/es.json', import.meta.url),
};

/** The language the person chose last, or the first of the browser's own that there is. */
export function firstLanguage() {
  const wanted = [recall('language'), ...navigator.languages.map((tag) => tag.split('-')[0])];
  return wanted.find((language) => language in LANGUAGES) ?? 'en';
}

/** One language's catalogue, as it is in its file. @param {string} language */
export async function loadCatalogue(language) {
  const response = await fetch(CATALOGUES[language]);
  if (!response.ok) throw new Error(`${response.url}: ${response.status}`);
  return response.json();
}
