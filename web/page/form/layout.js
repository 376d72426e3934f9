// Where each field stands in the form, in the order a maker comes to it: pieces, knit, finish, head, then what is seldom changed.
// What counts for most stands in a step at once, what is rare behind its one fold.

import { h } from '../common/dom.js';
import { Finish } from '../generated/choices.js';
import { FIELDS, isOptional } from './fields.js';

/** @import { Child } from '../common/dom.js' */
/** @import { Words } from '../common/words.js' */
/** @import { Field } from './fields.js' */
/** @import { FormValues } from './values.js' */

/** @param {string} start */
const keysOf = (start) => FIELDS.map(({ key }) => key).filter((key) => key.startsWith(start));
const HALF_FIRST = ['way', 'shape', 'half_length', 'corner_radius'];
const HALF_MORE = ['leg_hollow', 'roundness', 'centre', 'centre_allowance', 'shoulder_allowance', 'shoulder_slope'];
/** A half's sides: with a length one of them may stay empty, and stands behind the fold then. */
const SIDES = ['depth', 'half_width'];
/** The sides that are asked for beside a length, by half. @type {Record<string, string>} */
const SIDE_ASKED = { front: 'depth', back: 'half_width' };
/** What of a finish is told with its name. */
const FINISH_FIRST = /\.(?:width|layers|point)$/;

/**
 * @typedef {object} Parts
 * @property {(key: string) => HTMLElement} entry makes a field's element
 * @property {Words} words
 * @property {Tools} tools
 * @property {() => HTMLElement} edges the edges that the person names
 * @property {(id: string) => boolean} isOpen
 */
/** @typedef {{ ruler?: (knit: string) => HTMLElement, bring?: (half: 'front' | 'back') => HTMLElement }} Tools what the page puts beside the fields */
/** @typedef {'first' | 'more'} Place at once in its step, or behind the step's fold */

/** Where one of a half's sides stands beside such values. @param {Field} field @param {FormValues} values @returns {Place} */
export function placeOf(field, values) {
  const [half, name] = field.key.split('.');
  const isAside = isOptional(field, values) && SIDE_ASKED[half] !== name;
  return isAside ? 'more' : 'first';
}

/**
 * What makes each step's children, one after the other: a caller may let the browser paint between two.
 * @param {Parts} parts
 * @returns {[step: string, make: () => Child[]][]}
 */
export function layout(parts) {
  const { entry, words, edges } = parts;
  /** @param {string[]} keys */
  const entries = (keys) => keys.map(entry);
  /** @param {string} key @param {Child[]} children */
  const group = (key, ...children) => h('fieldset', { class: 'group' }, h('legend', { text: words.t(key) }), children);
  /** A step's one fold. @param {string} step @param {Child[]} children */
  const more = (step, ...children) =>
    h(
      'details',
      { id: `more-${step}`, class: 'more', open: parts.isOpen(`more-${step}`) },
      h('summary', {}, words.t('section.more'), h('span', { class: 'unseen', text: ` (${words.t(`section.${step}`)})` })),
      h('div', { class: 'folded' }, children),
    );
  const finishKeys = Finish.flatMap((finish) => keysOf(`${finish}.`));
  return [
    [
      'pieces',
      () => {
        const rare = ['front', 'back'].map((name) => halfMore(name, parts));
        return [
          entry('neckline_allowance'),
          h('div', { class: 'halves' }, half('front', parts), half('back', parts)),
          more('pieces', entry('readings_at'), h('div', { class: 'halves' }, rare)),
        ];
      },
    ],
    [
      'knit',
      () => [
        stretchTest('garment', parts),
        more('knit', knitMore('garment', parts), group('section.asks', entries(['asks.crosswise', 'asks.lengthwise']))),
      ],
    ],
    [
      'finish',
      () => [
        entry('finish'),
        h('div', { class: 'row' }, entries(finishKeys.filter((key) => FINISH_FIRST.test(key))), entry('strip.other')),
        h('div', { class: 'other-knit', 'data-when': 'strip.other=other' }, stretchTest('strip', parts)),
        more(
          'finish',
          entries(finishKeys.filter((key) => !FINISH_FIRST.test(key))),
          entries(['strip_direction', 'stitch', 'zigzag.width', 'zigzag.advance']),
          h('div', { class: 'other-knit', 'data-when': 'strip.other=other' }, group('section.strip_more', knitMore('strip', parts))),
          group('section.stays', entries(keysOf('stays.'))),
          group('edges.heading', h('p', { class: 'hint', text: words.t('edges.hint') }), edges()),
        ),
      ],
    ],
    ['head', () => [h('div', { class: 'row' }, entries(['head', 'head.own', 'head.age', 'head.margin']))]],
    [
      'rest',
      () => [
        entries(['title', 'rounding']),
        group('section.tolerances', h('p', { class: 'hint', text: words.t('section.tolerances_lead') }), entries(keysOf('tolerances.'))),
        group('section.rules', h('p', { class: 'hint', text: words.t('section.rules_lead') }), entries(keysOf('rules.'))),
      ],
    ],
  ];
}

/** Where one of a half's sides stands when it stands there. @param {string} half @param {Place} place */
const sides = (half, place) => SIDES.map((side) => h('div', { 'data-place': `${half}.${side}=${place}` }));

/** @param {'front' | 'back'} name @param {Parts} parts */
function half(name, { entry, words, tools }) {
  const keys = HALF_FIRST.map((one) => entry(`${name}.${one}`));
  const made = sides(name, 'first');
  for (const [index, side] of SIDES.entries()) made[index].append(entry(`${name}.${side}`));
  return h(
    'fieldset',
    { class: 'half' },
    h('legend', { text: words.t(`half.${name}_long`) }),
    keys.slice(0, 1),
    tools.bring?.(name),
    keys.slice(1),
    made,
    h(
      'div',
      { 'data-when': `${name}.way=drawn`, class: 'drawn' },
      h('p', { class: 'hint', text: words.t('field.path.how') }),
      entry(`${name}.path`),
      entry(`${name}.uncertainty`),
    ),
  );
}

/** @param {string} name @param {Parts} parts */
const halfMore = (name, { entry, words }) =>
  h(
    'fieldset',
    { class: 'half' },
    h('legend', { text: words.t(`half.${name}`) }),
    h('p', { class: 'hint', 'data-when': `${name}.way=measured`, text: words.t('section.side_more') }),
    sides(name, 'more'),
    HALF_MORE.map((one) => entry(`${name}.${one}`)),
  );

/** @param {string} knit @param {Parts} parts */
const stretchTest = (knit, { entry, words, tools }) =>
  h(
    'fieldset',
    { class: 'stretch' },
    h('legend', { text: words.t(`knit.${knit}_test`) }),
    h('p', { class: 'hint', text: words.t('section.stretch_lead') }),
    entry(`${knit}.crosswise.how`),
    tools.ruler?.(knit),
    FIELDS.filter(({ knit: of, way, kind, narrows }) => of === knit && way === 'crosswise' && kind !== 'choice' && !narrows).map(
      ({ key }) => entry(key),
    ),
  );

/** @param {string} knit @param {Parts} parts */
function knitMore(knit, { entry, words }) {
  /** @param {string} name */
  const way = (name) =>
    h(
      'fieldset',
      { class: 'stretch' },
      h('legend', { text: words.t(`way_of_stretch.${name}_long`) }),
      keysOf(`${knit}.${name}.`).map(entry),
    );
  const crosswise = FIELDS.filter((field) => field.knit === knit && field.narrows && field.way === 'crosswise');
  const others = FIELDS.filter((field) => field.knit === knit && !field.way);
  return [
    others.map(({ key }) => entry(key)),
    h(
      'fieldset',
      { class: 'stretch' },
      h('legend', { text: words.t('narrowing.heading') }),
      h('p', { class: 'hint', text: words.t('narrowing.lead') }),
      crosswise.map(({ key }) => entry(key)),
    ),
    way('lengthwise'),
    way('diagonal'),
  ];
}
