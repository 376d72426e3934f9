// The work as it was last, in the small storage that answers at once: a returning
// person sees it from the first moment, before the database has opened.

import { newId, stored, tab, writeLast } from './small-storage.js';
import { isId, isPlain, isAcceptable, isUnit, isUnplanned } from './acceptable.js';
import { held } from './tabs.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { Unplanned } from '../form/form.js' */
/** @import { Unit } from '../plan/reckoner.js' */

const NAME = 'work';

/**
 * @typedef {object} Work
 * @property {string} id the draft's
 * @property {number} [revision] of the draft that it goes on from: whether the database has this work is told by it
 * @property {Brief} brief
 * @property {Unplanned | null} [unplanned]
 * @property {Unit} [unit] that it is shown in
 */

/** Keeps the work of this tab. @param {Work} work */
export function keepLastWork({ id, revision, brief, unplanned = null, unit }) {
  const work = { id, revision, brief, unplanned, unit };
  tab.set(NAME, work);
  stored.set(NAME, work);
}

/**
 * The work to begin with: this tab's before a reload, else the last of this browser where no open page is at it.
 * @param {(brief: Brief) => Promise<boolean>} isPlanned whether a brief can be shown
 * @returns {Promise<Work | null>}
 */
export async function lastWork(isPlanned) {
  if (location.hash.startsWith('#brief=')) return null;
  const work = tab.get(NAME) ?? stored.get(NAME);
  if (!isWork(work) || !(await isPlanned(work.brief))) return null;
  const isOwn = tab.get(NAME) !== null;
  return isOwn || !(await held()).has(work.id) ? work : null;
}

/** Whether this is work, as far as can be told without the core, which looks at its brief. @param {unknown} work @returns {work is Work} */
const isWork = (work) =>
  isPlain(work) &&
  isAcceptable(work) &&
  isId(work.id) &&
  (work.revision === undefined || Number.isSafeInteger(work.revision)) &&
  isPlain(work.brief) &&
  (work.unit === undefined || isUnit(work.unit)) &&
  (!work.unplanned || isUnplanned(work.unplanned));

/** Leaves work to the next load of this page, where what keeps it is not there. @param {Omit<Work, 'id'>} work */
export function saveForLater(work) {
  const mine = tab.get('draft');
  const id = isId(mine) ? mine : newId();
  tab.set('draft', id);
  writeLast({ id, changed: new Date().toISOString(), ...work });
  keepLastWork({ id, ...work });
}
