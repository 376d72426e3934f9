// The facing: its outer edge in place on the neckline, and beneath, where the plan has them, the pieces as they are cut.

import { HALVES, box as newBox, bothSides, pathText, toWorld } from './frame.js';
import { clipLooks } from './looks.js';

import { sayScale, scaleBeneath } from './scene.js';

/** @import { FacingPiece, FacingPlan, HalfName, Notch } from '../types/plan.d.ts' */
/** @import { Box, Point } from './frame.js' */
/** @import { Scene } from './scene.js' */

const APART = 34; // mm between the pieces
const NOTCH = 5; // mm, into the allowance

/** Adds the facing to a scene; pieces start at `top`. @param {Scene} scene @param {FacingPlan} facing @param {Box} box @param {number} top */
export function facingScene(scene, facing, box, top) {
  const { whole } = scene;
  for (const name of HALVES) inPlace(scene, name, facing[name]);
  if (!facing.front.cut_outline.length) return;
  const pieces = HALVES.map((name) => extentOf(name, facing[name], whole));
  const full = pieces.reduce((sum, { extent }) => sum + extent.x1 - extent.x0, APART);
  const scale = scaleBeneath(scene, full, Math.max(...pieces.map(({ extent }) => extent.y1 - extent.y0)));
  const across = full * scale;
  // Their row stands under the neckline's middle; in the half view under its centre line.
  let x = whole ? -across / 2 : 0;
  sayScale(scene, [x, top], scale);
  for (const { name, piece, extent, isWhole } of pieces) {
    pieceBeneath(scene, name, piece, { x, top, box, extent, isWhole, scale });
    x += (extent.x1 - extent.x0 + APART) * scale;
  }
}

/** @param {HalfName} name @param {FacingPiece} piece @param {boolean} whole */
function extentOf(name, piece, whole) {
  const extent = newBox();
  const isWhole = whole && piece.on_fold;
  extent.addAll(piece.cut_outline, isWhole);
  return { name, piece, extent, isWhole };
}

/** @param {Scene} scene @param {HalfName} name @param {FacingPiece} piece */
function inPlace(scene, name, piece) {
  const outer = piece.outer_line.map((p) => toWorld(scene.ways[name], p));
  scene.boxes.neckline.addAll(outer, scene.whole);
  scene.ink.push({ points: outer, both: scene.whole });
  scene.shapes.facing.push({ key: `${name}-outer`, tag: 'path', class: 'draw-facing', d: bothSides(outer, scene.whole) });
  if (name === 'back') return;
  /** @param {number} share */
  const at = (share) => outer[Math.round((outer.length - 1) * share)];
  scene.labels.push({
    key: 'facing-edge',
    at: at(0.3),
    also: [at(0.5), at(0.7), at(0.15)],
    text: scene.say('line.facing_edge'),
    class: 'draw-quiet',
    weight: 4,
    tries: [
      [6, 16, 'start'],
      [14, 4, 'start'],
      [10, 26, 'start'],
    ],
  });
}

/**
 * A piece on its own keeps its own way up: its neck edge at the top, whichever half it belongs to.
 * @param {Scene} scene @param {HalfName} name @param {FacingPiece} piece
 * @param {{ x: number, top: number, box: Box, extent: Box, isWhole: boolean, scale: number }} place
 */
function pieceBeneath(scene, name, piece, { x, top, box, extent, isWhole, scale }) {
  /** @param {Point} point @returns {Point} */
  const shift = ([px, py]) => [(px - extent.x0) * scale + x, (py - extent.y0) * scale + top];
  const axis = x - extent.x0 * scale;
  /** @param {Point[]} points */
  const mirrored = (points) => points.map(([px, py]) => /** @type {Point} */ ([2 * axis - px, py]));
  /** @param {Point[]} points */
  const drawn = (points, close = '') => {
    const right = points.map(shift);
    const sides = isWhole ? [right, mirrored(right)] : [right];
    for (const side of sides) scene.ink.push({ points: close ? [...side, side[0]] : side, both: false });
    return sides.map((side) => pathText(side) + close).join('');
  };
  // At a fold the outline's last side, from its last point to its first, is no edge.
  const shut = piece.on_fold ? '' : 'Z';
  /** @param {string} key @param {string} className @param {string} d */
  const add = (key, className, d) => scene.shapes.facing.push({ key: `piece-${name}-${key}`, tag: 'path', class: className, d });
  add('cut', 'draw-cut', drawn(piece.cut_outline, shut));
  if (piece.sewn_outline.length) add('sewn', 'draw-seam', drawn(piece.sewn_outline, shut));
  // In runs: it stops short of points and corners.
  if (piece.understitch_lines.length) add('understitch', 'draw-stitch', piece.understitch_lines.map((run) => drawn(run)).join(''));
  if (piece.topstitch_line?.length) add('topstitch', 'draw-stitch', drawn(piece.topstitch_line));
  if (piece.notches.length) add('notches', 'draw-mark', piece.notches.map((notch) => drawn(notchLine(notch))).join(''));
  if (piece.trimmed_line?.length) add('trimmed', 'draw-trim', drawn(piece.trimmed_line));
  for (const [key, look, lines] of clipLooks(piece.clips)) add(key, look, lines.map(({ from, to }) => drawn([from, to])).join(''));
  if (piece.on_fold) {
    const fold = [piece.cut_outline[0], piece.cut_outline[piece.cut_outline.length - 1]].map(shift);
    scene.ink.push({ points: fold, both: false });
    add('fold', 'draw-fold', pathText(fold));
  }
  const [from, to] = [shift(piece.arrow.from), shift(piece.arrow.to)];
  scene.ink.push({ points: [from, to], both: false });
  add('arrow', 'draw-arrow', arrowPath(from, to));
  const [width, height] = [(extent.x1 - extent.x0) * scale, (extent.y1 - extent.y0) * scale];
  box.add(x, top - 20);
  box.add(x + width, top + height);
  pieceLabels(scene, name, piece, { x, width, top, foot: top + height, isWhole, arrow: [from, to] });
}

/** @param {Notch} notch @returns {Point[]} */
function notchLine({ at, toward }) {
  const [dx, dy] = [toward[0] - at[0], toward[1] - at[1]];
  const size = Math.hypot(dx, dy) || 1;
  return [at, [at[0] + (dx / size) * NOTCH, at[1] + (dy / size) * NOTCH]];
}

/** @param {Point} from @param {Point} to */
function arrowPath(from, to) {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const size = Math.hypot(dx, dy) || 1;
  const [ux, uy] = [(dx / size) * 5, (dy / size) * 5];
  /** @param {Point} tip @param {1 | -1} way */
  const head = ([x, y], way) =>
    pathText([
      [x - way * ux - uy * 0.6, y - way * uy + ux * 0.6],
      [x, y],
      [x - way * ux + uy * 0.6, y - way * uy - ux * 0.6],
    ]);
  return pathText([from, to]) + head(to, 1) + head(from, -1);
}

/**
 * @param {Scene} scene @param {HalfName} name @param {FacingPiece} piece
 * @param {{ x: number, width: number, top: number, foot: number, isWhole: boolean, arrow: [Point, Point] }} place
 */
function pieceLabels({ labels, say }, name, piece, { x, width, top, foot, isWhole, arrow }) {
  const middle = x + width / 2;
  labels.push({
    key: `piece-${name}`,
    at: [middle, top],
    text: say(`facing_piece_${name}`),
    class: 'draw-title',
    bold: true,
    weight: 12,
    must: true,
    tries: [
      [0, -8, 'middle'],
      [0, -22, 'middle'],
      [0, -8, 'start'],
    ],
  });
  if (piece.on_fold && !isWhole) {
    labels.push({
      key: `piece-half-${name}`,
      at: [x, foot],
      text: say('half_on_fold'),
      class: 'draw-quiet',
      weight: 5,
      tries: [
        [0, 16, 'start'],
        [0, 30, 'start'],
        [0, 16, 'end'],
      ],
    });
  }
  const [from, to] = arrow;
  // Beside its arrow where the piece is wide enough on the stage, else beneath the piece.
  labels.push({
    key: `piece-arrow-${name}`,
    at: [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2],
    also: [[middle, foot]],
    text: say('stretch_arrow'),
    class: 'draw-quiet',
    weight: 3,
    tries: [
      [0, 16, 'middle'],
      [0, -6, 'middle'],
      [0, 32, 'middle'],
    ],
  });
}
