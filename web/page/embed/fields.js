// The few readings that the embedded calculator asks for: which field of the
// brief each is, and whether it is a length. Read from the brief itself.

import { known } from '../common/known.js';

const LENGTHS = { measured: ['half_length_mm', 'half_width_mm', 'depth_mm'], drafted: ['half_width_mm', 'depth_mm'], drawn: [] };
const STRETCH = { readings: ['rest_mm', 'stretched_mm', 'released_mm'], percent: ['stretch_percent', 'recovery_percent'] };

/**
 * @typedef {{ path: string[], key: string, half?: string, isLength: boolean, value: number }} EmbedField
 * @param {object} brief
 * @returns {EmbedField[]} only fields that the brief has a number for
 */
export function fieldsOf(brief) {
  const fields = [];
  const add = (path, names, more = {}) => {
    const at = valueAt(brief, path);
    for (const name of names) {
      if (typeof at?.[name] === 'number') {
        fields.push({ path: [...path, name], key: name, isLength: name.endsWith('_mm'), value: at[name], ...more });
      }
    }
  };
  for (const half of ['front', 'back']) {
    const [way] = Object.keys(brief.neckline?.[half]?.outline ?? {});
    add(['neckline', half, 'outline', way], known(LENGTHS, way) ?? [], { half });
  }
  const knit = brief.strip_knit ? 'strip_knit' : 'garment_knit';
  const [stretch] = Object.keys(brief[knit]?.crosswise ?? {});
  add([knit, 'crosswise', stretch], known(STRETCH, stretch) ?? []);
  add(['finish', finishOf(brief)], ['width_mm']);
  return fields;
}

/** Which finish a brief has. */
export const finishOf = (brief) => Object.keys(brief.finish ?? {})[0];

/** The value at a path, where there is one. */
export function valueAt(object, path) {
  return path.reduce((at, name) => at?.[name], object);
}

/** A copy of a brief with one field set. */
export function withValue(brief, path, value) {
  const changed = structuredClone(brief);
  const last = path.at(-1);
  const holder = valueAt(changed, path.slice(0, -1));
  if (holder) holder[last] = value;
  return changed;
}

/** A copy of a brief with another finish of the same width; the core knows the rest. */
export function withFinish(brief, finish) {
  const before = finishOf(brief);
  if (finish === before) return brief;
  return { ...structuredClone(brief), finish: { [finish]: { width_mm: brief.finish[before].width_mm } } };
}
