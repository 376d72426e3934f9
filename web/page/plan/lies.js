// What a strip does once it is sewn, in words: part by part, from mark to mark, and were it spread by quarters.

/** @import { NumberStyle, Values } from '../common/words.js' */
/** @import { Outcome, Quartered, Span, StripPlan } from '../types/plan.d.ts' */
/** @import { Unit } from './reckoner.js' */

/**
 * @typedef {object} SaidOfSpans what a span's words need of the page's
 * @property {(key: string, values?: Values) => string} t
 * @property {(value: number, how?: NumberStyle) => string} number
 * @property {(mm: number, unit: Unit) => string} length
 */
/** @typedef {SaidOfSpans & { list: (items: string[]) => string, percent: (value: number, how?: NumberStyle) => string }} Said */
/** @typedef {typeof PLACES[number]} Place a part of a half round */
/** @typedef {{ span: Span, place: Place }} Placed */

/** Parts of a half round, from centre back. */
export const PLACES = /** @type {const} */ (['back', 'neck_points', 'front']);

/** What a strip may do somewhere, worst first. Gaping has words of its own where it stands up rather than ripples. */
const KINDS = /** @type {const} */ (['gapes_standing', 'gapes', 'pulls_in', 'ripples', 'stands']);

/** @param {Span | Quartered} span @returns {typeof KINDS[number] | 'lies_flat'} */
const kindOf = ({ outcome, leans_deg: leans }) => (outcome === 'gapes' && leans !== undefined ? 'gapes_standing' : outcome);

/** @param {number} deg @param {SaidOfSpans} words */
const degrees = (deg, words) => `${words.number(deg)}°`;

/** What one span does, with its figures. @param {Span} span @param {SaidOfSpans} words @param {Unit} unit */
export const does = (span, words, unit) => words.t(`does.${kindOf(span)}`, figures(span, words, unit));

/** @param {Span | Quartered} span @param {SaidOfSpans} words @param {Unit} unit */
const figures = ({ stands_off_mm: off, leans_deg: lean = 0 }, words, unit) => ({
  off: words.length(off, unit),
  lean: degrees(lean, words),
});

/** The same, with a word of it where the reckoning is not trusted. @param {Span} span @param {SaidOfSpans} words @param {Unit} unit */
export const spanDoes = (span, words, unit) =>
  span.trusted ? does(span, words, unit) : words.t('does.untrusted', { does: does(span, words, unit) });

/** The parts of the half round that a strip's spans lie in. @param {StripPlan} strip @returns {Placed[]} */
export function placed({ spans }) {
  const neck = spans.findIndex(({ from }) => from === 'neck_point');
  return spans.map((span, i) => {
    if (i < neck) return { span, place: i > 0 && span.to === 'neck_point' ? 'neck_points' : 'back' };
    return { span, place: i === neck && span.to !== 'centre_front' ? 'neck_points' : 'front' };
  });
}

/**
 * Where spans do what they do: a whole front that stands and passes does so at the neck points, the one place in front that takes a lean.
 * @param {StripPlan} strip @returns {Placed[]}
 */
const doing = (strip) =>
  placed(strip).map(({ span, place }) => {
    const isWholeFront = span.from === 'neck_point' && span.to === 'centre_front';
    return { span, place: isWholeFront && span.outcome === 'stands' ? 'neck_points' : place };
  });

/**
 * What the strip does, worst first: a sentence for each thing that it does, with where and how much.
 * @param {StripPlan} strip @param {Said} words @param {Unit} unit @returns {{ outcome: Outcome, text: string }[]}
 */
export function stripTold(strip, words, unit) {
  const all = doing(strip);
  const told = KINDS.map((kind) => all.filter(({ span }) => kindOf(span) === kind))
    .filter((some) => some.length > 0)
    .map((some) => ({ outcome: some[0].span.outcome, text: sentence(some, all, { strip, words, unit }) }));
  if (!told.length) return [{ outcome: 'lies_flat', text: words.t('verdict.lies_flat') }];
  const isFlat = all.some(({ span }) => span.outcome === 'lies_flat');
  if (isFlat && !standsBehindFlatFront(all)) told[told.length - 1].text += ` ${words.t('verdict.elsewhere')}`;
  return told;
}

/** As a crew does: flat on the chest, standing along the neck, and nothing else. @param {Placed[]} all */
function standsBehindFlatFront(all) {
  const behind = all.filter(({ place }) => place !== 'front');
  const inFront = all.filter(({ place }) => place === 'front');
  /** @param {Placed[]} some @param {Outcome[]} outcomes */
  const only = (some, ...outcomes) => some.every(({ span }) => outcomes.includes(span.outcome));
  return only(inFront, 'lies_flat') && only(behind, 'lies_flat', 'stands') && !only(behind, 'lies_flat');
}

/** @param {Placed[]} some that do the same @param {Placed[]} all @param {{ strip: StripPlan, words: Said, unit: Unit }} what */
function sentence(some, all, { strip, words, unit }) {
  /** @param {(span: Span) => number} figure */
  const most = (figure) => Math.max(...some.map(({ span }) => figure(span)));
  const kind = kindOf(some[0].span);
  return words.t(`verdict.${kind === 'stands' ? standing(some, all) : kind}`, {
    where: where(some, words),
    off: words.length(
      most((span) => span.stands_off_mm),
      unit,
    ),
    lean: degrees(
      most((span) => span.leans_deg ?? 0),
      words,
    ),
    most: words.percent(most((span) => Math.max(span.seam_edge_percent, span.free_edge_most_percent))),
    comfort: words.percent(strip.comfort_percent),
  });
}

/** @param {Placed[]} some @param {Placed[]} all */
function standing(some, all) {
  if (standsBehindFlatFront(all)) return 'flat_and_stands';
  return some.every(({ place }) => place === 'front') ? 'stands_low' : 'stands';
}

/** @param {Placed[]} some @param {Said} words */
function where(some, words) {
  const places = PLACES.filter((place) => some.some((one) => one.place === place));
  if (places.length === PLACES.length) return words.t('verdict.at.all');
  return words.list(places.map((place) => words.t(`verdict.at.${place}`)));
}

/**
 * The span that is told of a part: what is worst there. Of the neck points, any that ends there; none where all of the part is told elsewhere.
 * @param {StripPlan} strip @param {Place} place @returns {Span | undefined}
 */
export function atPlace(strip, place) {
  const some = doing(strip).filter(({ span, place: own }) => own === place || (place === 'neck_points' && endsAtNeck(span)));
  const worst = [...KINDS, 'lies_flat'].find((kind) => some.some(({ span }) => kindOf(span) === kind));
  const alike = some.map(({ span }) => span).filter((span) => kindOf(span) === worst);
  return alike.sort((a, b) => b.stands_off_mm - a.stands_off_mm)[0];
}

/** @param {Span} span */
const endsAtNeck = ({ from, to }) => from === 'neck_point' || to === 'neck_point';

/** Where the strip's bend is too sharp for the reckoning to be trusted; nothing where it is trusted. @param {StripPlan} strip @param {Said} words */
export function untrusted(strip, words) {
  const some = placed(strip).filter(({ span }) => !span.trusted);
  if (!some.length) return undefined;
  const share = words.percent(100 * Math.max(...some.map(({ span }) => span.bend)), { digits: 0 });
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
