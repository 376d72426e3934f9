// The order of work in words: for each of the plan's steps its words and its figures. What is done when is the core's.

import { setApart } from '../common/foreign-text.js';

/** @import { Mark, Plan, SewingStep, StayZone, StripPlan } from '../types/plan.d.ts' */
/** @import { Unit } from './reckoner.js' */
/** @import { Words } from '../common/words.js' */

/**
 * @param {{ plan: Plan, words: Words, unit: Unit }} what
 * @returns {{ text: string, cautions: string[] }[]}
 */
export function steps({ plan, words, unit }) {
  return plan.order.map((step) => {
    const key = `order.step.${step.step}`;
    const values = figures(step, plan, words, unit);
    return {
      text: step.count === undefined || words.has(key) ? words.t(key, values) : words.count(key, step.count, values),
      cautions: (step.cautions ?? []).map((caution) => words.t(`caution.${caution}`)),
    };
  });
}

/**
 * A step's figures as its words name them: `length_mm` is their `{length}`.
 * @param {SewingStep} step @param {Plan} plan @param {Words} words @param {Unit} unit
 */
function figures(step, plan, words, unit) {
  /** @type {Record<string, string>} */
  const values = {};
  for (const [name, value] of Object.entries(step)) {
    if (typeof value !== 'number') continue;
    if (name.endsWith('_mm')) values[name.slice(0, -3)] = words.length(value, unit);
    if (name.endsWith('_deg')) values[name.slice(0, -4)] = `${words.number(value, { digits: 1 })}°`;
  }
  if (step.direction) values.direction = words.t(`order.runs.${step.direction}`);
  if (step.at) values.at = words.t(`place.${step.at}`);
  /** @param {string[]} items */
  const list = (items) => items.join(words.t('order.join'));
  const { places } = step;
  if (places && plan.strip) {
    values.places = list(
      plan.strip.marks.map((mark) => words.t('order.place', { at: words.length(mark[places], unit), mark: markWord(mark, words) })),
    );
  }
  if (step.zones) values.parts = list(step.zones.map((zone) => partWord(plan.stays.zones[zone], words)));
  return values;
}

/** @param {StayZone} zone @param {Words} words */
const partWord = (zone, words) => setApart(zone.name ?? '') || words.t(`part.${zone.part}`);

/** A mark's name; one in between is told by its number. @param {Pick<Mark, 'place' | 'number'>} mark @param {Words} words */
export const markWord = ({ place, number }, words) =>
  words.t(`place.${place}`, { n: number === undefined ? undefined : words.number(number) });

/** The names of all marks of a strip. @param {StripPlan} strip @param {Words} words */
export const markWords = (strip, words) => strip.marks.map((mark) => markWord(mark, words));
