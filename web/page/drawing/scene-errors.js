// Where on the line something is wrong: a cross with a ring around it, and what it is.

import { codeOf } from '../common/known.js';
import { bothSides, toWorld } from './frame.js';

/** @import { Problem } from '../form/errors.js' */
/** @import { Point } from './frame.js' */
/** @import { Scene } from './scene.js' */

/** Adds the places of what is wrong to a scene. @param {Scene} scene */
export function errorScene(scene) {
  const { shapes, labels, whole, words } = scene;
  for (const [i, error] of (scene.errors ?? []).entries()) {
    const [code, place] = errorPlace(error);
    if (!place) continue;
    const name = String(error.field).includes('back') ? 'back' : 'front';
    const [x, y] = toWorld(scene.ways[name], place);
    /** @type {Point[]} */
    const cross = [
      [x - 5, y - 5],
      [x + 5, y + 5],
    ];
    /** @type {Point[]} */
    const other = [
      [x - 5, y + 5],
      [x + 5, y - 5],
    ];
    shapes.errors.push(
      { key: `error-${i}`, tag: 'path', class: 'draw-error', d: bothSides(cross, whole) + bothSides(other, whole) },
      { key: `error-ring-${i}`, tag: 'circle', class: 'draw-error', cx: x, cy: y, r: 9 },
    );
    labels.push({
      key: `error-${i}`,
      at: [x, y],
      text: words.t(`drawing.error.${code}`),
      class: 'draw-error-text',
      bold: true,
      weight: 30,
      must: true,
      tries: [
        [14, -8, 'start'],
        [-14, -8, 'end'],
        [0, 28, 'middle'],
        [0, -20, 'middle'],
      ],
    });
  }
}

/** @param {Problem} error @returns {[string, Point | null]} */
function errorPlace({ problem }) {
  const [code, { x_mm, y_mm }] = codeOf(problem);
  const isOnLine = (code === 'cusp_at' || code === 'crosses_at') && x_mm !== undefined && y_mm !== undefined;
  return [code, isOnLine ? [x_mm, y_mm] : null];
}
