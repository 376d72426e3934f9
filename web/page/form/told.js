// What was told of each step, in a line: what a folded step shows. Lengths stand in the unit that the page shows, without its name.

import { nameOf } from '../common/known.js';

/** @import { Brief, Half, Knit, Stretch } from '../types/brief.d.ts' */
/** @import { Unit } from '../plan/reckoner.js' */
/** @import { Values, Words } from '../common/words.js' */

/** @typedef {{ words: Words, unit: Unit }} How */
/** @typedef {'pieces' | 'knit' | 'finish' | 'head'} Told a step that says what was told */
/** @typedef {string | false | null | undefined} Part nothing where it was not told */

/**
 * What was told, by step: of a brief, or of one that is not whole yet.
 * @type {Record<Told, (brief: Brief, how: How) => Part[]>}
 */
const TOLD = {
  pieces: ({ neckline: { front, back } }, how) => [half('front', front, how), half('back', back, how)],
  knit: ({ garment_knit: knit }, how) => knitTold(knit, how),
  finish: finishTold,
  head: headTold,
};

/** The steps that say what was told. */
export const STEPS = /** @type {Told[]} */ (Object.keys(TOLD));

/** A step's line or lines. @param {Told} step @param {Brief} brief @param {How} how */
export const toldOf = (step, brief, how) => TOLD[step](brief, how).filter(Boolean);

/** A length without its unit; nothing where there is none. @param {unknown} mm @param {How} how */
const sizeOf = (mm, { words, unit }) =>
  typeof mm === 'number' && Number.isFinite(mm) ? words.length(mm, unit, { suffix: false }) : undefined;

/** A length put into words; nothing where there is none. @param {string} key @param {unknown} mm @param {How} how @param {Values} [others] @returns {Part} */
function length(key, mm, how, others = {}) {
  const size = sizeOf(mm, how);
  return size && how.words.t(`told.${key}`, { ...others, length: size });
}

/** Parts in one sentence. @param {Part[]} parts */
const joined = (...parts) => parts.filter(Boolean).join(', ');

/** @param {'front' | 'back'} name @param {Half} half @param {How} how @returns {Part} */
function half(name, { outline }, how) {
  const { words } = how;
  const { measured, drafted, drawn } = outline;
  const told = measured ?? drafted;
  const shape = drawn ? 'drawn' : told?.shape?.kind;
  const what = joined(
    shape && words.t(`told.shape.${shape}`),
    length('long', measured?.half_length_mm, how),
    length('deep', told?.depth_mm, how),
    length('wide', told?.half_width_mm, how),
  );
  return what && words.t('told.half', { half: words.t(`half.${name}`), what });
}

/** @param {Knit} knit @param {How} how @returns {Part[]} */
function knitTold({ crosswise }, how) {
  return [stretch(crosswise, how)];
}

/** @param {Stretch} stretch @param {How} how @returns {Part} */
function stretch({ readings, percent }, how) {
  const { words } = how;
  if (readings) {
    const { rest_mm: rest, stretched_mm: stretched, released_mm: released } = readings;
    const to = sizeOf(stretched, how);
    return joined(to ? length('stretches', rest, how, { stretched: to }) : length('rest', rest, how), to && length('back', released, how));
  }
  if (!percent) return '';
  /** @param {string} key @param {unknown} value */
  const share = (key, value) =>
    typeof value === 'number' && Number.isFinite(value) && words.t(`told.${key}`, { percent: words.percent(value) });
  return joined(share('stretch', percent.stretch_percent), share('recovery', percent.recovery_percent));
}

/** @param {Brief} brief @param {How} how @returns {Part[]} */
function finishTold({ finish, strip_knit: other }, how) {
  const { words } = how;
  const kind = nameOf(finish);
  const width = Object.values(finish)[0]?.width_mm;
  return [joined(words.t(`field.finish.options.${kind}`), length('wide', width, how), other && words.t('told.other_knit'))];
}

/** @param {Brief} brief @param {How} how @returns {Part[]} */
function headTold({ head: { girth, margin_mm: margin } }, how) {
  const { words } = how;
  const whose = girth.adult ?? girth.child?.group;
  const age = girth.child?.age_months;
  return [
    joined(
      whose ? words.t(`field.head.options.${whose}`) : length('round', girth.own_mm, how),
      typeof age === 'number' && Number.isFinite(age) && words.count('unit.months', age),
      length('ease', margin, how),
    ),
  ];
}
