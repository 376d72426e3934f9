// Words that stand in index.html itself, so that it reads without a script, put in the person's language.

/** Where a word goes, by the attribute that names its key: the element's text, or another attribute of it. */
const PLACES = { 'data-t': '', 'data-t-label': 'aria-label', 'data-t-content': 'content' };
/** What stood there at first, in the markup's own language: its words are not fetched again. @type {Map<string, string>} */
const first = new Map();

/** @param {import('./words.js').Words} words */
export function putStaticWords(words) {
  document.documentElement.lang = words.language;
  for (const [attribute, place] of Object.entries(PLACES)) {
    for (const element of document.querySelectorAll(`[${attribute}]`)) {
      const key = element.getAttribute(attribute) ?? '';
      if (!first.has(key)) first.set(key, (place ? element.getAttribute(place) : element.textContent) ?? '');
      const said = words.has(key) ? words.t(key) : (first.get(key) ?? key);
      if (place) element.setAttribute(place, said);
      else element.textContent = said;
    }
  }
}
