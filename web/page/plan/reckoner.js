// The core behind plain functions. The only module that knows of WebAssembly.

import init, * as core from '../../pkg/lieflat_web.js';
import { inches, metric } from '../generated/example.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { BriefError } from '../types/errors.d.ts' */
/** @import { HalfName, Plan, Step } from '../types/plan.d.ts' */
/** @import { SizeSet } from '../sizes/size-set.js' */

/** @typedef {'mm' | 'cm' | 'in'} Unit */
/** @typedef {{ plan: Plan, errors?: undefined } | { plan?: undefined, errors: BriefError[] }} Answer */
/** @typedef {string | { either: { apart: number, together: number } }} TextProblem why a text is no number: a code, or one with both values that it may have */
/** @typedef {{ half_length_mm: number, half_width_mm: number, depth_mm: number, path_mm: string }} ThreeWays a half as readings, draft and path */
/** @typedef {Record<HalfName, ThreeWays>} Halves */
/** @typedef {{ sizes: Answer[], errors?: undefined } | { sizes?: undefined, errors: BriefError[] }} SizesAnswer */
/**
 * @typedef {object} Reckoner
 * @property {(brief: Brief) => Answer} plan with ranges
 * @property {(brief: Brief) => Answer} planQuick the same without ranges, for dragging
 * @property {(brief: Brief) => { told?: Halves, errors?: BriefError[] }} told both halves as readings, draft and path
 * @property {(text: string, unit: Unit) => { mm: number, problem?: undefined } | { mm?: undefined, problem: TextProblem }} parseLength
 * @property {(text: string) => { value: number, problem?: undefined } | { value?: undefined, problem: TextProblem }} parseNumber
 * @property {(base: Brief, table: SizeSet) => SizesAnswer} sizes a plan for each size
 * @property {(brief: Brief) => Step[]} working the steps of a plan; none where the brief cannot be planned
 * @property {(unit: Unit) => Brief} example the invented example's brief, by someone who measures in that unit
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

/**
 * JSON has no word for what is no finite number: the core reads it by its name, and says at which field it stands.
 * @param {string} _ @param {unknown} value
 */
const named = (_, value) => (typeof value === 'number' && !Number.isFinite(value) ? String(value) : value);

/** A value's JSON. What has none, such as a ring of objects, is no brief, and the core says so. @param {unknown} value */
function json(value) {
  try {
    return JSON.stringify(value, named) ?? '';
  } catch {
    return '';
  }
}

/** The core's functions: only `example` answers before the core is loaded. @type {Reckoner} */
export const reckoner = {
  plan: (brief) => JSON.parse(core.plan(json(brief))),
  planQuick: (brief) => JSON.parse(core.plan_quick(json(brief))),
  told: (brief) => JSON.parse(core.told(json(brief))),
  parseLength: (text, unit) => {
    const mm = core.parse_length(text, unit);
    return typeof mm === 'number' ? { mm } : { problem: JSON.parse(mm) };
  },
  parseNumber: (text) => {
    const value = core.parse_number(text);
    return typeof value === 'number' ? { value } : { problem: JSON.parse(value) };
  },
  sizes: (base, table) => JSON.parse(core.sizes(json(base), json(table))),
  working: (brief) => JSON.parse(core.plan_with_working(json(brief))).plan?.working ?? [],
  example: (unit) => structuredClone(unit === 'in' ? inches : metric),
};
