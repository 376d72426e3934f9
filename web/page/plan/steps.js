// The order of work in words: for each of the plan's steps its words and its figures. What is done when is the core's.

import { setApart } from '../common/foreign-text.js';

/**
 * @param {{ plan: object, words: import('../common/words.js').Words, unit: string }} what
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

/** A step's figures as its words name them: `length_mm` is their `{length}`. */
function figures(step, plan, words, unit) {
  const values = {};
  for (const [name, value] of Object.entries(step)) {
    if (name.endsWith('_mm')) values[name.slice(0, -3)] = words.length(value, unit);
    if (name.endsWith('_deg')) values[name.slice(0, -4)] = `${words.number(value, { digits: 1 })}°`;
  }
  if (step.direction) values.direction = words.t(`order.runs.${step.direction}`);
  if (step.at) values.at = words.t(`place.${step.at}`);
  const list = (items) => items.join(words.t('order.join'));
  if (step.places) {
    values.places = list(
      plan.strip.marks.map((mark) => words.t('order.place', { at: words.length(mark[step.places], unit), mark: markWord(mark, words) })),
    );
  }
  if (step.zones) values.parts = list(step.zones.map((zone) => partWord(plan.stays.zones[zone], words)));
  return values;
}

const partWord = (zone, words) => setApart(zone.name ?? '') || words.t(`part.${zone.part}`);

/** A mark's name; one in between is told by its number. */
export const markWord = ({ place, number }, words) => words.t(`place.${place}`, { n: number && words.number(number) });

/** The names of all marks of a strip. */
export const markWords = (strip, words) => strip.marks.map((mark) => markWord(mark, words));
