// Where each field stands in the form, in the order a maker comes to it: pieces, knit, finish, head, then what may stay folded.

import { h } from '../common/dom.js';
import { Finish } from '../generated/choices.js';
import { FIELDS } from './fields.js';

/** @import { Child } from '../common/dom.js' */
/** @import { Words } from '../common/words.js' */

/** @param {string} start */
const keysOf = (start) => FIELDS.map(({ key }) => key).filter((key) => key.startsWith(start));
const HALF_FIRST = ['way', 'shape', 'half_length', 'depth', 'half_width', 'corner_radius', 'leg_hollow'];
const HALF_MORE = ['roundness', 'centre', 'centre_allowance', 'shoulder_allowance', 'shoulder_slope'];

/**
 * @typedef {object} Parts
 * @property {(key: string) => HTMLElement} entry makes a field's element
 * @property {Words} words
 * @property {Tools} tools
 * @property {() => HTMLElement} edges the edges that the person names
 * @property {(id: string) => boolean} isOpen
 */
/** @typedef {{ ruler?: (knit: string) => HTMLElement }} Tools what the page puts beside the fields */

/**
 * What makes the whole form's children, one after the other: a caller may let the browser paint between two.
 * @param {Parts} parts
 * @returns {(() => Node)[]}
 */
export function layout(parts) {
  const { entry, words, tools, edges } = parts;
  /** @param {string[]} keys */
  const entries = (keys) => keys.map(entry);
  /** @param {string} id @param {number} number @param {Child[]} children */
  const section = (id, number, ...children) =>
    h(
      'section',
      { class: 'part', 'aria-labelledby': `${id}-part` },
      h('h2', { id: `${id}-part` }, h('span', { class: 'number', 'aria-hidden': 'true', text: number }), words.t(`section.${id}`)),
      children,
    );
  /** @param {string} id @param {Child[]} children */
  const fold = (id, ...children) =>
    h(
      'details',
      { id: `fold-${id}`, open: parts.isOpen(`fold-${id}`) },
      h('summary', {}, words.t(`section.${id}`)),
      h('div', { class: 'folded' }, children),
    );
  return [
    () =>
      section(
        'pieces',
        1,
        h('p', { class: 'lead', text: words.t('section.pieces_lead') }),
        h('div', { class: 'row' }, entries(['neckline_allowance', 'readings_at'])),
        h('div', { class: 'halves' }, half('front', parts), half('back', parts)),
      ),
    () =>
      section(
        'knit',
        2,
        stretchTest('garment', parts),
        tools.ruler?.('garment'),
        fold('knit_more', knitMore('garment', parts), entries(['asks.crosswise', 'asks.lengthwise'])),
      ),
    () =>
      section(
        'finish',
        3,
        entry('finish'),
        Finish.map((finish) => entries(keysOf(`${finish}.`))),
        h('div', { class: 'row' }, entries(['strip.other', 'strip_direction'])),
        h(
          'div',
          { class: 'other-knit', 'data-when': 'strip.other=other' },
          stretchTest('strip', parts),
          tools.ruler?.('strip'),
          fold('strip_more', knitMore('strip', parts)),
        ),
      ),
    () => section('head', 4, entries(['head', 'head.own', 'head.age', 'head.margin'])),
    () => fold('sewing', entries(['stitch', 'zigzag.width', 'zigzag.advance', 'rounding', 'title'])),
    () =>
      fold(
        'stays',
        entries(keysOf('stays.')),
        h('h3', { text: words.t('edges.heading') }),
        h('p', { class: 'hint', text: words.t('edges.hint') }),
        edges(),
      ),
    () => fold('tolerances', h('p', { class: 'hint', text: words.t('section.tolerances_lead') }), entries(keysOf('tolerances.'))),
    () => fold('rules', h('p', { class: 'hint', text: words.t('section.rules_lead') }), entries(keysOf('rules.'))),
  ];
}

/** @param {string} name @param {Parts} parts */
function half(name, { entry, words, isOpen }) {
  /** @param {string[]} names */
  const keys = (names) => names.map((one) => entry(`${name}.${one}`));
  return h(
    'fieldset',
    { class: 'half' },
    h('legend', { text: words.t(`half.${name}_long`) }),
    keys(HALF_FIRST),
    h(
      'div',
      { 'data-when': `${name}.way=drawn`, class: 'drawn' },
      h('p', { class: 'hint', text: words.t('field.path.how') }),
      entry(`${name}.path`),
    ),
    h(
      'details',
      { id: `fold-${name}`, open: isOpen(`fold-${name}`) },
      h('summary', {}, words.t('section.half_more'), h('span', { class: 'unseen', text: ` (${words.t(`half.${name}`)})` })),
      h('div', { class: 'folded' }, keys(HALF_MORE)),
    ),
  );
}

/** @param {string} knit @param {Parts} parts */
const stretchTest = (knit, { entry, words }) =>
  h(
    'fieldset',
    { class: 'stretch' },
    h('legend', { text: words.t(`knit.${knit}_test`) }),
    h('p', { class: 'hint', text: words.t('section.stretch_lead') }),
    FIELDS.filter((field) => field.knit === knit && field.way === 'crosswise' && !field.narrows).map(({ key }) => entry(key)),
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
