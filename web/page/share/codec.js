// A brief as the text of a link, and back. The text is `1`, the version of this
// form, then base64url of: one byte saying how the rest is kept (0 plain, 1
// deflated), two bytes of checksum over the packed brief, and the packed brief.
//
// A link comes from anybody. Its size is bounded before and after inflating, and
// what comes out is a plain value that the core still has to accept.

import { deflateSync, inflateSync } from 'fflate';
import { PackError, pack, unpack } from './pack.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { Unit } from '../plan/reckoner.js' */

/** @typedef {{ brief: Brief, unit?: Unit }} Linked what a link brings: a brief, and the unit it was made in where that is said */

/** @type {readonly Unit[]} */
const UNITS = ['mm', 'cm', 'in'];
const FORM = '1';
/** Longest text that is looked at. */
export const MOST_TEXT = 16_384;
/** Most bytes a packed brief may take. */
const MOST_BYTES = 65_536;

/** Why a text is no brief. `code` is one of damaged, newer, too_long, not_a_brief. */
export class LinkError extends Error {
  /** @param {'damaged' | 'newer' | 'too_long' | 'not_a_brief'} code */
  constructor(code) {
    super(code);
    this.code = code;
  }
}

/** FNV-1a, folded: enough to tell a cut or mistyped link, and no more than that. @param {Uint8Array} bytes */
function checksum(bytes) {
  let hash = 0x811c9dc5;
  for (const byte of bytes) hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  return (hash ^ (hash >>> 16)) & 0xffff;
}

/** @param {Uint8Array} bytes */
function toBase64Url(bytes) {
  const text = Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
  return btoa(text).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

/** @param {string} text */
function fromBase64Url(text) {
  if (!/^[A-Za-z0-9_-]*$/.test(text)) throw new LinkError('damaged');
  try {
    const binary = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
    return Uint8Array.from(binary, (letter) => letter.charCodeAt(0));
  } catch {
    throw new LinkError('damaged');
  }
}

/** Inflates into a bounded buffer: bytes past its end are not kept. @param {Uint8Array} bytes */
function inflated(bytes) {
  try {
    const out = inflateSync(bytes, { out: new Uint8Array(MOST_BYTES + 1) });
    if (out.length > MOST_BYTES) throw new LinkError('too_long');
    return out;
  } catch (error) {
    throw error instanceof LinkError ? error : new LinkError('damaged');
  }
}

/** @param {unknown} value @returns {value is Brief} as far as its name tells: the core says the rest */
function isBrief(value) {
  return typeof value === 'object' && value !== null && 'schema' in value && value.schema === 'lieflat.brief';
}

/**
 * The text that stands for a brief in a link, and for the unit it was made in: that travels beside the brief's own fields, where
 * a version that does not know it passes over it.
 * @param {Brief} brief @param {Unit} [unit]
 * @returns {string}
 */
export function encodeBrief(brief, unit) {
  const packed = pack(unit ? { ...brief, unit } : brief);
  const small = deflateSync(packed, { level: 9 });
  const body = small.length < packed.length ? small : packed;
  const sum = checksum(packed);
  const bytes = new Uint8Array(3 + body.length);
  bytes.set([body === small ? 1 : 0, sum >> 8, sum & 255]);
  bytes.set(body, 3);
  return FORM + toBase64Url(bytes);
}

/**
 * The brief that a text stands for, and the unit it was made in. Throws a `LinkError` where it stands for none.
 * @param {string} text
 * @returns {Linked}
 */
export function decodeLink(text) {
  if (text.length > MOST_TEXT) throw new LinkError('too_long');
  if (!text.startsWith(FORM)) throw new LinkError(/^[2-9a-z]/.test(text) ? 'newer' : 'damaged');
  const bytes = fromBase64Url(text.slice(1));
  if (bytes.length < 4 || bytes[0] > 1) throw new LinkError('damaged');
  const packed = bytes[0] === 1 ? inflated(bytes.subarray(3)) : bytes.subarray(3);
  if (checksum(packed) !== bytes[1] * 256 + bytes[2]) throw new LinkError('damaged');
  /** @type {unknown} */
  let value;
  try {
    value = unpack(packed);
  } catch (error) {
    throw error instanceof PackError ? new LinkError('damaged') : error;
  }
  if (!isBrief(value)) throw new LinkError('not_a_brief');
  const { unit, ...brief } = /** @type {Brief & { unit?: unknown }} */ (value);
  return { brief, unit: UNITS.find((one) => one === unit) };
}

/** The brief alone. @param {string} text */
export const decodeBrief = (text) => decodeLink(text).brief;

/** The name of the fragment's field that carries a brief. */
export const FIELD = 'brief';

/** Whether a page lies in a file on somebody's device, where no link leads. @param {string} page its address */
export const isOwnFile = (page) => new URL(page).protocol === 'file:';

/**
 * What hands a brief on: a link to the page; of a page that is a file of one's own, the brief's text alone.
 * @param {Brief} brief @param {string} page @param {Unit} unit that it was made in
 */
export const handedOn = (brief, page, unit) => (isOwnFile(page) ? encodeBrief(brief, unit) : briefLink(brief, page, unit));

/** A brief's text in what somebody was given, a link or the text alone. @param {string} given */
export const textIn = (given) => new RegExp(`[#?&]${FIELD}=([^&\\s]+)`).exec(given)?.[1] ?? given.trim();

/**
 * The link that shows a brief on the page at an address.
 * @param {Brief} brief
 * @param {string} page - the page's address; its own fragment and query are left out
 * @param {Unit} [unit] that it was made in
 * @returns {string}
 */
export function briefLink(brief, page, unit) {
  const address = new URL(page);
  address.search = '';
  address.hash = `${FIELD}=${encodeBrief(brief, unit)}`;
  return address.href;
}
