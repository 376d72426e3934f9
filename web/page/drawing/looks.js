// How a span is told from its neighbours: a letter, a pattern and a colour, the same on neckline and strip.

import { svgElement } from './nodes.js';

/** @import { ClipLine } from '../types/plan.d.ts' */

/** How many patterns and colours there are; letters go on after them. */
export const LOOKS = 6;
const TILE = 8;

// Each pattern is a tile of 8 px: slants, dots, bars, and a grid.
const TILES = [
  'M-2 2L2 -2M0 8L8 0M6 10L10 6',
  'M2 2h1.8v1.8h-1.8zM6 6h1.8v1.8h-1.8z',
  'M0 4H8',
  'M-2 6L2 10M0 0L8 8M6 -2L10 2',
  'M4 0V8',
  'M0 4H8M4 0V8',
];

/** The letter of the span at `index`, counted from centre back: A, B, ... Z, AA, AB. @param {number} index @returns {string} */
export function letter(index) {
  const last = String.fromCharCode(65 + (index % 26));
  return index < 26 ? last : letter(Math.floor(index / 26) - 1) + last;
}

/** Which of the looks a span has. @param {number} index */
export const lookOf = (index) => index % LOOKS;

/**
 * One tile for each look. @param {string} prefix makes ids the drawing's own: `<prefix>-span-<look>`
 * @returns {SVGPatternElement[]}
 */
export function patterns(prefix) {
  return TILES.map((d, i) => {
    const pattern = svgElement('pattern', {
      id: `${prefix}-span-${i}`,
      width: TILE,
      height: TILE,
      patternUnits: 'userSpaceOnUse',
    });
    pattern.append(
      svgElement('rect', { class: `draw-tile draw-look-${i}`, width: TILE, height: TILE }),
      svgElement('path', { class: `draw-tile-line draw-look-${i}`, d }),
    );
    return pattern;
  });
}

// Thickness in px of an edge that is not stretched, and of one stretched to the comfortable share.
const THIN = 1.5;
const THICK = 6;

/**
 * How thick an edge is drawn for its strain: relaxed edges thin, an edge at the comfortable share 6 px.
 * @param {number} percent @param {number} comfort
 */
export function thickness(percent, comfort) {
  const share = comfort > 0 ? Math.max(0, percent) / comfort : 0;
  return Math.round((THIN + (THICK - THIN) * Math.min(1.25, share)) * 4) / 4;
}

/**
 * Clips by how they are drawn: those into a point or a corner apart from those along curves.
 * @param {ClipLine[]} [lines]
 * @returns {[key: string, look: string, lines: ClipLine[]][]}
 */
export function clipLooks(lines = []) {
  const corner = lines.filter(({ kind }) => kind !== 'curve');
  const curve = lines.filter(({ kind }) => kind === 'curve');
  /** @type {[string, string, ClipLine[]][]} */
  const all = [
    ['clips', 'draw-clip', curve],
    ['clips-corner', 'draw-clip draw-clip-corner', corner],
  ];
  return all.filter(([, , some]) => some.length > 0);
}
