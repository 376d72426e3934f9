// Tables that are looked up by a word from outside: of an address, an attribute, a brief, or what a browser stored.

/**
 * What a table has under a name; nothing for what every object has by itself, such as `constructor`.
 * @template Entry @param {Record<string, Entry>} table @param {string} name @returns {Entry | undefined}
 */
export const known = (table, name) => (Object.hasOwn(table, name) ? table[name] : undefined);

/** A choice's name, whether it stands alone or carries something: `ring`, or that of `{ mitre: {…} }`. @param {string | object} choice */
export const nameOf = (choice) => (typeof choice === 'string' ? choice : Object.keys(choice)[0]);

/** @typedef {{ x_mm?: number, y_mm?: number, place?: number, found?: string, apart?: number, together?: number }} Carried a place on the line, or in a text and what stands there; or both values of a text */

/** The code of a problem and what it carries: "missing" or { cusp_at: {…} }. @param {string | object} problem @returns {[string, Carried]} */
export function codeOf(problem) {
  if (typeof problem === 'string') return [problem, {}];
  const [code, data] = Object.entries(problem)[0] ?? ['unreadable', {}];
  return [code, data];
}
