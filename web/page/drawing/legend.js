// The key: what each line means, and span by span what the strip does, in words.

import { lookOf } from './looks.js';
import { element, setText, svgElement } from './nodes.js';
import { outcomeSign } from './scene-neckline.js';
import { spanLines } from './summary.js';

/** @import { Plan } from '../types/plan.d.ts' */
/** @import { Said, Say } from './scene.js' */
/** @import { Unit } from '../plan/reckoner.js' */

/** @param {HTMLElement} container @param {string} prefix of the drawing's pattern ids */
export function legend(container, prefix) {
  const spansTitle = element('h3', 'draw-legend-title');
  const spans = element('ul', 'draw-legend-spans');
  const note = element('p', 'draw-legend-note');
  const linesTitle = element('h3', 'draw-legend-title');
  const lines = element('ul', 'draw-legend-lines');
  container.append(spansTitle, spans, note, linesTitle, lines);

  /** @param {{ plan: Plan, words: Said, unit: Unit }} given */
  function show({ plan, words, unit }) {
    /** @type {Say} */
    const say = (key, values) => words.t(`drawing.${key}`, values);
    const list = plan.strip ? spanLines({ strip: plan.strip, words, unit }) : [];
    for (const node of [spansTitle, spans, note]) node.hidden = !list.length;
    setText(spansTitle, say('legend.spans'));
    if (plan.strip) setText(note, say('legend.thickness', { comfort: words.number(plan.strip.comfort_percent, { digits: 0 }) }));
    setText(linesTitle, say('legend.lines'));
    fill(spans, list.length, (i) => spanItem(prefix, i));
    for (const [i, line] of list.entries()) spanWords(spans.children[i], line);
    const kinds = lineKinds(plan);
    fill(lines, kinds.length, lineItem);
    for (const [i, kind] of kinds.entries()) lineWords(lines.children[i], kind, say(`line.${kind.word}`));
  }

  return { show };
}

/** @param {Element} list @param {number} count @param {(index: number) => Element} make */
function fill(list, count, make) {
  while (list.children.length > count) list.lastChild?.remove();
  while (list.children.length < count) list.append(make(list.children.length));
}

/** @param {number} width @param {number} height */
function swatch(width, height) {
  const svg = svgElement('svg', { class: 'draw-swatch', width, height, viewBox: `0 0 ${width} ${height}`, 'aria-hidden': 'true' });
  return svg;
}

/** @param {string} prefix @param {number} i */
function spanItem(prefix, i) {
  const item = element('li');
  const svg = swatch(40, 22);
  svg.append(
    svgElement('rect', {
      class: `draw-body draw-look-${lookOf(i)}`,
      x: 0.5,
      y: 0.5,
      width: 39,
      height: 21,
      fill: `url(#${prefix}-span-${lookOf(i)})`,
    }),
    svgElement('rect', { class: `draw-chip draw-look-${lookOf(i)}`, x: 11, y: 3, width: 18, height: 16, rx: 3 }),
    svgElement('text', { class: 'draw-text draw-chip-text', x: 20, y: 15, 'text-anchor': 'middle' }),
  );
  item.append(svg, element('strong', 'draw-span-letter'), element('span', 'draw-span-text'));
  return item;
}

/** @param {Element} item @param {ReturnType<typeof spanLines>[number]} line */
function spanWords(item, { letter, outcome, text }) {
  const [svg, strong, span] = item.children;
  setText(svg.lastChild, letter);
  setText(strong, `${letter} ${outcomeSign(outcome)} `);
  setText(span, text);
  const name = `draw-span-${outcome}`;
  if (item.className !== name) item.className = name;
}

/** Only what this plan draws. @param {Plan} plan */
function lineKinds(plan) {
  const bound = plan.strip?.stitch_line;
  const kinds = [{ word: 'cut_edge', look: 'draw-cut' }];
  if (bound) kinds.push({ word: 'finished_edge', look: 'draw-finished' }, { word: 'stitch_line', look: 'draw-seam' });
  else kinds.push({ word: 'seam_line', look: 'draw-seam' });
  kinds.push({ word: 'fold', look: 'draw-fold' }, { word: 'shoulder', look: 'draw-shoulder' });
  if (plan.strip) kinds.push({ word: 'mark', look: 'draw-mark' });
  if (plan.facing) kinds.push({ word: 'facing_edge', look: 'draw-facing' });
  if (plan.facing || plan.strip?.topstitch_mm) kinds.push({ word: 'understitch', look: 'draw-stitch' });
  if (plan.clips && plan.clips.count > plan.clips.into_corners) kinds.push({ word: 'clip', look: 'draw-clip' });
  if (plan.clips?.into_corners) kinds.push({ word: 'clip_corner', look: 'draw-clip draw-clip-corner' });
  if (plan.clips?.trim_to_mm) kinds.push({ word: 'trim', look: 'draw-trim' });
  if (plan.stays.zones.length)
    kinds.push({ word: 'stay', look: plan.stays.zones.some(({ outline }) => outline.length) ? 'draw-stay-tape' : 'draw-stay' });
  return kinds;
}

function lineItem() {
  const item = element('li');
  const svg = swatch(40, 12);
  svg.append(svgElement('path', { d: 'M1 6H39' }));
  item.append(svg, element('span'));
  return item;
}

/** @param {Element} item @param {{ look: string }} kind @param {string} text */
function lineWords(item, { look }, text) {
  const path = item.querySelector('path');
  if (path?.getAttribute('class') !== look) path?.setAttribute('class', look);
  setText(item.lastChild, text);
}
