// Doubts about a plan that could be made: what it was told may be off, or would not serve. Each is told beside the readings that it is
// about; where they cannot belong together, on the ticket too.

import { nameOf } from '../common/known.js';
import { stripTold } from './lies.js';

/** @import { HalfName, Plan } from '../types/plan.d.ts' */
/** @import { What } from './ticket.js' */

/** @typedef {{ keys: string[], text: string, isOfWidths?: boolean }} Doubt by the keys of the fields it is about; whether front and back are apart */

/** The field that says most of a half's width at the neck point. @param {What} what @param {HalfName} half */
function widthField({ brief }, half) {
  const { measured, drawn } = brief.neckline[half].outline;
  if (drawn) return `${half}.path`;
  return measured && measured.half_width_mm === undefined ? `${half}.half_length` : `${half}.half_width`;
}

/** Whether front and back end too far apart to be sewn together. @param {Plan} plan */
export const isApart = (plan) => plan.assumptions.some(({ code }) => code === 'widths');

/** Front and back that cannot be sewn together; nothing where they can. @param {What} what @returns {Doubt | null} */
export function apart(what) {
  const { plan, words, unit } = what;
  if (!isApart(plan)) return null;
  const { front, back } = plan.seam_line;
  const text = words.t('doubt.apart', { front: words.length(front.half_width_mm, unit), back: words.length(back.half_width_mm, unit) });
  return { keys: [widthField(what, 'front'), widthField(what, 'back')], text, isOfWidths: true };
}

/** All that is doubted. @param {What} what @returns {Doubt[]} */
export function doubts(what) {
  const { plan, brief, words, unit } = what;
  const { strip, opening, finish } = plan;
  const bad = strip ? stripTold(strip, words, unit).filter(({ outcome }) => outcome === 'gapes' || outcome === 'pulls_in') : [];
  const cures = bad.length ? (strip?.cures ?? []) : [];
  /** @type {(Doubt | null | false)[]} */
  const all = [
    apart(what),
    bad.length > 0 && { keys: [`${finish.kind}.width`], text: bad.map(({ text }) => text).join(' ') },
    cures.some((cure) => nameOf(cure) === 'use_the_rule') && { keys: [`${finish.kind}.ratio`], text: words.t('doubt.ratio') },
    !opening.passes && {
      keys: [brief.head.girth.own_mm === undefined ? 'head' : 'head.own'],
      text: words.t('verdict.stuck', { spare: words.length(Math.abs(opening.spare_mm), unit) }),
    },
  ];
  return all.filter((one) => one !== null && one !== false);
}
