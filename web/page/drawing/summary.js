// The drawing in words: what someone who does not see it is told.

import { visible } from '../common/foreign-text.js';
import { spanDoes } from '../plan/lies.js';
import { letter } from './looks.js';
import { HALVES } from './frame.js';
import { markNames } from './scene.js';

/** @import { Outcome, Plan, StayZone, StripPlan } from '../types/plan.d.ts' */
/** @import { Said, Say } from './scene.js' */
/** @import { Unit } from '../plan/reckoner.js' */

/**
 * @param {{ plan: Plan, whole: boolean, stale?: boolean, words: Said, unit: Unit }} given
 * @returns {string}
 */
export function summaryText({ plan, whole, stale, words, unit }) {
  /** @type {Say} */
  const say = (key, values) => words.t(`drawing.${key}`, values);
  /** @param {number} mm */
  const length = (mm) => words.length(mm, unit, { suffix: true });
  const parts = [];
  if (stale) parts.push(say('stale'));
  parts.push(say(whole ? 'summary.whole' : 'summary.half', { length: length(plan.seam_line.whole_length_mm) }));
  for (const name of HALVES) {
    const half = plan.seam_line[name];
    parts.push(
      say(`summary.${name}`, {
        length: length(half.length_mm),
        width: length(half.half_width_mm),
        depth: length(half.depth_mm),
      }),
    );
  }
  if (plan.strip) parts.push(...stripWords(plan.strip, say, length));
  if (plan.facing) parts.push(say('summary.facing', { width: length(plan.facing.cut_width.cut_mm) }));
  if (plan.clips) parts.push(say('summary.clips', { count: plan.clips.count, corners: plan.clips.into_corners }));
  for (const zone of plan.stays.zones) parts.push(say('summary.stay', { part: partName(zone, say) }));
  return parts.join(' ');
}

/** @param {StripPlan} strip @param {Say} say @param {(mm: number) => string} length */
function stripWords(strip, say, length) {
  const names = markNames(strip, say);
  const marks = strip.marks.map((mark, i) => `${names[i].long} ${length(mark.on_strip_mm)}`).join('; ');
  return [
    say(strip.pieces === 2 ? 'summary.strip_two' : 'summary.strip', {
      length: length(strip.cut_length.cut_mm),
      width: length(strip.cut_width.cut_mm),
    }),
    say('summary.marks', { marks }),
  ];
}

/** A stay zone's name: the person's own, or its part's. @param {StayZone} zone @param {Say} say */
export const partName = (zone, say) => (zone.name === undefined ? say(`part.${zone.part}`) : visible(zone.name));

/**
 * One line for each span: what it is and what the strip does there.
 * @param {{ strip: StripPlan, words: Said, unit: Unit }} given
 * @returns {{ letter: string, outcome: Outcome, text: string }[]}
 */
export function spanLines({ strip, words, unit }) {
  /** @type {Say} */
  const say = (key, values) => words.t(`drawing.${key}`, values);
  /** @param {number} n */
  const percent = (n) => words.number(n, { digits: 0 });
  const names = markNames(strip, say);
  return strip.spans.map((span, i) => ({
    letter: letter(i),
    outcome: span.outcome,
    text: say('span', {
      from: names[i].long,
      to: names[i + 1].long,
      seam: percent(span.seam_edge_percent),
      free: range(percent(span.free_edge_least_percent), percent(span.free_edge_most_percent), say),
      does: spanDoes(span, words, unit),
    }),
  }));
}

/** @param {string} least @param {string} most @param {Say} say */
const range = (least, most, say) => (least === most ? least : say('range', { least, most }));
