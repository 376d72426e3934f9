// What to change where a strip does not lie flat: buttons that make the change, each undone in one step.

import { fill, h } from '../common/dom.js';
import { known } from '../common/known.js';

/** Applied figures are set back or up to a tenth, so that they lie on the good side of the limit. mm, percent. */
const TENTH = 10;
const downToTenth = (value) => Math.floor(value * TENTH) / TENTH;
const upToWhole = (value) => Math.ceil(value);

/** What a cure writes into the form's values, and its name with numbers. */
function changeFor(cure, finish, direction) {
  const [code, value] = typeof cure === 'string' ? [cure] : Object.entries(cure)[0];
  const changes = {
    narrower: () => ({ [`${finish}.width`]: downToTenth(value) }),
    // The core asks for this stretch along the strip; a diagonal strip is judged by its own direction.
    stretchier: () => ({
      'strip.other': 'other',
      [`strip.${direction}.how`]: 'percent',
      [`strip.${direction}.stretch`]: upToWhole(value),
      ...crosswiseToo(direction, value),
    }),
    use_the_rule: () => ({ [`${finish}.ratio`]: null }),
    facing: () => ({ finish: 'facing' }),
    other_direction: () => ({ strip_direction: value }),
  };
  return known(changes, code) && { code, value, values: changes[code]() };
}

// A knit needs its crosswise stretch, whichever way the strip runs.
const crosswiseToo = (direction, value) =>
  direction === 'crosswise' ? {} : { 'strip.crosswise.how': 'percent', 'strip.crosswise.stretch': upToWhole(value) };

/**
 * @param {HTMLElement} container
 * @param {{ plan: object, brief: object, words: import('../common/words.js').Words, unit: string }} what
 * @param {(values: object, label: string) => void} apply
 */
export function showCures(container, { plan, brief, words, unit }, apply) {
  const cures = (plan.strip?.cures ?? [])
    .map((cure) => changeFor(cure, plan.finish.kind, brief.strip_direction ?? 'crosswise'))
    .filter(Boolean);
  container.hidden = cures.length === 0;
  if (container.hidden) {
    container.replaceChildren();
    return;
  }
  const name = ({ code, value }) =>
    words.t(`cures.${code}`, {
      width: code === 'narrower' ? words.length(downToTenth(value), unit) : '',
      stretch: code === 'stretchier' ? words.percent(upToWhole(value)) : '',
      direction: code === 'other_direction' ? words.t(`way_of_stretch.${value}`) : '',
    });
  fill(
    container,
    h('h3', { text: words.t('cures.heading') }),
    h('p', { text: words.t('cures.lead') }),
    h(
      'div',
      { class: 'buttons' },
      cures.map((cure) =>
        h('button', { type: 'button', 'data-cure': cure.code, onclick: () => apply(cure.values, name(cure)), text: name(cure) }),
      ),
    ),
  );
}
