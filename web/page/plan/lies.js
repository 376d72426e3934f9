// What a strip does once it is sewn, in words: part by part, from mark to mark, and were it spread by quarters.

/** @import { NumberStyle, Values } from '../common/words.js' */
/** @import { Outcome, PartLies, Quartered, Span, StripPlan } from '../types/plan.d.ts' */
/** @import { Unit } from './reckoner.js' */

/**
 * @typedef {object} SaidOfSpans what a span's words need of the page's
 * @property {(key: string, values?: Values) => string} t
 * @property {(value: number, how?: NumberStyle) => string} number
 * @property {(mm: number, unit: Unit) => string} length
 */
/** @typedef {SaidOfSpans & { list: (items: string[]) => string, percent: (value: number, how?: NumberStyle) => string }} Said */

/** What a strip may do somewhere, worst first. Gaping has words of its own where it stands up rather than ripples. */
const KINDS = /** @type {const} */ (['gapes_standing', 'gapes', 'pulls_in', 'ripples', 'stands']);

/** @typedef {Span | PartLies | Quartered} Lying */

/** @param {Lying} some @returns {typeof KINDS[number] | 'lies_flat'} */
const kindOf = ({ outcome, leans_deg: leans }) => (outcome === 'gapes' && leans !== undefined ? 'gapes_standing' : outcome);

/** @param {number} deg @param {SaidOfSpans} words */
const degrees = (deg, words) => `${words.number(deg)}°`;

/** What a span or a part does, with its figures. @param {Lying} span @param {SaidOfSpans} words @param {Unit} unit */
export const does = (span, words, unit) => words.t(`does.${kindOf(span)}`, figures(span, words, unit));

/** @param {Lying} span @param {SaidOfSpans} words @param {Unit} unit */
const figures = ({ stands_off_mm: off, leans_deg: lean = 0 }, words, unit) => ({
  off: words.length(off, unit),
  lean: degrees(lean, words),
});

/** The same, with a word of it where the reckoning is not trusted. @param {Span} span @param {SaidOfSpans} words @param {Unit} unit */
export const spanDoes = (span, words, unit) =>
  span.trusted ? does(span, words, unit) : words.t('does.untrusted', { does: does(span, words, unit) });

/**
 * What the strip does, worst first: a sentence for each thing that it does, with where and how much.
 * @param {StripPlan} strip @param {Said} words @param {Unit} unit @returns {{ outcome: Outcome, text: string }[]}
 */
export function stripTold(strip, words, unit) {
  const { parts } = strip;
  const told = KINDS.map((kind) => parts.filter((part) => kindOf(part) === kind))
    .filter((some) => some.length > 0)
    .map((some) => ({ outcome: some[0].outcome, text: sentence(some, { strip, words, unit }) }));
  if (!told.length) return [{ outcome: 'lies_flat', text: words.t('verdict.lies_flat') }];
  const isFlat = parts.some(({ outcome }) => outcome === 'lies_flat');
  if (isFlat && !standsBehindFlatFront(strip)) told[told.length - 1].text += ` ${words.t('verdict.elsewhere')}`;
  return told;
}

/** As a crew does: flat on the chest, standing along the neck, and nothing else. @param {StripPlan} strip */
const standsBehindFlatFront = ({ parts }) =>
  parts.every(({ part, outcome }) => outcome === 'lies_flat' || (outcome === 'stands' && part !== 'front'));

/** @param {PartLies[]} some that do the same @param {{ strip: StripPlan, words: Said, unit: Unit }} what */
function sentence(some, { strip, words, unit }) {
  const kind = kindOf(some[0]);
  const stretched = strip.spans.map((span) => Math.max(span.seam_edge_percent, span.free_edge_most_percent));
  return words.t(`verdict.${kind === 'stands' ? standing(some, strip) : kind}`, {
    where: where(some, words),
    off: words.length(Math.max(...some.map((part) => part.stands_off_mm)), unit),
    lean: degrees(Math.max(...some.map((part) => part.leans_deg ?? 0)), words),
    most: words.percent(Math.max(...stretched)),
    comfort: words.percent(strip.comfort_percent),
  });
}

/** @param {PartLies[]} some @param {StripPlan} strip */
function standing(some, strip) {
  if (standsBehindFlatFront(strip)) return 'flat_and_stands';
  return some.every(({ part }) => part === 'front') ? 'stands_low' : 'stands';
}

/** @param {PartLies[]} some @param {Said} words */
const where = (some, words) =>
  some.length === 3 ? words.t('verdict.at.all') : words.list(some.map(({ part }) => words.t(`verdict.at.${part}`)));

/** Where the strip's bend is too sharp for the reckoning to be trusted; nothing where it is trusted. @param {StripPlan} strip @param {Said} words */
export function untrusted({ parts, spans }, words) {
  const some = parts.filter(({ trusted }) => !trusted);
  if (!some.length) return undefined;
  const share = words.percent(100 * Math.max(...spans.map(({ bend }) => bend)), { digits: 0 });
  return words.t('verdict.untrusted', { where: where(some, words), share });
}

/** What would come of quartering, and what the marks are for. @param {StripPlan} strip @param {Said} words @param {Unit} unit */
export function quarteredTold({ quartered, outcome }, words, unit) {
  const would = words.t(`quartered.${kindOf(quartered)}`, {
    error: words.length(quartered.error_mm, unit),
    ...figures(quartered, words, unit),
  });
  if (outcome === 'lies_flat' && quartered.outcome !== 'lies_flat') return `${would} ${words.t('quartered.marks_flat')}`;
  const isHelped = doesPass(outcome) && !doesPass(quartered.outcome);
  return isHelped ? `${would} ${words.t('quartered.marks_pass')}` : would;
}

/** @param {Outcome} outcome */
const doesPass = (outcome) => outcome !== 'gapes' && outcome !== 'pulls_in';
