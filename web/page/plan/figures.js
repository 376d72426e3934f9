// A figure's name in words: of which half, knit, span, mark or stay it is, and what.

import { letter } from '../drawing/looks.js';
import { markNames } from '../drawing/scene.js';

/** @import { Plan } from '../types/plan.d.ts' */
/** @import { Values, Words } from '../common/words.js' */

/** What the end of a cut figure's path says: not yet rounded, to cut, and how far it may be off. */
const ENDS = /\.(exact_mm|cut_mm|low_mm|high_mm)$/;

/** A figure's path without its numbers, and with one name for what comes twice. @param {string} path */
const keyOf = (path) =>
  path
    .replace(/\.\d+/g, '')
    .replace(/^(garment|strip)_knit\./, 'knit.')
    .replace(/^(seam_line|facing)\.(front|back)\./, '$1.half.')
    .replace('.back_ends.', '.ends.');

/** The name of a figure of a plan. @param {string} path @param {Plan} plan @param {Words} words */
export function figureName(path, plan, words) {
  const [, end] = ENDS.exec(path) ?? [];
  const figure = words.t(`codes.figure.${keyOf(path.replace(ENDS, ''))}`, ofWhat(path, plan, words));
  return end ? words.t(`codes.figure.at.${end}`, { figure }) : figure;
}

/** @param {string} path @param {Plan} plan @param {Words} words @returns {Values} */
function ofWhat(path, plan, words) {
  const [first, second] = path.split('.');
  if (first.endsWith('_knit')) return { knit: words.t(`knit.${first.replace('_knit', '')}`) };
  if (second === 'front' || second === 'back') return { half: words.t(`half.${second}`) };
  const [, at] = /\.(\d+)/.exec(path) ?? [];
  return { which: which(second, Number(at), plan, words) };
}

/** @param {string} list @param {number} at @param {Plan} plan @param {Words} words */
function which(list, at, { strip, stays }, words) {
  if (list === 'spans') return letter(at);
  if (list === 'rows') return words.number(at + 1);
  if (list === 'parts') return words.t(`verdict.at.${strip?.parts[at].part}`);
  if (list === 'ends') return words.t('place.centre_front');
  if (list === 'back_ends') return words.t('place.centre_back');
  if (list === 'marks' && strip) return capital(markNames(strip, (key, values) => words.t(`drawing.${key}`, values))[at].long, words);
  if (list !== 'zones') return undefined;
  const { name, part } = stays.zones[at];
  return words.t('codes.figure.stay', { number: words.number(at + 1), name: name || words.t(`drawing.part.${part}`) });
}

/** @param {string} text @param {Words} words */
const capital = (text, { language }) => text.charAt(0).toLocaleUpperCase(language) + text.slice(1);
