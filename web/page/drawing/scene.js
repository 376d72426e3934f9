// From a plan to what is drawn: shapes in mm by layer, labels, and the boxes to fit. Nothing here touches the page.

import { box, halfRound, sewnRound, wayOf } from './frame.js';
import { necklineScene } from './scene-neckline.js';
import { stripScene } from './scene-strip.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { Plan, StripPlan } from '../types/plan.d.ts' */
/** @import { Problem } from '../form/errors.js' */
/** @import { NumberStyle, Values } from '../common/words.js' */
/** @import { Box, Run, Ways } from './frame.js' */
/** @import { Ink } from './ink.js' */
/** @import { Label } from './labels.js' */
/** @import { Item } from './nodes.js' */
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
 * @property {number} textScale the reader's text size over the usual
 * @property {typeof import('./scene-facing.js').facingScene} [facingScene] draws a facing; comes later, with the first plan that has one
 */
/**
 * @typedef {object} Made what is drawn of it
 * @property {Ways} ways
 * @property {Run} run
 * @property {Run} sewn
 * @property {Record<Layer, Item[]>} shapes
 * @property {Label[]} labels
 * @property {Ink[]} ink
 * @property {string} clip
 * @property {{ all: Box, neckline: Box, below: Box | null }} boxes
 * @property {Say} say
 * @property {(mm: number) => string} length
 * @property {(n: number, digits?: number) => string} percent
 */
/** @typedef {Given & Made} Scene */

/** The layers, undermost first. */
export const LAYERS = /** @type {const} */ (['ribbon', 'strain', 'facing', 'lines', 'stays', 'clips', 'marks', 'strip', 'errors']);

// Room for the lines of text between the neckline and what lies beneath it: px where all is shown, and its bounds in mm.
const GAP = { px: 74, least: 40, most: 160 };
const STEP = 20; // mm

/** @param {Given} given @returns {Scene} */
export function buildScene(given) {
  const { plan } = given;
  const ways = { front: wayOf(plan.seam_line.front, 'front'), back: wayOf(plan.seam_line.back, 'back') };
  /** @type {Scene} */
  const scene = {
    ...given,
    ways,
    run: halfRound(plan, ways),
    sewn: sewnRound(plan, ways),
    shapes: { ribbon: [], strain: [], facing: [], lines: [], stays: [], clips: [], marks: [], strip: [], errors: [] },
    labels: [],
    ink: [],
    clip: '',
    boxes: { all: box(), neckline: box(), below: null },
    say: sayer(given.words),
    length: (mm) => given.words.length(mm, given.unit, { suffix: true }),
    percent: (n, digits = 0) => given.words.number(n, { digits }),
  };
  necklineScene(scene);
  const below = box();
  // In whole steps, so that what lies beneath stays where it is while a handle moves a little.
  const top = Math.ceil((scene.boxes.neckline.y1 + gap(scene)) / STEP) * STEP;
  if (plan.strip) stripScene(scene, plan.strip, below, top);
  if (plan.facing) given.facingScene?.(scene, plan.facing, below, top);
  scene.boxes.below = below.empty ? null : below;
  scene.boxes.all.join(scene.boxes.neckline);
  scene.boxes.all.join(below);
  return scene;
}

/** @type {WeakMap<Said, Map<string, string>>} */
const fixed = new WeakMap();

/**
 * Words without a figure in them are looked up once for each catalogue: a drag asks for the same forty each frame.
 * @param {Said} words @returns {Say}
 */
function sayer(words) {
  const known = fixed.get(words) ?? new Map();
  fixed.set(words, known);
  return (key, values) => {
    if (values) return words.t(`drawing.${key}`, values);
    const text = known.get(key) ?? words.t(`drawing.${key}`);
    known.set(key, text);
    return text;
  };
}

/** @param {Scene} scene */
function gap({ plan, whole, boxes, room, textScale }) {
  const length = plan.strip?.cut_length.cut_mm ?? 0;
  // Of a ring the half view shows half; two strips are one for each side.
  const strip = plan.strip?.pieces === 2 ? length * (whole ? 2.1 : 1) : length * (whole ? 1 : 0.55);
  const width = Math.max(strip, boxes.neckline.x1 - boxes.neckline.x0, plan.facing ? (boxes.neckline.x1 - boxes.neckline.x0) * 2 : 0);
  return Math.min(GAP.most, Math.max(GAP.least, (GAP.px * textScale * width) / room));
}

/** How marks are named, short and long. @param {StripPlan} strip @param {Say} say */
export function markNames(strip, say) {
  return strip.marks.map(({ place, number }) =>
    number !== undefined
      ? { short: String(number), long: say(`place.${place}`, { number }) }
      : { short: say(`place_short.${place}`), long: say(`place.${place}`) },
  );
}
