// Small sections through the sewn edge, to one scale: how the strip lies at the back, at the neck points and in front.

import { does } from '../plan/lies.js';
import { element, setText, svgElement } from './nodes.js';

/** @import { PartLies, Plan, Side } from '../types/plan.d.ts' */
/** @import { Unit } from '../plan/reckoner.js' */
/** @import { Said } from './scene.js' */

/** Its parts: in front, at the neck points, at the back. */
const PARTS = 3;
/** What is drawn, each in a line of its own; the flat is where the strip would lie. */
const LINES = ['flat', 'garment', 'trough', 'strip'];
/** In finished widths: the garment that is drawn, the room above the least and below, the gap to a strip that lies inside. */
const [GARMENT, ABOVE, BELOW, UNDER, BESIDE] = [0.8, 0.45, 0.2, 0.12, 0.1];

/** @param {HTMLElement} container */
export function sections(container) {
  const heading = element('h3', 'draw-legend-title');
  const list = element('ul');
  const parts = Array.from({ length: PARTS }, () => {
    const item = element('li');
    const svg = svgElement('svg', { 'aria-hidden': 'true', preserveAspectRatio: 'xMinYMid' });
    const lines = LINES.map((name) => svgElement('path', { class: `draw-section-${name}` }));
    svg.append(...lines);
    const [title, text] = [element('strong'), element('span')];
    item.append(svg, title, ' ', text);
    list.append(item);
    return { svg, lines, title, text };
  });
  container.append(heading, list);

  /** @param {{ plan: Plan, words: Said, unit: Unit }} given */
  function show({ plan, words, unit }) {
    const { strip, finish } = plan;
    container.hidden = !strip;
    if (!strip) return;
    setText(heading, words.t('drawing.sections'));
    const width = finish.width_mm;
    const risen = Math.max(...strip.parts.map((part) => part.stands_off_mm)) / width;
    const [top, foot] = [Math.max(ABOVE, risen + BESIDE), Math.max(BELOW, ...strip.parts.map(troughOf(width))) + BESIDE];
    const isInside = finish.side === 'inside';
    const [left, right] = isInside ? [1 + BESIDE, GARMENT] : [GARMENT, 1 + BESIDE];
    // A strip inside the garment leaves the flat downward.
    const box = isInside ? [-left, -foot, left + right, top + foot] : [-left, -top, left + right, top + foot];
    for (const [at, { svg, lines, title, text }] of parts.entries()) {
      const part = strip.parts[at];
      svg.setAttribute('viewBox', box.map((share) => share * width).join(' '));
      const drawn = linesOf(part, finish.side, width);
      for (const [i, name] of LINES.entries()) lines[i].setAttribute('d', drawn[name] ?? '');
      setText(title, words.t(`verdict.at.${part.part}`));
      setText(text, does(part, words, unit));
    }
  }

  return { show };
}

/** How far below the flat a part's ripples go, in widths. @param {number} width @returns {(part: PartLies) => number} */
const troughOf = (width) => (part) => (part.leans_deg === undefined ? part.stands_off_mm / width : 0);

/** The section's lines as paths, in mm. @param {PartLies} part @param {Side} side @param {number} width @returns {Record<string, string>} */
function linesOf(part, side, width) {
  const isInside = side === 'inside';
  // Along the strip from its seam, and off the flat.
  const [along, off] = isInside ? [-1, 1] : [1, -1];
  const from = isInside ? UNDER * width : 0;
  const rise = part.stands_off_mm;
  const lean = ((part.leans_deg ?? 0) * Math.PI) / 180;
  /** A line that leaves the flat in a curve. @param {number} y */
  const curve = (y) => `M0 ${from}Q${0.5 * along * width} ${from} ${along * width} ${from + y}`;
  const isStanding = part.leans_deg !== undefined;
  const straight = `M0 ${from}L${along * width * Math.cos(lean)} ${from + off * width * Math.sin(lean)}`;
  return {
    garment: `M${-GARMENT * width} 0H0${isInside ? `V${from}` : ''}`,
    flat: rise > 0 ? `M0 ${from}H${along * width}` : '',
    strip: isStanding || rise === 0 ? straight : curve(off * rise),
    trough: isStanding || rise === 0 ? '' : curve(-off * rise),
  };
}
