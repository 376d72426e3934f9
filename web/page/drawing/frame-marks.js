// The rulers and the scale bar around the stage.

import { UNIT_MM } from '../generated/lengths.js';
import { barLength, ticks } from './ticks.js';
import { isNarrow } from './view.js';

/** @import { Item } from './nodes.js' */
/** @import { Said } from './scene.js' */
/** @import { Size, View } from './view.js' */
/** @import { Unit } from '../plan/reckoner.js' */

const RULER = 22; // px
const FIRST = RULER + 12; // px: a figure nearer to the corner would run into it

/** @typedef {{ view: View, size: Size, unit: Unit }} Frame */
/** @typedef {Frame & { words: Said }} Named */

/** How much of a stage's top and left side a ruler takes, px: none of a narrow one. @param {{ width: number }} size */
export const rulerOf = (size) => (isNarrow(size) ? 0 : RULER);

/** Elements for the rulers of a stage. @param {Named} frame @returns {Item[]} */
export function rulerShapes({ view, size, unit, words }) {
  if (isNarrow(size)) return [];
  const across = ticks(unit, view.k, view.x, RULER, size.width);
  const down = ticks(unit, view.k, view.y, RULER, size.height);
  const reach = [8, 12, 5].map((px) => RULER - px);
  const starts = [reach[0] - 2, reach[1], reach[2]];
  let fine = '';
  let main = '';
  /** @type {Item[]} */
  const figures = [];
  for (const { px, value, rank } of across) {
    const d = `M${r(px)} ${starts[rank]}V${RULER}`;
    if (rank) fine += d;
    else {
      main += d;
      if (px > FIRST) figures.push(figure(`x${r(px)}`, px, 10, 'middle', value, { unit, words }));
    }
  }
  for (const { px, value, rank } of down) {
    const d = `M${starts[rank]} ${r(px)}H${RULER}`;
    if (rank) fine += d;
    else {
      main += d;
      if (px > FIRST)
        figures.push({ ...figure(`y${r(px)}`, 10, px, 'middle', value, { unit, words }), transform: `rotate(-90 10 ${r(px)})` });
    }
  }
  return [
    { key: 'band', tag: 'path', class: 'draw-ruler', d: `M0 0H${size.width}V${RULER}H${RULER}V${size.height}H0Z` },
    { key: 'fine', tag: 'path', class: 'draw-tick', d: fine || 'M0 0' },
    { key: 'main', tag: 'path', class: 'draw-tick draw-tick-main', d: main || 'M0 0' },
    ...figures.map((item, i) => ({ ...item, key: `figure-${i}` })),
    { key: 'corner', tag: 'path', class: 'draw-ruler', d: `M0 0H${RULER}V${RULER}H0Z` },
    {
      key: 'unit',
      tag: 'text',
      class: 'draw-text draw-ruler-text',
      x: RULER / 2,
      y: 14,
      'text-anchor': 'middle',
      text: unit,
      transform: null,
    },
  ];
}

/** @param {number} value */
const r = (value) => Math.round(value * 10) / 10;

/**
 * @param {string} key @param {number} x @param {number} y @param {string} anchor @param {number} value
 * @param {{ unit: Unit, words: Said }} how @returns {Item}
 */
function figure(key, x, y, anchor, value, { unit, words }) {
  return {
    key,
    tag: 'text',
    class: 'draw-text draw-ruler-text',
    x: r(x),
    y: r(y),
    'text-anchor': anchor,
    text: words.length(value * UNIT_MM[unit], unit, { suffix: false }),
    transform: null,
  };
}

/** The area of the stage that the scale bar and its figure take. @param {Frame} frame */
export function barArea({ view, size, unit }) {
  const left = rulerOf(size);
  return { x0: left + 8, x1: left + 16 + Math.max(60, barLength(unit, view.k) * view.k), y0: size.height - 34, y1: size.height - 6 };
}

/** Elements for the scale bar at the stage's foot. @param {Named} frame @returns {Item[]} */
export function barShapes({ view, size, unit, words }) {
  const mm = barLength(unit, view.k);
  const [x, y] = [rulerOf(size) + 12, size.height - 12];
  const width = r(mm * view.k);
  return [
    { key: 'bar', tag: 'path', class: 'draw-bar-line', d: `M${x} ${y - 5}V${y}H${x + width}V${y - 5}` },
    {
      key: 'bar-text',
      tag: 'text',
      class: 'draw-text draw-quiet',
      x: x + width / 2,
      y: y - 6,
      'text-anchor': 'middle',
      text: words.length(mm, unit, { suffix: true }),
    },
  ];
}
