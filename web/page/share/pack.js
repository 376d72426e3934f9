// A value of JSON as few bytes, and back. Numbers of a brief are small and have
// few decimals, and its names are known: most fields take two or three bytes.
//
// Layout: one tag byte a value, then what the tag says.
//   0 null, 1 false, 2 true
//   3 text: length, UTF-8         4 a drawn path: see packPath
//   5 number as eight bytes       6 array: count, values
//   7 object: count, then names and values; a name is its place in the word
//     list plus one, or 0, length, UTF-8
//   8 text of the word list: its place
//   10 + d number with d decimals, 0 to 4: the number without its point
//   15 + d the same below zero
//   32 + n the whole number n, 0 to 223
// Counts, lengths and places are written seven bits a byte, lowest first.

import { WORDS } from './link-words.js';

const MOST_DEPTH = 16;
const MOST_DECIMALS = 4;
const places = new Map(WORDS.map((word, place) => [word, place]));

/** What is thrown where bytes are not what `pack` writes. */
export class PackError extends Error {}

/** @param {string} why @returns {never} */
function fail(why) {
  throw new PackError(why);
}

/** @typedef {{ letter: string, numbers: number[] }} Step a letter of a path and its coordinates */

/** Gathers bytes. */
class Writer {
  /** @type {number[]} */
  bytes = [];

  /** @param {number} value */
  byte(value) {
    this.bytes.push(value);
  }

  /** @param {number} value */
  count(value) {
    let rest = value;
    while (rest >= 128) {
      this.bytes.push((rest % 128) + 128);
      rest = Math.floor(rest / 128);
    }
    this.bytes.push(rest);
  }

  /** Signed numbers take turns: 0, -1, 1, -2, 2. @param {number} value */
  signed(value) {
    this.count(value < 0 ? -2 * value - 1 : 2 * value);
  }

  /** @param {string} value */
  text(value) {
    const encoded = new TextEncoder().encode(value);
    this.count(encoded.length);
    for (const byte of encoded) this.bytes.push(byte);
  }
}

/** Reads bytes, and says so where they end too early. */
class Reader {
  /** @param {Uint8Array} bytes */
  constructor(bytes) {
    this.bytes = bytes;
    this.at = 0;
  }

  get left() {
    return this.bytes.length - this.at;
  }

  byte() {
    if (this.left < 1) fail('ends too early');
    return this.bytes[this.at++];
  }

  count() {
    let value = 0;
    let scale = 1;
    for (let i = 0; i < 8; i++) {
      const byte = this.byte();
      value += (byte % 128) * scale;
      if (byte < 128) return Number.isSafeInteger(value) ? value : fail('a number is too large');
      scale *= 128;
    }
    return fail('a number is too long');
  }

  /** A count of things that take at least one byte each. */
  countOfThings() {
    const count = this.count();
    return count <= this.left ? count : fail('ends too early');
  }

  signed() {
    const value = this.count();
    return value % 2 ? -(value + 1) / 2 : value / 2;
  }

  text() {
    const length = this.countOfThings();
    const part = this.bytes.subarray(this.at, this.at + length);
    this.at += length;
    try {
      return new TextDecoder('utf-8', { fatal: true }).decode(part);
    } catch {
      return fail('a text is not UTF-8');
    }
  }

  word() {
    const place = this.count();
    return place < WORDS.length ? WORDS[place] : fail('a word is not known');
  }
}

/** The least number of decimals that says a number exactly; none where it takes too many. @param {number} number */
function decimalsOf(number) {
  for (let decimals = 0; decimals <= MOST_DECIMALS; decimals++) {
    const whole = Math.round(number * 10 ** decimals);
    if (!Number.isSafeInteger(whole)) return undefined;
    if (whole / 10 ** decimals === number && !Object.is(whole, -0)) return decimals;
  }
  return undefined;
}

/** @param {Writer} out @param {number} number */
function packNumber(out, number) {
  if (!Number.isFinite(number)) fail('not a finite number');
  const decimals = decimalsOf(number);
  if (decimals === 0 && number >= 0 && number < 224) {
    out.byte(32 + number);
  } else if (decimals !== undefined) {
    out.byte((number < 0 ? 15 : 10) + decimals);
    out.count(Math.abs(Math.round(number * 10 ** decimals)));
  } else {
    out.byte(5);
    const eight = new DataView(new ArrayBuffer(8));
    eight.setFloat64(0, number);
    for (let i = 0; i < 8; i++) out.byte(eight.getUint8(i));
  }
}

/** @param {Reader} reader */
function unpackFloat(reader) {
  const eight = new DataView(new ArrayBuffer(8));
  for (let i = 0; i < 8; i++) eight.setUint8(i, reader.byte());
  const number = eight.getFloat64(0);
  return Number.isFinite(number) ? number : fail('not a finite number');
}

// A path is its letters and, for each coordinate, how far it is from the one
// before on the same axis. Two ways of writing a path are known: everything
// apart (M 0 95 C 50 95 88 60 88 0), and letters attached, pairs joined by commas
// and a letter not repeated (M0,95 C50,95 88,60 88,0). A path that does not come
// back to the letter in either is kept as text.
/** @type {Record<string, number>} */
const NUMBERS_AFTER = { M: 2, L: 2, Q: 4, C: 6, Z: 0 };

/** @param {Step[]} steps */
const spaced = (steps) => steps.map(({ letter, numbers }) => [letter, ...numbers].join(' ')).join(' ');

/** @param {Step[]} steps */
function joined(steps) {
  let before = '';
  const parts = steps.map(({ letter, numbers }) => {
    const pairs = numbers.flatMap((number, i) => (i % 2 ? [] : [`${number},${numbers[i + 1]}`]));
    const said = letter === before ? '' : letter;
    before = letter;
    return said + pairs.join(' ');
  });
  return parts.join(' ');
}

const WRITERS = [spaced, joined];

/** @param {string} text @returns {{ steps: Step[], decimals: number, style: number } | undefined} */
function readPath(text) {
  if (text.length > 20_000 || !/^M[ \d-]/.test(text)) return undefined;
  const tokens = text.match(/[A-Za-z]|-?\d+(?:\.\d+)?/g) ?? [];
  /** @type {Step[]} */
  const steps = [];
  let decimals = 0;
  let letter = '';
  for (let i = 0; i < tokens.length; ) {
    if (/[A-Za-z]/.test(tokens[i])) letter = tokens[i++];
    const wanted = NUMBERS_AFTER[letter];
    const numbers = tokens.slice(i, i + wanted);
    if (wanted === undefined || numbers.length < wanted) return undefined;
    if (wanted === 0 && i < tokens.length && !/[A-Za-z]/.test(tokens[i])) return undefined;
    if (numbers.some((number) => /[A-Za-z]/.test(number))) return undefined;
    for (const number of numbers) decimals = Math.max(decimals, (number.split('.')[1] ?? '').length);
    steps.push({ letter, numbers: numbers.map(Number) });
    i += wanted;
  }
  if (decimals > MOST_DECIMALS) return undefined;
  const style = WRITERS.findIndex((write) => write(steps) === text);
  return style < 0 ? undefined : { steps, decimals, style };
}

/** @param {Writer} out @param {NonNullable<ReturnType<typeof readPath>>} path */
function packPath(out, { steps, decimals, style }) {
  const scale = 10 ** decimals;
  const before = [0, 0];
  out.byte(4);
  out.byte(style * 8 + decimals);
  out.count(steps.length);
  for (const { letter, numbers } of steps) {
    out.byte('MLQCZ'.indexOf(letter));
    for (const [i, number] of numbers.entries()) {
      const whole = Math.round(number * scale);
      out.signed(whole - before[i % 2]);
      before[i % 2] = whole;
    }
  }
}

/** @param {Reader} reader */
function unpackPath(reader) {
  const how = reader.byte();
  const decimals = how % 8;
  const write = WRITERS[Math.floor(how / 8)] ?? fail('a path is written in a way that is not known');
  if (decimals > MOST_DECIMALS) fail('a path has too many decimals');
  const scale = 10 ** decimals;
  const before = [0, 0];
  const steps = [];
  for (let left = reader.countOfThings(); left > 0; left--) {
    const letter = 'MLQCZ'[reader.byte()] ?? fail('a path has a command that is not known');
    const numbers = Array.from({ length: NUMBERS_AFTER[letter] }, (_, i) => {
      before[i % 2] += reader.signed();
      return before[i % 2] / scale;
    });
    steps.push({ letter, numbers });
  }
  return write(steps);
}

/** @param {Writer} out @param {string} text */
function packText(out, text) {
  const place = places.get(text);
  if (place !== undefined) {
    out.byte(8);
    out.count(place);
    return;
  }
  const path = readPath(text);
  if (path) {
    packPath(out, path);
    return;
  }
  out.byte(3);
  out.text(text);
}

/** @param {Writer} out @param {unknown} value @param {number} depth */
function packValue(out, value, depth) {
  if (depth > MOST_DEPTH) fail('nested too deep');
  if (value === null) out.byte(0);
  else if (typeof value === 'boolean') out.byte(value ? 2 : 1);
  else if (typeof value === 'number') packNumber(out, value);
  else if (typeof value === 'string') packText(out, value);
  else if (Array.isArray(value)) {
    out.byte(6);
    out.count(value.length);
    for (const one of value) packValue(out, one, depth + 1);
  } else if (typeof value === 'object') {
    const fields = Object.entries(value).filter(([, field]) => field !== undefined);
    out.byte(7);
    out.count(fields.length);
    for (const [name, field] of fields) {
      const place = places.get(name);
      out.count(place === undefined ? 0 : place + 1);
      if (place === undefined) out.text(name);
      packValue(out, field, depth + 1);
    }
  } else fail(`${typeof value} is no value of JSON`);
}

/** @param {Reader} reader */
function unpackName(reader) {
  const place = reader.count();
  if (place > WORDS.length) fail('a name is not known');
  const name = place === 0 ? reader.text() : WORDS[place - 1];
  // Set as a field, this name would change what kind of object it is.
  return name === '__proto__' ? fail('a name is not allowed') : name;
}

/** @param {Reader} reader @param {number} depth */
function unpackObject(reader, depth) {
  /** @type {Record<string, unknown>} */
  const object = {};
  for (let left = reader.countOfThings(); left > 0; left--) {
    const name = unpackName(reader);
    if (Object.hasOwn(object, name)) fail('a name comes twice');
    object[name] = unpackValue(reader, depth + 1);
  }
  return object;
}

/** @param {Reader} reader @param {number} depth @returns {unknown} */
function unpackValue(reader, depth) {
  if (depth > MOST_DEPTH) fail('nested too deep');
  const tag = reader.byte();
  if (tag >= 32) return tag - 32;
  if (tag >= 10 && tag <= 14) return reader.count() / 10 ** (tag - 10);
  if (tag >= 15 && tag <= 19) return -reader.count() / 10 ** (tag - 15);
  switch (tag) {
    case 0:
      return null;
    case 1:
      return false;
    case 2:
      return true;
    case 3:
      return reader.text();
    case 4:
      return unpackPath(reader);
    case 5:
      return unpackFloat(reader);
    case 6:
      return Array.from({ length: reader.countOfThings() }, () => unpackValue(reader, depth + 1));
    case 7:
      return unpackObject(reader, depth);
    case 8:
      return reader.word();
    default:
      return fail('a value is of a kind that is not known');
  }
}

/**
 * A value of JSON as bytes.
 * @param {unknown} value
 * @returns {Uint8Array}
 */
export function pack(value) {
  const out = new Writer();
  packValue(out, value, 0);
  return Uint8Array.from(out.bytes);
}

/**
 * What `pack` made the bytes of. Throws a `PackError` where nothing did.
 * @param {Uint8Array} bytes
 * @returns {unknown}
 */
export function unpack(bytes) {
  const reader = new Reader(bytes);
  const value = unpackValue(reader, 0);
  if (reader.left > 0) fail('more follows than there should be');
  return value;
}
