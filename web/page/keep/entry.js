// What an entry is: a brief, a knit or a draft as it is kept. Every field is looked at when an entry is read,
// wherever it comes from; one with a field that is not what it should be is no entry, and is left as it is.

import { isId, isPlain, isAcceptable, isTable, isUnit, isUnplanned } from './acceptable.js';

/** @import { Brief, Knit } from '../types/brief.d.ts' */
/** @import { Unplanned } from '../form/form.js' */
/** @import { Sizes } from '../sizes/size-set.js' */
/** @import { Unit } from '../plan/reckoner.js' */

/**
 * @typedef {object} Entry what is kept, of any kind
 * @property {string} id
 * @property {string} [name] drafts have none
 * @property {string} [created]
 * @property {string} [changed]
 * @property {number} [revision]
 * @property {string} [from] the id it had where it came from
 * @property {Brief} [brief]
 * @property {Knit} [knit]
 * @property {Sizes | null} [sizes]
 * @property {Unit} [unit] that a brief was made in
 * @property {Unplanned | null} [unplanned]
 * @property {Origin | null} [kept] the kept brief that a draft came from
 * @property {string} [source] the text of the link that a draft came from
 */
/** @typedef {{ id: string, revision: number }} Origin */
/** @typedef {Entry & { name: string, brief: Brief }} KeptBrief */
/** @typedef {Entry & { name: string, knit: Knit }} KeptKnit */
/** @typedef {Entry & { brief: Brief }} Draft */
/** @typedef {{ briefs: KeptBrief, knits: KeptKnit, drafts: Draft }} Entries an entry by its kind */
/** @typedef {keyof Entries} Kind */
/** @typedef {Record<string, unknown> & { id: string }} Stored what stands in a store and may be no entry */
/** @typedef {{ kind: Kind, entry: Stored }} Unread what is stored and cannot be read by this version */
/** @typedef {(value: unknown) => boolean} Is */

export const KINDS = /** @type {Kind[]} */ (['briefs', 'knits', 'drafts']);

/** Longest name that is given, letters. */
const MOST_NAME = 200;
const OWN_ID = /^[a-z\d][\w-]{0,63}$/i;

/** A value as text that is the same however its fields are ordered. @param {unknown} value @returns {string} */
export function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (value === null || typeof value !== 'object') return JSON.stringify(value) ?? 'null';
  const fields = new Map(Object.entries(value).filter(([, field]) => field !== undefined));
  const names = [...fields.keys()].sort();
  return `{${names.map((name) => `${JSON.stringify(name)}:${canonical(fields.get(name))}`).join(',')}}`;
}

/** @type {Is} */
const isNone = (value) => value === undefined || value === null;
/** @type {Is} */
const isText = (value) => typeof value === 'string';
/** @param {Is} is @returns {Is} */
const maybe = (is) => (value) => isNone(value) || is(value);
/** @type {Is} */
const isCount = (value) => Number.isSafeInteger(value) && Number(value) >= 0;
/** @type {Is} */
const isNamed = (value) => isPlain(value) && maybe(isText)(value.name);
/** @type {Is} */
const isBrief = (value) =>
  isPlain(value) &&
  value.schema === 'lieflat.brief' &&
  maybe(isText)(value.title) &&
  maybe(isNamed)(value.garment_knit) &&
  maybe(isNamed)(value.strip_knit);
/** @type {Is} */
const isKnit = (value) =>
  isPlain(value) &&
  isNamed(value) &&
  isPlain(value.crosswise) &&
  maybe((list) => Array.isArray(list) && list.every(isPlain))(value.learned);
/** @type {Is} */
const isOrigin = (value) => isPlain(value) && isId(value.id) && isCount(value.revision);

const EVERY = { id: isId, created: maybe(isText), changed: maybe(isText), revision: maybe(isCount), from: maybe(isText) };
const BRIEF = { brief: isBrief, sizes: maybe(isTable), unit: maybe(isUnit) };
/** What each field of an entry must be, by kind. @type {Record<Kind, Record<string, Is>>} */
const FIELDS = {
  briefs: { ...EVERY, ...BRIEF, name: isText },
  knits: { ...EVERY, name: isText, knit: isKnit },
  drafts: { ...EVERY, ...BRIEF, unplanned: maybe(isUnplanned), kept: maybe(isOrigin), source: maybe(isText) },
};

/**
 * Whether a value is an entry that this version can show. Whether its brief can be planned the core says when it is opened.
 * @template {Kind} Of @param {Of} kind @param {unknown} value @returns {value is Entries[Of]}
 */
export function isReadable(kind, value) {
  return isPlain(value) && isAcceptable(value) && Object.entries(FIELDS[kind]).every(([name, is]) => is(value[name]));
}

/** What a draft remembers of the kept brief it came from. @param {Entry} entry @returns {Origin} */
export const originOf = ({ id, revision = 0 }) => ({ id, revision });

/** Whether an id is of the kind that is made here. @param {string} id */
export const isOwnId = (id) => OWN_ID.test(id);

/** Names that are taken, and which is free. */
export class Names {
  /** @type {Map<string, number>} */
  #counts = new Map();
  /** The number from which to look for a free one, by name: every lesser one is taken. @type {Map<string, number>} */
  #from = new Map();

  /** @param {Iterable<string>} [names] */
  constructor(names = []) {
    for (const name of names) this.add(name);
  }

  /** @param {string} name */
  add(name) {
    this.#counts.set(name, (this.#counts.get(name) ?? 0) + 1);
  }

  /** @param {string} name */
  remove(name) {
    const left = (this.#counts.get(name) ?? 0) - 1;
    if (left > 0) this.#counts.set(name, left);
    else this.#counts.delete(name);
    this.#from.clear();
  }

  /** The name `wanted`, or with the least number behind it that nobody has yet. @param {string} wanted */
  free(wanted) {
    const plain = wanted.slice(0, MOST_NAME);
    if (!this.#counts.has(plain)) return plain;
    let n = this.#from.get(plain) ?? 2;
    while (this.#counts.has(`${plain} (${n})`)) n += 1;
    this.#from.set(plain, n);
    return `${plain} (${n})`;
  }
}
