// The facing: its outer edge in place on the neckline, and beneath, where the plan has them, the pieces as they are cut.

import { box as newBox, bothSides, pathText, toWorld } from './frame.js';

const APART = 34; // mm between the pieces
const NOTCH = 5; // mm, into the allowance

/** Adds the facing to a scene; pieces start at `top`. */
export function facingScene(scene, box, top) {
  const { plan } = scene;
  for (const name of ['front', 'back']) inPlace(scene, name, plan.facing[name]);
  if (!plan.facing.front.cut_outline?.length) return;
  let x = 0;
  for (const name of ['front', 'back']) x = pieceBeneath(scene, name, plan.facing[name], { x, top, box });
  centreUnderNeckline(scene, box);
}

function inPlace(scene, name, piece) {
  const outer = piece.outer_line.map((p) => toWorld(scene.ways[name], p));
  scene.boxes.neckline.addAll(outer, scene.whole);
  scene.shapes.facing.push({ key: `${name}-outer`, tag: 'path', class: 'draw-facing', d: bothSides(outer, scene.whole) });
  if (name === 'back') return;
  scene.labels.push({
    key: 'facing-edge', at: outer[Math.round(outer.length * 0.3)], text: scene.say('line.facing_edge'), class: 'draw-quiet', weight: 4,
    tries: [[6, 16, 'start'], [14, 4, 'start']],
  });
}

// A piece on its own keeps its own way up: its neck edge at the top, whichever half it belongs to.
function pieceBeneath(scene, name, piece, { x, top, box }) {
  const whole = scene.whole && piece.on_fold !== false;
  const extent = newBox();
  extent.addAll(piece.cut_outline, whole);
  const shift = ([px, py]) => [px + x - extent.x0, py + top - extent.y0];
  const axis = x - extent.x0;
  const drawn = (points, close = '') => {
    const right = points.map(shift);
    const left = right.map(([px, py]) => [2 * axis - px, py]);
    return pathText(right) + close + (whole ? pathText(left) + close : '');
  };
  // At a fold the outline's last side, from its last point to its first, is no edge.
  const shut = piece.on_fold ? '' : 'Z';
  const add = (key, className, d) => scene.shapes.facing.push({ key: `piece-${name}-${key}`, tag: 'path', class: className, d });
  add('cut', 'draw-cut', drawn(piece.cut_outline, shut));
  if (piece.sewn_outline?.length) add('sewn', 'draw-seam', drawn(piece.sewn_outline, shut));
  if (piece.understitch_line?.length) add('understitch', 'draw-stitch', drawn(piece.understitch_line));
  if (piece.topstitch_line?.length) add('topstitch', 'draw-stitch', drawn(piece.topstitch_line));
  if (piece.notches?.length) add('notches', 'draw-mark', piece.notches.map((notch) => drawn(notchLine(notch))).join(''));
  if (piece.clips?.length) add('clips', 'draw-clip', piece.clips.map(({ from, to }) => drawn([from, to])).join(''));
  if (piece.on_fold) add('fold', 'draw-fold', pathText([piece.cut_outline[0], piece.cut_outline[piece.cut_outline.length - 1]].map(shift)));
  if (piece.arrow) add('arrow', 'draw-arrow', arrow(shift(piece.arrow.from), shift(piece.arrow.to)));
  const width = extent.x1 - extent.x0;
  box.add(x, top - 20);
  box.add(x + width, top + extent.y1 - extent.y0);
  pieceLabels(scene, name, piece, { middle: x + width / 2, top, whole, shift });
  return x + width + APART;
}

function notchLine({ at, toward }) {
  const [dx, dy] = [toward[0] - at[0], toward[1] - at[1]];
  const size = Math.hypot(dx, dy) || 1;
  return [at, [at[0] + (dx / size) * NOTCH, at[1] + (dy / size) * NOTCH]];
}

function arrow(from, to) {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const size = Math.hypot(dx, dy) || 1;
  const [ux, uy] = [(dx / size) * 5, (dy / size) * 5];
  const head = ([x, y], way) => pathText([[x - way * ux - uy * 0.6, y - way * uy + ux * 0.6], [x, y], [x - way * ux + uy * 0.6, y - way * uy - ux * 0.6]]);
  return pathText([from, to]) + head(to, 1) + head(from, -1);
}

function pieceLabels({ labels, say }, name, piece, { middle, top, whole, shift }) {
  const text = say(`facing_piece_${name}`);
  labels.push({
    key: `piece-${name}`, at: [middle, top], text, class: 'draw-title', bold: true, weight: 12,
    tries: [[0, -8, 'middle'], [0, -22, 'middle'], [0, -8, 'start']],
  });
  if (piece.on_fold && !whole) {
    labels.push({
      key: `piece-half-${name}`, at: shift(piece.cut_outline[piece.cut_outline.length - 1]), text: say('half_on_fold'), class: 'draw-quiet', weight: 5,
      tries: [[0, 16, 'start'], [0, 30, 'start']],
    });
  }
  if (!piece.arrow) return;
  const [from, to] = [shift(piece.arrow.from), shift(piece.arrow.to)];
  labels.push({
    key: `piece-arrow-${name}`, at: [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], text: say('stretch_arrow'), class: 'draw-quiet', weight: 3,
    tries: [[0, 16, 'middle'], [0, -6, 'middle']],
  });
}

// The pieces are laid out from nought; this puts their row under the neckline's middle (half view: from its centre line).
function centreUnderNeckline(scene, box) {
  if (box.empty) return;
  const dx = scene.whole ? -(box.x0 + box.x1) / 2 : 0;
  if (!dx) return;
  for (const shape of scene.shapes.facing) if (shape.key.startsWith('piece-')) shape.transform = `translate(${Math.round(dx * 100) / 100} 0)`;
  for (const label of scene.labels) if (label.key.startsWith('piece-')) label.at = [label.at[0] + dx, label.at[1]];
  box.x0 += dx;
  box.x1 += dx;
}
