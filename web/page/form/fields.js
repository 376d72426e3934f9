// Every field of the form as data: what kind of entry it is, where its value stands in a brief, and when it is asked.
// The form's values stand under their fields' keys, those of choices not made now too, so that nothing typed is lost.

import {
  AdultGroup,
  Centre,
  ChildGroup,
  Direction,
  EdgePart,
  Finish,
  KnitKind,
  Layers,
  Outline,
  PointFinish,
  ReadingsAt,
  Rounding,
  SewnFinish,
  ShapeKind,
  Stretch,
} from '../generated/choices.js';
import { ROUNDNESS } from '../generated/defaults.js';

/** @import { FormValue, FormValues } from './values.js' */

/**
 * @typedef {object} Field
 * @property {string} key among the form's values; its element's id has dashes for dots
 * @property {string} words where its label, hint and options stand in the catalogue
 * @property {'length' | 'number' | 'share' | 'choice' | 'check' | 'text'} kind a share is a fraction, shown as percent
 * @property {string[]} paths where its value, or what is wrong with it, stands in a brief
 * @property {string} [unit] a number's unit: percent, deg, months, points, ratio or count; of a length mm, where it is told so in every unit
 * @property {boolean | ((values: FormValues) => boolean)} [optional] may be left empty
 * @property {readonly string[]} [options] of a choice
 * @property {'cards' | 'list'} [look] of a choice
 * @property {string} [pictures] of a choice's cards
 * @property {(values: FormValues) => boolean} [when] whether it is asked
 * @property {string} [half] front or back
 * @property {string} [knit] garment or strip
 * @property {string} [way] which way in the knit
 * @property {boolean} [narrows] whether it tells how a knit narrows
 * @property {number} [edge] the place of a named edge among them
 */

/** The shapes that have a roundness. */
export const CURVED = Object.keys(ROUNDNESS);
/** What a choice says of a stretch that was not read: a brief says nothing then. */
export const UNREAD = 'unread';

/**
 * @param {Field['kind']} kind @param {string} key @param {string} words @param {string | string[]} paths @param {Partial<Field>} [rest]
 * @returns {Field}
 */
const entry = (kind, key, words, paths, rest = {}) => ({ kind, key, words: `field.${words}`, paths: [paths].flat(), ...rest });
/** @param {string} key @param {string} words @param {string | string[]} paths @param {Partial<Field>} [rest] */
const length = (key, words, paths, rest) => entry('length', key, words, paths, rest);
/** @param {string} key @param {string} words @param {string} unit @param {string | string[]} paths @param {Partial<Field>} [rest] */
const number = (key, words, unit, paths, rest) => entry('number', key, words, paths, { unit, ...rest });
/** @param {string} key @param {string} words @param {string} paths */
const share = (key, words, paths) => entry('share', key, words, paths);
/** @param {string} key @param {string} words @param {readonly string[]} options @param {string | string[]} paths @param {Partial<Field>} [rest] */
const choice = (key, words, options, paths, rest) => entry('choice', key, words, paths, { options, look: 'list', ...rest });
/** @param {string} key @param {FormValue[]} wanted @returns {(values: FormValues) => boolean} */
const is =
  (key, ...wanted) =>
  (values) =>
    wanted.includes(values[key]);
/** @param {((values: FormValues) => boolean)[]} tests @returns {(values: FormValues) => boolean} */
const all =
  (...tests) =>
  (values) =>
    tests.every((test) => test(values));

/** @param {string} half */
function halfFields(half) {
  const at = `neckline.${half}`;
  /** @param {string} name */
  const key = (name) => `${half}.${name}`;
  /** @param {string} name */
  const told = (name) => [`${at}.outline.measured.${name}`, `${at}.outline.drafted.${name}`];
  /** @param {string[]} ways */
  const way = (...ways) => is(key('way'), ...ways);
  const byNumbers = way('measured', 'drafted');
  const optionalWhenMeasured = { optional: is(key('way'), 'measured') };
  return [
    choice(key('way'), 'way', Outline, `${at}.outline`, { look: 'cards', pictures: 'way' }),
    choice(key('shape'), 'shape', ShapeKind, told('shape.kind'), { look: 'cards', pictures: 'shape', when: byNumbers }),
    length(key('half_length'), 'half_length', `${at}.outline.measured.half_length_mm`, { when: way('measured') }),
    length(key('depth'), 'depth', told('depth_mm'), { when: byNumbers, ...optionalWhenMeasured }),
    length(key('half_width'), 'half_width', told('half_width_mm'), { when: byNumbers, ...optionalWhenMeasured }),
    entry('text', key('path'), 'path', `${at}.outline.drawn.path_mm`, { when: way('drawn') }),
    length(key('uncertainty'), 'uncertainty', `${at}.outline.drawn.uncertainty_mm`, { optional: true, when: way('drawn') }),
    length(key('corner_radius'), 'corner_radius', told('shape.corner_radius_mm'), {
      optional: true,
      when: all(byNumbers, is(key('shape'), 'square')),
    }),
    number(key('roundness'), 'roundness', 'percent', told('shape.roundness_percent'), {
      optional: true,
      when: all(byNumbers, is(key('shape'), ...CURVED)),
    }),
    number(key('leg_hollow'), 'leg_hollow', 'percent', told('shape.leg_hollow_percent'), {
      optional: true,
      when: all(byNumbers, is(key('shape'), 'v')),
    }),
    choice(key('centre'), 'centre', Centre, `${at}.centre`),
    length(key('centre_allowance'), 'centre_allowance', `${at}.centre.seam.allowance_mm`, { when: is(key('centre'), 'seam') }),
    length(key('shoulder_allowance'), 'shoulder_allowance', `${at}.shoulder_allowance_mm`),
    number(key('shoulder_slope'), 'shoulder_slope', 'deg', `${at}.shoulder_slope_deg`),
  ].map((field) => ({ ...field, half }));
}

/** @param {string} knit @param {string} way @param {(values: FormValues) => boolean} whenKnit */
function stretchFields(knit, way, whenKnit) {
  const at = `${knit}_knit.${way}`;
  /** @param {string} name */
  const key = (name) => `${knit}.${way}.${name}`;
  const hows = way === 'crosswise' ? Stretch : [UNREAD, ...Stretch];
  /** @param {string} how */
  const asked = (how) => all(whenKnit, is(key('how'), how));
  return [
    choice(key('how'), `how_${way}`, hows, at, { when: whenKnit, look: way === 'crosswise' ? 'cards' : 'list' }),
    length(key('rest'), 'rest', `${at}.readings.rest_mm`, { when: asked('readings') }),
    length(key('stretched'), 'stretched', `${at}.readings.stretched_mm`, { when: asked('readings') }),
    length(key('released'), 'released', `${at}.readings.released_mm`, { optional: true, when: asked('readings') }),
    number(key('stretch'), 'stretch', 'percent', `${at}.percent.stretch_percent`, { when: asked('percent') }),
    number(key('recovery'), 'recovery', 'percent', `${at}.percent.recovery_percent`, { optional: true, when: asked('percent') }),
  ].map((field) => ({ ...field, way }));
}

/**
 * How much a knit narrows, one way. A swatch's width counts beside its stretch alone.
 * @param {string} knit @param {string} way @param {(values: FormValues) => boolean} when
 */
function narrowingFields(knit, way, when) {
  /** @param {string} name */
  const key = (name) => `${knit}.${way}.${name}`;
  const at = `${knit}_knit.swatch_width.${way}`;
  const swatch = { optional: true, when: all(when, is(key('how'), 'readings', 'percent')) };
  return [
    length(key('swatch_rest'), 'swatch_rest', `${at}.rest_mm`, swatch),
    length(key('swatch_stretched'), 'swatch_stretched', `${at}.stretched_mm`, swatch),
    number(key('poisson'), 'poisson', 'ratio', `${knit}_knit.poisson_ratio.${way}`, { optional: true, when }),
  ].map((field) => ({ ...field, way, narrows: true }));
}

/** @param {string} knit */
function knitFields(knit) {
  const when = knit === 'strip' ? is('strip.other', 'other') : () => true;
  const at = `${knit}_knit`;
  return [
    entry('text', `${knit}.name`, 'knit_name', `${at}.name`, { optional: true, when }),
    ...Direction.flatMap((way) => stretchFields(knit, way, when)),
    choice(`${knit}.kind`, 'knit_kind', [UNREAD, ...KnitKind], `${at}.kind`, { when }),
    ...narrowingFields(knit, 'crosswise', when),
    ...narrowingFields(knit, 'lengthwise', when),
    length(`${knit}.thickness`, 'thickness', `${at}.thickness_mm`, { unit: 'mm', optional: true, when }),
    number(`${knit}.elastane`, 'elastane', 'percent', `${at}.elastane_percent`, { optional: true, when }),
  ].map((field) => ({ ...field, knit }));
}

/** Whether the neckline comes to a point at a centre, or may: what is drawn may. @param {FormValues} values */
const mayHavePoint = (values) => ['front', 'back'].some((half) => values[`${half}.way`] === 'drawn' || values[`${half}.shape`] === 'v');

function finishFields() {
  /** @param {string} finish @returns {(kind: Field['kind'], name: string, words: string, rest?: Partial<Field>) => Field} */
  const of =
    (finish) =>
    (kind, name, words, rest = {}) => {
      const { unit, ...others } = rest;
      const path = `finish.${finish}.${name}${kind === 'length' ? '_mm' : kind === 'number' ? '_percent' : ''}`;
      return entry(kind, `${finish}.${name}`, words, path, { when: is('finish', finish), unit, ...others });
    };
  const [band, bound, tape, facing] = [of('band'), of('bound'), of('tape'), of('facing')];
  const ratio = { optional: true, unit: 'percent' };
  return [
    choice('finish', 'finish', Finish, 'finish', { look: 'cards', pictures: 'finish' }),
    band('length', 'width', 'band_width'),
    band('choice', 'layers', 'band_layers', { options: Layers, look: 'list' }),
    band('choice', 'point', 'point', { options: PointFinish, look: 'list', when: all(is('finish', 'band'), mayHavePoint) }),
    band('length', 'join_allowance', 'join_allowance'),
    band('number', 'ratio', 'ratio', ratio),
    bound('length', 'width', 'bound_width'),
    bound('choice', 'layers', 'bound_layers', { options: ['single', 'folded'], look: 'list' }),
    bound('length', 'turn_under', 'turn_under'),
    bound('length', 'join_allowance', 'join_allowance'),
    bound('number', 'ratio', 'ratio', ratio),
    tape('length', 'width', 'tape_width'),
    tape('length', 'turn_under', 'turn_under'),
    tape('length', 'join_allowance', 'join_allowance'),
    tape('number', 'ratio', 'ratio', ratio),
    facing('length', 'width', 'facing_width'),
    facing('length', 'understitch', 'understitch'),
    facing('length', 'topstitch', 'topstitch', { optional: true }),
    facing('length', 'edge_allowance', 'edge_allowance'),
  ];
}

/** The fields of one edge a person names, to be stayed. @param {number} index @returns {Field[]} */
export function edgeFields(index) {
  const at = `stays.edges[${index}]`;
  /** @param {string} name */
  const key = (name) => `edge${index}.${name}`;
  return [
    entry('text', key('name'), 'edge_name', `${at}.name`),
    choice(key('part'), 'edge_part', EdgePart, `${at}.part`),
    length(key('length'), 'edge_length', `${at}.length_mm`),
    length(key('gathered_from'), 'gathered_from', `${at}.gathered_from_mm`, { when: is(key('part'), 'gathered') }),
    choice(key('direction'), 'edge_direction', Direction, `${at}.direction`),
    length(key('allowance'), 'edge_allowance_of', `${at}.allowance_mm`),
    number(key('pieces'), 'edge_pieces', 'count', `${at}.pieces`),
  ].map((field) => ({ ...field, edge: index }));
}

const TOLERANCES = [
  length('tolerances.reading', 'tol_reading', 'tolerances.reading_mm'),
  number('tolerances.stretch', 'tol_stretch', 'points', 'tolerances.stretch_points'),
  number('tolerances.recovery', 'tol_recovery', 'points', 'tolerances.recovery_points'),
  length('tolerances.allowance', 'tol_allowance', 'tolerances.allowance_mm'),
  length('tolerances.width', 'tol_width', 'tolerances.width_mm'),
  number('tolerances.roundness', 'tol_roundness', 'points', 'tolerances.roundness_points'),
  number('tolerances.poisson', 'tol_poisson', 'ratio', 'tolerances.poisson_ratio'),
  number('tolerances.slope', 'tol_slope', 'deg', 'tolerances.slope_deg'),
];

const RULES = [
  share('rules.hold_share', 'hold_share', 'rules.hold_share'),
  share('rules.comfort_share', 'comfort_share', 'rules.comfort_share'),
  share('rules.tape_hold', 'tape_hold', 'rules.tape_hold'),
  share('rules.pull_share', 'pull_share', 'rules.pull_share'),
  length('rules.mark_tolerance', 'mark_tolerance', 'rules.mark_tolerance_mm'),
  length('rules.passing_rise', 'passing_rise', 'rules.passing_rise_mm'),
  number('rules.passing_lean', 'passing_lean', 'deg', 'rules.passing_lean_deg'),
  length('rules.clip_opening', 'clip_opening', 'rules.clip_opening_mm'),
  number('rules.turn_per_thickness', 'turn_per_thickness', 'ratio', 'rules.turn_per_thickness'),
];

const OTHERS = [
  entry('text', 'title', 'title', 'title', { optional: true }),
  choice('readings_at', 'readings_at', ReadingsAt, 'neckline.readings_at'),
  length('neckline_allowance', 'neckline_allowance', 'neckline.neckline_allowance_mm'),
  choice('strip.other', 'strip_knit', ['same', 'other'], 'strip_knit'),
  choice('strip_direction', 'strip_direction', Direction, 'strip_direction', { when: is('finish', ...SewnFinish) }),
  choice('stitch', 'stitch', ['overlock', 'zigzag', 'straight'], 'stitch'),
  length('zigzag.width', 'zigzag_width', 'stitch.zigzag.width_mm', { unit: 'mm', when: is('stitch', 'zigzag') }),
  length('zigzag.advance', 'zigzag_advance', 'stitch.zigzag.advance_mm', { unit: 'mm', when: is('stitch', 'zigzag') }),
  choice('head', 'head', ['own', ...AdultGroup, ...ChildGroup], 'head.girth'),
  length('head.own', 'head_girth', 'head.girth.own_mm', { when: is('head', 'own') }),
  number('head.age', 'head_age', 'months', 'head.girth.child.age_months', { when: is('head', ...ChildGroup) }),
  length('head.margin', 'head_margin', 'head.margin_mm'),
  length('stays.tape_width', 'stay_tape_width', 'stays.tape_width_mm'),
  length('stays.catch', 'stay_catch', 'stays.catch_mm'),
  entry('check', 'stays.shoulders', 'stay_shoulders', 'stays.shoulders'),
  length('stays.shoulder_length', 'shoulder_length', 'stays.shoulder_length_mm', { optional: true, when: is('stays.shoulders', true) }),
  number('asks.crosswise', 'asks_crosswise', 'percent', 'pattern_asks.crosswise_percent', { optional: true }),
  number('asks.lengthwise', 'asks_lengthwise', 'percent', 'pattern_asks.lengthwise_percent', { optional: true }),
  choice('rounding', 'rounding', Rounding, 'rounding'),
];

/** @type {Field[]} */
export const FIELDS = [
  ...OTHERS,
  ...halfFields('front'),
  ...halfFields('back'),
  ...knitFields('garment'),
  ...knitFields('strip'),
  ...finishFields(),
  ...TOLERANCES,
  ...RULES,
];

/** Every field that the form has with such values, the named edges' among them. @returns {Field[]} @param {FormValues} [values] */
export function fieldsOf(values) {
  const edges = Array.from({ length: values?.edges ?? 0 }, (_, index) => edgeFields(index));
  return [...FIELDS, ...edges.flat()];
}

/** Whether a field is asked beside such values. @param {Field} field @param {FormValues} values */
export const isAsked = (field, values) => field.when?.(values) ?? true;

/** Whether a field may be empty beside such values. @param {Field} field @param {FormValues} values */
export const isOptional = (field, values) => (typeof field.optional === 'function' ? field.optional(values) : Boolean(field.optional));

/** The id of a field's element. @param {string} key */
export const idOf = (key) => key.replaceAll('.', '-').replaceAll('_', '-');

/**
 * The field a path in a brief belongs to: its own, or the nearest above it, of those that are asked beside such values.
 * @returns {Field | undefined} @param {string} path @param {FormValues} [values]
 */
export function fieldAt(path, values) {
  const asked = fieldsOf(values).filter((field) => !values || isAsked(field, values));
  /** @param {string} candidate */
  const owns = (candidate) => candidate !== '' && asked.find((field) => field.paths.includes(candidate));
  for (let at = path; at; at = at.replace(/[.[]?[^.[]*$/, '')) {
    const field = owns(at) || asked.find((one) => one.paths.some((own) => own.startsWith(`${at}.`)) && at !== path);
    if (field) return field;
  }
  return undefined;
}
