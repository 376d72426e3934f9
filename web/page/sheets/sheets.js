// The sheets' own module of WebAssembly: fetched when the first sheet is asked for, and no sooner.

import { loadCatalogue } from '../common/languages.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { Plan } from '../types/plan.d.ts' */
/** @import { Unit } from '../plan/reckoner.js' */

/** @typedef {typeof import('../generated/sheets.js')} Choices */
/** @typedef {Choices['Sheet'][number]} Sheet */
/** @typedef {Choices['Paper'][number]} Paper */
/** @typedef {Choices['StripForm'][number]} StripForm */
/** @typedef {Choices['PieceForm'][number]} PieceForm */
/** @typedef {{ name: string, title: string, file: string }} Piece its name fit for a file, its name in words, the file's text */
/**
 * @typedef {object} SheetOptions
 * @property {Paper} paper
 * @property {Unit} unit
 * @property {string} language
 * @property {string} date as it is to be printed
 * @property {string} [link]
 * @property {Sheet[]} sheets
 * @property {StripForm} [strip]
 */

/** @typedef {typeof import('../../pkg/lieflat_sheets.js')} Glue */

/** @type {Promise<Glue> | undefined} */
let module;

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

// A letter and its accent written as two characters become one, which the sheets can print.
/** @param {unknown} value */
const json = (value) => JSON.stringify(value).normalize('NFC');

/** @param {Brief} brief @param {Plan} plan @param {SheetOptions} options @returns {Promise<[Glue, string, string, string]>} */
async function parts(brief, plan, options) {
  const [glue, words] = await Promise.all([loaded(), loadCatalogue(options.language)]);
  return [glue, json(brief), json(plan), json({ ...options, words })];
}

/**
 * One PDF of the sheets.
 * @param {Brief} brief @param {Plan} plan its plan @param {SheetOptions} options
 * @returns {Promise<{ bytes: Uint8Array<ArrayBuffer>, pages: number, replaced: string[] }>} throws a text, such as `nothing_to_print`
 */
export async function makePdf(brief, plan, options) {
  const [glue, ...texts] = await parts(brief, plan, options);
  const file = glue.makePdf(...texts);
  const made = { bytes: file.takeBytes(), pages: file.pages, replaced: [...file.replacedLetters] };
  file.free();
  return made;
}

/**
 * Each piece as a file of its own.
 * @param {Brief} brief @param {Plan} plan its plan @param {SheetOptions} options @param {PieceForm} form
 * @returns {Promise<Piece[]>}
 */
export async function makePieces(brief, plan, options, form) {
  const [glue, ...texts] = await parts(brief, plan, options);
  return glue.makePieces(...texts, form).map((piece) => {
    const { name, title, file } = piece;
    piece.free();
    return { name, title, file };
  });
}
