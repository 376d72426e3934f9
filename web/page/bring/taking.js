// What is brought and what becomes of it, as data: which kind of file it is, what an edge changes in the form, and how it compares.

/** @import { FormValue } from '../form/values.js' */
/** @import { Edge, HalfName } from './room.js' */

/** How far a reading of the real thing may be from what was brought before something is amiss, percent. Our judgement. */
const AMISS = 1;

/** What a file is, by its type and its name; nothing where it is neither. @param {{ type: string, name: string }} file @returns {'photo' | 'file' | undefined} */
export function kindOf({ type, name }) {
  if (/svg|pdf|dxf/.test(type) || /\.(?:svg|pdf|dxf)$/i.test(name)) return 'file';
  return type.startsWith('image/') || /\.(?:jpe?g|png|webp|avif|heic|heif|gif|bmp)$/i.test(name) ? 'photo' : undefined;
}

/**
 * How what was brought compares with a reading of the real thing.
 * @param {number} brought mm @param {number} [read] mm
 */
export function comparison(brought, read) {
  if (!read) return undefined;
  const percent = Math.abs(brought / read - 1) * 100;
  return { percent, isOff: percent > AMISS };
}

/**
 * The form's values that an edge brings.
 * @param {HalfName} half @param {Edge} edge @param {'cut_edge' | 'seam_line'} readingsAt @returns {Record<string, FormValue>}
 */
export const valuesFor = (half, edge, readingsAt) => ({
  [`${half}.way`]: 'drawn',
  [`${half}.path`]: edge.path_mm,
  [`${half}.uncertainty`]: edge.uncertainty_mm,
  readings_at: readingsAt,
});
