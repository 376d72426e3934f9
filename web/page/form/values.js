// A brief as the form's values, each under its key, and back. No length is worked out: values only change places.

import { Band, Bound, Facing, Half, StayEdge, Stays, Tape } from '../generated/defaults.js';
import { DIRECTIONS, FIELDS, edgeFields } from './fields.js';

/** Values a choice starts from before anyone typed its own: the core's, or invented. Each is the person's to change. mm and percent. */
const STARTING = {
  'band.width': 15,
  'band.layers': Band.layers,
  'band.point': Band.point,
  'band.join_allowance': Band.join_allowance_mm,
  'bound.width': 10,
  'bound.layers': Bound.layers,
  'bound.turn_under': 6,
  'bound.join_allowance': Bound.join_allowance_mm,
  'tape.width': 12,
  'tape.turn_under': Tape.turn_under_mm,
  'tape.join_allowance': Tape.join_allowance_mm,
  'facing.width': 55,
  'facing.understitch': Facing.understitch_mm,
  'facing.edge_allowance': Facing.edge_allowance_mm,
  'zigzag.width': 2.5,
  'zigzag.advance': 1.5,
  'head.age': 24,
  'stays.shoulders': Stays.shoulders,
  edges: 0,
};
const STARTING_HALF = { shape: 'round', centre: Half.centre, centre_allowance: 10, path: '' };
const STARTING_EDGE = {
  name: '',
  part: 'centre_front_seam',
  length: null,
  gathered_from: null,
  direction: 'lengthwise',
  allowance: 10,
  pieces: StayEdge.pieces,
};
const UNREAD = 'unread';

/** The value at a path such as a.b or a[0].b; the path's steps are found once. */
const steps = new Map();
function dig(brief, path) {
  if (!steps.has(path)) steps.set(path, path.split(/[.[\]]+/).filter(Boolean));
  return steps.get(path).reduce((at, name) => at?.[name], brief);
}
const only = (value) => (typeof value === 'string' ? value : value && Object.keys(value)[0]);

/** Nothing but starting values. */
function startingValues() {
  const values = { ...STARTING };
  for (const half of ['front', 'back']) {
    for (const [name, value] of Object.entries(STARTING_HALF)) values[`${half}.${name}`] = value;
  }
  for (const knit of ['garment', 'strip']) {
    for (const way of DIRECTIONS) {
      values[`${knit}.${way}.how`] = way === 'crosswise' ? 'readings' : UNREAD;
      values[`${knit}.${way}.rest`] = 100;
    }
  }
  return values;
}

/**
 * Writes a brief over the form's values; what the brief does not speak of stays as it is.
 * @param {object} brief @param {object} [values]
 */
export function valuesOf(brief, values = startingValues()) {
  const made = choices(brief);
  const next = { ...values, ...made };
  next.edges = brief.stays?.edges?.length ?? 0;
  const edges = Array.from({ length: next.edges }, (_, index) => edgeFields(index)).flat();
  for (const field of [...FIELDS, ...edges]) {
    if (field.key in made) continue;
    const asked = field.when?.(next) ?? true;
    const value = field.paths.map((path) => dig(brief, path)).find((one) => one !== undefined);
    if (value !== undefined && typeof value !== 'object') next[field.key] = value;
    else if (asked && field.optional) next[field.key] = null;
  }
  return next;
}

/** Which variants a brief chose. */
function choices(brief) {
  const made = {
    finish: only(brief.finish),
    stitch: only(brief.stitch) ?? 'overlock',
    head: headOf(brief.head.girth),
    'strip.other': brief.strip_knit ? 'other' : 'same',
  };
  for (const half of ['front', 'back']) {
    made[`${half}.way`] = only(brief.neckline[half].outline);
    made[`${half}.centre`] = only(brief.neckline[half].centre) ?? 'fold';
  }
  for (const knit of ['garment', 'strip']) {
    const given = brief[`${knit}_knit`];
    if (!given) continue;
    // No field shows them: what was learned of a knit goes with it untouched.
    made[`${knit}.learned`] = given.learned;
    for (const way of DIRECTIONS) made[`${knit}.${way}.how`] = only(given[way]) ?? UNREAD;
  }
  return made;
}

function headOf(girth) {
  const kind = only(girth);
  if (kind === 'own_mm') return 'own';
  return kind === 'adult' ? girth.adult : girth.child.group;
}

/** Leaves out what is empty. */
const full = (object) =>
  Object.fromEntries(Object.entries(object).filter(([, value]) => value !== null && value !== undefined && value !== ''));

/** @param {object} values @returns {object} a brief */
export function briefOf(values) {
  const brief = {
    schema: 'lieflat.brief',
    version: 1,
    title: values.title || undefined,
    neckline: {
      readings_at: values.readings_at,
      neckline_allowance_mm: values.neckline_allowance,
      front: half(values, 'front'),
      back: half(values, 'back'),
    },
    garment_knit: knit(values, 'garment'),
    strip_knit: values['strip.other'] === 'other' ? knit(values, 'strip') : undefined,
    strip_direction: values.strip_direction,
    finish: { [values.finish]: finish(values) },
    stitch:
      values.stitch === 'zigzag' ? { zigzag: { width_mm: values['zigzag.width'], advance_mm: values['zigzag.advance'] } } : values.stitch,
    head: { girth: girth(values), margin_mm: values['head.margin'] },
    stays: stays(values),
    pattern_asks: asks(values),
    rounding: values.rounding,
    tolerances: group(values, 'tolerances'),
    rules: group(values, 'rules'),
  };
  return full(brief);
}

function half(values, name) {
  const get = (key) => values[`${name}.${key}`];
  return {
    outline: { [get('way')]: outline(get) },
    centre: get('centre') === 'seam' ? { seam: { allowance_mm: get('centre_allowance') } } : 'fold',
    shoulder_allowance_mm: get('shoulder_allowance'),
    shoulder_slope_deg: get('shoulder_slope'),
  };
}

function outline(get) {
  if (get('way') === 'drawn') return { path_mm: get('path') ?? '' };
  const kind = get('shape');
  const shape = full({
    kind,
    roundness_percent: ['round', 'scoop', 'boat'].includes(kind) ? get('roundness') : null,
    corner_radius_mm: kind === 'square' ? get('corner_radius') : null,
    leg_hollow_percent: kind === 'v' ? get('leg_hollow') : null,
  });
  const sides = { half_width_mm: get('half_width'), depth_mm: get('depth') };
  if (get('way') === 'drafted') return { ...sides, shape };
  return full({ half_length_mm: get('half_length'), ...sides, shape });
}

function knit(values, name) {
  const get = (key) => values[`${name}.${key}`];
  const way = (direction) => {
    const at = (key) => get(`${direction}.${key}`);
    if (at('how') === 'readings') {
      return { readings: full({ rest_mm: at('rest'), stretched_mm: at('stretched'), released_mm: at('released') }) };
    }
    if (at('how') === 'percent') {
      return { percent: full({ stretch_percent: at('stretch'), recovery_percent: at('recovery') }) };
    }
    return null;
  };
  return full({
    name: get('name'),
    crosswise: way('crosswise'),
    lengthwise: way('lengthwise'),
    diagonal: way('diagonal'),
    thickness_mm: get('thickness'),
    elastane_percent: get('elastane'),
    learned: get('learned'),
  });
}

function finish(values) {
  const own = {};
  for (const field of FIELDS) {
    const [path] = field.paths;
    if (path.startsWith(`finish.${values.finish}.`)) own[path.split('.')[2]] = values[field.key];
  }
  return full(own);
}

function girth(values) {
  if (values.head === 'own') return { own_mm: values['head.own'] };
  if (['women', 'men'].includes(values.head)) return { adult: values.head };
  return { child: { group: values.head, age_months: values['head.age'] } };
}

function stays(values) {
  const shoulders = Boolean(values['stays.shoulders']);
  return full({
    tape_width_mm: values['stays.tape_width'],
    catch_mm: values['stays.catch'],
    shoulders,
    shoulder_length_mm: shoulders ? values['stays.shoulder_length'] : null,
    edges: values.edges ? Array.from({ length: values.edges }, (_, index) => edge(values, index)) : null,
  });
}

function edge(values, index) {
  const get = (key) => values[`edge${index}.${key}`];
  return {
    name: get('name') ?? '',
    ...full({
      part: get('part'),
      length_mm: get('length'),
      gathered_from_mm: get('part') === 'gathered' ? get('gathered_from') : null,
      direction: get('direction'),
      allowance_mm: get('allowance'),
      // A whole number by the brief's own type: what is none is outside the range rather than unreadable.
      pieces: wholeOrNone(get('pieces')),
    }),
  };
}

function asks(values) {
  const asked = full({ crosswise_percent: values['asks.crosswise'], lengthwise_percent: values['asks.lengthwise'] });
  return Object.keys(asked).length ? asked : null;
}

function group(values, name) {
  const fields = FIELDS.filter((field) => field.paths[0].startsWith(`${name}.`));
  return Object.fromEntries(fields.map((field) => [field.paths[0].split('.')[1], values[field.key]]));
}

/** A brief with so many edges to stay, of which nothing is known: to ask the core whether it takes as many. */
export function withSomeEdges(brief, count) {
  const { name, part, direction } = STARTING_EDGE;
  const edge = { name, part, direction, length_mm: NaN, allowance_mm: NaN };
  return { ...brief, stays: { ...brief.stays, edges: Array.from({ length: count }, () => edge) } };
}

/** How many edges values from elsewhere really have: as many as they say, where their values are there. */
export function edgesIn(values) {
  let count = 0;
  while (count < values.edges && `edge${count}.length` in values) count += 1;
  return count;
}

/** The values with one more edge to stay. */
export function withEdge(values) {
  const index = values.edges;
  const next = { ...values, edges: index + 1 };
  for (const [name, value] of Object.entries(STARTING_EDGE)) next[`edge${index}.${name}`] = value;
  return next;
}

/** A count that the core can read: nought, which it refuses with the range, where it is none. */
const wholeOrNone = (count) => (Number.isInteger(count) && count > 0 && count < 1e6 ? count : 0);

/** The values without one of their edges. */
export function withoutEdge(values, index) {
  const next = { ...values, edges: values.edges - 1 };
  for (const name of Object.keys(STARTING_EDGE)) {
    for (let i = index; i + 1 < values.edges; i += 1) next[`edge${i}.${name}`] = values[`edge${i + 1}.${name}`];
    delete next[`edge${values.edges - 1}.${name}`];
  }
  return next;
}

/** What a person fills in first: the four tape readings, the stretch test, the head. */
export const FIRST = [
  'front.half_length',
  'front.depth',
  'back.half_length',
  'back.half_width',
  'garment.crosswise.stretched',
  'garment.crosswise.released',
  'head.own',
];

/** The form's values for a person's own readings: nothing of the example but its usual allowances and rules. */
export function ownValues(example) {
  const values = valuesOf(example);
  for (const key of FIRST) values[key] = null;
  for (const key of ['title', 'garment.name', 'garment.elastane', 'garment.learned']) values[key] = null;
  return values;
}
