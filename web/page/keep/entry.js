// What an entry is: a brief, a knit or a draft as it is kept. Every field is looked at when an entry is read,
// wherever it comes from; one with a field that is not what it should be is no entry, and is left as it is.

import { isId, isPlain, isAcceptable, isTable, isUnplanned } from './acceptable.js';

export const KINDS = ['briefs', 'knits', 'drafts'];

/** Longest name that is given, letters. */
const MOST_NAME = 200;
const OWN_ID = /^[a-z\d][\w-]{0,63}$/i;

/** A value as text that is the same however its fields are ordered. */
export function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (value === null || typeof value !== 'object') return JSON.stringify(value) ?? 'null';
  const fields = Object.keys(value)
    .filter((name) => value[name] !== undefined)
    .sort();
  return `{${fields.map((name) => `${JSON.stringify(name)}:${canonical(value[name])}`).join(',')}}`;
}

const isNone = (value) => value === undefined || value === null;
const isText = (value) => typeof value === 'string';
const maybe = (is) => (value) => isNone(value) || is(value);
const isCount = (value) => Number.isSafeInteger(value) && value >= 0;
const isNamed = (value) => isPlain(value) && maybe(isText)(value.name);
const isBrief = (value) =>
  isPlain(value) &&
  value.schema === 'lieflat.brief' &&
  maybe(isText)(value.title) &&
  maybe(isNamed)(value.garment_knit) &&
  maybe(isNamed)(value.strip_knit);
const isKnit = (value) =>
  isNamed(value) && isPlain(value.crosswise) && maybe((list) => Array.isArray(list) && list.every(isPlain))(value.learned);
const isOrigin = (value) => isPlain(value) && isId(value.id) && isCount(value.revision);

const EVERY = { id: isId, created: maybe(isText), changed: maybe(isText), revision: maybe(isCount), from: maybe(isText) };
const BRIEF = { brief: isBrief, sizes: maybe(isTable) };
/** What each field of an entry must be, by kind. */
const FIELDS = {
  briefs: { ...EVERY, ...BRIEF, name: isText },
  knits: { ...EVERY, name: isText, knit: isKnit },
  drafts: { ...EVERY, ...BRIEF, unplanned: maybe(isUnplanned), kept: maybe(isOrigin), source: maybe(isText) },
};

/** Whether a value is an entry that this version can show. Whether its brief can be planned the core says when it is opened. */
export function isReadable(kind, value) {
  return isPlain(value) && isAcceptable(value) && Object.entries(FIELDS[kind]).every(([name, is]) => is(value[name]));
}

/** Whether an id is of the kind that is made here. */
export const isOwnId = (id) => OWN_ID.test(id);

/** Names that are taken, and which is free. */
export class Names {
  #counts = new Map();
  /** The number from which to look for a free one, by name: every lesser one is taken. */
  #from = new Map();

  /** @param {Iterable<string>} [names] */
  constructor(names = []) {
    for (const name of names) this.add(name);
  }

  add(name) {
    this.#counts.set(name, (this.#counts.get(name) ?? 0) + 1);
  }

  remove(name) {
    const left = (this.#counts.get(name) ?? 0) - 1;
    if (left > 0) this.#counts.set(name, left);
    else this.#counts.delete(name);
    this.#from.clear();
  }

  /** The name `wanted`, or with the least number behind it that nobody has yet. */
  free(wanted) {
    const plain = wanted.slice(0, MOST_NAME);
    if (!this.#counts.has(plain)) return plain;
    let n = this.#from.get(plain) ?? 2;
    while (this.#counts.has(`${plain} (${n})`)) n += 1;
    this.#from.set(plain, n);
    return `${plain} (${n})`;
  }
}
