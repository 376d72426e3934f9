// Where lines run on the stage, on a coarse grid: text asks it for a place that no line strikes through.

/** @import { Point } from './frame.js' */
/** @import { Area, Size, View } from './view.js' */

const CELL = 3; // px

/** @typedef {{ points: Point[], both: boolean }} Ink */

/**
 * @param {Ink[]} lines in mm; `both`: with their mirror image in the centre line
 * @param {View} view
 * @param {Size} size
 * @returns {{ under(area: Area): number }} how many cells of an area have a line in them
 */
export function inkOf(lines, view, { width, height }) {
  const [across, down] = [Math.ceil(width / CELL), Math.ceil(height / CELL)];
  const cells = new Uint8Array(across * down);
  for (const { points, both } of lines) {
    trace(points, 1);
    if (both) trace(points, -1);
  }

  /** @param {Point[]} points @param {number} side */
  function trace(points, side) {
    let [x, y] = placed(points[0], side);
    for (let i = 1; i < points.length; i += 1) {
      const [nx, ny] = placed(points[i], side);
      segment(x, y, nx, ny);
      [x, y] = [nx, ny];
    }
  }

  /** @param {Point} point @param {number} side */
  function placed(point, side) {
    return [(point[0] * side * view.k + view.x) / CELL, (point[1] * view.k + view.y) / CELL];
  }

  /** @param {number} x @param {number} y @param {number} nx @param {number} ny */
  function segment(x, y, nx, ny) {
    if (Math.max(x, nx) < 0 || Math.max(y, ny) < 0 || Math.min(x, nx) > across || Math.min(y, ny) > down) return;
    const steps = Math.max(1, Math.ceil(Math.max(Math.abs(nx - x), Math.abs(ny - y))));
    for (let i = 0; i <= steps; i += 1) {
      const cx = Math.floor(x + ((nx - x) * i) / steps);
      const cy = Math.floor(y + ((ny - y) * i) / steps);
      if (cx >= 0 && cy >= 0 && cx < across && cy < down) cells[cy * across + cx] = 1;
    }
  }

  return {
    under({ x0, x1, y0, y1 }) {
      let count = 0;
      const [left, right] = [Math.max(0, Math.floor(x0 / CELL)), Math.min(across - 1, Math.floor(x1 / CELL))];
      for (let cy = Math.max(0, Math.floor(y0 / CELL)); cy <= Math.min(down - 1, Math.floor(y1 / CELL)); cy += 1) {
        for (let cx = left; cx <= right; cx += 1) count += cells[cy * across + cx];
      }
      return count;
    },
  };
}
