// A value of any kind as a file of JSON can tell it: what is plain stays as it is, the rest as near as it goes.

/** How deep a value stays a tree: a file that is nested deeper could not be read back. Deeper parts are their own text. */
const MOST_DEPTH = 24;
/** Most values that are written of one. */
const MOST_VALUES = 2_000_000;
/** In place of what cannot be told, or was told before: a value may hold itself, or another many times over. */
const LEFT_OUT = '…';

/** What is no tree of parts, as a text. @param {unknown} value */
function asText(value) {
  if (value instanceof Date) return Number.isNaN(value.getTime()) ? 'no date' : value.toISOString();
  if (value instanceof ArrayBuffer) return asText(new Uint8Array(value));
  if (ArrayBuffer.isView(value)) return Array.from(new Uint8Array(value.buffer), (byte) => byte.toString(16).padStart(2, '0')).join('');
  const isText = typeof value === 'bigint' || value instanceof RegExp || value instanceof Error;
  return isText ? String(value) : undefined;
}

// A list with holes may say that it is longer than anything there is: it is told by its places.
/** @param {object} value @returns {unknown[] | undefined} */
function listOf(value) {
  if (value instanceof Map || value instanceof Set) return [...value];
  return Array.isArray(value) && Object.keys(value).length === value.length ? value : undefined;
}

/** @param {unknown} value @returns {unknown} what JSON can say of it, never deeper than a file may be */
export function written(value) {
  let left = MOST_VALUES;
  const told = new Set();
  /** @param {unknown} one @param {number} depth @returns {unknown} */
  const tell = (one, depth) => {
    left -= 1;
    const text = asText(one);
    if (text !== undefined || typeof one !== 'object' || one === null) return text ?? one;
    if (left < 0 || told.has(one)) return LEFT_OUT;
    told.add(one);
    if (depth === 0) {
      left -= countOf(one, left);
      return left > 0 ? textOf(one) : LEFT_OUT;
    }
    const list = listOf(one);
    if (list) return list.map((part) => tell(part, depth - 1));
    return Object.fromEntries(Object.entries(one).map(([name, part]) => [name, tell(part, depth - 1)]));
  };
  return tell(value, MOST_DEPTH);
}

/** @param {unknown} value */
function textOf(value) {
  try {
    return JSON.stringify(value);
  } catch {
    return LEFT_OUT; // it holds itself, or is deeper than the browser can follow
  }
}

/**
 * How many values there are in one, those that come twice counted twice; no further than `most`.
 * @param {unknown} value @param {number} most
 */
function countOf(value, most) {
  const waiting = [value];
  let count = 0;
  while (waiting.length && count <= most) {
    const one = waiting.pop();
    count += 1;
    if (typeof one === 'object' && one !== null) for (const part of Object.values(one)) waiting.push(part);
  }
  return count;
}
