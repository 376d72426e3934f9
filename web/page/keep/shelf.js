// The entries of one kind, in memory: found by id, listed latest first, their names counted. A change costs what it
// changes, however many there are.

import { Names } from './entry.js';

/** @import { Entry } from './entry.js' */

/** @template {Entry} Kept */
export class Shelf {
  /** Grows with every change: what shows these entries need look no further where it is the same. */
  version = 0;
  /** What memory holds and the database does not, by id, with the revision that the database has of it. @type {Map<string, number>} */
  unsaved = new Map();
  /** @type {Map<string, Kept>} */
  #entries = new Map();
  #names = new Names();
  /** @type {Kept[]} */
  #listed = [];
  #isSorted = true;

  /** @param {string} id */
  get(id) {
    return this.#entries.get(id);
  }

  /** @param {Kept} entry */
  set(entry) {
    this.#take(this.#entries.get(entry.id));
    this.#entries.set(entry.id, entry);
    this.#listed.push(entry);
    this.#isSorted = false;
    this.#count(entry, 'add');
    this.version += 1;
  }

  /** @param {string} id */
  delete(id) {
    const entry = this.#entries.get(id);
    if (!entry) return;
    this.#entries.delete(id);
    this.#take(entry);
    this.version += 1;
  }

  /** @param {Kept | undefined} entry */
  #take(entry) {
    if (!entry) return;
    this.#listed.splice(this.#listed.indexOf(entry), 1);
    this.#count(entry, 'remove');
  }

  // Drafts have no names.
  /** @param {Kept} entry @param {'add' | 'remove'} act */
  #count({ name }, act) {
    if (name !== undefined) this.#names[act](name);
  }

  /** Puts these in place of all; an entry that is the same as before stays the object it was. @param {Kept[]} entries */
  replace(entries) {
    const before = this.#entries;
    const all = entries.map((entry) => {
      const old = before.get(entry.id);
      return old && isSame(old, entry) ? old : entry;
    });
    this.#entries = new Map(all.map((entry) => [entry.id, entry]));
    this.#names = new Names(all.flatMap(({ name }) => (name === undefined ? [] : [name])));
    this.#listed = [...this.#entries.values()];
    this.#isSorted = false;
    this.version += 1;
  }

  /** Latest change first; not to be changed by who asks. @returns {readonly Kept[]} */
  list() {
    if (!this.#isSorted) sortLatestFirst(this.#listed);
    this.#isSorted = true;
    return this.#listed;
  }

  /** A name that no entry has but the one of this id. @param {string} wanted @param {string} [except] */
  freeName(wanted, except) {
    const own = except === undefined ? undefined : this.#entries.get(except)?.name;
    if (own === undefined) return this.#names.free(wanted);
    this.#names.remove(own);
    const free = this.#names.free(wanted);
    this.#names.add(own);
    return free;
  }
}

/** @param {Entry} one @param {Entry} other */
const isSame = (one, other) => one.revision === other.revision && one.changed === other.changed && one.name === other.name;

// A time that is still to come was written by a clock that was wrong: what is done now goes before it.
/** @param {Entry[]} entries */
function sortLatestFirst(entries) {
  const now = new Date().toISOString();
  const times = new Map(entries.map((entry) => [entry, (entry.changed ?? '') <= now ? (entry.changed ?? '') : '']));
  /** @param {string} one @param {string} other */
  const compare = (one, other) => (one < other ? 1 : one > other ? -1 : 0);
  entries.sort((one, other) => compare(times.get(one) ?? '', times.get(other) ?? '') || compare(one.changed ?? '', other.changed ?? ''));
}
