// What is kept in this browser: briefs, knits, and drafts (work in progress).
//
// Everything is held in memory and written through to IndexedDB. Where the
// browser refuses to store, or stops, the memory goes on alone: nothing on the
// page is lost while it is open, `trouble` says why, and an export holds it all.
//
// Several pages may be open at once. Each tells the others what it wrote; a
// brief that another page changed meanwhile is not overwritten but kept beside.

import { openDB } from 'idb';
import { exportText, freeName, isReadable, mergePlan, readExport } from './merge.js';
import { newId } from './scraps.js';

const DATABASE = 'lieflat';
const DATABASE_VERSION = 1;
const KINDS = ['briefs', 'knits', 'drafts'];
const CHANNEL = 'lieflat-kept';
/** How long the database may take to open. */
const PATIENCE_MS = 4000;

const now = () => new Date().toISOString();

/** Why the browser does not store, as a code of the word list (`keep.trouble.*`). */
function troubleOf(error) {
  switch (error?.name) {
    case 'VersionError': return 'newer';
    case 'QuotaExceededError': return 'full';
    case 'SecurityError':
    case 'InvalidStateError': return 'refused';
    default: return 'failed';
  }
}

/**
 * The kept things. Events: `change` when any of them changed, `trouble` when
 * `trouble` did.
 */
export class Store extends EventTarget {
  /** Why nothing is stored: null, refused, full, newer, replaced or failed. @type {string | null} */
  trouble = null;
  #kept = { briefs: new Map(), knits: new Map(), drafts: new Map() };
  /** Entries that this version cannot read: left as they are. */
  #unread = [];
  /** What memory holds and the database does not. Keys `kind/id`. */
  #unsaved = new Set();
  #database = null;
  #channel = null;

  /** Opens the store; it always opens, in memory alone where it must. */
  static async open() {
    const store = new Store();
    await store.#connect();
    return store;
  }

  async #connect() {
    try {
      this.#database = await this.#opened();
      await this.#load();
      this.#listen();
    } catch (error) {
      this.#disconnect(troubleOf(error));
    }
  }

  // Some browsers never answer where their files are damaged; the page does not wait for them.
  async #opened() {
    const opening = openDB(DATABASE, DATABASE_VERSION, {
      upgrade(database) {
        for (const kind of KINDS) {
          if (!database.objectStoreNames.contains(kind)) database.createObjectStore(kind, { keyPath: 'id' });
        }
      },
      // A newer version of the page, in another tab, waits to change the database.
      blocking: () => this.#disconnect('replaced'),
      terminated: () => this.#disconnect('failed'),
    });
    let tooLate = false;
    opening.then((database) => tooLate && database.close(), () => {});
    const patience = new Promise((_, reject) => {
      setTimeout(() => {
        tooLate = true;
        reject(new Error('the database does not open'));
      }, PATIENCE_MS);
    });
    return Promise.race([opening, patience]);
  }

  #disconnect(trouble) {
    this.#database?.close();
    this.#database = null;
    this.#setTrouble(trouble);
  }

  #setTrouble(trouble) {
    if (this.trouble === trouble) return;
    this.trouble = trouble;
    this.dispatchEvent(new Event('trouble'));
  }

  #listen() {
    if (!('BroadcastChannel' in globalThis)) return;
    this.#channel = new BroadcastChannel(CHANNEL);
    this.#channel.addEventListener('message', async () => {
      try {
        await this.#load();
      } catch (error) {
        this.#setTrouble(troubleOf(error));
      }
      this.#changed({ tell: false });
    });
  }

  /** Reads everything; what memory alone holds stays. */
  async #load() {
    if (!this.#database) return;
    const transaction = this.#database.transaction(KINDS);
    const lists = await Promise.all(KINDS.map((kind) => transaction.objectStore(kind).getAll()));
    this.#unread = [];
    KINDS.forEach((kind, i) => {
      const fresh = new Map();
      for (const entry of lists[i]) {
        if (isReadable(kind, entry)) fresh.set(entry.id, entry);
        else this.#unread.push({ kind, entry });
      }
      for (const [id, entry] of this.#kept[kind]) {
        if (this.#unsaved.has(`${kind}/${id}`)) fresh.set(id, entry);
      }
      this.#kept[kind] = fresh;
    });
  }

  #changed({ tell = true } = {}) {
    if (tell) this.#channel?.postMessage('changed');
    this.dispatchEvent(new Event('change'));
  }

  /** How many entries are there that this version cannot read. */
  get unreadCount() {
    return this.#unread.length;
  }

  /** The entries of a kind, latest change first. */
  list(kind) {
    return [...this.#kept[kind].values()].sort((a, b) => (a.changed < b.changed ? 1 : a.changed > b.changed ? -1 : 0));
  }

  /** One entry. */
  get(kind, id) {
    return this.#kept[kind].get(id);
  }

  /** Whether there is a copy of this entry outside this page's memory. */
  isStored(kind, id) {
    return this.#database !== null && !this.#unsaved.has(`${kind}/${id}`);
  }

  #names(kind, except) {
    return new Set(this.list(kind).filter((entry) => entry.id !== except).map((entry) => entry.name));
  }

  /**
   * Writes an entry. Where another page has changed it since `entry.revision`,
   * the other's stays and this one is kept beside it under a new name.
   * @returns {Promise<{ entry: object, beside: boolean }>} the entry as kept
   */
  async put(kind, entry, { isQuiet = false } = {}) {
    let kept = { ...entry, changed: now(), revision: (entry.revision ?? 0) + 1 };
    let beside = false;
    if (this.#database) {
      try {
        const transaction = this.#database.transaction(kind, 'readwrite');
        // What goes wrong is told by the request too: here it must only not pass for unheard.
        transaction.done.catch(() => {});
        const there = await transaction.store.get(kept.id);
        if (kind !== 'drafts' && there && there.revision !== (entry.revision ?? 0)) {
          beside = true;
          kept = { ...kept, id: newId(), revision: 1, name: freeName(entry.name, this.#names(kind)) };
          if (isReadable(kind, there)) this.#kept[kind].set(there.id, there);
        }
        await transaction.store.put(kept);
        await transaction.done;
        this.#unsaved.delete(`${kind}/${kept.id}`);
        this.#recovered();
      } catch (error) {
        this.#keepInMemory(kind, kept, error);
      }
    } else {
      this.#unsaved.add(`${kind}/${kept.id}`);
    }
    this.#kept[kind].set(kept.id, kept);
    if (!isQuiet) this.#changed();
    return { entry: kept, beside };
  }

  #keepInMemory(kind, entry, error) {
    this.#unsaved.add(`${kind}/${entry.id}`);
    this.#setTrouble(troubleOf(error));
  }

  // A full disk may have room again: then everything held back is written too.
  #recovered() {
    if (this.trouble !== 'full' && this.trouble !== 'failed') return;
    const waiting = [...this.#unsaved];
    if (waiting.length === 0) {
      this.#setTrouble(null);
      return;
    }
    this.#unsaved.clear();
    this.#setTrouble(null);
    for (const key of waiting) {
      const [kind, id] = key.split('/');
      const entry = this.#kept[kind].get(id);
      if (entry) void this.put(kind, { ...entry, revision: entry.revision - 1 });
    }
  }

  /** Takes an entry away; gives it back, so that it can be put back. */
  async remove(kind, id) {
    const entry = this.#kept[kind].get(id);
    if (!entry) return undefined;
    this.#kept[kind].delete(id);
    this.#unsaved.delete(`${kind}/${id}`);
    try {
      await this.#database?.delete(kind, id);
    } catch (error) {
      this.#setTrouble(troubleOf(error));
    }
    this.#changed();
    return entry;
  }

  /** Puts back what `remove` gave. */
  async restore(kind, entry) {
    const { entry: kept } = await this.put(kind, { ...entry, name: this.#restoredName(kind, entry), revision: 0 });
    return kept;
  }

  #restoredName(kind, entry) {
    return kind === 'drafts' ? entry.name : freeName(entry.name, this.#names(kind, entry.id));
  }

  /** Keeps something new under a name of its own. @param {{ knit: object } | { brief: object, sizes?: object }} content */
  async add(kind, name, content) {
    const entry = { id: newId(), name: freeName(name, this.#names(kind)), created: now(), ...content };
    return (await this.put(kind, entry)).entry;
  }

  /** Gives an entry another name, with a number behind it where another has that one. */
  async rename(kind, id, name) {
    const entry = this.get(kind, id);
    if (!entry) return undefined;
    return (await this.put(kind, { ...entry, name: freeName(name, this.#names(kind, id)) })).entry;
  }

  /** Everything kept, as the text of a file. */
  exportText() {
    return exportText(
      {
        briefs: this.list('briefs'),
        knits: this.list('knits'),
        drafts: this.list('drafts'),
        unread: this.#unread.map(({ kind, entry }) => ({ kind, entry })),
      },
      now(),
    );
  }

  /**
   * Takes in such a file. Throws an `ImportError` where the text is none.
   * @param {string} text
   * @returns {Promise<{ added: object[], skipped: number, renamed: { from: string, to: string }[], unread: number }>}
   */
  async importText(text) {
    const file = readExport(text);
    const kept = Object.fromEntries(KINDS.map((kind) => [kind, this.list(kind)]));
    const { add, skipped, renamed, unread } = mergePlan(kept, file, newId);
    const added = [];
    for (const kind of KINDS) {
      for (const entry of add[kind]) added.push((await this.put(kind, { ...entry, revision: 0 }, { isQuiet: true })).entry);
    }
    this.#changed();
    return { added, skipped, renamed, unread };
  }

  /** Asks the browser not to clear what is kept when space runs short. */
  async persist() {
    if (!this.#database || !navigator.storage?.persist) return false;
    try {
      return (await navigator.storage.persisted()) || (await navigator.storage.persist());
    } catch {
      return false;
    }
  }

  /** Lets go of the database and of the other pages. */
  close() {
    this.#channel?.close();
    this.#database?.close();
    this.#database = null;
  }
}
