// The sheets' own module of WebAssembly: fetched when the first sheet is asked for, and no sooner.

import { loadCatalogue } from '../common/languages.js';

/**
 * @typedef {object} SheetOptions
 * @property {'a4' | 'letter'} paper
 * @property {'mm' | 'cm' | 'in'} unit
 * @property {string} language
 * @property {string} date as it is to be printed
 * @property {string} [link]
 * @property {('card' | 'strip' | 'facing' | 'template')[]} sheets
 * @property {'auto' | 'whole' | 'half'} [strip]
 */

let module;
const catalogues = new Map();

/** Loads the module once. A load that failed is tried again the next time. */
async function loaded() {
  module ??= import('../../pkg/lieflat_sheets.js').then(async (glue) => {
    await glue.default();
    return glue;
  });
  try {
    return await module;
  } catch (error) {
    module = undefined;
    throw error;
  }
}

/** The part of a language's catalogue that the sheets read: the same file that the page's own words are from. */
async function catalogue(language) {
  if (!catalogues.has(language)) {
    const { sheets, codes, order, place, part } = await loadCatalogue(language);
    catalogues.set(language, { sheets: { pdf: sheets.pdf }, codes: codes ?? {}, order, place, part });
  }
  return catalogues.get(language);
}

// A letter and its accent written as two characters become one, which the sheets can print.
const json = (value) => JSON.stringify(value).normalize('NFC');

async function parts(brief, plan, options) {
  const [glue, words] = await Promise.all([loaded(), catalogue(options.language)]);
  return [glue, json(brief), json(plan), json({ ...options, words })];
}

/**
 * One PDF of the sheets.
 * @param {object} brief @param {object} plan its plan @param {SheetOptions} options
 * @returns {Promise<{ bytes: Uint8Array, pages: number, replaced: string[] }>} throws a text, such as `nothing_to_print`
 */
export async function makePdf(brief, plan, options) {
  const [glue, ...texts] = await parts(brief, plan, options);
  const file = glue.makePdf(...texts);
  const made = { bytes: file.takeBytes(), pages: file.pages, replaced: [...file.replacedLetters] };
  file.free();
  return made;
}

/**
 * Each piece as SVG.
 * @param {object} brief @param {object} plan its plan @param {SheetOptions} options
 * @returns {Promise<{ name: string, svg: string }[]>}
 */
export async function makeSvgs(brief, plan, options) {
  const [glue, ...texts] = await parts(brief, plan, options);
  return glue.makeSvgs(...texts).map((piece) => {
    const { name, svg } = piece;
    piece.free();
    return { name, svg };
  });
}
