// Ticks of the rulers along the stage's top and left edge, and the scale bar. All in px and the chosen unit's own steps.

import { UNIT_MM } from '../generated/lengths.js';

/** @import { Unit } from '../plan/reckoner.js' */

// Steps between figures, and into how many parts each is divided, in the chosen unit.
/** @type {Record<Unit, [figure: number, parts: number][]>} */
const STEPS = {
  mm: [
    [1, 2],
    [2, 2],
    [5, 5],
    [10, 10],
    [20, 4],
    [50, 5],
    [100, 10],
    [200, 4],
    [500, 5],
    [1000, 10],
  ],
  cm: [
    [0.1, 2],
    [0.2, 2],
    [0.5, 5],
    [1, 10],
    [2, 4],
    [5, 5],
    [10, 10],
    [20, 4],
    [50, 5],
    [100, 10],
  ],
  in: [
    [1 / 8, 2],
    [1 / 4, 4],
    [1 / 2, 8],
    [1, 16],
    [1, 8],
    [1, 4],
    [2, 8],
    [4, 4],
    [6, 6],
    [12, 12],
    [24, 4],
    [48, 4],
  ],
};

const FIGURE_ROOM = 44; // px between figures
const TICK_ROOM = 4.5; // px between ticks

/** @typedef {{ px: number, value: number, rank: 0 | 1 | 2 }} Tick */

/**
 * The steps that suit a scale.
 * @param {Unit} unit
 * @param {number} k px per mm
 * @returns {{ figure: number, parts: number, mm: number }} mm: size of one whole step
 */
export function steps(unit, k) {
  /** @param {number} step */
  const px = (step) => step * UNIT_MM[unit] * k;
  /** @param {[number, number]} row */
  const fits = ([step, parts]) => px(step) >= FIGURE_ROOM && px(step) / parts >= TICK_ROOM;
  const table = STEPS[unit];
  const [figure, parts] = table.find(fits) ?? table[table.length - 1];
  return { figure, parts, mm: figure * UNIT_MM[unit] };
}

/**
 * Ticks between two px of an edge.
 * @param {Unit} unit @param {number} k px per mm
 * @param {number} origin px of the zero
 * @param {number} from @param {number} to
 * @returns {Tick[]} rank 0 carries a figure, `value` in the unit
 */
export function ticks(unit, k, origin, from, to) {
  const { figure, parts } = steps(unit, k);
  const small = (figure * UNIT_MM[unit] * k) / parts;
  /** @type {Tick[]} */
  const list = [];
  for (let i = Math.ceil((from - origin) / small); origin + i * small <= to; i += 1) {
    const rank = i % parts === 0 ? 0 : parts % 2 === 0 && i % (parts / 2) === 0 ? 1 : 2;
    list.push({ px: origin + i * small, value: Math.abs(i * figure) / parts, rank });
  }
  return list;
}

/** The longest round length, mm, whose bar takes at most `room` px. @param {Unit} unit @param {number} k @param {number} [room] */
export function barLength(unit, k, room = 120) {
  const lengths = STEPS[unit].map(([step]) => step * UNIT_MM[unit]);
  return lengths.filter((mm) => mm * k <= room).pop() ?? lengths[0];
}
