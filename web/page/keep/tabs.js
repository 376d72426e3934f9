// Which page a draft belongs to, when several are open: the page that holds the
// lock of its name. A lock goes when its page goes, however it went.

const PREFIX = 'lieflat-draft-';
/** A reloaded page may meet the lock of the document it replaces for a moment. */
const TRIES = 5;
const PAUSE_MS = 80;

/** @type {Map<string, (value?: unknown) => void>} */
const releases = new Map();

const supported = () => Boolean(globalThis.navigator?.locks);

/** @param {string} id @returns {Promise<boolean>} */
function tryHold(id) {
  return new Promise((resolve) => {
    navigator.locks
      .request(PREFIX + id, { ifAvailable: true }, (lock) => {
        if (!lock) {
          resolve(false);
          return undefined;
        }
        resolve(true);
        return new Promise((release) => releases.set(id, release));
      })
      .catch(() => resolve(true));
  });
}

/** Takes a draft for this page; false where another page has it. @param {string} id @param {{ patient?: boolean }} [how] */
export async function hold(id, { patient = false } = {}) {
  if (!supported() || releases.has(id)) return true;
  for (let tries = patient ? TRIES : 1; tries > 0; tries--) {
    if (await tryHold(id)) return true;
    if (tries > 1) await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
  }
  return false;
}

/** Lets a draft go. @param {string} id */
export function release(id) {
  releases.get(id)?.();
  releases.delete(id);
}

/** The drafts that some page has open, this one among them. @returns {Promise<Set<string>>} */
export async function held() {
  if (!supported()) return new Set();
  try {
    const { held: locks } = await navigator.locks.query();
    const names = (locks ?? []).map(({ name }) => name ?? '');
    return new Set(names.filter((name) => name.startsWith(PREFIX)).map((name) => name.slice(PREFIX.length)));
  } catch {
    return new Set();
  }
}
