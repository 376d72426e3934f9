// What to change where a strip does not lie flat: buttons that make the change, each undone in one step.

import { fill, h } from '../common/dom.js';
import { nameOf } from '../common/known.js';

/** @import { Cure } from '../types/plan.d.ts' */
/** @import { FormValue } from '../form/values.js' */
/** @import { What } from './ticket.js' */

/** Applied figures are set back or up to a tenth, so that they lie on the good side of the limit. mm, percent. */
const TENTH = 10;
/** A cure that carries nothing. @type {{ narrower?: undefined, stretchier?: undefined, other_direction?: undefined }} */
const NONE = {};
/** @param {number} value */
const downToTenth = (value) => Math.floor(value * TENTH) / TENTH;
/** @param {number} value */
const upToWhole = (value) => Math.ceil(value);

/** @typedef {Record<string, FormValue>} Changes values of the form by key */

/** What a cure writes into the form's values. @param {Cure} cure @param {string} finish @param {string} direction @returns {Changes} */
function changeFor(cure, finish, direction) {
  if (cure === 'use_the_rule') return { [`${finish}.ratio`]: null };
  if (cure === 'facing') return { finish: 'facing' };
  const { narrower, stretchier, other_direction: other } = cure;
  if (narrower !== undefined) return { [`${finish}.width`]: downToTenth(narrower) };
  if (stretchier === undefined) return { strip_direction: other };
  // The core asks for this stretch along the strip; a diagonal strip is judged by its own direction.
  return {
    'strip.other': 'other',
    [`strip.${direction}.how`]: 'percent',
    [`strip.${direction}.stretch`]: upToWhole(stretchier),
    ...crosswiseToo(direction, stretchier),
  };
}

/** A knit needs its crosswise stretch, whichever way the strip runs. @param {string} direction @param {number} value @returns {Changes} */
const crosswiseToo = (direction, value) =>
  direction === 'crosswise' ? {} : { 'strip.crosswise.how': 'percent', 'strip.crosswise.stretch': upToWhole(value) };

/**
 * @param {HTMLElement} container
 * @param {What} what
 * @param {(values: Changes, label: string) => void} apply
 */
export function showCures(container, { plan, brief, words, unit }, apply) {
  const cures = plan.strip?.cures ?? [];
  container.hidden = cures.length === 0;
  if (container.hidden) {
    container.replaceChildren();
    return;
  }
  /** @param {Cure} cure */
  const name = (cure) => {
    const { narrower, stretchier, other_direction: direction } = typeof cure === 'string' ? NONE : cure;
    return words.t(`cures.${nameOf(cure)}`, {
      width: narrower === undefined ? '' : words.length(downToTenth(narrower), unit),
      stretch: stretchier === undefined ? '' : words.percent(upToWhole(stretchier)),
      direction: direction === undefined ? '' : words.t(`way_of_stretch.${direction}`),
    });
  };
  /** @param {Cure} cure */
  const act = (cure) => apply(changeFor(cure, plan.finish.kind, brief.strip_direction ?? 'crosswise'), name(cure));
  fill(
    container,
    h('h3', { text: words.t('cures.heading') }),
    h('p', { text: words.t('cures.lead') }),
    h(
      'div',
      { class: 'buttons' },
      cures.map((cure) => h('button', { type: 'button', 'data-cure': nameOf(cure), onclick: () => act(cure), text: name(cure) })),
    ),
  );
}
