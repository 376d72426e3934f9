// What was kept, as one file, and such a file taken back in. Pure: no storage,
// no page. Nothing that is already there is ever changed by taking in a file.

import { KINDS, Names, canonical, isOwnId, isReadable } from './entry.js';
import { isPlain } from './acceptable.js';
import { written } from './written.js';

/** @import { SewnRecord } from '../types/brief.d.ts' */
/** @import { Draft, Entries, Entry, KeptBrief, KeptKnit, Kind, Unread } from './entry.js' */

/** What an export calls itself. */
export const FORMAT = 'lieflat.kept';
/** The version of that form. */
export const VERSION = 1;
/** Largest file that is read, in bytes: thousands of briefs. */
export const MOST_BYTES = 50_000_000;
/** Most entries a file may hold: more than anybody keeps. */
export const MOST_ENTRIES = 20_000;
/** Deepest nesting of a file: a brief takes 9. */
const MOST_DEPTH = 32;

/** Why a file was not taken in. `code` is one of not_json, not_ours, newer, too_large. */
export class ImportError extends Error {
  /** @param {'not_json' | 'not_ours' | 'newer' | 'too_large'} code */
  constructor(code) {
    super(code);
    this.code = code;
  }
}

/** @typedef {{ briefs: readonly KeptBrief[], knits: readonly KeptKnit[], drafts: readonly Draft[], unread: readonly Unread[] }} Kept */
/** @typedef {{ briefs: unknown[], knits: unknown[], drafts: unknown[], unread: unknown[] }} Lists what a file says it holds */
/** @typedef {{ from: string, to: string }} Renamed */
/** @typedef {{ add: { [Of in Kind]: Entries[Of][] }, skipped: number, renamed: Renamed[], unread: number }} Merged */

/** What an entry holds, by its kind. @param {Kind} kind @param {Entry} entry */
const contentOf = (kind, entry) => (kind === 'knits' ? entry.knit : entry.brief);

/**
 * Everything kept, as the text of a file.
 * @param {Kept} kept
 * @param {string} now - the time, as ISO 8601 text
 */
export function exportText(kept, now) {
  const { briefs, knits, drafts } = kept;
  // What cannot be read may be anything a browser can store: it is written as near as a file can tell it.
  const unread = kept.unread.map(({ kind, entry }) => ({ kind, entry: written(entry) }));
  return `${JSON.stringify({ format: FORMAT, version: VERSION, exported: now, briefs, knits, drafts, unread }, null, 1)}\n`;
}

/** Reads such a text. Throws an `ImportError` where it is none. @param {string} text @returns {Lists} */
export function readExport(text) {
  if (text.length > MOST_BYTES) throw new ImportError('too_large');
  /** @type {unknown} */
  let file;
  try {
    file = JSON.parse(text);
  } catch {
    throw new ImportError('not_json');
  }
  if (!isShallow(file, MOST_DEPTH) || !isPlain(file) || file.format !== FORMAT) throw new ImportError('not_ours');
  const { version } = file;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) throw new ImportError('not_ours');
  if (version > VERSION) throw new ImportError('newer');
  /** @param {string} name @returns {unknown[]} */
  const list = (name) => (Array.isArray(file[name]) ? file[name] : []);
  const lists = { briefs: list('briefs'), knits: list('knits'), drafts: list('drafts'), unread: list('unread') };
  if (Object.values(lists).flat().length > MOST_ENTRIES) throw new ImportError('too_large');
  return lists;
}

/** @param {unknown} value @param {number} depth @returns {boolean} */
function isShallow(value, depth) {
  if (typeof value !== 'object' || value === null) return true;
  return depth > 0 && Object.values(value).every((one) => isShallow(one, depth - 1));
}

/**
 * What taking in a file adds to what is kept. An entry is already there where one with the same content has its name,
 * or came from the same entry, whatever it is called by now. One whose name is taken by another content comes in under
 * a new name; entries that cannot be read are counted.
 *
 * @param {Omit<Kept, 'unread'> & Partial<Kept>} kept
 * @param {Lists} file
 * @param {() => string} newId
 * @returns {Merged}
 */
export function mergePlan(kept, file, newId) {
  /** @type {Merged} */
  const result = { add: { briefs: [], knits: [], drafts: [] }, skipped: 0, renamed: [], unread: file.unread.length };
  for (const kind of KINDS) mergeKind(kind, kept, file, newId, result);
  return result;
}

/** @template {Kind} Of @param {Of} kind @param {Parameters<typeof mergePlan>[0]} kept @param {Lists} file @param {() => string} newId @param {Merged} result */
function mergeKind(kind, kept, file, newId, result) {
  /** @type {readonly Entry[]} */
  const there = kept[kind];
  /** @type {Entries[Of][]} */
  const add = result.add[kind];
  const unread = (kept.unread ?? []).filter((one) => one.kind === kind);
  const ids = new Set([...there, ...unread.map(({ entry }) => entry)].map((entry) => entry.id));
  const names = new Names(kind === 'drafts' ? [] : there.flatMap(({ name }) => (name === undefined ? [] : [name])));
  const known = new Set(there.flatMap((entry) => signs(kind, entry)));
  for (const entry of file[kind]) {
    if (!isReadable(kind, entry)) {
      result.unread++;
      continue;
    }
    const own = signs(kind, entry);
    if (own.some((sign) => known.has(sign))) {
      result.skipped++;
      continue;
    }
    const taken = takenIn(kind, entry, { ids, names, newId });
    if (kind !== 'drafts' && entry.name !== undefined && taken.name !== undefined && taken.name !== entry.name)
      result.renamed.push({ from: entry.name, to: taken.name });
    for (const sign of [...own, ...signs(kind, taken)]) known.add(sign);
    add.push(taken);
  }
}

/**
 * The entry as it comes in: with an id of our kind and a name that nothing else has.
 * @template {Kind} Of @param {Of} kind @param {Entries[Of]} entry @param {{ ids: Set<string>, names: Names, newId: () => string }} how
 */
function takenIn(kind, entry, { ids, names, newId }) {
  /** @type {Entries[Of]} */
  const taken = { ...entry, revision: 1 };
  if (ids.has(entry.id) || !isOwnId(entry.id)) Object.assign(taken, { id: newId(), from: entry.from ?? entry.id });
  ids.add(taken.id);
  if (kind === 'drafts') return taken;
  const name = names.free(entry.name ?? '');
  names.add(name);
  taken.name = name;
  return taken;
}

// What tells an entry: its content under its name, and its content under where it came from.
/** @param {Kind} kind @param {Entry} entry */
function signs(kind, entry) {
  const content = [contentOf(kind, entry), entry.sizes ?? null, entry.unplanned ?? null];
  const origins = [entry.id, entry.from].filter((id) => typeof id === 'string');
  const named = kind === 'drafts' ? [] : [canonical(['name', entry.name, content])];
  return [...named, ...origins.map((id) => canonical(['id', id, content]))];
}

/**
 * The records of two lists, each once.
 * @param {readonly SewnRecord[] | undefined} some @param {readonly SewnRecord[] | undefined} others
 */
export function unionOfRecords(some, others) {
  const all = [...(some ?? [])];
  const seen = new Set(all.map(canonical));
  for (const record of others ?? []) {
    if (!seen.has(canonical(record))) {
      seen.add(canonical(record));
      all.push(record);
    }
  }
  return all;
}
