// The parts below the answers: sheets, and all that keeps and shares. They come when the page is at rest; one that does not come says so.

// What these parts share with panels that are fetched when they are unfolded comes with the page: each of them is one file
// then, which can be asked for again as a whole.
import './panel.js';
import '../keep/entry.js';
import { byId } from './dom.js';
import { fetched } from './fetched.js';
import { saveForLater } from '../keep/last-work.js';

/** @import { Steps } from '../form/steps.js' */
/** @import { Work } from '../keep/last-work.js' */
/** @import { Reckoner } from '../plan/reckoner.js' */
/** @import { State } from './state.js' */
/** @import { Words } from './words.js' */

/** @typedef {{ state: State, reckoner: Reckoner, form: Steps, begun: Work | null, words: Words }} Begun what a part is begun with */
/** @typedef {{ refresh(words: Words): void }} Part */
/** @typedef {(page: Begun) => Part | Promise<Part>} Start */

/**
 * Where each part says that it did not come, in which words, and how it is begun.
 * @type {{ id: string, key: string, load: () => Promise<Start> }[]}
 */
const PARTS = [
  {
    id: 'sheets-panel',
    key: 'offline.missing',
    load: () =>
      import('./at-rest.js').then(
        ({ createSheetsPanel }) =>
          (page) =>
            createSheetsPanel(byId('sheets-panel'), page),
      ),
  },
  { id: 'keep-panel', key: 'offline.missing_keep', load: () => import('./at-rest.js').then(({ startKeeping }) => startKeeping) },
];

/**
 * Begins what is there; nothing on the page waits for it.
 * @param {Omit<Begun, 'words'> & { words: () => Words }} page
 * @returns {Part}
 */
export function mountPanels(page) {
  const { state, form, words } = page;
  /** @type {Part[]} */
  const mounted = [];
  const beforeReload = () => saveForLater({ brief: state.brief, unplanned: form.unplanned, unit: state.unit });
  /** @param {(typeof PARTS)[number]} part */
  const begin = async ({ id, key, load }) => {
    byId(id).hidden = false;
    const start = await fetched(byId(id), load, { key, words, beforeReload });
    mounted.push(await start({ ...page, words: words() }));
  };
  for (const part of PARTS) void begin(part);
  return {
    refresh(next) {
      for (const part of mounted) part.refresh(next);
    },
  };
}
