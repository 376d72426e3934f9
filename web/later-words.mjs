// Which of a catalogue's words a first visit does without: they travel in a file of their own, fetched when a part first needs them.

/** @import { Catalogue } from './page/common/languages.js' */

/** Groups of words that follow from what a person does: `Words.t` puts dots in their place until they have come. */
export const AFTER = [
  'errors',
  'cures',
  'codes.problem',
  'codes.accepted',
  'codes.remedy',
  'codes.stitch_advice',
  // What is said in the form, which comes when a person begins; what a reading is called that a figure of their own rests on.
  'field',
  'edges',
  'ruler',
  // What the strip of the example does not do.
  'verdict.ripples',
  'verdict.stands',
  'verdict.stands_low',
  'verdict.gapes',
  'verdict.gapes_standing',
  'verdict.pulls_in',
  'verdict.elsewhere',
  'verdict.untrusted',
  'does.ripples',
  'does.stands',
  'does.gapes',
  'does.gapes_standing',
  'does.pulls_in',
  'does.untrusted',
  'quartered.lies_flat',
  'quartered.ripples',
  'quartered.stands',
  'quartered.gapes',
  'quartered.pulls_in',
  'drawing.error',
];

/**
 * Groups of words, by their place in the catalogue, that only parts fetched later say, and what follows from what a person does:
 * what is wrong with an entry, what would cure a strip. These the page asks for as soon as a person begins.
 */
const LATER = [
  'bring',
  'sheets.pdf',
  'sheets.made',
  'sheets.projector',
  'keep',
  'share',
  'sizes',
  'outcome',
  'embed',
  'compare',
  'section',
  'narrowing.heading',
  'narrowing.lead',
  'class_view',
  'light',
  'usual',
  'codes.rule',
  'codes.name',
  'codes.name_in',
  'codes.function',
  'codes.spoken',
  'codes.figure',
  'working',
  'codes.source',
  ...AFTER,
];

/** What of these groups a first visit does say: headings of folded panels, messages above the figures, names of steps, a strip's verdict, what an opening rests on. */
const AT_ONCE = [
  'bring.open',
  'keep.heading',
  'keep.label',
  'keep.notices',
  'keep.trouble',
  'keep.unknown_parts',
  'share.heading',
  'share.label',
  'share.shown',
  'share.shown_titled',
  'share.shown_edited',
  'share.shown_edited_titled',
  'share.make_own',
  'share.back',
  'share.dismiss',
  'share.broken',
  'sizes.heading',
  'class_view.open',
  'working.heading',
  'working.fetching',
  'working.not_fetched',
  'compare.pin',
  'compare.pin_again',
  'section.pieces',
  'section.knit',
  'section.finish',
  'section.head',
  'section.rest',
  'field.finish.options',
  'field.head.options',
  // The readings that the range of one of the example's figures may come from.
  'field.half_length.label',
  'field.band_width.label',
  'field.depth.label',
  'field.half_width.label',
  'field.neckline_allowance.label',
  'field.rest.label',
  'field.stretched.label',
  'field.released.label',
  'outcome.heading',
  'outcome.lies_flat',
  'outcome.ripples',
  'outcome.stands',
  'outcome.gapes',
  'outcome.pulls_in',
  'codes.source.own_measure',
  'codes.source.ansur',
  'codes.source.who',
  'codes.source.lockstitch_from_memory',
  'codes.source.zigzag_geometry',
  'codes.source.overedge_from_memory',
];

/** Whether a key, such as `keep.heading`, belongs to what a first visit does without. @param {string} key */
export function isLater(key) {
  /** @param {string[]} groups */
  const isIn = (groups) => groups.some((group) => key === group || key.startsWith(`${group}.`));
  return isIn(LATER) && !isIn(AT_ONCE);
}

/**
 * The keys of what index.html says by itself in its own language: a first visit reads it there. Cautions are said by the order of work too.
 * @param {string} html
 */
export const keysIn = (html) => [...html.matchAll(/data-t(?:-\w+)?="((?:page|about)\.[^"]+)"/g)].map(([, key]) => key);

/**
 * A catalogue in two: what a first visit says, and the rest. Each key is in one of them.
 * @param {Catalogue} words @param {string[]} [inMarkup] keys of what the page's markup says in the same language
 * @param {string} [before] where they stand in the catalogue
 * @returns {{ first: Catalogue, later: Catalogue }}
 */
export function divided(words, inMarkup = [], before = '') {
  /** @type {{ first: Catalogue, later: Catalogue }} */
  const parts = { first: {}, later: {} };
  for (const [name, value] of Object.entries(words)) {
    const key = before + name;
    if (typeof value !== 'object') {
      parts[isLater(key) || inMarkup.includes(key) ? 'later' : 'first'][name] = value;
      continue;
    }
    const { first, later } = divided(value, inMarkup, `${key}.`);
    if (Object.keys(first).length) parts.first[name] = first;
    if (Object.keys(later).length) parts.later[name] = later;
  }
  return parts;
}
