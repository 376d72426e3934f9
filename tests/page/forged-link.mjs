// Links that lie about what they hold.

/**
 * The text of bytes that claim to be a brief: plain (0) or deflated (1), with a true checksum.
 * @param {0 | 1} kind @param {Uint8Array} packed @param {Uint8Array} [body]
 */
export function forgedLink(kind, packed, body = packed) {
  let hash = 0x811c9dc5;
  for (const byte of packed) hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  const sum = (hash ^ (hash >>> 16)) & 0xffff;
  return `1${Buffer.from([kind, sum >> 8, sum & 255, ...body]).toString('base64url')}`;
}
