// Which of a catalogue's words a first visit does without: they travel in a file of their own, fetched when a part first needs them.

/** @import { Catalogue } from './page/common/languages.js' */

/** Groups of words, by their place in the catalogue, that only parts fetched later say. */
const LATER = ['sheets.pdf', 'keep', 'share', 'sizes', 'outcome', 'embed', 'compare', 'ruler', 'class_view', 'codes.rule', 'codes.source'];

/** What of these groups a first visit does say: headings of folded panels, messages above the figures, names of steps, a strip's verdict, what an opening rests on. */
const AT_ONCE = [
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
  'compare.pin',
  'compare.pin_again',
  'ruler.open',
  'ruler.heading',
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
 * A catalogue in two: what a first visit says, and the rest. Each key is in one of them.
 * @param {Catalogue} words @param {string} [before] where they stand in the catalogue
 * @returns {{ first: Catalogue, later: Catalogue }}
 */
export function divided(words, before = '') {
  /** @type {{ first: Catalogue, later: Catalogue }} */
  const parts = { first: {}, later: {} };
  for (const [name, value] of Object.entries(words)) {
    const key = before + name;
    if (typeof value !== 'object') {
      parts[isLater(key) ? 'later' : 'first'][name] = value;
      continue;
    }
    const { first, later } = divided(value, `${key}.`);
    if (Object.keys(first).length) parts.first[name] = first;
    if (Object.keys(later).length) parts.later[name] = later;
  }
  return parts;
}
