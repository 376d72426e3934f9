// Large and harmful pattern files, made where they are wanted: kept, they would be larger than all the rest.

import { deflateSync } from 'node:zlib';

/** The module that reads a file. @param {string} name the file's */
export const moduleOf = (name) => (name.endsWith('.pdf') ? 'lieflat_pdf' : 'lieflat_text');

/**
 * A PDF of one page with this content, deflated so often.
 * @param {Buffer} content @param {number} times
 */
export function pdfOf(content, times = 1) {
  let packed = content;
  for (let i = 0; i < times; i++) packed = deflateSync(packed, { level: 9 });
  const filters = `[${'/FlateDecode'.repeat(times)}]`;
  const head =
    '%PDF-1.5\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n' +
    '3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 2000 2000]/Contents 4 0 R>>endobj\n' +
    `4 0 obj<</Length ${packed.length}/Filter${filters}>>stream\n`;
  const tail = '\nendstream endobj\ntrailer<</Root 1 0 R/Size 5>>\nstartxref\n0\n%%EOF\n';
  return Buffer.concat([Buffer.from(head), packed, Buffer.from(tail)]);
}

/** A megabyte that unpacks to a gigabyte. */
export const bomb = () => pdfOf(Buffer.concat(Array.from({ length: 16 }, () => Buffer.alloc(64e6, 32))), 1);

/** A few kilobytes that unpack to hundreds of megabytes, by way of a few hundred kilobytes. */
export const bombInBomb = () => pdfOf(Buffer.alloc(400e6, 32), 2);

/** @param {number} i */
const wave = (i) => [20 + (i % 300) * 4, 500 + 300 * Math.sin(i / 50) + i / 100].map((v) => v.toFixed(3));

/** A hundred outlines of so many segments in all. @param {number} segments */
export function pdfOfSegments(segments) {
  const each = segments / 100;
  let content = '';
  for (let i = 0; i < segments; i++) content += `${wave(i).join(' ')} ${i % each ? 'l' : 'm'}\n${i % each === each - 1 ? 'S\n' : ''}`;
  return pdfOf(Buffer.from(content));
}

/** @param {number} segments */
export function svgOfSegments(segments) {
  const each = segments / 100;
  let paths = '';
  for (let i = 0; i < segments; i++) paths += `${i % each ? ' ' : `${i ? '"/>' : ''}<path d="M`}${wave(i).join(',')}`;
  return Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="1200mm" viewBox="0 0 1200 1200">${paths}"/></svg>`);
}

/** @param {number} segments */
export function dxfOfSegments(segments) {
  let entities = '';
  for (let i = 0; i < segments; i++) {
    const [[x, y], [u, v]] = [wave(i), wave(i + 1)];
    entities += `0\nLINE\n8\n1\n10\n${x}\n20\n${y}\n11\n${u}\n21\n${v}\n`;
  }
  return Buffer.from(`0\nSECTION\n2\nENTITIES\n${entities}0\nENDSEC\n0\nEOF\n`);
}
