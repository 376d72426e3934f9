// The photo's module alone in its Worker, and invented photos with known truth.

import { deflateSync } from 'node:zlib';
import { startWorkerSite } from './worker-site.mjs';

/** @typedef {[number, number]} Place */

/** The round that is cut out of the piece: its radius, mm. A quarter of it is the half neckline. */
export const ROUND_MM = 90;
export const QUARTER_MM = (Math.PI / 2) * ROUND_MM;

/**
 * A photo of an A4 sheet left of a piece, taken by a pinhole camera that looks `tilt` degrees up from straight down: a piece right of
 * its fold at x = 0 and below its shoulder at y = 0, out of which a quarter of a circle about 0, 0 is cut.
 * @param {number} width @param {number} height @param {number} tilt
 */
export function drawn(width, height, tilt) {
  const sin = Math.sin((tilt * Math.PI) / 180);
  const cos = Math.cos((tilt * Math.PI) / 180);
  const focal = 0.75 * width;
  const away = 440;
  const [lookX, lookY] = [-40, 110];
  // Seen from a place `away` before the point it looks at, turned about the photo's horizontal.
  /** @param {number} column @param {number} row @returns {Place} */
  const onTable = (column, row) => {
    const u = (column - (width - 1) / 2) / focal;
    const v = (row - (height - 1) / 2) / focal;
    const far = (away * cos) / (cos - v * sin);
    return [lookX + u * far, lookY - away * sin + far * (v * cos + sin)];
  };
  /** @param {Place} place @returns {Place} */
  const seen = ([x, y]) => {
    const below = y - (lookY - away * sin);
    const far = below * sin + away * cos * cos;
    const down = below * cos - away * cos * sin;
    return [((x - lookX) / far) * focal + (width - 1) / 2, (down / far) * focal + (height - 1) / 2];
  };
  /** How far inside, mm. @param {number} x @param {number} y */
  const inSheet = (x, y) => Math.min(105 - Math.abs(x + 135), 148.5 - Math.abs(y - 110));
  /** @param {number} x @param {number} y */
  const inPiece = (x, y) => Math.min(x, y, 240 - y, 170 - x, Math.hypot(x, y) - ROUND_MM);
  const mmPerPx = away / focal;
  /** @param {number} inside */
  const covers = (inside) => Math.min(1, Math.max(0, 0.5 + inside / mmPerPx));
  const grey = Buffer.alloc(width * height);
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      const [x, y] = onTable(column, row);
      // A ground with some grain, the same for everyone.
      let level = 92 + ((column * 7919 + row * 104729 + ((column * row) % 977)) % 13);
      level += (195 - level) * covers(inPiece(x, y));
      level += (238 - level) * covers(inSheet(x, y));
      grey[row * width + column] = level;
    }
  }
  const png = pngOf(width, height, grey);
  return {
    png,
    corners: [seen([-240, -38.5]), seen([-30, -38.5]), seen([-30, 258.5]), seen([-240, 258.5])],
    ends: [seen([ROUND_MM, 0]), seen([0, ROUND_MM])],
    down: seen([0, 200]),
  };
}

/** The check sum of a chunk (W3C PNG, annex D). @param {Buffer} bytes */
function crc32(bytes) {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  }
  return (sum ^ 0xffffffff) >>> 0;
}

/** @param {string} type @param {Buffer} data */
function chunk(type, data) {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(data.length);
  body.copy(out, 4);
  out.writeUInt32BE(crc32(body), body.length + 4);
  return out;
}

/** A grey picture as PNG (W3C PNG, 2003). @param {number} width @param {number} height @param {Buffer} grey */
export function pngOf(width, height, grey) {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width);
  head.writeUInt32BE(height, 4);
  head[8] = 8;
  const rows = Buffer.alloc((width + 1) * height);
  for (let row = 0; row < height; row++) grey.copy(rows, row * (width + 1) + 1, row * width, (row + 1) * width);
  return Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(rows, { level: 1 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** The photo's module by itself. */
export const startSite = () => startWorkerSite('lieflat_photo');
