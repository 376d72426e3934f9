// Text of a person's own among the page's words: what would turn or hide the words around it is made visible.

/** Marks that turn the direction of what follows them, and control characters that show as nothing. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const TURNS = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u202a-\u202e\u2066\u2067\ufeff]/g;
/** Longest text that is laid out, more than any sentence of the page: a name of a million letters would hold the browser up for half a minute. */
const MOST = 5000;
const [BEGIN, END] = ['\u2068', '\u2069'];
const ISOLATES = /[\u2068\u2069]/g;
const RIGHT_TO_LEFT = /[\p{Script=Arabic}\p{Script=Hebrew}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}]/u;

/** A text whose marks of direction and control characters show as �. @param {string} text */
export const visible = (text) => cut(text).replace(TURNS, '\ufffd').replace(ISOLATES, '\ufffd');

/** The same for the middle of a sentence: a text that runs the other way turns nothing around it. @param {string} text */
export function setApart(text) {
  const plain = cut(text).replace(TURNS, '\ufffd');
  const safe = isClosed(plain) ? plain : plain.replace(ISOLATES, '\ufffd');
  return RIGHT_TO_LEFT.test(safe) ? `${BEGIN}${safe}${END}` : safe;
}

// No half of a letter that takes two places is left at the end.
/** @param {string} text */
const cut = (text) => (text.length > MOST ? `${text.slice(0, MOST).replace(/[\ud800-\udbff]$/, '')} …` : text);

// Sentences stand in sentences: what was set apart before stays so.
/** @param {string} text */
function isClosed(text) {
  let open = 0;
  for (const [mark] of text.matchAll(ISOLATES)) {
    open += mark === BEGIN ? 1 : -1;
    if (open < 0) return false;
  }
  return open === 0;
}
