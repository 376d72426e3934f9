// Small texts the browser keeps for us: for this tab, and for the moment a page
// goes away. Where the browser refuses, they are simply not there.

/** @import { Draft, Stored } from './entry.js' */

/** @param {'localStorage' | 'sessionStorage'} kind @returns {Storage | undefined} */
function area(kind) {
  try {
    return globalThis[kind];
  } catch {
    return undefined;
  }
}

/** @template Got @param {() => Got} work @returns {Got | null} */
function attempt(work) {
  try {
    return work() ?? null;
  } catch {
    return null;
  }
}

/** @typedef {{ get: (name: string) => unknown, set: (name: string, value: unknown) => void, remove: (name: string) => void }} Small */

/** What this tab keeps over a reload. @type {Small} */
export const tab = {
  get: (name) => attempt(() => JSON.parse(area('sessionStorage')?.getItem(`lieflat.${name}`) ?? 'null')),
  set: (name, value) => attempt(() => area('sessionStorage')?.setItem(`lieflat.${name}`, JSON.stringify(value))),
  remove: (name) => attempt(() => area('sessionStorage')?.removeItem(`lieflat.${name}`)),
};

const LAST = 'lieflat.last.';

/**
 * A draft written at the last moment: the database answers later than a page
 * that is being closed may wait.
 * @param {Pick<Draft, 'id' | 'changed' | 'brief'>} draft
 */
export function writeLast(draft) {
  attempt(() => area('localStorage')?.setItem(LAST + draft.id, JSON.stringify(draft)));
}

/** The drafts written so. @returns {Stored[]} */
export function lastWritten() {
  const storage = area('localStorage');
  const keys = attempt(() => Object.keys(storage ?? {}).filter((key) => key.startsWith(LAST))) ?? [];
  return keys.flatMap((key) => {
    const draft = attempt(() => JSON.parse(storage?.getItem(key) ?? 'null'));
    return typeof draft?.id === 'string' && key === LAST + draft.id ? [draft] : [];
  });
}

/** Forgets such a draft, once it is kept elsewhere. @param {{ id: string }} draft */
export function forgetLast({ id }) {
  attempt(() => area('localStorage')?.removeItem(LAST + id));
}

/** What this browser keeps for whichever page asks next. @type {Small} */
export const stored = {
  get: (name) => attempt(() => JSON.parse(area('localStorage')?.getItem(`lieflat.${name}`) ?? 'null')),
  set: (name, value) => attempt(() => area('localStorage')?.setItem(`lieflat.${name}`, JSON.stringify(value))),
  remove: (name) => attempt(() => area('localStorage')?.removeItem(`lieflat.${name}`)),
};

/** A text nobody else has. */
export function newId() {
  // Only pages served securely have the shorter way.
  if (isSecureContext) return crypto.randomUUID();
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
