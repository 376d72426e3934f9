// Whether the garment's knit has the stretch that the pattern asks for, in words.

/** @import { Plan } from '../types/plan.d.ts' */
/** @import { Words } from '../common/words.js' */

/** @typedef {Plan['suitability'][number]} Suits one way of the knit */

/** @param {Suits} one @param {Words} words */
export function suitsTold({ suits, direction, asked_percent, has_percent }, words) {
  const [asked, has] = [asked_percent, has_percent].map((percent) => words.percent(percent));
  return words.t(suits ? 'knits.suits' : 'knits.falls_short', { way: words.t(`way_of_stretch.${direction}`), asked, has });
}

/** What the knit has too little of, a sentence each way. @param {Plan} plan @param {Words} words */
export const shortOf = ({ suitability }, words) => suitability.filter(({ suits }) => !suits).map((one) => suitsTold(one, words));
