// A brief as the form's values, each under its key, and back. No length is worked out: values only change places.

import { nameOf } from '../common/known.js';
import { AdultGroup, Direction } from '../generated/choices.js';
import { Band, Bound, Brief as Absent, Facing, Half, Head, StayEdge, Stays, Tape } from '../generated/defaults.js';
import * as usual from '../generated/habits.js';
import { SAME_MM } from '../generated/lengths.js';
import { systemOf } from '../common/lengths.js';
import { CURVED, FIELDS, UNREAD, edgeFields, isAsked } from './fields.js';

/** @import { Brief, HeadGirth, SewnRecord, StayEdge as Edge } from '../types/brief.d.ts' */
/** @import { Unit } from '../plan/reckoner.js' */

const HALVES = /** @type {const} */ (['front', 'back']);
const KNITS = /** @type {const} */ (['garment', 'strip']);

/**
 * The lengths of a type of the brief, under their keys in the form.
 * @template Value @param {string} at @param {Record<string, Value>} lengths @returns {[string, Value][]}
 */
const under = (at, lengths) =>
  Object.entries(lengths).flatMap(([name, value]) => (name.endsWith('_mm') ? [[`${at}.${name.slice(0, -3)}`, value]] : []));

/** What a new brief begins with, by key: in metric and in inches. @type {Record<string, readonly [FormValue, FormValue]>} */
export const HABITS = Object.fromEntries([
  ['neckline_allowance', usual.Neckline.neckline_allowance_mm],
  ...HALVES.flatMap((half) => [...under(half, usual.Half), [`${half}.centre_allowance`, usual.CentreSeam.allowance_mm]]),
  ...KNITS.flatMap((knit) => Direction.map((way) => [`${knit}.${way}.rest`, usual.StretchReadings.rest_mm])),
  ...under('band', usual.Band),
  ...under('bound', usual.Bound),
  ...under('tape', usual.Tape),
  ...under('facing', usual.Facing),
  ...under('head', usual.Head),
  ...under('stays', usual.Stays),
  ['rounding', usual.Brief.rounding],
]);

/** What a brief means that does not say it, by key, where a new brief may begin otherwise. @type {Record<string, FormValue>} */
const WHERE_ABSENT = Object.fromEntries([
  ...under('band', Band),
  ...under('bound', Bound),
  ...under('tape', Tape),
  ...under('facing', Facing),
  ...under('head', Head),
  ...under('stays', Stays),
  ['rounding', Absent.rounding],
]);

/** Values that a choice starts from before anyone typed its own: the core's, or invented. Each is the person's to change. mm and percent. */
const STARTING = {
  'band.layers': Band.layers,
  'band.point': Band.point,
  'bound.layers': Bound.layers,
  'zigzag.width': 2.5,
  'zigzag.advance': 1.5,
  'head.age': 24,
  'stays.shoulders': Stays.shoulders,
  edges: 0,
};
const STARTING_HALF = { shape: 'round', centre: Half.centre, path: '' };
const STARTING_EDGE = {
  name: '',
  part: /** @type {const} */ ('centre_front_seam'),
  length: null,
  gathered_from: null,
  direction: /** @type {const} */ ('lengthwise'),
  allowance: usual.StayEdge.allowance_mm[0],
  pieces: StayEdge.pieces,
};

/** @typedef {string | number | boolean | null | undefined | SewnRecord[]} FormValue */
/** @typedef {{ edges: number, [key: string]: FormValue }} FormValues by their fields' keys */

/** The value at a path such as a.b or a[0].b; the path's steps are found once. @type {Map<string, string[]>} */
const steps = new Map();
/** @param {Brief} brief @param {string} path @returns {unknown} */
function dig(brief, path) {
  let names = steps.get(path);
  if (!names) {
    names = path.split(/[.[\]]+/).filter(Boolean);
    steps.set(path, names);
  }
  return names.reduce((at, name) => (isObject(at) ? at[name] : undefined), /** @type {unknown} */ (brief));
}
/** @param {unknown} value @returns {value is Record<string, unknown>} */
const isObject = (value) => typeof value === 'object' && value !== null;
/** @param {string | object | null | undefined} value */
const only = (value) => (value ? nameOf(value) : undefined);

/** @param {unknown} value @returns {value is string | number | boolean} */
const isPlain = (value) => ['string', 'number', 'boolean'].includes(typeof value);

/** Nothing but what someone who measures in such a unit begins with. @param {Unit} unit */
export function startingValues(unit) {
  /** @type {FormValues} */
  const values = { ...STARTING };
  for (const [key, habits] of Object.entries(HABITS)) values[key] = habits[systemOf(unit)];
  for (const half of HALVES) {
    for (const [name, value] of Object.entries(STARTING_HALF)) values[`${half}.${name}`] = value;
  }
  for (const knit of KNITS) {
    values[`${knit}.kind`] = UNREAD;
    for (const way of Direction) values[`${knit}.${way}.how`] = way === 'crosswise' ? 'readings' : UNREAD;
  }
  return values;
}

// A typed fraction of an inch may differ from a habit in its last digit.
/** @param {FormValue} a @param {FormValue} b */
const isSame = (a, b) => a === b || (typeof a === 'number' && typeof b === 'number' && Math.abs(a - b) < SAME_MM);

/**
 * What is usual in a unit, by key, in place of values that are still what is usual in the other system.
 * @param {FormValues} values @param {Unit} unit @returns {Record<string, FormValue>}
 */
export function usualInstead(values, unit) {
  const here = systemOf(unit);
  const edges = Array.from({ length: values.edges }, (_, index) => [`edge${index}.allowance`, usual.StayEdge.allowance_mm]);
  const all = /** @type {[string, readonly [FormValue, FormValue]][]} */ ([...Object.entries(HABITS), ...edges]);
  return Object.fromEntries(
    all
      .filter(([key, habits]) => isSame(values[key], habits[1 - here]) && habits[0] !== habits[1])
      .map(([key, habits]) => [key, habits[here]]),
  );
}

/**
 * Writes a brief over the form's values; what the brief does not speak of stays as it is.
 * @param {Brief} brief @param {FormValues} [values]
 */
export function valuesOf(brief, values = startingValues('mm')) {
  const made = choices(brief);
  /** @type {FormValues} */
  const next = { ...values, ...made };
  next.edges = brief.stays?.edges?.length ?? 0;
  const edges = Array.from({ length: next.edges }, (_, index) => edgeFields(index)).flat();
  for (const field of [...FIELDS, ...edges]) {
    if (field.key in made) continue;
    const asked = field.when?.(next) ?? true;
    const value = field.paths.map((path) => dig(brief, path)).find((one) => one !== undefined);
    if (isPlain(value)) next[field.key] = value;
    else if (asked && field.optional) next[field.key] = null;
    else if (asked && field.key in WHERE_ABSENT) next[field.key] = WHERE_ABSENT[field.key];
  }
  return next;
}

/** Which variants a brief chose. @param {Brief} brief */
function choices(brief) {
  /** @type {Record<string, FormValue>} */
  const made = {
    finish: only(brief.finish),
    stitch: only(brief.stitch) ?? 'overlock',
    head: headOf(brief.head.girth),
    'strip.other': brief.strip_knit ? 'other' : 'same',
  };
  for (const half of HALVES) {
    made[`${half}.way`] = only(brief.neckline[half].outline);
    made[`${half}.centre`] = only(brief.neckline[half].centre) ?? 'fold';
  }
  for (const knit of KNITS) {
    const given = brief[`${knit}_knit`];
    if (!given) continue;
    // No field shows them: what was learned of a knit goes with it untouched.
    made[`${knit}.learned`] = given.learned;
    made[`${knit}.kind`] = given.kind ?? UNREAD;
    for (const way of Direction) made[`${knit}.${way}.how`] = only(given[way]) ?? UNREAD;
  }
  return made;
}

/** @param {HeadGirth} girth */
function headOf(girth) {
  return girth.adult ?? girth.child?.group ?? 'own';
}

/** Leaves out what is empty. @template Value @param {Record<string, Value>} object */
const full = (object) =>
  Object.fromEntries(Object.entries(object).filter(([, value]) => value !== null && value !== undefined && value !== ''));

/** The same; nothing where all of it is empty. @param {Record<string, unknown>} object */
function someOf(object) {
  const some = full(object);
  return Object.keys(some).length ? some : null;
}

/** What the form says, right or wrong: the core says what is wrong with it. @param {FormValues} values */
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
    finish: { [String(values.finish)]: finish(values) },
    stitch:
      values.stitch === 'zigzag' ? { zigzag: { width_mm: values['zigzag.width'], advance_mm: values['zigzag.advance'] } } : values.stitch,
    head: { girth: girth(values), margin_mm: values['head.margin'] },
    stays: stays(values),
    pattern_asks: asks(values),
    rounding: values.rounding,
    tolerances: group(values, 'tolerances'),
    rules: group(values, 'rules'),
  };
  return /** @type {Brief} */ (/** @type {unknown} */ (full(brief)));
}

/** @param {FormValues} values @param {string} name */
function half(values, name) {
  /** @param {string} key */
  const get = (key) => values[`${name}.${key}`];
  return {
    outline: { [String(get('way'))]: outline(get) },
    centre: get('centre') === 'seam' ? { seam: { allowance_mm: get('centre_allowance') } } : 'fold',
    shoulder_allowance_mm: get('shoulder_allowance'),
    shoulder_slope_deg: get('shoulder_slope'),
  };
}

/** @param {(key: string) => FormValue} get */
function outline(get) {
  if (get('way') === 'drawn') return full({ path_mm: get('path') ?? '', uncertainty_mm: get('uncertainty') });
  const kind = get('shape');
  const shape = full({
    kind,
    roundness_percent: CURVED.includes(String(kind)) ? get('roundness') : null,
    corner_radius_mm: kind === 'square' ? get('corner_radius') : null,
    leg_hollow_percent: kind === 'v' ? get('leg_hollow') : null,
  });
  const sides = { half_width_mm: get('half_width'), depth_mm: get('depth') };
  if (get('way') === 'drafted') return { ...sides, shape };
  return full({ half_length_mm: get('half_length'), ...sides, shape });
}

/** What one knit's fields say where they are asked, each at its own place. @param {FormValues} values @param {string} name */
function knit(values, name) {
  /** @type {Record<string, unknown>} */
  const said = {};
  for (const field of FIELDS) {
    if (field.knit !== name || !isAsked(field, values)) continue;
    const path = field.paths[0].split('.').slice(1);
    const value = values[field.key];
    if (field.kind !== 'choice') put(said, path, value);
    else if (!field.way) put(said, path, value === UNREAD ? null : value);
    else if (value !== UNREAD && field.options?.includes(String(value))) put(said, [...path, String(value)], {});
  }
  return full({ ...said, learned: values[`${name}.learned`] });
}

/** Puts a value that is not empty where a path of names leads. @param {Record<string, any>} object @param {string[]} path @param {unknown} value */
function put(object, path, value) {
  if (value === null || value === undefined) return;
  const names = [...path];
  const last = names.pop();
  let at = object;
  for (const name of names) {
    at[name] ??= {};
    at = at[name];
  }
  Object.assign(at, full({ [String(last)]: value }));
}

/** @param {FormValues} values */
function finish(values) {
  /** @type {Record<string, FormValue>} */
  const own = {};
  for (const field of FIELDS) {
    const [path] = field.paths;
    if (path.startsWith(`finish.${values.finish}.`)) own[path.split('.')[2]] = values[field.key];
  }
  return full(own);
}

/** @param {FormValues} values */
function girth(values) {
  if (values.head === 'own') return { own_mm: values['head.own'] };
  if (AdultGroup.some((group) => group === values.head)) return { adult: values.head };
  return { child: { group: values.head, age_months: values['head.age'] } };
}

/** @param {FormValues} values */
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

/** @param {FormValues} values @param {number} index */
function edge(values, index) {
  /** @param {string} key */
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

/** @param {FormValues} values */
function asks(values) {
  return someOf({ crosswise_percent: values['asks.crosswise'], lengthwise_percent: values['asks.lengthwise'] });
}

/** @param {FormValues} values @param {string} name */
function group(values, name) {
  const fields = FIELDS.filter((field) => field.paths[0].startsWith(`${name}.`));
  return Object.fromEntries(fields.map((field) => [field.paths[0].split('.')[1], values[field.key]]));
}

/**
 * A brief with so many edges to stay, of which nothing is known: to ask the core whether it takes as many.
 * @param {Brief} brief @param {number} count @returns {Brief}
 */
export function withSomeEdges(brief, count) {
  const { name, part, direction } = STARTING_EDGE;
  /** @type {Edge} */
  const edge = { name, part, direction, length_mm: NaN, allowance_mm: NaN };
  return { ...brief, stays: { ...brief.stays, edges: Array.from({ length: count }, () => edge) } };
}

/** How many edges values from elsewhere really have: as many as they say, where their values are there. @param {FormValues} values */
export function edgesIn(values) {
  let count = 0;
  while (count < values.edges && `edge${count}.length` in values) count += 1;
  return count;
}

/** The values with one more edge to stay. @param {FormValues} values @param {Unit} [unit] */
export function withEdge(values, unit = 'mm') {
  const index = values.edges;
  /** @type {FormValues} */
  const next = { ...values, edges: index + 1 };
  for (const [name, value] of Object.entries(STARTING_EDGE)) next[`edge${index}.${name}`] = value;
  next[`edge${index}.allowance`] = usual.StayEdge.allowance_mm[systemOf(unit)];
  return next;
}

/** A count that the core can read: nought, which it refuses with the range, where it is none. @param {FormValue} count */
const wholeOrNone = (count) => (typeof count === 'number' && Number.isInteger(count) && count > 0 && count < 1e6 ? count : 0);

/** The values without one of their edges. @param {FormValues} values @param {number} index */
export function withoutEdge(values, index) {
  /** @type {FormValues} */
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

/**
 * The form's values for a person's own readings: nothing of the example but its usual allowances and rules.
 * @param {Brief} example @param {Unit} [unit]
 */
export function ownValues(example, unit = 'mm') {
  const values = valuesOf(example, startingValues(unit));
  for (const key of FIRST) values[key] = null;
  for (const key of ['title', 'garment.name', 'garment.elastane', 'garment.learned']) values[key] = null;
  return values;
}
