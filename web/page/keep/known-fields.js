// The fields of a brief, for saying which parts of one this version does not know. The core refuses
// such parts in a file's text; a value that is already an object reaches it without them. A check holds
// this table to the core's own.

const PLAIN = 'plain';
const plain = (names) => Object.fromEntries(names.split(' ').map((name) => [name, PLAIN]));
const list = (of) => [of];

const SHAPE = plain('kind roundness_percent corner_radius_mm leg_hollow_percent');
const OUTLINE = {
  measured: { ...plain('half_length_mm half_width_mm depth_mm'), shape: SHAPE },
  drafted: { ...plain('half_width_mm depth_mm'), shape: SHAPE },
  drawn: plain('path_mm'),
};
const HALF = { outline: OUTLINE, centre: { seam: plain('allowance_mm') }, ...plain('shoulder_allowance_mm shoulder_slope_deg') };
const STRETCH = { readings: plain('rest_mm stretched_mm released_mm'), percent: plain('stretch_percent recovery_percent') };
const KNIT = {
  ...plain('name thickness_mm elastane_percent'),
  crosswise: STRETCH,
  lengthwise: STRETCH,
  diagonal: STRETCH,
  learned: list(plain('finish held_line_mm strip_mm outcome by_mm recorded')),
};

/** The tree of a brief: a field's own fields, or that it is a plain value. */
export const BRIEF = {
  ...plain('schema version title strip_direction rounding'),
  neckline: { ...plain('readings_at neckline_allowance_mm'), front: HALF, back: HALF },
  garment_knit: KNIT,
  strip_knit: KNIT,
  finish: {
    band: plain('width_mm layers point join_allowance_mm ratio_percent'),
    tape: plain('width_mm turn_under_mm join_allowance_mm ratio_percent'),
    facing: plain('width_mm understitch_mm edge_allowance_mm topstitch_mm'),
    bound: plain('width_mm layers turn_under_mm join_allowance_mm ratio_percent'),
  },
  stitch: { zigzag: plain('width_mm advance_mm') },
  head: { girth: { ...plain('own_mm adult'), child: plain('group age_months') }, margin_mm: PLAIN },
  stays: {
    ...plain('tape_width_mm catch_mm shoulders shoulder_length_mm'),
    edges: list(plain('name part length_mm gathered_from_mm direction allowance_mm pieces')),
  },
  pattern_asks: plain('crosswise_percent lengthwise_percent'),
  tolerances: plain('reading_mm stretch_points recovery_points allowance_mm width_mm roundness_points'),
  rules: plain('hold_share comfort_share tape_hold pull_share mark_tolerance_mm clip_opening_mm turn_per_thickness'),
};

const isObject = (value) => typeof value === 'object' && value !== null;

function search(value, known, path, found) {
  if (!isObject(value) || known === PLAIN) return;
  if (Array.isArray(known)) {
    if (Array.isArray(value)) for (const [i, one] of value.entries()) search(one, known[0], `${path}[${i}]`, found);
    return;
  }
  for (const [name, field] of Object.entries(value)) {
    const at = path ? `${path}.${name}` : name;
    if (Object.hasOwn(known, name)) search(field, known[name], at, found);
    else if (field !== undefined) found.push(at);
  }
}

/** Paths of the fields that this version does not know. @param {unknown} brief @returns {string[]} */
export function unknownFields(brief) {
  const found = [];
  search(brief, BRIEF, '', found);
  return found;
}

/** The same for a knit alone. @param {unknown} knit @returns {string[]} */
export function unknownInKnit(knit) {
  const found = [];
  search(knit, KNIT, '', found);
  return found;
}
