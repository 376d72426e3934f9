// The panels below the answers: keeping, sharing, sizes, sheets, outcomes. Each comes when the page is at rest, or not at all.

import { byId } from './dom.js';

const PANELS = {
  'sheets-panel': () => import('./sheets/sheets-panel.js').then((module) => module.createSheetsPanel),
  'sizes-panel': () => import('./keep/sizes-panel.js').then((module) => module.createSizesPanel),
  'keep-panel': () => import('./keep/keep-panel.js').then((module) => module.createKeepPanel),
  'share-panel': () => import('./keep/share-panel.js').then((module) => module.createSharePanel),
  'outcome-panel': () => import('./keep/outcome-panel.js').then((module) => module.createOutcomePanel),
};

/**
 * Mounts what is there. @param {{ state: object, reckoner: object, words: () => object }} parts
 * @returns {Promise<{ refresh: (words: object) => void }>}
 */
export async function mountPanels({ state, reckoner, words }) {
  const mounted = [];
  const mount = async (id, load) => {
    const create = await load();
    const container = byId(id);
    container.hidden = false;
    mounted.push(create(container, { state, reckoner, words: words() }));
  };
  // A part that does not come leaves its place empty: the rest of the page does without it.
  await Promise.allSettled([
    import('./keep/start.js').then(async ({ startKeeping }) => mounted.push(await startKeeping({ state, reckoner, words: words() }))),
    ...Object.entries(PANELS).map(([id, load]) => mount(id, load)),
  ]);
  return { refresh: (next) => mounted.forEach((panel) => panel.refresh(next)) };
}
