// From a plan to what is drawn: shapes in mm by layer, labels, and the boxes to fit. Nothing here touches the page.

import { box, halfRound, sewnRound, wayOf } from './frame.js';
import { necklineScene } from './scene-neckline.js';
import { stripScene } from './scene-strip.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { Plan, StripPlan } from '../types/plan.d.ts' */
/** @import { Problem } from '../form/errors.js' */
/** @import { NumberStyle, Values } from '../common/words.js' */
/** @import { Box, Point, Run, Ways } from './frame.js' */
/** @import { Ink } from './ink.js' */
/** @import { Label } from './labels.js' */
/** @import { Item } from './nodes.js' */
/** @import { Lay } from './scene-strip.js' */
/** @import { Area } from './view.js' */
/** @import { Unit } from '../plan/reckoner.js' */

/** @typedef {(key: string, values?: Values) => string} Say words of the drawing's own group */
/**
 * @typedef {object} Said what the drawing needs of the page's words
 * @property {Say} t
 * @property {(value: number, how?: NumberStyle) => string} number
 * @property {(mm: number, unit: Unit, how?: NumberStyle & { suffix?: boolean }) => string} length
 */
/** @typedef {(typeof LAYERS)[number]} Layer */
/**
 * @typedef {object} Given
 * @property {Brief} brief
 * @property {Plan} plan
 * @property {boolean} whole whether both sides are drawn
 * @property {Problem[]} [errors]
 * @property {Said} words
 * @property {Unit} unit
 * @property {string} prefix of the ids of patterns
 * @property {number} room the stage's px across
 * @property {boolean} [isNarrow] whether the stage is a phone's
 * @property {number} textScale the reader's text size over the usual
 * @property {Partial<Pick<import('../parts.js').Parts, 'errorScene' | 'facingScene'>>} [parts] draw a facing, and places of what is wrong; they come later, with the first plan that has one
 */
/**
 * @typedef {object} Made what is drawn of it
 * @property {Ways} ways
 * @property {Run} run
 * @property {Run} sewn
 * @property {Record<Layer, Item[]>} shapes
 * @property {(() => void)[]} later what adds the neckline's names, and the lines that only they ask for
 * @property {Label[]} labels
 * @property {Ink[]} ink
 * @property {string} clip
 * @property {{ all: Box, neckline: Box, below: Box | null }} boxes
 * @property {Lay} [lay] where the strip lies
 * @property {Area[]} taken px of the stage that labels are to leave free
 * @property {Say} say
 * @property {(mm: number) => string} length
 * @property {(n: number, digits?: number) => string} percent
 */
/** @typedef {Given & Made} Scene */

/** The layers, undermost first. */
export const LAYERS = /** @type {const} */ (['ribbon', 'strain', 'facing', 'lines', 'stays', 'clips', 'marks', 'strip', 'light', 'errors']);

// Room for the lines of text between the neckline and what lies beneath it: px where all is shown, and its bounds in mm.
const GAP = { px: 74, least: 40, most: 160 };
const STEP = 20; // mm
const LOWER = 0.45; // of the neckline's height, at most, for pieces with a scale of their own

/** The layers of the neckline itself: what the eye follows under a finger. */
export const NECKLINE = /** @type {const} */ (['ribbon', 'strain', 'lines', 'stays', 'clips', 'marks']);

/** All that is drawn. @param {Given} given */
export const buildScene = (given) => completed(buildNeckline(given));

/** The lines of the neckline alone. @param {Given} given @returns {Scene} */
export function buildNeckline(given) {
  const { plan } = given;
  const ways = { front: wayOf(plan.seam_line.front, 'front'), back: wayOf(plan.seam_line.back, 'back') };
  /** @type {Scene} */
  const scene = {
    ...given,
    ways,
    run: halfRound(plan, ways),
    sewn: sewnRound(plan, ways),
    shapes: { ribbon: [], strain: [], facing: [], lines: [], stays: [], clips: [], marks: [], strip: [], light: [], errors: [] },
    later: [],
    labels: [],
    ink: [],
    clip: '',
    taken: [],
    boxes: { all: box(), neckline: box(), below: null },
    say: (key, values) => given.words.t(`drawing.${key}`, values),
    length: (mm) => given.words.length(mm, given.unit, { suffix: true }),
    percent: (n, digits = 0) => given.words.number(n, { digits }),
  };
  necklineScene(scene);
  return scene;
}

/** Adds what is not there yet: names, and what lies beneath. @param {Scene} scene */
export function completed(scene) {
  if (!scene.later.length) return scene;
  const { plan, parts, later } = scene;
  for (const add of later.splice(0)) add();
  const below = box();
  // In whole steps, so that what lies beneath stays where it is while a handle moves a little.
  const top = Math.ceil((scene.boxes.neckline.y1 + gap(scene)) / STEP) * STEP;
  if (plan.strip) stripScene(scene, plan.strip, below, top);
  if (plan.facing) parts?.facingScene?.(scene, plan.facing, below, top);
  parts?.errorScene?.(scene);
  scene.boxes.below = below.empty ? null : below;
  scene.boxes.all.join(scene.boxes.neckline);
  scene.boxes.all.join(below);
  return scene;
}

/** @param {Scene} scene */
function gap({ plan, whole, boxes, room, isNarrow, textScale }) {
  // With a scale of its own what lies beneath is no wider than the neckline.
  if (isNarrow) return Math.min(GAP.most, (GAP.px * textScale * (boxes.neckline.x1 - boxes.neckline.x0)) / room);
  const length = plan.strip?.cut_length.cut_mm ?? 0;
  // Of a ring the half view shows half; two strips are one for each side.
  const strip = plan.strip?.pieces === 2 ? length * (whole ? 2.1 : 1) : length * (whole ? 1 : 0.55);
  const width = Math.max(strip, boxes.neckline.x1 - boxes.neckline.x0, plan.facing ? (boxes.neckline.x1 - boxes.neckline.x0) * 2 : 0);
  return Math.min(GAP.most, Math.max(GAP.least, (GAP.px * textScale * width) / room));
}

/**
 * The scale of what lies beneath the neckline, over the neckline's own: on a narrow stage its own, so that the neckline takes the
 * stage's width. In whole percent, as it is said.
 * @param {Scene} scene @param {number} width mm @param {number} [height] mm
 */
export function scaleBeneath({ isNarrow, boxes: { neckline } }, width, height = 0) {
  const most = Math.min((neckline.x1 - neckline.x0) / width, (LOWER * (neckline.y1 - neckline.y0)) / height);
  return isNarrow ? Math.min(1, Math.floor(100 * most) / 100) : 1;
}

/** Says so where it is another one than the neckline's, above what lies there. @param {Scene} scene @param {Point} at @param {number} scale */
export function sayScale({ labels, say, percent }, at, scale) {
  if (scale < 1)
    labels.push({
      key: 'scale',
      at,
      text: say('own_scale', { percent: percent(scale * 100) }),
      class: 'draw-quiet',
      weight: 13,
      must: true,
      tries: [[0, -28, 'start']],
    });
}

/** How marks are named, short and long. @param {StripPlan} strip @param {Say} say */
export function markNames(strip, say) {
  return strip.marks.map(({ place, number }) =>
    number !== undefined
      ? { short: String(number), long: say(`place.${place}`, { number }) }
      : { short: say(`place_short.${place}`), long: say(`place.${place}`) },
  );
}
