// Where the words of each language are.

/** Beside this module under a name of the build, whatever page runs it. A literal each, for the build to find. */
const CATALOGUES = {
  en: new URL('../../www/words/en.json', import.meta.url),
  es: new URL('../../www/words/es.json', import.meta.url),
};

/** One language's catalogue, as it is in its file. @param {string} language */
export async function loadCatalogue(language) {
  const response = await fetch(CATALOGUES[language]);
  if (!response.ok) throw new Error(`${response.url}: ${response.status}`);
  return response.json();
}
