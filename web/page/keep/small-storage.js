// Small texts the browser keeps for us: for this tab, and for the moment a page
// goes away. Where the browser refuses, they are simply not there.

function area(kind) {
  try {
    return globalThis[kind];
  } catch {
    return undefined;
  }
}

function attempt(work) {
  try {
    return work() ?? null;
  } catch {
    return null;
  }
}

/** What this tab keeps over a reload. */
export const tab = {
  get: (name) => attempt(() => JSON.parse(area('sessionStorage')?.getItem(`lieflat.${name}`) ?? 'null')),
  set: (name, value) => attempt(() => area('sessionStorage')?.setItem(`lieflat.${name}`, JSON.stringify(value))),
  remove: (name) => attempt(() => area('sessionStorage')?.removeItem(`lieflat.${name}`)),
};

const LAST = 'lieflat.last.';

/**
 * A draft written at the last moment: the database answers later than a page
 * that is being closed may wait.
 */
export function writeLast(draft) {
  attempt(() => area('localStorage')?.setItem(LAST + draft.id, JSON.stringify(draft)));
}

/** The drafts written so. */
export function lastWritten() {
  const storage = area('localStorage');
  const keys = attempt(() => Object.keys(storage).filter((key) => key.startsWith(LAST))) ?? [];
  const drafts = keys.map((key) => attempt(() => JSON.parse(storage.getItem(key))));
  return drafts.filter((draft, i) => typeof draft?.id === 'string' && keys[i] === LAST + draft.id);
}

/** Forgets such a draft, once it is kept elsewhere. */
export function forgetLast({ id }) {
  attempt(() => area('localStorage')?.removeItem(LAST + id));
}

/** What this browser keeps for whichever page asks next. */
export const stored = {
  get: (name) => attempt(() => JSON.parse(area('localStorage')?.getItem(`lieflat.${name}`) ?? 'null')),
  set: (name, value) => attempt(() => area('localStorage')?.setItem(`lieflat.${name}`, JSON.stringify(value))),
  remove: (name) => attempt(() => area('localStorage')?.removeItem(`lieflat.${name}`)),
};

/** A text nobody else has. */
export function newId() {
  // Only pages served securely have the shorter way.
  if (crypto.randomUUID) return crypto.randomUUID();
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
