// What was kept, as one file, and such a file taken back in. Pure: no storage,
// no page. Nothing that is already there is ever changed by taking in a file.

/** What an export calls itself. */
export const FORMAT = 'lieflat.kept';
/** The version of that form. */
export const VERSION = 1;
/** Largest file that is read, in bytes. */
export const MOST_BYTES = 20_000_000;

const MOST_NAME = 200;
/** Most entries a file may hold: more than anybody keeps. */
const MOST_ENTRIES = 5000;
/** Deepest nesting of a file: a brief takes 9. */
const MOST_DEPTH = 32;
const KINDS = ['briefs', 'knits', 'drafts'];

/** Why a file was not taken in. `code` is one of not_json, not_ours, newer, too_large. */
export class ImportError extends Error {
  constructor(code) {
    super(code);
    this.code = code;
  }
}

/** A value as text that is the same however its fields are ordered. */
export function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (value === null || typeof value !== 'object') return JSON.stringify(value) ?? 'null';
  const fields = Object.keys(value).filter((name) => value[name] !== undefined).sort();
  return `{${fields.map((name) => `${JSON.stringify(name)}:${canonical(value[name])}`).join(',')}}`;
}

/** What an entry holds, by its kind. */
const contentOf = (kind, entry) => (kind === 'knits' ? entry.knit : entry.brief);

/** The name `wanted`, or with the least number behind it that nobody has yet. */
export function freeName(wanted, taken) {
  const plain = wanted.slice(0, MOST_NAME);
  if (!taken.has(plain)) return plain;
  for (let n = 2; ; n++) {
    const name = `${plain} (${n})`;
    if (!taken.has(name)) return name;
  }
}

const isObject = (value) => typeof value === 'object' && value !== null && !Array.isArray(value);

/** Whether an entry is one this version can show. Anything else is kept as it is, unread. */
export function isReadable(kind, entry) {
  if (!isObject(entry) || typeof entry.id !== 'string' || entry.id === '') return false;
  if (kind !== 'drafts' && typeof entry.name !== 'string') return false;
  const content = contentOf(kind, entry);
  if (!isObject(content)) return false;
  return kind === 'knits' ? isObject(content.crosswise) : content.schema === 'lieflat.brief';
}

/**
 * Everything kept, as the text of a file.
 * @param {{ briefs: object[], knits: object[], drafts: object[], unread: object[] }} kept
 * @param {string} now - the time, as ISO 8601 text
 */
export function exportText(kept, now) {
  const { briefs, knits, drafts, unread } = kept;
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
  if (!isShallow(file, MOST_DEPTH) || !isObject(file) || file.format !== FORMAT) throw new ImportError('not_ours');
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
 * @param {{ briefs: object[], knits: object[], drafts: object[] }} kept
 * @param {ReturnType<typeof readExport>} file
 * @param {() => string} newId
 * @returns {{ add: { briefs: object[], knits: object[], drafts: object[] },
 *   skipped: number, renamed: { from: string, to: string }[], unread: number }}
 */
export function mergePlan(kept, file, newId) {
  const result = { add: { briefs: [], knits: [], drafts: [] }, skipped: 0, renamed: [], unread: file.unread.length };
  for (const kind of KINDS) {
    const ids = new Set(kept[kind].map((entry) => entry.id));
    const names = new Set(kept[kind].map((entry) => entry.name));
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

/** The entry as it comes in: with an id and a name that nothing else has. */
function takenIn(kind, entry, { ids, names, newId }) {
  const taken = { ...entry, revision: 1 };
  if (ids.has(entry.id)) Object.assign(taken, { id: newId(), from: entry.from ?? entry.id });
  ids.add(taken.id);
  if (kind === 'drafts') return taken;
  taken.name = freeName(entry.name, names);
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
