// What would let a head pass that does not, and a stitch that serves, in words.

import { nameOf } from '../common/known.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { OpeningPlan, Remedy } from '../types/plan.d.ts' */
/** @import { Values, Words } from '../common/words.js' */
/** @import { Unit } from './reckoner.js' */

/**
 * What would serve where the stitch would break; nothing where it gives enough.
 * @param {OpeningPlan} opening @param {Brief} brief @param {Words} words
 */
export function stitchAdvice({ stitch_advice: advice }, brief, words) {
  if (!advice) return null;
  return words.t(`codes.stitch_advice.${brief.stitch === 'straight' ? 'straight' : 'zigzag'}`, {
    percent: words.percent(advice.seam_asks_percent),
    // Machines are set in millimetres everywhere.
    width: words.length(advice.zigzag_width_mm, 'mm'),
    length: words.length(advice.zigzag_length_mm, 'mm'),
  });
}

/**
 * What would let the head pass, a line each, best first; nothing where it does.
 * @param {OpeningPlan} opening @param {Brief} brief @param {Words} words @param {Unit} unit
 */
export function remedies({ remedies: all = [] }, brief, words, unit) {
  if (all.length === 0) return null;
  const lines = all.map((remedy) => remedyText(remedy, words, unit));
  if (brief.head.girth.child) lines.push(words.t('codes.remedy.children'));
  return lines;
}

/** @param {Remedy} remedy @param {Words} words @param {Unit} unit */
function remedyText(remedy, words, unit) {
  /** @param {number} mm */
  const size = (mm) => words.length(mm, unit);
  /** @param {string} key @param {Values} [values] */
  const say = (key, values) => words.t(`codes.remedy.${key}`, values);
  if (typeof remedy === 'string') return say(remedy);
  const { larger_neck: larger, stretchier, other_direction: direction } = remedy;
  if (larger)
    return say(larger.stayed ? 'larger_neck_stayed' : 'larger_neck_live', { length: size(larger.by_mm), line: size(larger.seam_line_mm) });
  if (stretchier !== undefined) return say('stretchier', { percent: words.percent(stretchier) });
  if (direction) return say(`other_direction_${direction}`);
  return say(nameOf(remedy), { length: size(remedy.narrower ?? remedy.shoulder_opening ?? remedy.placket ?? NaN) });
}
