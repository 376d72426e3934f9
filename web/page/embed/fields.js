// The few readings that the embedded calculator asks for: which field of the
// brief each is, and whether it is a length. Read from the brief itself.

import { known, nameOf } from '../common/known.js';

/** @import { Brief, Finish } from '../types/brief.d.ts' */

/** @type {Record<string, string[]>} */
const LENGTHS = { measured: ['half_length_mm', 'half_width_mm', 'depth_mm'], drafted: ['half_width_mm', 'depth_mm'], drawn: [] };
/** @type {Record<string, string[]>} */
const STRETCH = { readings: ['rest_mm', 'stretched_mm', 'released_mm'], percent: ['stretch_percent', 'recovery_percent'] };

/** @typedef {{ path: string[], key: string, half?: string, isLength: boolean, value: number }} EmbedField */

/**
 * @param {Brief} brief
 * @returns {EmbedField[]} only fields that the brief has a number for
 */
export function fieldsOf(brief) {
  /** @type {EmbedField[]} */
  const fields = [];
  /** @param {string[]} path @param {string[]} names @param {{ half?: string }} [more] */
  const add = (path, names, more = {}) => {
    for (const name of names) {
      const at = [...path, name];
      const value = valueAt(brief, at);
      if (typeof value === 'number') fields.push({ path: at, key: name, isLength: name.endsWith('_mm'), value, ...more });
    }
  };
  for (const half of /** @type {const} */ (['front', 'back'])) {
    const [way] = Object.keys(brief.neckline[half].outline);
    add(['neckline', half, 'outline', way], known(LENGTHS, way) ?? [], { half });
  }
  const knit = brief.strip_knit ? 'strip_knit' : 'garment_knit';
  const [stretch] = Object.keys((brief.strip_knit ?? brief.garment_knit).crosswise);
  add([knit, 'crosswise', stretch], known(STRETCH, stretch) ?? []);
  add(['finish', nameOf(brief.finish)], ['width_mm']);
  return fields;
}

/** @param {unknown} value @returns {value is Record<string, unknown>} */
const isObject = (value) => typeof value === 'object' && value !== null;

/** The value at a path, where there is one. @param {unknown} object @param {string[]} path */
export function valueAt(object, path) {
  return path.reduce((at, name) => (isObject(at) ? at[name] : undefined), object);
}

/** A copy of a brief with one field set. @param {Brief} brief @param {string[]} path @param {number} value */
export function withValue(brief, path, value) {
  const changed = structuredClone(brief);
  const holder = valueAt(changed, path.slice(0, -1));
  if (isObject(holder)) holder[path[path.length - 1]] = value;
  return changed;
}

/**
 * A copy of a brief with another finish of the same width; the core knows the rest.
 * @param {Brief} brief @param {string} finish @returns {Brief}
 */
export function withFinish(brief, finish) {
  const before = nameOf(brief.finish);
  if (finish === before) return brief;
  const width = valueAt(brief, ['finish', before, 'width_mm']);
  return { ...structuredClone(brief), finish: /** @type {Finish} */ (/** @type {unknown} */ ({ [finish]: { width_mm: width } })) };
}
