// What carries over when a person changes from one way of telling to another.

/** @import { HalfName } from '../types/plan.d.ts' */
/** @import { Halves, ThreeWays } from '../plan/reckoner.js' */
/** @import { FormValue } from './values.js' */

/**
 * The values to take over for a choice that was just made.
 * @param {string} key the choice's key
 * @param {FormValue} value what it is now
 * @param {Halves | null} told both halves in all three ways, where a plan is possible
 */
export function carryOver(key, value, told) {
  const [half, name] = key.split('.');
  if (name === 'way' && told && (half === 'front' || half === 'back')) return outline(half, value, told[half]);
  return {};
}

/** @param {HalfName} half @param {FormValue} way @param {ThreeWays} told @returns {Record<string, FormValue>} */
function outline(half, way, told) {
  /** @param {string} name */
  const at = (name) => `${half}.${name}`;
  if (way === 'drawn') return { [at('path')]: told.path_mm };
  if (way === 'drafted') return { [at('half_width')]: told.half_width_mm, [at('depth')]: told.depth_mm };
  // A length with both width and depth decides the fullness; with one of them the shape keeps its own.
  const kept =
    half === 'front'
      ? { [at('depth')]: told.depth_mm, [at('half_width')]: null }
      : { [at('half_width')]: told.half_width_mm, [at('depth')]: null };
  return { [at('half_length')]: told.half_length_mm, ...kept };
}
