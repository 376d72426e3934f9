// A brief as a flat sheet of the form's values, and back. No length is worked out: values only change places.

import { DIRECTIONS, FIELDS, edgeFields } from './fields.js';

/** Values a choice starts from before anyone typed its own: invented, each the person's to change. mm and percent. */
const STARTING = {
  'band.width': 15, 'band.layers': 'folded', 'band.point': 'mitre', 'band.join_allowance': 6,
  'bound.width': 10, 'bound.layers': 'single', 'bound.turn_under': 6, 'bound.join_allowance': 6,
  'tape.width': 12, 'tape.turn_under': 0, 'tape.join_allowance': 6,
  'facing.width': 55, 'facing.understitch': 1.6, 'facing.edge_allowance': 0,
  'zigzag.width': 2.5, 'zigzag.advance': 1.5, 'head.age': 24, 'stays.shoulders': true, edges: 0,
};
const STARTING_HALF = { shape: 'round', centre: 'fold', centre_allowance: 10, path: '' };
const STARTING_EDGE = { name: '', part: 'centre_front_seam', length: null, gathered_from: null, direction: 'lengthwise', allowance: 10, pieces: 1 };
const UNREAD = 'unread';

/** The value at a path such as a.b or a[0].b; the path's steps are found once. */
const steps = new Map();
function dig(brief, path) {
  if (!steps.has(path)) steps.set(path, path.split(/[.[\]]+/).filter(Boolean));
  return steps.get(path).reduce((at, name) => at?.[name], brief);
}
const only = (value) => (typeof value === 'string' ? value : value && Object.keys(value)[0]);

/** A sheet with nothing but starting values. */
function startingSheet() {
  const sheet = { ...STARTING };
  for (const half of ['front', 'back']) {
    for (const [name, value] of Object.entries(STARTING_HALF)) sheet[`${half}.${name}`] = value;
  }
  for (const knit of ['garment', 'strip']) {
    for (const way of DIRECTIONS) {
      sheet[`${knit}.${way}.how`] = way === 'crosswise' ? 'readings' : UNREAD;
      sheet[`${knit}.${way}.rest`] = 100;
    }
  }
  return sheet;
}

/**
 * Writes a brief over a sheet; what the brief does not speak of stays as it is.
 * @param {object} brief @param {object} [sheet]
 */
export function toSheet(brief, sheet = startingSheet()) {
  const made = choices(brief);
  const next = { ...sheet, ...made };
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
const full = (object) => Object.fromEntries(Object.entries(object).filter(([, value]) => value !== null && value !== undefined && value !== ''));

/** @param {object} sheet @returns {object} a brief */
export function toBrief(sheet) {
  const brief = {
    schema: 'lieflat.brief',
    version: 1,
    title: sheet.title || undefined,
    neckline: {
      readings_at: sheet.readings_at,
      neckline_allowance_mm: sheet.neckline_allowance,
      front: half(sheet, 'front'),
      back: half(sheet, 'back'),
    },
    garment_knit: knit(sheet, 'garment'),
    strip_knit: sheet['strip.other'] === 'other' ? knit(sheet, 'strip') : undefined,
    strip_direction: sheet.strip_direction,
    finish: { [sheet.finish]: finish(sheet) },
    stitch: sheet.stitch === 'zigzag'
      ? { zigzag: { width_mm: sheet['zigzag.width'], advance_mm: sheet['zigzag.advance'] } }
      : sheet.stitch,
    head: { girth: girth(sheet), margin_mm: sheet['head.margin'] },
    stays: stays(sheet),
    pattern_asks: asks(sheet),
    rounding: sheet.rounding,
    tolerances: group(sheet, 'tolerances'),
    rules: group(sheet, 'rules'),
  };
  return full(brief);
}

function half(sheet, name) {
  const get = (key) => sheet[`${name}.${key}`];
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

function knit(sheet, name) {
  const get = (key) => sheet[`${name}.${key}`];
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

function finish(sheet) {
  const own = {};
  for (const field of FIELDS) {
    const [path] = field.paths;
    if (path.startsWith(`finish.${sheet.finish}.`)) own[path.split('.')[2]] = sheet[field.key];
  }
  return full(own);
}

function girth(sheet) {
  if (sheet.head === 'own') return { own_mm: sheet['head.own'] };
  if (['women', 'men'].includes(sheet.head)) return { adult: sheet.head };
  return { child: { group: sheet.head, age_months: sheet['head.age'] } };
}

function stays(sheet) {
  const shoulders = Boolean(sheet['stays.shoulders']);
  return full({
    tape_width_mm: sheet['stays.tape_width'],
    catch_mm: sheet['stays.catch'],
    shoulders,
    shoulder_length_mm: shoulders ? sheet['stays.shoulder_length'] : null,
    edges: sheet.edges ? Array.from({ length: sheet.edges }, (_, index) => edge(sheet, index)) : null,
  });
}

function edge(sheet, index) {
  const get = (key) => sheet[`edge${index}.${key}`];
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

function asks(sheet) {
  const asked = full({ crosswise_percent: sheet['asks.crosswise'], lengthwise_percent: sheet['asks.lengthwise'] });
  return Object.keys(asked).length ? asked : null;
}

function group(sheet, name) {
  const fields = FIELDS.filter((field) => field.paths[0].startsWith(`${name}.`));
  return Object.fromEntries(fields.map((field) => [field.paths[0].split('.')[1], sheet[field.key]]));
}

/** A brief with so many edges to stay, of which nothing is known: to ask the core whether it takes as many. */
export function withSomeEdges(brief, count) {
  const { name, part, direction } = STARTING_EDGE;
  const edge = { name, part, direction, length_mm: NaN, allowance_mm: NaN };
  return { ...brief, stays: { ...brief.stays, edges: Array.from({ length: count }, () => edge) } };
}

/** How many edges a sheet from elsewhere really has: as many as it says, where their values are there. */
export function edgesIn(sheet) {
  let count = 0;
  while (count < sheet.edges && `edge${count}.length` in sheet) count += 1;
  return count;
}

/** A sheet with one more edge to stay. */
export function withEdge(sheet) {
  const index = sheet.edges;
  const next = { ...sheet, edges: index + 1 };
  for (const [name, value] of Object.entries(STARTING_EDGE)) next[`edge${index}.${name}`] = value;
  return next;
}

/** A count that the core can read: nought, which it refuses with the range, where it is none. */
const wholeOrNone = (count) => (Number.isInteger(count) && count > 0 && count < 1e6 ? count : 0);

/** A sheet without one of its edges. */
export function withoutEdge(sheet, index) {
  const next = { ...sheet, edges: sheet.edges - 1 };
  for (const name of Object.keys(STARTING_EDGE)) {
    for (let i = index; i + 1 < sheet.edges; i += 1) next[`edge${i}.${name}`] = sheet[`edge${i + 1}.${name}`];
    delete next[`edge${sheet.edges - 1}.${name}`];
  }
  return next;
}

/** What a person fills in first: the four tape readings, the stretch test, the head. */
export const FIRST = ['front.half_length', 'front.depth', 'back.half_length', 'back.half_width',
  'garment.crosswise.stretched', 'garment.crosswise.released', 'head.own'];

/** A sheet for a person's own readings: nothing of the example but its usual allowances and rules. */
export function ownSheet(example) {
  const sheet = toSheet(example);
  for (const key of FIRST) sheet[key] = null;
  for (const key of ['title', 'garment.name', 'garment.elastane', 'garment.learned']) sheet[key] = null;
  return sheet;
}

