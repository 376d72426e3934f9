// The core behind plain functions. The only module that knows of WebAssembly.

import init, * as core from '../../pkg/lieflat_web.js';
import example from '../generated/example.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { BriefError } from '../types/errors.d.ts' */
/** @import { HalfName, Plan, Step } from '../types/plan.d.ts' */
/** @import { SizeSet } from '../sizes/size-set.js' */

/** @typedef {'mm' | 'cm' | 'in'} Unit */
/** @typedef {{ plan: Plan, errors?: undefined } | { plan?: undefined, errors: BriefError[] }} Answer */
/** @typedef {{ half_length_mm: number, half_width_mm: number, depth_mm: number, path_mm: string }} ThreeWays a half as readings, draft and path */
/** @typedef {Record<HalfName, ThreeWays>} Halves */
/** @typedef {{ sizes: Answer[], errors?: undefined } | { sizes?: undefined, errors: BriefError[] }} SizesAnswer */
/**
 * @typedef {object} Reckoner
 * @property {(brief: Brief) => Answer} plan with ranges
 * @property {(brief: Brief) => Answer} planQuick the same without ranges, for dragging
 * @property {(brief: Brief) => { told?: Halves, errors?: BriefError[] }} told both halves as readings, draft and path
 * @property {(text: string, unit: Unit) => { mm: number, problem?: undefined } | { mm?: undefined, problem: string }} parseLength
 * @property {(text: string) => { value: number, problem?: undefined } | { value?: undefined, problem: string }} parseNumber
 * @property {(mm: number, unit: Unit) => string} formatLength without the unit
 * @property {(base: Brief, table: SizeSet) => Promise<SizesAnswer>} sizes a plan for each size
 * @property {(brief: Brief) => Promise<Step[]>} working the steps of a plan; none where the brief cannot be planned
 * @property {() => Brief} example the invented example's brief
 */

/** @type {Promise<Reckoner> | undefined} */
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

/** The core's functions: only `example` answers before the core is loaded. @type {Reckoner} */
export const reckoner = {
  plan: core.plan,
  planQuick: core.plan_quick,
  told: core.told,
  parseLength: (text, unit) => {
    const mm = core.parse_length(text, unit);
    return typeof mm === 'number' ? { mm } : { problem: mm };
  },
  parseNumber: (text) => {
    const value = core.parse_number(text);
    return typeof value === 'number' ? { value } : { problem: value };
  },
  formatLength: core.format_length,
  sizes: async (base, table) => (await whole()).sizes(base, table),
  working: async (brief) => (await whole()).plan(brief).plan?.working ?? [],
  example: () => structuredClone(example),
};

/** @type {Promise<typeof import('../../pkg/lieflat_whole.js')> | undefined} */
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

/** A length without its unit; usable once the core is loaded. @param {number} mm @param {Unit} unit */
export const formatLength = (mm, unit) => core.format_length(mm, unit);
