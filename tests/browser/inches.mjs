// Figures in inches held against what a plan reckoned with: each is one of the plan's, or is marked as about.

import assert from 'node:assert/strict';

/** An inch by definition, mm. */
const INCH_MM = 25.4;
/** What is exactly a fraction in the plan is so in the text, mm: half of the last digit that any figure is told with. */
const SAME_MM = 0.0051;
/** The finest that is shown are sixteenths, so what is marked is half of one off, mm. */
const ABOUT_MM = INCH_MM / 32 + 1e-6;

/** mm of a number as an inch tape has it: whole, a fraction, or both. @param {string} text */
const mmOf = (text) =>
  text
    .split(/\s/u)
    .map((part) => part.split('/').map(Number))
    .reduce((sum, [n, d = 1]) => sum + n / d, 0) * INCH_MM;

/** Every number of a value, as its size. @param {unknown} value @returns {Generator<number>} */
export function* numbersIn(value) {
  if (typeof value === 'number') yield Math.abs(value);
  else if (typeof value === 'object' && value !== null) for (const inner of Object.values(value)) yield* numbersIn(inner);
}

/**
 * Holds every figure in inches of a text against numbers, and counts them.
 * @param {string} text
 * @param {number[]} numbers mm, of the plan and its brief, and of what else the text tells of
 * @param {{ what: string, unit?: string }} of what it is; `unit` stands after each figure (clips are so many 'in all'), or nothing does where a heading has it
 * @returns {{ exact: number, about: number }}
 */
export function checkInches(text, numbers, { what, unit = ' in(?! all,|[a-z])' }) {
  const counted = { exact: 0, about: 0 };
  const figures = text.replaceAll('\u00a0', ' ').matchAll(new RegExp(`(about |under )?((?:\\d+ )?\\d+/\\d+|\\d+)${unit}`, 'gu'));
  for (const [figure, mark, number] of figures) {
    const off = Math.min(...numbers.map((one) => Math.abs(one - mmOf(number))));
    counted[mark ? 'about' : 'exact'] += 1;
    assert.ok(off < (mark ? ABOUT_MM : SAME_MM), `${what}: ${figure} is ${off} mm off the nearest figure`);
  }
  return counted;
}
