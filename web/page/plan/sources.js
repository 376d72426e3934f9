// What a figure rests on, in words.

/** What a source code stands for. @param {string} code @param {import('../common/words.js').Words} words */
export const source = (code, words) => (words.has(`codes.source.${code}`) ? words.t(`codes.source.${code}`) : code);
