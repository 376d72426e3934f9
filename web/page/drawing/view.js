// What part of the drawing is seen, and how large. Screen arithmetic only: px of the stage, mm of the drawing.

/** @import { Point } from './frame.js' */

const LEAST = 0.1; // px per mm
const MOST = 40;

/** @typedef {{ width: number, height: number }} Size  of the stage, px */
/** @typedef {{ x0: number, y0: number, x1: number, y1: number }} Area */
/** @typedef {{ left: number, top: number, right: number, bottom: number }} Pad  px */
/** @typedef {{ k: number, x: number, y: number }} View  k px per mm, and where the drawing's origin lies on the stage */

/** Whether a stage has no more room than a phone's: rulers would take too much of it. @param {{ width: number }} size */
export const isNarrow = ({ width }) => width > 0 && width < 520;

/** @param {View} view @param {Point} point @returns {Point} */
export const toScreen = (view, [x, y]) => [x * view.k + view.x, y * view.k + view.y];
/** @param {View} view @param {Point} point @returns {Point} */
export const toMm = (view, [x, y]) => [(x - view.x) / view.k, (y - view.y) / view.k];

/**
 * The view zoomed by `factor` with the stage's `at` kept in place.
 * @param {View} view @param {number} factor @param {Point} at @returns {View}
 */
export function zoomed(view, factor, [x, y]) {
  const k = Math.min(MOST, Math.max(LEAST, view.k * factor));
  const real = k / view.k;
  return { k, x: x - (x - view.x) * real, y: y - (y - view.y) * real };
}

/** The view moved by a distance on the stage. @param {View} view @param {number} dx @param {number} dy @returns {View} */
export const panned = (view, dx, dy) => ({ k: view.k, x: view.x + dx, y: view.y + dy });

/**
 * The view that shows all of `box`, with `pad` px for the ruler and the labels.
 * @param {Area} box @param {Size} size @param {Pad} pad @returns {View}
 */
export function fitted(box, size, pad) {
  const [width, height] = [Math.max(1, box.x1 - box.x0), Math.max(1, box.y1 - box.y0)];
  const [room, rise] = [Math.max(40, size.width - pad.left - pad.right), Math.max(40, size.height - pad.top - pad.bottom)];
  const k = Math.min(12, Math.max(LEAST, Math.min(room / width, rise / height)));
  return {
    k,
    x: pad.left + (room - width * k) / 2 - box.x0 * k,
    y: pad.top + (rise - height * k) / 2 - box.y0 * k,
  };
}

/**
 * Whether `box` lies on the stage, clear of what stands `edge` px along its top and left side, with `slack` px.
 * @param {View} view @param {Area} box @param {Size} size @param {number} edge @param {number} [slack]
 */
export function shows(view, box, size, edge, slack = 2) {
  const [x0, y0] = toScreen(view, [box.x0, box.y0]);
  const [x1, y1] = toScreen(view, [box.x1, box.y1]);
  return x0 >= edge - slack && y0 >= edge - slack && x1 <= size.width + slack && y1 <= size.height + slack;
}
