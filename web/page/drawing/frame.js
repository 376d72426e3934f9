// Where the halves of a neckline lie on the drawing. World coordinates are millimetres: x outward from the finished centre
// line, y down, with the neck points of the seam line at y = 0, the front below and the back turned up above it.

/** @import { HalfName, Plan } from '../types/plan.d.ts' */
/** @import { Area } from './view.js' */

/** Both halves, front before back. @type {HalfName[]} */
export const HALVES = ['front', 'back'];

/** @typedef {[number, number]} Point */
/** @typedef {{ up: 1 | -1, lift: number, centre: number }} Way  how a half's own frame is turned, lifted and set in the world */
/** @typedef {{ front: Way, back: Way }} Ways */
/** @typedef {ReturnType<typeof placeAt>} Place */
/** @typedef {ReturnType<typeof box>} Box */
/** @typedef {{ points: Point[], at: number[] }} Run  a line with the place along it, mm, of each of its points */

/**
 * How a half lies: its seam line's neck point goes to y = 0, its finished centre line to x = 0.
 * @param {{ seam_line: Point[], centre_line_x_mm: number }} half
 * @param {HalfName} name
 * @returns {Way}
 */
export function wayOf(half, name) {
  const last = half.seam_line[half.seam_line.length - 1];
  return { up: name === 'back' ? -1 : 1, lift: last ? last[1] : 0, centre: half.centre_line_x_mm };
}

/** @param {Way} way @param {Point} point @returns {Point} */
export const toWorld = (way, [x, y]) => [x - way.centre, (y - way.lift) * way.up];

/** @param {Way} way @param {Point} point @returns {Point} */
export const toHalf = (way, [x, y]) => [x + way.centre, y * way.up + way.lift];

// A hundredth of a millimetre is finer than any screen.
/** @param {number} value */
const round = (value) => Math.round(value * 100) / 100;

/** Points as path text. @param {Point[]} points */
export const pathText = (points) => `M${points.map(([x, y]) => `${round(x)} ${round(y)}`).join('L')}`;

/**
 * Points as path text, each side's closed by `end`, with their mirror image where the whole neckline is drawn. To write a number takes
 * longest: each is written once for both.
 * @param {Point[]} points @param {boolean} whole @param {string} [end]
 */
export function bothSides(points, whole, end = '') {
  if (!whole) return pathText(points) + end;
  const [right, left] = [new Array(points.length), new Array(points.length)];
  for (let i = 0; i < points.length; i += 1) {
    const [x, y] = [`${round(points[i][0])}`, `${round(points[i][1])}`];
    right[i] = `${x} ${y}`;
    left[i] = `${opposite(x)} ${y}`;
  }
  return `M${right.join('L')}${end}M${left.join('L')}${end}`;
}

/** @param {string} number */
function opposite(number) {
  if (number === '0') return number;
  return number.startsWith('-') ? number.slice(1) : `-${number}`;
}

/**
 * A closed outline as path text, with its mirror image where the whole neckline is drawn.
 * @param {Point[]} points @param {boolean} whole
 */
export const closedBothSides = (points, whole) => bothSides(points, whole, 'Z');

/**
 * One half of the seam line all the way, from centre back over the neck point to centre front.
 * The plan's own lengths place its points, so that a mark of the plan falls where the plan says.
 * @param {Plan} plan @param {Ways} ways
 * @returns {Run}
 */
export function halfRound(plan, ways) {
  const { front, back } = plan.seam_line;
  return joined(back.seam_line, front.seam_line, ways, back.length_mm, front.length_mm);
}

/**
 * The line the strip is sewn on, all the way round one half: the seam line, or a bound edge's stitch line.
 * @param {Plan} plan @param {Ways} ways
 * @returns {Run}
 */
export function sewnRound(plan, ways) {
  const line = plan.strip?.stitch_line;
  if (!line) return halfRound(plan, ways);
  const run = joined(line.back, line.front, ways, drawnLength(line.back), drawnLength(line.front));
  const share = line.length_mm / 2 / (run.at[run.at.length - 1] || 1);
  return { points: run.points, at: run.at.map((s) => s * share) };
}

/**
 * @param {Point[]} backLine @param {Point[]} frontLine @param {Ways} ways @param {number} backLength @param {number} frontLength
 * @returns {Run}
 */
function joined(backLine, frontLine, ways, backLength, frontLength) {
  const back = measured(
    backLine.map((p) => toWorld(ways.back, p)),
    backLength,
    0,
  );
  const front = measured(frontLine.map((p) => toWorld(ways.front, p)).reverse(), frontLength, backLength);
  return { points: back.points.concat(front.points), at: back.at.concat(front.at) };
}

/** @param {Point[]} points */
const drawnLength = (points) => measured(points, 0, 0).drawn;

/**
 * A line of points is a little shorter than the curve it stands for: its places are stretched to the curve's length.
 * @param {Point[]} points @param {number} length @param {number} from
 */
function measured(points, length, from) {
  const at = [0];
  for (let i = 1; i < points.length; i += 1) {
    at.push(at[i - 1] + Math.hypot(points[i][0] - points[i - 1][0], points[i][1] - points[i - 1][1]));
  }
  const drawn = at[at.length - 1] || 1;
  return { points, at: at.map((s) => from + (s / drawn) * length), drawn };
}

/**
 * The place at `s` along a run, with the direction of travel as a unit vector.
 * @param {Run} run @param {number} s
 * @returns {{ point: Point, along: Point }}
 */
export function placeAt(run, s) {
  const i = segmentAt(run, s);
  const [a, b] = [run.points[i], run.points[i + 1] ?? run.points[i]];
  const span = run.at[i + 1] - run.at[i];
  const t = span > 0 ? Math.min(1, Math.max(0, (s - run.at[i]) / span)) : 0;
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const size = Math.hypot(dx, dy) || 1;
  return { point: [a[0] + t * dx, a[1] + t * dy], along: [dx / size, dy / size] };
}

/** @param {Run} run @param {number} s */
function segmentAt(run, s) {
  let i = 0;
  while (i < run.at.length - 2 && run.at[i + 1] <= s) i += 1;
  // Front and back meet with no length between their two neck points, which gives no direction.
  while (i < run.at.length - 2 && run.at[i + 1] - run.at[i] < 1e-9) i += 1;
  return i;
}

/**
 * The part of a run between two places.
 * @param {Run} run @param {number} from @param {number} to @returns {Point[]}
 */
export function between(run, from, to) {
  const points = [placeAt(run, from).point];
  for (let i = 0; i < run.points.length; i += 1) {
    if (run.at[i] > from + 1e-6 && run.at[i] < to - 1e-6) points.push(run.points[i]);
  }
  points.push(placeAt(run, to).point);
  return points;
}

/** An empty box that grows by `add`. */
export function box() {
  return {
    x0: Infinity,
    y0: Infinity,
    x1: -Infinity,
    y1: -Infinity,
    /** @param {number} x @param {number} y */
    add(x, y) {
      if (x < this.x0) this.x0 = x;
      if (x > this.x1) this.x1 = x;
      if (y < this.y0) this.y0 = y;
      if (y > this.y1) this.y1 = y;
    },
    /** @param {Point[]} points @param {boolean} whole */
    addAll(points, whole) {
      for (const [x, y] of points) {
        this.add(x, y);
        if (whole) this.add(-x, y);
      }
    },
    /** @param {Area} other */
    join(other) {
      if (other.x0 > other.x1) return;
      this.add(other.x0, other.y0);
      this.add(other.x1, other.y1);
    },
    get empty() {
      return this.x0 > this.x1;
    },
  };
}
