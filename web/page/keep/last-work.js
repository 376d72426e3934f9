// The work as it was last, in the small storage that answers at once: a returning
// person sees it from the first moment, before the database has opened.

import { newId, stored, tab, writeLast } from './small-storage.js';
import { isId, isPlain, isAcceptable, isUnplanned } from './acceptable.js';
import { held } from './tabs.js';

const NAME = 'work';

/** Keeps the work of this tab. @param {{ id: string, brief: object, unplanned?: object | null }} work */
export function keepLastWork({ id, brief, unplanned = null }) {
  tab.set(NAME, { id, brief, unplanned });
  stored.set(NAME, { id, brief, unplanned });
}

/**
 * The work to begin with: this tab's before a reload, else the last of this browser where no open page is at it.
 * @param {(brief: object) => Promise<boolean>} isPlanned whether a brief can be shown
 */
export async function lastWork(isPlanned) {
  if (location.hash.startsWith('#brief=')) return null;
  const work = tab.get(NAME) ?? stored.get(NAME);
  const isWork = isPlain(work) && isAcceptable(work) && isId(work.id) && (!work.unplanned || isUnplanned(work.unplanned));
  if (!isWork || !work.brief || !(await isPlanned(work.brief))) return null;
  const isOwn = tab.get(NAME) !== null;
  return isOwn || !(await held()).has(work.id) ? work : null;
}

/** Leaves work to the next load of this page, where what keeps it is not there. */
export function saveForLater(work) {
  const id = tab.get('draft') ?? newId();
  tab.set('draft', id);
  writeLast({ id, changed: new Date().toISOString(), ...work });
  keepLastWork({ id, ...work });
}
