// The strip flat on the table beneath the neckline, at the same scale, with its marks, folds and ends.

import { bothSides, closedBothSides, pathText } from './frame.js';
import { letter, lookOf, thickness } from './looks.js';
import { markNames, sayScale, scaleBeneath } from './scene.js';
import { outcomeSign } from './scene-neckline.js';

/** @import { Plan, Span, StripPlan } from '../types/plan.d.ts' */
/** @import { Box, Point } from './frame.js' */
/** @import { Anchor, Label } from './labels.js' */
/** @import { Scene } from './scene.js' */

const APART = 8; // mm from the middle to each of two strips

/** Adds the strip to a scene, its upper raw edge at `top`. @param {Scene} scene @param {StripPlan} strip @param {Box} box @param {number} top */
export function stripScene(scene, strip, box, top) {
  const whole = layOut(scene, strip, top, 1);
  const lay = layOut(scene, strip, top, scaleBeneath(scene, whole.across));
  scene.lay = lay;
  box.add(lay.two && scene.whole ? -lay.cut[1] : lay.cut[0], top - 14);
  box.add(lay.cut[1], top + lay.width + 26);
  outline(scene, lay);
  for (const [i, span] of strip.spans.entries()) spanOn(scene, lay, span, i);
  lengthwiseLines(scene, lay);
  markTicks(scene, lay);
  ends(scene, lay);
  title(scene, lay);
}

/** @typedef {{ seams: number[], folds: number[], edge?: number, body: [number, number] }} Rows mm from the upper raw edge */
/** @typedef {ReturnType<typeof layOut>} Lay */

/**
 * A ring's join is at centre back, so its middle is centre front; open ends meet in front, so theirs is centre back.
 * With a point at both there are two strips, one for each side. A half strip starts under the neckline's own centre.
 * @param {Scene} scene @param {StripPlan} strip @param {number} top @param {number} scale
 */
function layOut({ plan, whole }, strip, top, scale) {
  const half = (strip.relaxed_length_mm / 2) * scale;
  const ring = strip.ends === 'ring';
  const two = strip.pieces === 2;
  const extra = strip.end_extra_mm * scale;
  const width = strip.cut_width.cut_mm * scale;
  const start = two && whole ? extra + APART : 0;
  /** @param {number} s @returns {number} */
  const place = (s) => (whole && ring ? half - s * scale : start + s * scale);
  const from = two || (ring && !whole) ? start - extra : whole ? -half - extra : 0;
  const to = ring && !whole ? half : start + half + extra;
  const across = two && whole ? 2 * to : to - from;
  return { strip, top, scale, width, half, start, ring, two, extra, place, across, cut: [from, to], ...rows(plan.finish, strip, scale) };
}

/**
 * Where lines run along the strip, from its upper raw edge, as the plan has them. A binding's free edge is the edge it goes round.
 * @param {Plan['finish']} finish @param {StripPlan} strip @param {number} scale @returns {Rows}
 */
function rows(finish, { rows }, scale) {
  const seams = rows.seams_mm.map((y) => y * scale);
  const fold = rows.fold_mm && rows.fold_mm * scale;
  const free = rows.free_edge_mm * scale;
  return {
    seams,
    folds: fold === undefined ? [] : [fold],
    edge: finish.side === 'around_edge' ? free : undefined,
    body: [seams[0], free],
  };
}

/** The four corners of a part of the strip. @param {number} x0 @param {number} y0 @param {number} x1 @param {number} y1 @returns {Point[]} */
const corners = (x0, y0, x1, y1) => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

/** @param {Scene} scene @param {Lay} lay */
function outline({ shapes, whole, ink }, lay) {
  const [x0, x1] = lay.cut;
  const points = corners(x0, lay.top, x1, lay.top + lay.width);
  const both = lay.two && whole;
  ink.push({ points: [...points, points[0]], both });
  shapes.strip.push({ key: 'strip', tag: 'path', class: 'draw-strip', d: closedBothSides(points, both) });
  if (whole || lay.two) return;
  // The half strip goes on past its middle: an open side, drawn over the outline as a fold.
  const x = lay.ring ? x1 : x0;
  shapes.strip.push({ key: 'strip-middle', tag: 'path', class: 'draw-strip-middle', d: pathText(upright(lay, x)) });
}

/** @param {Scene} scene @param {Lay} lay */
function lengthwiseLines({ shapes, labels, say, whole, ink }, lay) {
  const [x0, x1] = lay.cut;
  const both = lay.two && whole;
  /** @param {number} y @returns {Point[]} */
  const line = (y) => [
    [x0, lay.top + y],
    [x1, lay.top + y],
  ];
  for (const y of [...lay.seams, ...lay.folds]) ink.push({ points: line(y), both });
  /** @param {number} y */
  const level = (y) => bothSides(line(y), both);
  /** @param {number[]} ys */
  const along = (ys) => ys.map(level).join('');
  shapes.strip.push(
    { key: 'strip-seams', tag: 'path', class: 'draw-seam', d: along(lay.seams) },
    { key: 'strip-folds', tag: 'path', class: 'draw-fold', d: along(lay.folds) },
  );
  const topstitch = lay.strip.topstitch_mm;
  if (topstitch)
    shapes.strip.push({ key: 'strip-topstitch', tag: 'path', class: 'draw-stitch', d: level(lay.seams[0] + topstitch * lay.scale) });
  if (lay.edge) {
    shapes.strip.push({ key: 'strip-edge', tag: 'path', class: 'draw-finished', d: level(lay.edge) });
    labels.push(beside('strip-edge', x1, lay.top + lay.edge, say('line.finished_edge'), 'draw-strong', 5));
  }
  for (const y of lay.seams.slice(0, 1)) {
    labels.push(beside('strip-seam-0', x1, lay.top + y, say(lay.edge ? 'line.stitch_line' : 'line.seam_line'), 'draw-seam-text', 3));
  }
  for (const [i, y] of lay.folds.entries()) labels.push(beside(`strip-fold-${i}`, x1, lay.top + y, say('line.fold'), 'draw-quiet', 4));
}

/**
 * @param {string} key @param {number} x @param {number} y @param {string} text @param {string} className @param {number} weight
 * @returns {Label}
 */
const beside = (key, x, y, text, className, weight) => ({ key, at: [x, y], text, class: className, weight, tries: [[6, 4, 'start']] });

/** The sides on which something is drawn, as signs. @param {boolean} both @returns {(1 | -1)[]} */
const bothOrOne = (both) => (both ? [1, -1] : [1]);
/** @param {boolean} whole @param {number} x */
const sidesOf = (whole, x) => bothOrOne(whole && Math.abs(x) > 0.5);

/** @param {Scene} scene @param {Lay} lay @param {Span} span @param {number} i */
function spanOn(scene, lay, span, i) {
  const { shapes, whole, prefix } = scene;
  const { marks, comfort_percent: comfort } = lay.strip;
  const [a, b] = [lay.place(marks[i].on_strip_mm), lay.place(marks[i + 1].on_strip_mm)];
  const [y0, y1] = lay.body.map((y) => lay.top + y);
  /** @param {number} y */
  const level = (y) =>
    bothSides(
      [
        [a, y],
        [b, y],
      ],
      whole,
    );
  /** @param {string} name */
  const key = (name) => `${name}-${i}`;
  shapes.strip.push(
    {
      key: key('body'),
      tag: 'path',
      class: 'draw-body',
      fill: `url(#${prefix}-span-${lookOf(i)})`,
      d: closedBothSides(corners(a, y0, b, y1), whole),
    },
    {
      key: key('seam-strain'),
      tag: 'path',
      class: `draw-strain draw-${span.outcome}`,
      d: level(y0),
      'stroke-width': thickness(span.seam_edge_percent, comfort),
    },
    {
      key: key('free-strain'),
      tag: 'path',
      class: `draw-strain-free draw-${span.outcome}`,
      d: level(y1),
      'stroke-width': thickness(span.free_edge_most_percent, comfort),
    },
  );
  for (const side of bothOrOne(whole)) spanLabels(scene, span, i, side, [((a + b) / 2) * side, (y0 + y1) / 2, lay.top + lay.width]);
}

/** @param {Scene} scene @param {Span} span @param {number} i @param {1 | -1} side @param {[number, number, number]} at */
function spanLabels({ labels, percent }, span, i, side, [x, y, foot]) {
  labels.push({
    key: `strip-chip-${i}-${side}`,
    at: [x, y],
    text: letter(i),
    chip: true,
    look: lookOf(i),
    bold: true,
    weight: 20,
    must: true,
    tries: [
      [0, 4, 'middle'],
      [0, 26, 'middle'],
      [0, -18, 'middle'],
    ],
  });
  if (side < 0) return;
  labels.push({
    key: `strip-stretch-${i}`,
    at: [x, foot],
    text: `${outcomeSign(span.outcome)} +${percent(span.seam_edge_percent)} %`,
    class: 'draw-quiet',
    weight: 3,
    tries: [
      [0, 18, 'middle'],
      [0, 32, 'middle'],
    ],
  });
}

/** @param {Scene} scene @param {Lay} lay */
function markTicks(scene, lay) {
  const { shapes, labels, whole, say, ink } = scene;
  const names = markNames(lay.strip, say);
  const ticks = { named: '', between: '' };
  for (const [i, mark] of lay.strip.marks.entries()) {
    const x = lay.place(mark.on_strip_mm);
    const tick = upright(lay, x, 3);
    ink.push({ points: tick, both: whole });
    ticks[mark.place === 'between' ? 'between' : 'named'] += bothSides(tick, whole);
    for (const side of sidesOf(whole, x)) {
      labels.push({
        key: `strip-mark-${i}-${side}`,
        at: [x * side, lay.top],
        text: names[i].short,
        class: 'draw-strong',
        weight: mark.place === 'between' ? 9 : 10,
        tries: [
          [0, -10, 'middle'],
          [0, -14, 'middle'],
          [0, -24, 'middle'],
        ],
      });
    }
  }
  shapes.strip.push({ key: 'strip-marks', tag: 'path', class: 'draw-mark', d: ticks.named });
  if (ticks.between) shapes.strip.push({ key: 'strip-marks-between', tag: 'path', class: 'draw-mark draw-mark-between', d: ticks.between });
}

/**
 * What lies past the relaxed length at each end: the join, the mitre's slope, the lap, or the run past the point.
 * @param {Scene} scene @param {Lay} lay
 */
function ends(scene, lay) {
  const { shapes, whole } = scene;
  const { ends: kind, back_ends: back } = lay.strip;
  const x = lay.start + lay.half;
  if (lay.ring) {
    const join = whole ? [lay.half, -lay.half] : [0];
    shapes.strip.push({ key: 'join', tag: 'path', class: 'draw-seam', d: join.map((at) => pathText(upright(lay, at))).join('') });
    endLabel(
      scene,
      whole ? lay.half : 0,
      lay,
      scene.say('end.ring', { length: scene.length(lay.strip.end_extra_mm) }),
      whole ? 'end' : 'start',
    );
    return;
  }
  if (typeof kind === 'string') return;
  if (kind.mitre) mitre(scene, lay, [x, 1, 'mitre'], kind.mitre);
  if (typeof back === 'object' && back.mitre) mitre(scene, lay, [lay.start, -1, 'back-mitre'], back.mitre);
  if (kind.lap) {
    shapes.strip.push({ key: 'lap', tag: 'path', class: 'draw-seam', d: bothSides(upright(lay, x), whole) });
    endLabel(scene, x, lay, scene.say('end.lap', { length: scene.length(kind.lap.lap_width_mm) }), 'end');
  }
  if (kind.overhang) {
    shapes.strip.push({
      key: 'overhang',
      tag: 'path',
      class: 'draw-past',
      d: hatch(lay, x, x + lay.extra, whole),
    });
    endLabel(scene, x + lay.extra / 2, lay, scene.say('end.overhang', { length: scene.length(kind.overhang.overhang_mm) }), 'middle');
  }
}

/** A line across the strip, so far past its edges. @param {Lay} lay @param {number} x @param {number} [past] @returns {Point[]} */
const upright = (lay, x, past = 0) => [
  [x, lay.top - past],
  [x, lay.top + lay.width + past],
];

/**
 * The mitre's seam runs from the point on the seam line to the fold, shorter there, and back to the other seam line.
 * @param {Scene} scene @param {Lay} lay @param {[number, 1 | -1, string]} at @param {{ angle_deg: number, free_edge_shorter_mm: number }} mitre
 */
function mitre(scene, lay, [x, way, key], { angle_deg: angle, free_edge_shorter_mm: shorter }) {
  const [seam, free] = lay.body.map((y) => lay.top + y);
  /** @type {Point[]} */
  const line = [
    [x, lay.top],
    [x, seam],
    [x - way * shorter * lay.scale, free],
  ];
  if (lay.seams.length > 1) line.push([x, lay.top + lay.seams[1]], [x, lay.top + lay.width]);
  scene.shapes.strip.push({ key, tag: 'path', class: 'draw-seam', d: bothSides(line, scene.whole) });
  if (way > 0) endLabel(scene, x, lay, scene.say('end.mitre', { angle: scene.percent(angle, 1), length: scene.length(shorter) }), 'end');
}

/** @param {Lay} lay @param {number} from @param {number} to @param {boolean} whole */
function hatch(lay, from, to, whole) {
  const step = (to - from) / 8;
  let d = bothSides(upright(lay, from), whole);
  for (let x = from; x < to - step / 2; x += step) {
    d += bothSides(
      [
        [x, lay.top + lay.width],
        [x + step, lay.top],
      ],
      whole,
    );
  }
  return d;
}

/** @param {Scene} scene @param {number} x @param {Lay} lay @param {string} text @param {Anchor} anchor */
function endLabel({ labels }, x, lay, text, anchor) {
  labels.push({
    key: 'strip-end',
    at: [x, lay.top + lay.width],
    text,
    class: 'draw-strong',
    weight: 11,
    tries: [
      [0, 34, anchor],
      [0, 48, anchor],
      [0, 18, anchor],
      [0, 48, 'middle'],
      [0, 48, 'end'],
    ],
  });
}

/** @param {Scene} scene @param {Lay} lay */
function title(scene, lay) {
  const { labels, say, length } = scene;
  const { strip } = lay;
  const values = { length: length(strip.cut_length.cut_mm), width: length(strip.cut_width.cut_mm) };
  /** @type {Point} */
  const at = [lay.two && scene.whole ? -lay.cut[1] : lay.cut[0], lay.top];
  sayScale(scene, at, lay.scale);
  labels.push({
    key: 'strip-title',
    at,
    text: say(strip.pieces === 2 ? 'strip_title_two' : 'strip_title', values),
    class: 'draw-title',
    bold: true,
    weight: 12,
    must: true,
    tries: [
      [0, -28, 'start'],
      [0, -42, 'start'],
    ],
  });
}
