// The core behind plain functions. The only module that knows of WebAssembly.

import init, * as core from '../../pkg/lieflat_web.js';
import example from '../generated/example.js';

/** @typedef {'mm' | 'cm' | 'in'} Unit */
/** @typedef {{ field: string, value?: string, problem: any, accepted?: object }} BriefError */
/** @typedef {{ plan: object } | { errors: BriefError[] }} Answer */
/**
 * @typedef {object} Reckoner
 * @property {(brief: object) => Answer} plan with ranges
 * @property {(brief: object) => Answer} planQuick the same without ranges, for dragging
 * @property {(brief: object) => { told: object } | { errors: BriefError[] }} told both halves as readings, draft and path
 * @property {(text: string, unit: Unit) => { mm: number } | { problem: string }} parseLength
 * @property {(text: string) => { value: number } | { problem: string }} parseNumber
 * @property {(mm: number, unit: Unit) => string} formatLength without the unit
 * @property {(base: object, table: object) => Promise<{ sizes: Answer[] } | { errors: BriefError[] }>} sizes a plan for each size
 * @property {(brief: object) => Promise<object[]>} working the steps of a plan; none where the brief cannot be planned
 * @property {() => object} example the invented example's brief
 */

let loading;

/** Loads the core once; a load that failed is tried again the next time. @returns {Promise<Reckoner>} */
export function loadReckoner() {
  loading ??= init().then(
    () => reckoner,
    (error) => {
      loading = undefined;
      throw error;
    },
  );
  return loading;
}

const read = (result, name) => (typeof result === 'number' ? { [name]: result } : { problem: result });

/** The core's functions: only `example` answers before the core is loaded. @type {Reckoner} */
export const reckoner = {
  plan: core.plan,
  planQuick: core.plan_quick,
  told: core.told,
  parseLength: (text, unit) => read(core.parse_length(text, unit), 'mm'),
  parseNumber: (text) => read(core.parse_number(text), 'value'),
  formatLength: core.format_length,
  sizes: async (base, table) => (await whole()).sizes(base, table),
  working: async (brief) => (await whole()).plan(brief).plan?.working ?? [],
  example: () => structuredClone(example),
};

let wholeLoading;

/** The core with the working and all sizes, fetched when one of them is first asked for. */
function whole() {
  wholeLoading ??= import('../../pkg/lieflat_whole.js')
    .then(async (module) => {
      await module.default();
      return module;
    })
    .catch((error) => {
      // A failed fetch may succeed the next time it is asked for.
      wholeLoading = undefined;
      throw error;
    });
  return wholeLoading;
}

/** A length without its unit; usable once the core is loaded. */
export const formatLength = (mm, unit) => core.format_length(mm, unit);
