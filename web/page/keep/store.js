// What is kept in this browser: briefs, knits, and drafts (work in progress).
//
// Everything is held in memory and written through to IndexedDB. Where the
// browser refuses to store, or stops, the memory goes on alone: nothing on the
// page is lost while it is open, `trouble` says why, and an export holds it all.
// A draft, which is one page's alone, is in memory before the database has it.
//
// Several pages may be open at once. Each tells the others which entries it wrote,
// and they read those anew; a brief that another page changed meanwhile is not
// overwritten but kept beside. What is stored and is no entry stays as it is.

import { answer, done, openDatabase } from './database.js';
import { KINDS, isReadable } from './entry.js';
import { isPlain } from './acceptable.js';
import { newId } from './small-storage.js';
import { Shelf } from './shelf.js';

/** @import { Entries, Entry, Kind, Stored, Unread } from './entry.js' */

const DATABASE = 'lieflat';
const DATABASE_VERSION = 1;
const CHANNEL = 'lieflat-kept';
/** How long the database may take to open. */
const PATIENCE_MS = 4000;

/** @typedef {[kind: Kind, id: string]} Place where an entry stands */

const now = () => new Date().toISOString();

/** Most entries that are told to other pages one by one: of more they read everything. */
const MOST_TOLD = 100;

/**
 * Whether a message tells places, as `#changed` does: an earlier version of the page only said that something changed.
 * @param {unknown} data @returns {data is Place[]}
 */
const isListOfPlaces = (data) =>
  Array.isArray(data) &&
  data.length <= MOST_TOLD &&
  data.every((one) => Array.isArray(one) && KINDS.includes(one[0]) && typeof one[1] === 'string');

/** Why the browser does not store, as a code of the word list (`keep.trouble.*`). @param {unknown} error */
function troubleOf(error) {
  switch (error instanceof Error ? error.name : '') {
    case 'VersionError':
      return 'newer';
    case 'QuotaExceededError':
      return 'full';
    case 'SecurityError':
    case 'InvalidStateError':
      return 'refused';
    default:
      return 'failed';
  }
}

/**
 * The kept things. Events: `change` when any of them changed, `trouble` when
 * `trouble` did.
 */
export class Store extends EventTarget {
  /** Why nothing is stored: null, refused, full, newer, replaced or failed. @type {string | null} */
  trouble = null;
  /** @type {{ [Of in Kind]: Shelf<Entries[Of]> }} */
  #shelves = { briefs: new Shelf(), knits: new Shelf(), drafts: new Shelf() };
  /** What is stored and cannot be read by this version. @type {Unread[]} */
  #unread = [];
  /** @type {IDBDatabase | null} */
  #database = null;
  /** @type {BroadcastChannel | null} */
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
    const opening = openDatabase(DATABASE, DATABASE_VERSION, {
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
    opening.then(
      (database) => tooLate && database.close(),
      () => {},
    );
    const patience = new Promise((_, reject) => {
      setTimeout(() => {
        tooLate = true;
        reject(new Error('the database does not open'));
      }, PATIENCE_MS);
    });
    return Promise.race([opening, patience]);
  }

  /** @param {string} trouble */
  #disconnect(trouble) {
    this.#database?.close();
    this.#database = null;
    this.#setTrouble(trouble);
  }

  /** @param {string | null} trouble */
  #setTrouble(trouble) {
    if (this.trouble === trouble) return;
    this.trouble = trouble;
    this.dispatchEvent(new Event('trouble'));
  }

  #listen() {
    if (!('BroadcastChannel' in globalThis)) return;
    this.#channel = new BroadcastChannel(CHANNEL);
    this.#channel.addEventListener('message', async ({ data }) => {
      try {
        if (isListOfPlaces(data)) for (const place of data) await this.#readAgain(place);
        else await this.#load();
      } catch (error) {
        this.#setTrouble(troubleOf(error));
      }
      this.#changed();
    });
  }

  /** Reads everything; what memory alone holds stays. */
  async #load() {
    if (!this.#database) return;
    const transaction = this.#database.transaction(KINDS);
    const lists = await Promise.all(KINDS.map((kind) => answer(transaction.objectStore(kind).getAll())));
    this.#unread = [];
    for (const [i, kind] of KINDS.entries()) this.#putOnShelf(kind, lists[i]);
  }

  /** @template {Kind} Of @param {Of} kind @param {Stored[]} stored */
  #putOnShelf(kind, stored) {
    const shelf = this.#shelves[kind];
    const own = shelf.list().filter(({ id }) => shelf.unsaved.has(id));
    /** @type {Entries[Of][]} */
    const read = [];
    for (const entry of stored) {
      if (!isReadable(kind, entry)) this.#unread.push({ kind, entry });
      else if (!shelf.unsaved.has(entry.id)) read.push(entry);
    }
    shelf.replace([...read, ...own]);
  }

  /** Reads one entry, as it is after another page wrote it. @template {Kind} Of @param {[kind: Of, id: string]} place */
  async #readAgain([kind, id]) {
    const shelf = this.#shelves[kind];
    if (!this.#database || shelf.unsaved.has(id)) return;
    const entry = await answer(this.#database.transaction(kind).objectStore(kind).get(id));
    // This page may have begun to write it meanwhile.
    if (shelf.unsaved.has(id)) return;
    this.#unread = this.#unread.filter((one) => one.kind !== kind || one.entry.id !== id);
    if (isReadable(kind, entry)) shelf.set(entry);
    else shelf.delete(id);
    if (entry !== undefined && !isReadable(kind, entry)) this.#unread.push({ kind, entry });
  }

  /** Tells the other pages, where there is something to tell, and this one. @param {Place[]} [places] */
  #changed(places) {
    if (places) this.#channel?.postMessage(places.length > MOST_TOLD ? 'changed' : places);
    this.dispatchEvent(new Event('change'));
  }

  /** What is stored and cannot be read by this version: it may be handed out or deleted. */
  get unread() {
    return this.#unread;
  }

  /** Whether an id belongs to something that cannot be read. @param {Kind} kind @param {string} id */
  isUnread(kind, id) {
    return this.#unread.some((one) => one.kind === kind && one.entry.id === id);
  }

  /** The entries of a kind, latest change first. @template {Kind} Of @param {Of} kind @returns {readonly Entries[Of][]} */
  list(kind) {
    return this.#shelves[kind].list();
  }

  /** A number that is another whenever the entries of a kind are. @param {Kind} kind */
  version(kind) {
    return this.#shelves[kind].version;
  }

  /** One entry. @template {Kind} Of @param {Of} kind @param {string} id */
  get(kind, id) {
    return this.#shelves[kind].get(id);
  }

  /** Whether there is a copy of this entry outside this page's memory. @param {Kind} kind @param {string} id */
  isStored(kind, id) {
    return this.#database !== null && !this.#shelves[kind].unsaved.has(id);
  }

  /**
   * Writes an entry. Where another page has changed it since `entry.revision`,
   * the other's stays and this one is kept beside it under a new name.
   * @template {Kind} Of @param {Of} kind @param {Entries[Of]} entry
   * @param {{ mustBeThere?: boolean }} [how] to write nothing where another page deleted it meanwhile
   * @returns {Promise<{ entry: Entries[Of], beside: boolean } | undefined>} the entry as kept; nothing only where it must be there
   */
  async put(kind, entry, { mustBeThere = false } = {}) {
    const shelf = this.#shelves[kind];
    const before = shelf.unsaved.get(entry.id) ?? entry.revision ?? 0;
    /** @type {Entries[Of]} */
    let kept = { ...entry, changed: now(), revision: (entry.revision ?? 0) + 1 };
    let beside = false;
    // What is typed while it is on its way counts on from it, and the page's last moment knows that it is not stored yet.
    const isAhead = kind === 'drafts';
    if (isAhead) {
      shelf.unsaved.set(kept.id, before);
      shelf.set(kept);
    }
    if (this.#database) {
      try {
        const { store, stored } = this.#writing(this.#database, kind);
        /** @type {unknown} */
        const there = await answer(store.get(kept.id));
        if (mustBeThere && !there && !shelf.unsaved.has(kept.id)) {
          shelf.delete(kept.id);
          this.#changed();
          return undefined;
        }
        if (kind !== 'drafts' && isPlain(there) && there.revision !== before) {
          beside = true;
          kept = { ...kept, id: newId(), revision: 1, name: shelf.freeName(entry.name ?? '') };
          if (isReadable(kind, there)) shelf.set(there);
        }
        await answer(store.put(kept));
        await stored;
        // Memory may have a newer one by now, which is still on its way.
        if (!isAhead || shelf.get(kept.id) === kept) shelf.unsaved.delete(kept.id);
        this.#recovered();
      } catch (error) {
        shelf.unsaved.set(kept.id, before);
        this.#setTrouble(troubleOf(error));
      }
    } else {
      shelf.unsaved.set(kept.id, before);
    }
    if (!isAhead) shelf.set(kept);
    this.#changed([[kind, kept.id]]);
    return { entry: kept, beside };
  }

  /**
   * A kind's place in the database, to be written to, and when all of that is stored.
   * @param {IDBDatabase} database @param {Kind} kind
   */
  #writing(database, kind) {
    const transaction = database.transaction(kind, 'readwrite');
    const stored = done(transaction);
    // What goes wrong is told by the request too: here it must only not pass for unheard.
    stored.catch(() => {});
    return { store: transaction.objectStore(kind), stored };
  }

  /** Changes what is stored, where anything is. @param {Kind} kind @param {(store: IDBObjectStore) => void} act */
  async #change(kind, act) {
    if (!this.#database) return;
    const { store, stored } = this.#writing(this.#database, kind);
    try {
      act(store);
    } catch (error) {
      // All of it or nothing.
      store.transaction.abort();
      throw error;
    }
    await stored;
  }

  // A full disk may have room again: then everything held back is written too.
  #recovered() {
    if (this.trouble !== 'full' && this.trouble !== 'failed') return;
    this.#setTrouble(null);
    for (const kind of KINDS) this.#putAgain(kind);
  }

  /** @template {Kind} Of @param {Of} kind */
  #putAgain(kind) {
    const shelf = this.#shelves[kind];
    for (const id of [...shelf.unsaved.keys()]) {
      const entry = shelf.get(id);
      if (entry) void this.put(kind, entry);
    }
  }

  /** Takes an entry away; gives it back, so that it can be put back. @template {Kind} Of @param {Of} kind @param {string} id */
  async remove(kind, id) {
    const shelf = this.#shelves[kind];
    const entry = shelf.get(id);
    if (!entry) return undefined;
    shelf.delete(id);
    shelf.unsaved.delete(id);
    await this.#delete(kind, id);
    // What was read meanwhile may have brought it back.
    shelf.delete(id);
    this.#changed([[kind, id]]);
    return entry;
  }

  /** @param {Kind} kind @param {string} id */
  async #delete(kind, id) {
    try {
      await this.#change(kind, (store) => store.delete(id));
    } catch (error) {
      this.#setTrouble(troubleOf(error));
    }
  }

  /** Puts back what `remove` gave. @template {Kind} Of @param {Of} kind @param {Entries[Of]} entry */
  async restore(kind, entry) {
    const name = kind === 'drafts' || entry.name === undefined ? entry.name : this.#shelves[kind].freeName(entry.name, entry.id);
    return this.#kept(kind, { ...entry, name, revision: 0 });
  }

  /** What `put` keeps, where it need not be there. @template {Kind} Of @param {Of} kind @param {Entries[Of]} entry */
  async #kept(kind, entry) {
    return (await this.put(kind, entry))?.entry ?? entry;
  }

  /**
   * Keeps something new under a name of its own.
   * @template {'briefs' | 'knits'} Of @param {Of} kind @param {string} name @param {Omit<Entries[Of], 'id' | 'name'>} content
   */
  async add(kind, name, content) {
    const shelf = this.#shelves[kind];
    const made = { id: newId(), name: shelf.freeName(name), created: now(), revision: 0, ...content };
    const entry = /** @type {Entries[Of]} */ (/** @type {unknown} */ (made));
    // At once, so that whoever is as quick gets another name.
    shelf.set(entry);
    return this.#kept(kind, entry);
  }

  /**
   * Gives an entry another name, with a number behind it where another has that one.
   * @template {'briefs' | 'knits'} Of @param {Of} kind @param {string} id @param {string} name
   * @returns {Promise<Entries[Of] | undefined>} the entry as kept; nothing where another page deleted it meanwhile
   */
  async rename(kind, id, name) {
    const entry = this.get(kind, id);
    if (!entry) return undefined;
    return (await this.put(kind, { ...entry, name: this.#shelves[kind].freeName(name, id) }, { mustBeThere: true }))?.entry;
  }

  /** Keeps many new entries, as they came from a file. @param {{ [Of in Kind]: Entries[Of][] }} fresh */
  async addAll(fresh) {
    /** @type {Place[]} */
    const places = [];
    for (const kind of KINDS) places.push(...(await this.#addSome(kind, fresh[kind])));
    this.#changed(places);
  }

  /** @template {Kind} Of @param {Of} kind @param {Entries[Of][]} fresh @returns {Promise<Place[]>} */
  async #addSome(kind, fresh) {
    const entries = fresh.map((entry) => ({ ...entry, changed: now(), revision: 1 }));
    await this.#writeAll(kind, entries);
    for (const entry of entries) this.#shelves[kind].set(entry);
    return entries.map(({ id }) => [kind, id]);
  }

  /** @param {Kind} kind @param {Entry[]} entries */
  async #writeAll(kind, entries) {
    const hold = () => {
      for (const { id } of entries) this.#shelves[kind].unsaved.set(id, 0);
    };
    if (!this.#database) hold();
    try {
      await this.#change(kind, (store) => {
        for (const entry of entries) store.put(entry);
      });
    } catch (error) {
      hold();
      this.#setTrouble(troubleOf(error));
    }
  }

  // ---- what cannot be read

  /**
   * Keeps what cannot be read as it is, beside the rest; it has an id.
   * @returns {Promise<boolean>} whether it is stored @param {Kind} kind @param {Stored} entry
   */
  async setAside(kind, entry) {
    const own = this.get(kind, entry.id) || this.isUnread(kind, entry.id) ? { ...entry, id: newId() } : entry;
    this.#unread = [...this.#unread, { kind, entry: own }];
    let isStored = false;
    try {
      await this.#change(kind, (store) => store.put(own));
      isStored = this.#database !== null;
    } catch (error) {
      this.#setTrouble(troubleOf(error));
    }
    this.#changed([[kind, own.id]]);
    return isStored;
  }

  /** Deletes what cannot be read. @param {Unread} one */
  async removeUnread(one) {
    this.#unread = this.#unread.filter((other) => other !== one);
    await this.#delete(one.kind, one.entry.id);
    this.#changed([[one.kind, one.entry.id]]);
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
