// The cut figure, first and large, with its range, and whether it lies flat and the head passes.

import { byId, h, settle } from '../common/dom.js';
import { nameAt } from '../form/names.js';
import { metric as example } from '../generated/example.js';
import { visible } from '../common/foreign-text.js';
import { setText } from '../drawing/nodes.js';
import { apart } from './doubts.js';
import { stripTold, untrusted } from './lies.js';
import { stitchAdvice } from './remedies.js';
import { shortOf } from './suits.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { FacingPiece, FacingPlan, Figure, HalfName, Outcome, Plan, StripPlan } from '../types/plan.d.ts' */
/** @import { FormValues } from '../form/values.js' */
/** @import { Unit } from './reckoner.js' */
/** @import { Words } from '../common/words.js' */

/** @typedef {{ plan: Plan, brief: Brief, words: Words, unit: Unit, quick: boolean, formValues?: FormValues }} What a plan and how it is shown */

/** How each outcome is marked: what passes without lying flat has a quiet mark. @type {Record<Outcome, [tone: string, sign: string]>} */
const MARKS = {
  lies_flat: ['good', '●'],
  ripples: ['calm', '◐'],
  stands: ['calm', '◐'],
  gapes: ['warn', '▲'],
  pulls_in: ['bad', '◆'],
};

/** How it is marked that readings cannot belong together. @type {[tone: string, sign: string]} */
const DOUBT = ['warn doubt', '▲'];

/** How what passes, or does not, is marked: the head, the knit. @param {boolean} passes */
export const passMark = (passes) => (passes ? MARKS.lies_flat : MARKS.pulls_in);

/** A line that says what comes of it, with its mark. @param {[tone: string, sign: string]} mark @param {string} text */
export const verdictLine = ([tone, sign], text) =>
  h('p', { class: `verdict ${tone}` }, h('span', { class: 'sign', 'aria-hidden': 'true', text: sign }), text);

/** The cut figure in one line of text. @param {Plan} plan @param {Words} words @param {Unit} unit */
export function headline(plan, words, unit) {
  /** @param {number} mm */
  const size = (mm) => words.length(mm, unit);
  if (plan.strip)
    return words.t(plan.strip.pieces === 2 ? 'ticket.size_two' : 'ticket.size', {
      length: size(plan.strip.cut_length.cut_mm),
      width: size(plan.strip.cut_width.cut_mm),
    });
  return words.t('ticket.wide', { width: size(plan.facing?.cut_width.cut_mm ?? NaN) });
}

/** How it lies and whether the head passes, as text. @param {Plan} plan @param {Words} words @param {Unit} unit */
export function verdicts(plan, words, unit) {
  const lies = plan.strip ? stripTold(plan.strip, words, unit) : [];
  const { passes, spare_mm: spare } = plan.opening;
  const head = words.t(passes ? 'verdict.passes' : 'verdict.stuck', { spare: words.length(Math.abs(spare), unit) });
  return { lies, head };
}

/**
 * Fills the ticket.
 * @param {HTMLElement} container
 * @param {What} what
 */
export function showTicket(container, what) {
  const { plan, brief, words, unit } = what;
  const { lies, head } = verdicts(plan, words, unit);
  const unsure = plan.strip && untrusted(plan.strip, words);
  const doubt = apart(what);
  const advice = stitchAdvice(plan.opening, brief, words);
  // What is worked out from readings that cannot belong together is not said to be good.
  /** @param {[tone: string, sign: string]} mark @param {string} text */
  const verdict = (mark, text) => verdictLine(doubt && mark === MARKS.lies_flat ? MARKS.stands : mark, text);
  settle(
    container,
    plan.title && h('p', { class: 'title', text: titleOf(plan, words) }),
    h('p', { class: 'cut-what', text: words.t(`ticket.cut.${plan.finish.kind}`) }),
    h('p', { class: 'cut-figure', id: 'cut-figure' }, figureParts(plan, words, unit)),
    plan.strip?.pieces === 2 && h('p', { class: 'verdict', text: words.t('ticket.two') }),
    doubt && verdictLine(DOUBT, doubt.text),
    plan.strip && stripRanges(plan.strip, what),
    plan.facing && facingPieces(plan.facing, what),
    lies.map(({ outcome, text }) => verdict(MARKS[outcome], text)),
    unsure && h('p', { class: 'caution', text: unsure }),
    verdict(passMark(plan.opening.passes), head),
    shortOf(plan, words).map((text) => verdict(passMark(false), text)),
    advice && h('p', { class: 'caution', text: advice }),
  );
}

/** The figure alone, as it follows a finger. @param {What} what */
export function followFigure({ plan, words, unit }) {
  const spans = byId('cut-figure').children;
  for (const [i, text] of figureTexts(plan, words, unit).entries()) setText(spans[i], text);
}

/** The title as a reader sees it: the invented example is named as one in their own language. @param {Plan} plan @param {Words} words */
const titleOf = ({ title }, words) => (title === example.title ? words.t('page.example_title') : visible(title ?? ''));

/** What the figure is written in. @param {Plan} plan @param {Words} words @param {Unit} unit */
function figureTexts(plan, words, unit) {
  if (!plan.strip) return [headline(plan, words, unit)];
  const [first, second] = [plan.strip.cut_length, plan.strip.cut_width].map((one) => words.length(one.cut_mm, unit));
  return [first, `× ${second}`];
}

/**
 * Figures that never break across lines inside; where they take two, the second says that it goes with the first.
 * @param {Plan} plan @param {Words} words @param {Unit} unit
 */
const figureParts = (plan, words, unit) =>
  figureTexts(plan, words, unit).map((text, i) => [i > 0 && ' ', h('span', { class: 'figure', text })]);

/** @param {Figure} figure @param {string} name @param {What} what */
function range(figure, name, { words, unit, formValues, quick }) {
  if (quick) return h('p', { class: 'range', text: words.t('ticket.range_later', { name }) });
  /** @param {number} mm */
  const whole = (mm) => words.length(mm, unit, { digits: unit === 'cm' ? 1 : 0 });
  const values = { name, low: whole(figure.low_mm), high: whole(figure.high_mm) };
  const most = nameAt(figure.most_from, words, formValues);
  return h('p', { class: 'range' }, words.t('ticket.range', values), most && ` ${words.t('ticket.most_from', { what: most })}`);
}

/** @param {StripPlan} strip @param {What} what */
function stripRanges(strip, what) {
  const { words, unit } = what;
  const { width_at_rest_mm: atRest, width_as_sewn_mm: asSewn } = strip.narrowing;
  const [rest, sewn] = [atRest, asSewn].map((mm) => words.length(mm, unit));
  return [
    range(strip.cut_length, words.t('ticket.length'), what),
    range(strip.cut_width, words.t('ticket.width'), what),
    h('p', {
      class: 'range',
      text: words.t(strip.own_ratio ? 'ticket.own_ratio' : 'ticket.ratio', { ratio: words.percent(strip.ratio_percent) }),
    }),
    rest !== sewn && h('p', { class: 'range', text: words.t('ticket.narrows', { sewn }) }),
  ];
}

/** @param {FacingPlan} facing @param {What} what */
function facingPieces(facing, what) {
  const { words, unit } = what;
  /** @param {FacingPiece} piece @param {HalfName} name */
  const edges = (piece, name) =>
    words.t('ticket.piece', {
      piece: words.t(`half.${name}`),
      seam: words.length(piece.seam_edge.cut_mm, unit),
      outer: words.length(piece.outer_edge.cut_mm, unit),
    });
  return [
    h('p', { class: 'range', text: edges(facing.front, 'front') }),
    h('p', { class: 'range', text: edges(facing.back, 'back') }),
    range(facing.cut_width, words.t('ticket.width'), what),
    h('p', { class: 'range', text: words.t('ticket.facing_edge') }),
    h('p', { class: 'range', text: words.t(`interfacing.${facing.interfacing}`) }),
  ];
}
