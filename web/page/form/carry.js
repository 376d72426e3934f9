// What carries over when a person changes from one way of telling to another.

/**
 * The values to take over for a choice that was just made.
 * @param {string} key the choice's key
 * @param {string} value what it is now
 * @param {{ front: object, back: object } | null} told both halves in all three ways, where a plan is possible
 */
export function carryOver(key, value, told) {
  const [half, name] = key.split('.');
  if (name === 'way' && told?.[half]) return outline(half, value, told[half]);
  return {};
}

function outline(half, way, told) {
  const at = (name) => `${half}.${name}`;
  if (way === 'drawn') return { [at('path')]: told.path_mm };
  if (way === 'drafted') return { [at('half_width')]: told.half_width_mm, [at('depth')]: told.depth_mm };
  // A length with both width and depth decides the fullness; with one of them the shape keeps its own.
  const kept = half === 'front' ? 'depth' : 'half_width';
  const other = half === 'front' ? 'half_width' : 'depth';
  return { [at('half_length')]: told.half_length_mm, [at(kept)]: told[`${kept}_mm`], [at(other)]: null };
}
