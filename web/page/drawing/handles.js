// The handles of a drafted or measured half: where they stand, and what moving one changes in the brief. Places are in
// the half's own frame. A handle changes one value that the person gave; the core draws the line that follows from it.

import { known } from '../common/known.js';
import { ROUNDNESS } from '../generated/defaults.js';
import { Drafted, Shape } from '../generated/limits.js';

/** The least and the greatest that the handles' fields take. */
const BOUNDS = {
  half_width: Drafted.half_width_mm,
  depth: Drafted.depth_mm,
  corner: Shape.corner_radius_mm,
  roundness: Shape.roundness_percent,
  hollow: Shape.leg_hollow_percent,
};

/** Step sizes: a small and a large one, by unit. */
export const STEPS = { mm: [1, 10], cm: [1, 10], in: [25.4 / 16, 25.4 / 2], percent: [1, 5] };

/**
 * @typedef {{ id: string, half: 'front' | 'back', kind: 'half_width' | 'depth' | 'roundness' | 'corner' | 'hollow',
 *   at: [number, number], value: number, min: number, max: number, measure: 'length' | 'percent',
 *   axis: 'x' | 'y' | 'free', path: string[] }} Handle
 */

/** All handles of a brief, front before back. @returns {Handle[]} */
export function handlesOf(brief, plan) {
  return ['front', 'back'].flatMap((name) => handlesOfHalf(brief, plan, name));
}

function handlesOfHalf(brief, plan, name) {
  const outline = brief?.neckline?.[name]?.outline ?? {};
  const line = knownLine(brief, plan, name);
  if (outline.drafted) return drafted(outline.drafted, line, name);
  if (outline.measured) return measured(outline.measured, line, name);
  return [];
}

/** The line that the brief's readings describe, as the plan has it. */
export function knownLine(brief, plan, name) {
  return plan.seam_line[name][brief.neckline.readings_at === 'seam_line' ? 'seam_line' : 'cut_edge'];
}

function drafted(given, line, name) {
  const make = maker(name, 'drafted');
  const [width, depth] = [given.half_width_mm, given.depth_mm];
  return [
    make('half_width', [width, 0], width, 'x', ['half_width_mm']),
    make('depth', [0, depth], depth, 'y', ['depth_mm']),
    ...shapeHandle(given.shape, width, depth, line, make),
  ];
}

function measured(given, line, name) {
  const make = maker(name, 'measured');
  const list = [];
  const neck = line[line.length - 1];
  if (given.half_width_mm !== undefined)
    list.push(make('half_width', [given.half_width_mm, 0], given.half_width_mm, 'x', ['half_width_mm']));
  if (given.depth_mm !== undefined) list.push(make('depth', [0, neck[1] + given.depth_mm], given.depth_mm, 'y', ['depth_mm']));
  return list;
}

function maker(half, outline) {
  return (kind, at, value, axis, path) => ({
    id: `${half}.${kind}`,
    half,
    kind,
    at,
    value,
    min: BOUNDS[kind][0],
    max: BOUNDS[kind][1],
    axis,
    measure: kind === 'roundness' || kind === 'hollow' ? 'percent' : 'length',
    path: ['neckline', half, 'outline', outline, ...path],
  });
}

function shapeHandle(shape, width, depth, line, make) {
  if (shape.kind === 'v') return [hollowHandle(shape.leg_hollow_percent ?? 0, width, depth, make)];
  if (shape.kind === 'square') return [cornerHandle(shape.corner_radius_mm ?? 0, width, depth, make)];
  const value = shape.roundness_percent ?? known(ROUNDNESS, shape.kind);
  return [make('roundness', towardCorner(line, width, depth), value, 'free', ['shape', 'roundness_percent'])];
}

// The leg's middle moves off its straight by the hollow's share of the leg.
function hollowHandle(value, width, depth, make) {
  const at = [width / 2 + (depth * value) / 100, depth / 2 + (width * value) / 100];
  return make('hollow', at, value, 'free', ['shape', 'leg_hollow_percent']);
}

// The middle of a quarter round lies this share of its radius from the corner, along each axis.
const ARC_SHARE = 1 - Math.SQRT1_2;

function cornerHandle(value, width, depth, make) {
  const off = Math.min(value, 0.95 * width, 0.95 * depth) * ARC_SHARE;
  return {
    ...make('corner', [width - off, depth - off], value, 'free', ['shape', 'corner_radius_mm']),
    max: Math.min(BOUNDS.corner[1], width, depth),
  };
}

// Where the line crosses the way from the chord's middle to the corner.
function towardCorner(line, width, depth) {
  let best = { point: [width / 2, depth / 2], off: Infinity };
  for (let i = 0; i + 1 < line.length; i += 1) {
    const [[ax, ay], [bx, by]] = [line[i], line[i + 1]];
    // The way runs through (0, 0) as well: what is left of it is on one side, what is right on the other.
    const [a, b] = [ax * depth - ay * width, bx * depth - by * width];
    const t = a === b ? 0 : Math.min(1, Math.max(0, a / (a - b)));
    const point = [ax + t * (bx - ax), ay + t * (by - ay)];
    const off = Math.abs(point[0] * depth - point[1] * width);
    if (off < best.off) best = { point, off };
  }
  return best.point;
}

/**
 * The value a handle takes when it is moved to `point`, in the half's frame.
 * @param {Handle} handle @param {[number, number]} point @param {object} brief @param {number} snap mm or percent
 */
export function valueAt(handle, [x, y], brief, snap) {
  if (handle.kind === 'half_width') return snapped(x, handle, snap);
  if (handle.kind === 'depth') return snapped(handle.value + y - handle.at[1], handle, snap);
  const { half_width_mm: width, depth_mm: depth } = brief.neckline[handle.half].outline.drafted;
  if (handle.kind === 'corner') return snapped((width - x + depth - y) / 2 / ARC_SHARE, handle, snap);
  if (handle.kind === 'hollow') {
    const leg = width ** 2 + depth ** 2;
    return snapped((100 * ((x - width / 2) * depth + (y - depth / 2) * width)) / leg, handle, Math.min(snap, 0.5));
  }
  return handle.value;
}

// A fuller or flatter line may move very little under the finger, so roundness goes by how far the finger travels.
const PX_PER_POINT = 2;

/** Whether a handle's value goes by travel and not by place. */
export const byTravel = (handle) => handle.kind === 'roundness';

/** The value after a travel in px toward the corner (fuller) or back. @param {Handle} handle as it was at the start */
export const valueAfter = (handle, px, snap) => snapped(handle.value + px / PX_PER_POINT, handle, snap);

/** How far a handle stands from its start for a value, px. */
export const travelOf = (handle, value) => (value - handle.value) * PX_PER_POINT;

function snapped(value, handle, snap) {
  const near = Math.round(value / snap) * snap;
  return Math.round(Math.min(handle.max, Math.max(handle.min, near)) * 10000) / 10000;
}

/** The value one step on. @param {Handle} handle @param {1 | -1} sign @param {boolean} large @param {string} unit */
export function stepped(handle, sign, large, unit) {
  const step = STEPS[handle.measure === 'percent' ? 'percent' : unit][large ? 1 : 0] * (handle.kind === 'hollow' ? 0.5 : 1);
  return snapped(
    handle.value + sign * step,
    handle,
    handle.kind === 'hollow' ? 0.5 : STEPS[handle.measure === 'percent' ? 'percent' : unit][0],
  );
}

/** A copy of `brief` with the value at `path` changed; what is not on the way is shared. */
export function withValue(brief, [key, ...rest], value) {
  return { ...brief, [key]: rest.length ? withValue(brief[key] ?? {}, rest, value) : value };
}
