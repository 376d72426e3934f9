// Points that lie over each other on the stage stand beside it instead, each with a line to where it is.

/** @import { Point } from './frame.js' */

/** Nearer than this two points are one to the eye and to a finger, px. */
const ONE = 12;
/** How far a point stands beside its place then, px: beside the other's whole target. */
const BESIDE = 32;
/** Ways to stand, the likeliest to be free first: out of the neckline, then round about. */
const WAYS = [0, 1, -1, 2, -2, 3, -3, 4].map((eighth) => (eighth * Math.PI) / 4);

/** @param {Point} at @param {Point[]} others */
const nearest = ([x, y], others) => Math.min(Infinity, ...others.map(([ox, oy]) => Math.hypot(x - ox, y - oy)));

/** How far off its place a point is shown, px, beside those that are shown already. @param {Point} place @param {Point[]} taken @returns {Point} */
export function asideOf(place, taken) {
  if (nearest(place, taken) >= ONE) return [0, 0];
  /** @type {Point[]} */
  const ways = WAYS.map((angle) => [BESIDE * Math.cos(angle), BESIDE * Math.sin(angle)]);
  /** @param {Point} way @returns {Point} */
  const at = ([dx, dy]) => [place[0] + dx, place[1] + dy];
  return ways.find((way) => nearest(at(way), taken) >= BESIDE * 0.75) ?? ways[0];
}

/** Draws the line from a point to its place. @param {HTMLElement} node @param {Point} aside */
export function leadTo(node, [dx, dy]) {
  const long = Math.hypot(dx, dy);
  node.toggleAttribute('data-aside', long > 0);
  if (!long) return;
  node.style.setProperty('--long', `${long}px`);
  node.style.setProperty('--turn', `${Math.atan2(-dy, -dx)}rad`);
}
