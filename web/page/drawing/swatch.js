// A swatch of the stretch test, at rest, stretched and let go, to a scale of its own: what is read of a knit is lit on it.

import { element, svgElement } from './nodes.js';

/** @import { Field } from '../form/fields.js' */
/** @import { FormValues } from '../form/values.js' */
/** @import { Said } from './scene.js' */

/** px: how wide it is drawn at most, the air around it, and the room of a line of text. */
const [MOST, AIR, TEXT] = [420, 14, 18];
/** How tall a swatch is drawn, px. */
const [LEAST_TALL, MOST_TALL] = [12, 40];
/** Wales drawn in a swatch at rest. */
const WALES = 14;
/** A swatch whose readings are told in percent, at rest. */
const WHOLE = 100;

/** @typedef {{ word: string, length: number, tall: number }} Piece one state of the swatch: its length between the marks and its width */
/** @typedef {{ at: number, from: [number, number], to: [number, number] }} Mark where it is lit: on which piece; shares of its length and of its width */

/**
 * @param {{ field: Field, values: FormValues, words: Said, room: [number, number] }} given `room`: px of the stage
 */
export function swatch({ field, values, words, room }) {
  const width = Math.min(MOST, room[0] - 2 * AIR);
  const svg = svgElement('svg', { 'aria-hidden': 'true', width });
  const name = field.key.slice(field.key.lastIndexOf('.') + 1);
  const way = field.way ?? (field.key.startsWith('asks.') ? name : 'crosswise');
  const pieces = name === 'thickness' ? [layer()] : piecesOf(values, `${field.knit ?? 'garment'}.${way}`, Boolean(field.narrows));
  const lit = markOf(name, pieces, Number(values[field.key] ?? 0));
  const longest = Math.max(...pieces.map(({ length }) => length), ...lit.map(({ at, to }) => pieces[at].length * to[0]));
  const across = (width - 2 * AIR) / longest;
  const each = (room[1] - 3 * AIR) / pieces.length - TEXT - AIR / 2;
  const tallest = Math.max(...pieces.map(({ tall }) => tall));
  const high = Math.min(MOST_TALL, Math.max(LEAST_TALL, each));
  let y = AIR / 2;
  for (const [i, { word, length, tall }] of pieces.entries()) {
    const label = svgElement('text', { class: 'draw-text draw-quiet', x: AIR, y: y + TEXT - 5 });
    label.textContent = words.t(`field.${word}.label`);
    y += TEXT;
    const [wide, drawn] = [length * across, (high * tall) / tallest];
    const at = { x: AIR, y, wide, high: drawn };
    svg.append(
      label,
      svgElement('path', { class: 'draw-cloth', d: frame(at) }),
      svgElement('path', { class: 'draw-wales', d: wales(at, way) }),
    );
    const marks = lit.filter((mark) => mark.at === i);
    for (const { from, to } of marks) {
      const [start, end] = [from, to].map(([along, down]) => `${AIR + along * wide} ${y + down * drawn}`);
      svg.append(
        svgElement('path', { class: 'draw-lit', d: `M${start}L${end}` }),
        svgElement('path', { class: 'draw-lit-ends', d: `M${start}h.01M${end}h.01` }),
      );
    }
    y += drawn + AIR / 2;
  }
  svg.setAttribute('height', String(y + AIR / 2));
  const aside = element('div', 'draw-aside');
  aside.append(svg);
  return aside;
}

/** @returns {Piece} */
const layer = () => ({ word: 'thickness', length: 1, tall: 1 });

/**
 * The swatch in each state that is told: in mm, or in percent of its length at rest.
 * @param {FormValues} values @param {string} at @param {boolean} isWide whether its own width is read too @returns {Piece[]}
 */
function piecesOf(values, at, isWide) {
  /** @param {string} name */
  const told = (name) => Number(values[`${at}.${name}`] || 0);
  const isPercent = values[`${at}.how`] === 'percent';
  const rest = isPercent ? WHOLE : told('rest') || WHOLE;
  const stretched = isPercent ? WHOLE + told('stretch') : told('stretched') || rest;
  const given = told('recovery');
  const released = isPercent ? given && WHOLE + told('stretch') * (1 - given / 100) : told('released');
  const [wide, narrow] = isWide ? [told('swatch_rest') || 1, told('swatch_stretched') || told('swatch_rest') || 1] : [1, 1];
  return [
    { word: 'rest', length: rest, tall: wide },
    { word: 'stretched', length: stretched, tall: narrow },
    ...(released && !isWide ? [{ word: 'released', length: released, tall: 1 }] : []),
  ];
}

/** Where a reading is lit. @param {string} name @param {Piece[]} pieces @param {number} value @returns {Mark[]} */
function markOf(name, pieces, value) {
  const last = pieces.length - 1;
  /** @param {number} at @param {number} [from] @param {number} [to] @returns {Mark[]} */
  const along = (at, from = 0, to = 1) => [{ at, from: [from, 0], to: [to, 0] }];
  /** @param {number} at @returns {Mark} */
  const down = (at) => ({ at, from: [0.5, 0], to: [0.5, 1] });
  const rest = pieces[0].length;
  switch (name) {
    case 'stretched':
      return along(1);
    case 'released':
      return along(last);
    case 'stretch':
      return along(1, rest / pieces[1].length, 1);
    case 'recovery':
      return last > 1 ? along(last, 1, pieces[1].length / pieces[last].length) : along(1, rest / pieces[1].length, 1);
    case 'crosswise':
    case 'lengthwise':
      return value ? along(0, 1, 1 + value / 100) : along(0);
    case 'swatch_rest':
    case 'thickness':
      return [down(0)];
    case 'swatch_stretched':
      return [down(1)];
    case 'poisson':
      return [down(0), down(1)];
    default:
      return along(0);
  }
}

/** @param {{ x: number, y: number, wide: number, high: number }} at */
const frame = ({ x, y, wide, high }) => `M${x} ${y}h${wide}v${high}h${-wide}z`;

/**
 * The knit's wales, which run across a swatch that is stretched crosswise.
 * @param {{ x: number, y: number, wide: number, high: number }} at @param {string} way
 */
function wales({ x, y, wide, high }, way) {
  let d = '';
  if (way === 'lengthwise') for (let row = y + 5; row < y + high; row += 5) d += `M${x} ${row}h${wide}`;
  else
    for (let i = 1; i < WALES; i += 1) {
      const lean = way === 'diagonal' ? Math.min(high, (wide * (WALES - i)) / WALES) : 0;
      d += `M${x + (wide * i) / WALES} ${y}l${lean} ${lean || high}`;
    }
  return d || 'M0 0';
}
