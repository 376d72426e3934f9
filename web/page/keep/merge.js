// What was kept, as one file, and such a file taken back in. Pure: no storage,
// no page. Nothing that is already there is ever changed by taking in a file.

import { KINDS, Names, canonical, isOwnId, isReadable } from './entry.js';
import { isPlain } from './acceptable.js';
import { written } from './written.js';

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
  constructor(code) {
    super(code);
    this.code = code;
  }
}

/** What an entry holds, by its kind. */
const contentOf = (kind, entry) => (kind === 'knits' ? entry.knit : entry.brief);

/**
 * Everything kept, as the text of a file.
 * @param {{ briefs: object[], knits: object[], drafts: object[], unread: object[] }} kept
 * @param {string} now - the time, as ISO 8601 text
 */
export function exportText(kept, now) {
  const { briefs, knits, drafts } = kept;
  // What cannot be read may be anything a browser can store: it is written as near as a file can tell it.
  const unread = kept.unread.map(({ kind, entry }) => ({ kind, entry: written(entry) }));
  return `${JSON.stringify({ format: FORMAT, version: VERSION, exported: now, briefs, knits, drafts, unread }, null, 1)}\n`;
}

/** Reads such a text. Throws an `ImportError` where it is none. */
export function readExport(text) {
  if (text.length > MOST_BYTES) throw new ImportError('too_large');
  let file;
  try {
    file = JSON.parse(text);
  } catch {
    throw new ImportError('not_json');
  }
  if (!isShallow(file, MOST_DEPTH) || !isPlain(file) || file.format !== FORMAT) throw new ImportError('not_ours');
  if (!Number.isInteger(file.version) || file.version < 1) throw new ImportError('not_ours');
  if (file.version > VERSION) throw new ImportError('newer');
  const list = (name) => (Array.isArray(file[name]) ? file[name] : []);
  const lists = { briefs: list('briefs'), knits: list('knits'), drafts: list('drafts'), unread: list('unread') };
  if (Object.values(lists).flat().length > MOST_ENTRIES) throw new ImportError('too_large');
  return lists;
}

function isShallow(value, depth) {
  if (typeof value !== 'object' || value === null) return true;
  return depth > 0 && Object.values(value).every((one) => isShallow(one, depth - 1));
}

/**
 * What taking in a file adds to what is kept. An entry is already there where one with the same content has its name,
 * or came from the same entry, whatever it is called by now. One whose name is taken by another content comes in under
 * a new name; entries that cannot be read are counted.
 *
 * @param {{ briefs: object[], knits: object[], drafts: object[], unread?: { kind: string, entry: object }[] }} kept
 * @param {ReturnType<typeof readExport>} file
 * @param {() => string} newId
 * @returns {{ add: { briefs: object[], knits: object[], drafts: object[] },
 *   skipped: number, renamed: { from: string, to: string }[], unread: number }}
 */
export function mergePlan(kept, file, newId) {
  const result = { add: { briefs: [], knits: [], drafts: [] }, skipped: 0, renamed: [], unread: file.unread.length };
  for (const kind of KINDS) {
    const unread = (kept.unread ?? []).filter((one) => one.kind === kind);
    const ids = new Set([...kept[kind], ...unread.map(({ entry }) => entry)].map((entry) => entry.id));
    const names = kind === 'drafts' ? null : new Names(kept[kind].map((entry) => entry.name));
    const known = new Set(kept[kind].flatMap((entry) => signs(kind, entry)));
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
      if (kind !== 'drafts' && taken.name !== entry.name) result.renamed.push({ from: entry.name, to: taken.name });
      for (const sign of [...own, ...signs(kind, taken)]) known.add(sign);
      result.add[kind].push(taken);
    }
  }
  return result;
}

/** The entry as it comes in: with an id of our kind and a name that nothing else has. */
function takenIn(kind, entry, { ids, names, newId }) {
  const taken = { ...entry, revision: 1 };
  if (ids.has(entry.id) || !isOwnId(entry.id)) Object.assign(taken, { id: newId(), from: entry.from ?? entry.id });
  ids.add(taken.id);
  if (kind === 'drafts') return taken;
  taken.name = names.free(entry.name);
  names.add(taken.name);
  return taken;
}

// What tells an entry: its content under its name, and its content under where it came from.
function signs(kind, entry) {
  const content = [contentOf(kind, entry), entry.sizes ?? null, entry.unplanned ?? null];
  const origins = [entry.id, entry.from].filter((id) => typeof id === 'string');
  const named = kind === 'drafts' ? [] : [canonical(['name', entry.name, content])];
  return [...named, ...origins.map((id) => canonical(['id', id, content]))];
}

/** The records of two lists, each once. */
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
