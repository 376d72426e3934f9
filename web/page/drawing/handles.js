// The handles of a drafted or measured half: where they stand, and what moving one changes in the brief. Places are in
// the half's own frame. A handle changes one value that the person gave; the core draws the line that follows from it.

import { known } from '../common/known.js';
import { ROUNDNESS } from '../generated/defaults.js';
import { Drafted, Shape } from '../generated/limits.js';
import { HALVES } from './frame.js';

/** @import { Brief, Drafted as Draft, Measured, Shape as GivenShape } from '../types/brief.d.ts' */
/** @import { HalfName, Plan } from '../types/plan.d.ts' */
/** @import { Point } from './frame.js' */
/** @import { Unit } from '../plan/reckoner.js' */

/** The least and the greatest that the handles' fields take. */
const BOUNDS = {
  half_width: Drafted.half_width_mm,
  depth: Drafted.depth_mm,
  corner: Shape.corner_radius_mm,
  roundness: Shape.roundness_percent,
  hollow: Shape.leg_hollow_percent,
};

/** Step sizes: a small and a large one, by unit. @type {Record<Unit | 'percent', [number, number]>} */
export const STEPS = { mm: [1, 10], cm: [1, 10], in: [25.4 / 16, 25.4 / 2], percent: [1, 5] };

/**
 * @typedef {{ id: string, half: HalfName, kind: keyof typeof BOUNDS,
 *   at: Point, value: number, min: number, max: number, measure: 'length' | 'percent',
 *   axis: 'x' | 'y' | 'free', path: string[] }} Handle
 */

/** @typedef {(kind: Handle['kind'], at: Point, value: number, axis: Handle['axis'], path: string[]) => Handle} Make */

/** All handles of a brief, front before back. @param {Brief} brief @param {Plan} plan @returns {Handle[]} */
export function handlesOf(brief, plan) {
  return HALVES.flatMap((name) => handlesOfHalf(brief, plan, name));
}

/** @param {Brief} brief @param {Plan} plan @param {HalfName} name */
function handlesOfHalf(brief, plan, name) {
  // A brief with wrong values is shown too.
  const outline = brief.neckline?.[name]?.outline;
  const line = knownLine(brief, plan, name);
  if (outline?.drafted) return drafted(outline.drafted, line, name);
  if (outline?.measured) return measured(outline.measured, line, name);
  return [];
}

/** The line that the brief's readings describe, as the plan has it. @param {Brief} brief @param {Plan} plan @param {HalfName} name */
export function knownLine(brief, plan, name) {
  return plan.seam_line[name][brief.neckline.readings_at === 'seam_line' ? 'seam_line' : 'cut_edge'];
}

/** @param {Draft} given @param {Point[]} line @param {HalfName} name */
function drafted(given, line, name) {
  const make = maker(name, 'drafted');
  const [width, depth] = [given.half_width_mm, given.depth_mm];
  return [
    make('half_width', [width, 0], width, 'x', ['half_width_mm']),
    make('depth', [0, depth], depth, 'y', ['depth_mm']),
    ...shapeHandle(given.shape, width, depth, line, make),
  ];
}

/** @param {Measured} given @param {Point[]} line @param {HalfName} name */
function measured(given, line, name) {
  const make = maker(name, 'measured');
  const list = [];
  const neck = line[line.length - 1];
  const { half_width_mm: width, depth_mm: depth } = given;
  if (typeof width === 'number') list.push(make('half_width', [width, 0], width, 'x', ['half_width_mm']));
  if (typeof depth === 'number') list.push(make('depth', [0, neck[1] + depth], depth, 'y', ['depth_mm']));
  return list;
}

/** @param {HalfName} half @param {string} outline @returns {Make} */
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

/** @param {GivenShape} shape @param {number} width @param {number} depth @param {Point[]} line @param {Make} make */
function shapeHandle(shape, width, depth, line, make) {
  if (shape.kind === 'v') return [hollowHandle(shape.leg_hollow_percent ?? 0, width, depth, make)];
  if (shape.kind === 'square') return [cornerHandle(shape.corner_radius_mm ?? 0, width, depth, make)];
  const value = shape.roundness_percent ?? known(ROUNDNESS, shape.kind) ?? 0;
  return [make('roundness', towardCorner(line, width, depth), value, 'free', ['shape', 'roundness_percent'])];
}

/**
 * The leg's middle moves off its straight by the hollow's share of the leg.
 * @param {number} value @param {number} width @param {number} depth @param {Make} make
 */
function hollowHandle(value, width, depth, make) {
  /** @type {Point} */
  const at = [width / 2 + (depth * value) / 100, depth / 2 + (width * value) / 100];
  return make('hollow', at, value, 'free', ['shape', 'leg_hollow_percent']);
}

// The middle of a quarter round lies this share of its radius from the corner, along each axis.
const ARC_SHARE = 1 - Math.SQRT1_2;

/** @param {number} value @param {number} width @param {number} depth @param {Make} make */
function cornerHandle(value, width, depth, make) {
  const off = Math.min(value, 0.95 * width, 0.95 * depth) * ARC_SHARE;
  return {
    ...make('corner', [width - off, depth - off], value, 'free', ['shape', 'corner_radius_mm']),
    max: Math.min(BOUNDS.corner[1], width, depth),
  };
}

/**
 * Where the line crosses the way from the chord's middle to the corner.
 * @param {Point[]} line @param {number} width @param {number} depth
 */
function towardCorner(line, width, depth) {
  /** @type {{ point: Point, off: number }} */
  let best = { point: [width / 2, depth / 2], off: Infinity };
  for (let i = 0; i + 1 < line.length; i += 1) {
    const [[ax, ay], [bx, by]] = [line[i], line[i + 1]];
    // The way runs through (0, 0) as well: what is left of it is on one side, what is right on the other.
    const [a, b] = [ax * depth - ay * width, bx * depth - by * width];
    const t = a === b ? 0 : Math.min(1, Math.max(0, a / (a - b)));
    /** @type {Point} */
    const point = [ax + t * (bx - ax), ay + t * (by - ay)];
    const off = Math.abs(point[0] * depth - point[1] * width);
    if (off < best.off) best = { point, off };
  }
  return best.point;
}

/**
 * The value a handle takes when it is moved to `point`, in the half's frame.
 * @param {Handle} handle @param {Point} point @param {Brief} brief @param {number} snap mm or percent
 */
export function valueAt(handle, [x, y], brief, snap) {
  if (handle.kind === 'half_width') return snapped(x, handle, snap);
  if (handle.kind === 'depth') return snapped(handle.value + y - handle.at[1], handle, snap);
  const { drafted: draft } = brief.neckline[handle.half].outline;
  if (!draft) return handle.value;
  const { half_width_mm: width, depth_mm: depth } = draft;
  if (handle.kind === 'corner') return snapped((width - x + depth - y) / 2 / ARC_SHARE, handle, snap);
  if (handle.kind === 'hollow') {
    const leg = width ** 2 + depth ** 2;
    return snapped((100 * ((x - width / 2) * depth + (y - depth / 2) * width)) / leg, handle, Math.min(snap, 0.5));
  }
  return handle.value;
}

// A fuller or flatter line may move very little under the finger, so roundness goes by how far the finger travels.
const PX_PER_POINT = 2;

/** Whether a handle's value goes by travel and not by place. @param {Handle} handle */
export const byTravel = (handle) => handle.kind === 'roundness';

/** The value after a travel in px toward the corner (fuller) or back. @param {Handle} handle as it was at the start @param {number} px @param {number} snap */
export const valueAfter = (handle, px, snap) => snapped(handle.value + px / PX_PER_POINT, handle, snap);

/** How far a handle stands from its start for a value, px. @param {Handle} handle @param {number} value */
export const travelOf = (handle, value) => (value - handle.value) * PX_PER_POINT;

/** @param {number} value @param {Handle} handle @param {number} snap */
function snapped(value, handle, snap) {
  const near = Math.round(value / snap) * snap;
  return Math.round(Math.min(handle.max, Math.max(handle.min, near)) * 10000) / 10000;
}

/** The value one step on. @param {Handle} handle @param {number} sign 1 or -1 @param {boolean} large @param {Unit} unit */
export function stepped(handle, sign, large, unit) {
  const step = STEPS[handle.measure === 'percent' ? 'percent' : unit][large ? 1 : 0] * (handle.kind === 'hollow' ? 0.5 : 1);
  return snapped(
    handle.value + sign * step,
    handle,
    handle.kind === 'hollow' ? 0.5 : STEPS[handle.measure === 'percent' ? 'percent' : unit][0],
  );
}

/**
 * A copy of a brief with the value at `path` changed; what is not on the way is shared.
 * @template {object} Part @param {Part} part a brief, or a part of one @param {string[]} path @param {string | number} value
 * @returns {Part}
 */
export function withValue(part, [key, ...rest], value) {
  const below = new Map(Object.entries(part)).get(key);
  return { ...part, [key]: rest.length ? withValue(typeof below === 'object' && below ? below : {}, rest, value) : value };
}
