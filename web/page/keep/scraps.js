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

/** The drafts written so; each is given once. */
export function takeLast() {
  const storage = area('localStorage');
  const keys = attempt(() => Object.keys(storage).filter((key) => key.startsWith(LAST))) ?? [];
  return keys
    .map((key) => {
      const draft = attempt(() => JSON.parse(storage.getItem(key)));
      attempt(() => storage.removeItem(key));
      return draft;
    })
    .filter((draft) => typeof draft?.id === 'string');
}

/** What this browser keeps of a panel's own settings. */
export const keptText = {
  get: (name) => attempt(() => JSON.parse(area('localStorage')?.getItem(`lieflat.panel.${name}`) ?? 'null')),
  set: (name, value) => attempt(() => area('localStorage')?.setItem(`lieflat.panel.${name}`, JSON.stringify(value))),
};
