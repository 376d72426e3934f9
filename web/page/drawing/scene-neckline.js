// The neckline laid flat: front below, back above, joined at the neck points, with what is marked on it.

import { HALVES, between, bothSides, closedBothSides, pathText, placeAt, toWorld } from './frame.js';
import { around } from './labels.js';
import { clipLooks, letter, lookOf, thickness } from './looks.js';
import { markNames } from './scene.js';

/** @import { HalfLine, HalfName, Outcome, Span, StayZone, StripPlan } from '../types/plan.d.ts' */
/** @import { Place, Point, Run } from './frame.js' */
/** @import { Try } from './labels.js' */
/** @import { Scene } from './scene.js' */

// Drawn length of a shoulder whose length the brief does not give, and of a mark's tick to each side, mm.
const SHOULDER_STUB = 42;
const TICK = 5;
// How far the centre line is drawn past the edge, and past a facing, mm.
const CENTRE_REACH = 26;
const CENTRE_PAST = 8;
/** @type {Try[]} */
const SHOULDER_TRIES = [
  [6, 5, 'start'],
  [6, 20, 'start'],
  [-4, 18, 'middle'],
  [-10, 30, 'middle'],
  [6, -10, 'start'],
  ...around(14, 26, 40),
];
const AROUND_CENTRE = around(8, 16, 30);
const AROUND_MARK = around(12, 20, 28);
const AROUND_STAY = around(14, 24);
// Where across a drawn strip text would stand on its pattern, as shares of its width.
const RIBBON_INK = [0.35, 0.75];
// Where along a line its name may stand, as shares of its points.
const ALONG = [0.42, 0.55, 0.18, 0.68, 0.8];

/** Adds the neckline to a scene, and what names it later. @param {Scene} scene */
export function necklineScene(scene) {
  const { plan } = scene;
  for (const name of HALVES) halfLines(scene, name, plan.seam_line[name]);
  shoulders(scene);
  centreLine(scene);
  if (plan.strip) spansAndMarks(scene, plan.strip);
  boundStitching(scene);
  stays(scene);
  clips(scene);
  scene.later.push(() => lineLabels(scene));
}

/** @param {Scene} scene @param {HalfName} name @param {Point[]} points */
const world = (scene, name, points) => points.map((p) => toWorld(scene.ways[name], p));

/** @param {Scene} scene @param {HalfName} name @param {HalfLine} half */
function halfLines(scene, name, half) {
  const { shapes, whole, boxes, plan } = scene;
  const cut = world(scene, name, half.cut_edge);
  const seam = world(scene, name, half.seam_line);
  boxes.neckline.addAll(cut, whole);
  boxes.neckline.addAll(seam, whole);
  scene.ink.push({ points: cut, both: whole }, { points: seam, both: whole });
  shapes.lines.push(
    { key: `${name}-cut`, tag: 'path', class: 'draw-cut', d: bothSides(cut, whole) },
    { key: `${name}-seam`, tag: 'path', class: plan.strip?.stitch_line ? 'draw-finished' : 'draw-seam', d: bothSides(seam, whole) },
  );
}

/** @param {Scene} scene */
function shoulders(scene) {
  const { plan, brief, shapes, whole, boxes, later, labels, say } = scene;
  const size = brief.stays?.shoulder_length_mm ?? SHOULDER_STUB;
  for (const name of HALVES) {
    const half = plan.seam_line[name];
    const from = half.seam_line[half.seam_line.length - 1];
    const [dx, dy] = half.shoulder_direction;
    /** @type {Point} */
    const to = [from[0] + dx * size, from[1] + dy * size];
    const line = world(scene, name, [from, to]);
    boxes.neckline.addAll(line, whole);
    scene.ink.push({ points: line, both: whole });
    shapes.lines.push({ key: `${name}-shoulder`, tag: 'path', class: 'draw-shoulder', d: bothSides(line, whole) });
    later.push(() =>
      labels.push({
        key: `${name}-shoulder`,
        at: line[1],
        text: say(`shoulder_${name}`),
        class: 'draw-quiet',
        weight: 2,
        tries:
          name === 'front'
            ? [
                [-4, 16, 'middle'],
                [4, 12, 'start'],
                [4, 28, 'start'],
                [-4, 32, 'middle'],
              ]
            : [
                [-4, -8, 'middle'],
                [4, -4, 'start'],
                [4, -18, 'start'],
                [-4, -22, 'middle'],
              ],
      }),
    );
  }
}

/**
 * The centre: a fold is drawn long and short, a seam as a seam line. Between the halves it only guides the eye.
 * @param {Scene} scene
 */
function centreLine(scene) {
  const { plan, brief, shapes, whole, later, labels, say, ways, boxes } = scene;
  const ends = { front: 0, back: 0 };
  for (const name of HALVES) {
    const start = plan.seam_line[name].seam_line[0];
    const [, y] = toWorld(ways[name], start);
    ends[name] = y;
    // Past a facing, whose fold it is too.
    const outer = plan.facing?.[name].outer_line[0];
    const far = outer ? Math.abs(toWorld(ways[name], outer)[1] - y) + CENTRE_PAST : 0;
    const reach = Math.max(CENTRE_REACH, far);
    const out = y + (name === 'front' ? reach : -reach);
    /** @type {Point[]} */
    const line = [
      [0, y],
      [0, out],
    ];
    scene.ink.push({ points: line, both: false });
    boxes.neckline.add(0, out);
    const seam = typeof brief.neckline?.[name]?.centre === 'object';
    shapes.lines.push({
      key: `${name}-centre`,
      tag: 'path',
      class: seam ? 'draw-seam' : 'draw-fold',
      d: pathText(line),
    });
    later.push(() => {
      const text = say(`centre_${name}_${seam ? 'seam' : 'fold'}`);
      /** @type {Try[]} */
      const down =
        name === 'front'
          ? [[7, 2, 'start'], [0, 18, 'middle'], [7, 16, 'start'], [-7, 2, 'end'], [-7, 16, 'end'], [0, 32, 'middle'], ...AROUND_CENTRE]
          : [[7, 6, 'start'], [0, -10, 'middle'], [7, -8, 'start'], [-7, 6, 'end'], [-7, -8, 'end'], [0, -24, 'middle'], ...AROUND_CENTRE];
      labels.push({
        key: `${name}-centre`,
        at: [0, out],
        text,
        short: say(`place_short.centre_${name}`),
        class: 'draw-strong',
        weight: 8,
        must: true,
        tries: down,
      });
    });
  }
  if (whole) return;
  /** @type {Point[]} */
  const line = [
    [0, ends.back],
    [0, ends.front],
  ];
  scene.ink.push({ points: line, both: false });
  shapes.lines.push({ key: 'centre', tag: 'path', class: 'draw-guide', d: pathText(line) });
}

/**
 * Where the strip lies when sewn: a stroke twice its width along the seam line, of which only the strip's own side is
 * let through. The stroke takes care of corners, and no outline has to be worked out here.
 * @param {Scene} scene @param {StripPlan} strip
 */
function spansAndMarks(scene, strip) {
  const { plan, sewn, shapes, whole, later, prefix } = scene;
  // A band and a bound edge reach from where they are sewn toward the opening; a facing strip lies on the garment.
  const inward = plan.finish.side !== 'inside';
  const { width_mm: width } = plan.finish;
  later.push(() => {
    for (const share of RIBBON_INK) scene.ink.push({ points: beside(sewn.points, share * width * (inward ? -1 : 1)), both: whole });
  });
  scene.clip = clipPath(sewn, inward);
  for (const [i, span] of strip.spans.entries()) {
    const [from, to] = [strip.marks[i].on_seam_line_mm, strip.marks[i + 1].on_seam_line_mm];
    const along = between(sewn, from, to);
    const d = bothSides(along, whole);
    shapes.ribbon.push({
      key: `ribbon-${i}`,
      tag: 'path',
      class: 'draw-ribbon',
      d,
      'stroke-width': width * 2,
      stroke: `url(#${prefix}-span-${lookOf(i)})`,
    });
    shapes.strain.push({
      key: `strain-${i}`,
      tag: 'path',
      class: `draw-strain draw-${span.outcome}`,
      d,
      'stroke-width': thickness(span.seam_edge_percent, strip.comfort_percent),
    });
    later.push(() => chips(scene, span, i, placeAt(sewn, (from + to) / 2), inward));
  }
  markTicks(scene, strip, inward);
}

/**
 * A line kept at a distance, toward the garment, roughly: where text must not stand needs no more.
 * @param {Point[]} points @param {number} far @returns {Point[]}
 */
function beside(points, far) {
  return points.map(([x, y], i) => {
    const [[ax, ay], [bx, by]] = [points[Math.max(0, i - 1)], points[Math.min(points.length - 1, i + 1)]];
    const [dx, dy] = [bx - ax, by - ay];
    const size = Math.hypot(dx, dy) || 1;
    return [x + (dy / size) * far, y - (dx / size) * far];
  });
}

/**
 * The strip's own side of the line it is sewn on: inside the opening for a band, outside it for a facing strip.
 * @param {Run} run @param {boolean} inward
 */
function clipPath(run, inward) {
  const last = run.points[run.points.length - 1];
  // Down the centre line and back along each side.
  const opening = bothSides([[0, run.points[0][1]], ...run.points, [0, last[1]]], true, 'Z');
  return inward ? opening : `M-3000 -3000H3000V3000H-3000Z${opening}`;
}

/** @param {Place} place @returns {Point} */
function outwardOf({ along: [dx, dy] }) {
  // Travelling from centre back round to centre front, the garment lies to the left hand on the drawing.
  return [dy, -dx];
}

/** @param {Scene} scene @param {Span} span @param {number} i @param {Place} place @param {boolean} inward */
function chips(scene, span, i, place, inward) {
  const { labels, whole, percent } = scene;
  const [nx, ny] = outwardOf(place);
  const sign = inward ? 1 : -1;
  for (const side of whole ? [1, -1] : [1]) {
    /** @type {Try[]} */
    const tries = [18, 30, -20, 42].map((d) => [nx * d * sign * side, ny * d * sign + 4, 'middle']);
    labels.push({
      key: `chip-${i}-${side}`,
      at: [place.point[0] * side, place.point[1]],
      text: letter(i),
      chip: true,
      look: lookOf(i),
      bold: true,
      weight: 20,
      must: true,
      tries,
    });
  }
  labels.push({
    key: `stretch-${i}`,
    at: place.point,
    text: `${outcomeSign(span.outcome)} +${percent(span.seam_edge_percent)} %`,
    class: 'draw-quiet',
    weight: 3,
    tries: [
      [nx * 32 * sign, ny * 30 * sign + 4, nx * sign >= 0 ? 'start' : 'end'],
      [nx * 44 * sign, ny * 40 * sign + 4, 'middle'],
    ],
  });
}

/** A sign beside a span, so that the outcome is told without colour. @param {Outcome} outcome */
export const outcomeSign = (outcome) => ({ lies_flat: '✓', ripples: '≈', stands: '∠', gapes: '△', pulls_in: '!' })[outcome];

/** @param {Scene} scene @param {StripPlan} strip @param {boolean} inward */
function markTicks(scene, strip, inward) {
  const { sewn, shapes, whole, later } = scene;
  let d = '';
  for (const mark of strip.marks) {
    const place = placeAt(sewn, mark.on_seam_line_mm);
    const [nx, ny] = outwardOf(place);
    const [x, y] = place.point;
    /** @type {Point[]} */
    const tick = [
      [x + nx * TICK, y + ny * TICK],
      [x - nx * TICK, y - ny * TICK],
    ];
    scene.ink.push({ points: tick, both: whole });
    d += bothSides(tick, whole);
  }
  shapes.marks.push({ key: 'marks', tag: 'path', class: 'draw-mark', d });
  later.push(() => markLabels(scene, strip, inward));
}

/** @param {Scene} scene @param {StripPlan} strip @param {boolean} inward */
function markLabels(scene, strip, inward) {
  const { sewn, labels, say } = scene;
  const names = markNames(strip, say);
  const sign = inward ? 1 : -1;
  for (const [i, mark] of strip.marks.entries()) {
    if (mark.place === 'centre_back' || mark.place === 'centre_front') continue;
    const place = placeAt(sewn, mark.on_seam_line_mm);
    const [nx, ny] = outwardOf(place);
    if (mark.place === 'neck_point') {
      neckLabel(scene, place.point, widthOf(scene));
      continue;
    }
    labels.push({
      key: `mark-${i}`,
      at: place.point,
      text: names[i].short,
      class: 'draw-strong',
      weight: 7,
      tries: [
        [nx * 12 * sign, ny * 12 * sign + 4, nx * sign > 0.3 ? 'start' : nx * sign < -0.3 ? 'end' : 'middle'],
        [nx * 20 * sign, ny * 24 * sign + 4, 'middle'],
        [-nx * 14 * sign, -ny * 14 * sign + 4, nx * sign > 0.3 ? 'end' : 'start'],
        ...AROUND_MARK,
      ],
    });
  }
}

/**
 * Beyond what is drawn inside the opening, or else outside it.
 * @param {Scene} scene @param {Point} at @param {number} inset
 */
function neckLabel({ labels, say }, [x, y], inset) {
  labels.push({
    key: 'neck',
    at: [x - inset, y],
    text: say('neck_label'),
    short: say('place_short.neck_point'),
    class: 'draw-strong',
    weight: 7,
    tries: [
      [-8, 4, 'end'],
      [-8, 18, 'end'],
      [-8, -10, 'end'],
      [-16, 30, 'end'],
      [-24, 4, 'end'],
      [-34, 14, 'end'],
    ],
  });
}

/**
 * How far into the opening the strip or the allowance is drawn, mm.
 * @param {Scene} scene
 */
function widthOf({ plan: { finish }, brief }) {
  return Math.max(finish.side === 'inside' ? 0 : finish.width_mm, brief.neckline?.neckline_allowance_mm ?? 0);
}

/** @param {Scene} scene */
function boundStitching(scene) {
  const line = scene.plan.strip?.stitch_line;
  if (!line) return;
  for (const name of HALVES) {
    if (!line[name].length) continue;
    const points = world(scene, name, line[name]);
    scene.ink.push({ points, both: scene.whole });
    scene.shapes.lines.push({ key: `${name}-stitch`, tag: 'path', class: 'draw-seam', d: bothSides(points, scene.whole) });
  }
}

/** @param {Scene} scene */
function stays(scene) {
  const { plan, shapes, whole, later, labels, say } = scene;
  for (const [i, zone] of plan.stays.zones.entries()) {
    const name = zone.part === 'back_neckline' || zone.part === 'centre_back_seam' ? 'back' : 'front';
    const line = zone.line.length ? world(scene, name, longer(zone.line)) : shoulderLine(scene, zone);
    if (!line) continue;
    // A tape on the neckline as it is laid; on a shoulder only where it is.
    const tape = world(scene, name, zone.outline);
    scene.ink.push({ points: tape.length ? tape : line, both: whole });
    shapes.stays.push(
      tape.length
        ? { key: `stay-${i}`, tag: 'path', class: 'draw-stay-tape', d: closedBothSides(tape, whole) }
        : { key: `stay-${i}`, tag: 'path', class: 'draw-stay', d: bothSides(line, whole) },
    );
    scene.boxes.neckline.addAll(tape.length ? tape : line, whole);
    later.push(() => {
      const text = zone.name ? say('stay_named', { number: i + 1, name: zone.name }) : say('stay', { number: i + 1 });
      const shoulder = zone.part === 'shoulders';
      labels.push({
        key: `stay-${i}`,
        at: line[shoulder ? line.length - 1 : Math.floor((line.length - 1) * 0.6)],
        also: shoulder ? [] : alongLine(line),
        text,
        class: 'draw-stay-text',
        weight: 6,
        tries: shoulder
          ? SHOULDER_TRIES
          : [
              [12, 16, 'start'],
              [12, -8, 'start'],
              [24, 4, 'start'],
              [-12, 18, 'end'],
              [-12, -8, 'end'],
              [30, 26, 'start'],
              [0, 30, 'middle'],
              ...AROUND_STAY,
            ],
      });
    });
  }
}

/** @param {Point[]} points */
const alongLine = (points) => ALONG.map((share) => points[Math.round((points.length - 1) * share)]);

/**
 * A point that is stayed has no length of its own: a short bar stands for it.
 * @param {Point[]} line @returns {Point[]}
 */
const longer = (line) =>
  line.length > 1
    ? line
    : [
        [line[0][0] - 4, line[0][1]],
        [line[0][0] + 4, line[0][1]],
      ];

/** @param {Scene} scene @param {StayZone} zone */
function shoulderLine(scene, zone) {
  if (zone.part !== 'shoulders') return null;
  const half = scene.plan.seam_line.front;
  const from = half.seam_line[half.seam_line.length - 1];
  const [dx, dy] = half.shoulder_direction;
  const size = scene.brief.stays?.shoulder_length_mm ?? SHOULDER_STUB;
  return world(scene, 'front', [from, [from[0] + dx * size * 0.5, from[1] + dy * size * 0.5], [from[0] + dx * size, from[1] + dy * size]]);
}

/** @param {Scene} scene */
function clips(scene) {
  const { plan, shapes, whole } = scene;
  if (!plan.clips) return;
  for (const [key, look, lines] of clipLooks(plan.clips.lines)) {
    let d = '';
    for (const { half, from, to } of lines) {
      const points = world(scene, half, [from, to]);
      scene.ink.push({ points, both: whole });
      d += bothSides(points, whole);
    }
    shapes.clips.push({ key, tag: 'path', class: look, d });
  }
  for (const name of HALVES) {
    const trimmed = plan.clips[`trimmed_${name}`];
    if (trimmed)
      shapes.clips.push({ key: `${name}-trimmed`, tag: 'path', class: 'draw-trim', d: bothSides(world(scene, name, trimmed), whole) });
  }
}

/** @param {Scene} scene */
function lineLabels(scene) {
  const { plan, labels, say, length, ways } = scene;
  const front = plan.seam_line.front;
  /** @param {Point[]} points */
  const along = (points) => [0.3, ...ALONG].map((share) => toWorld(ways.front, points[Math.round((points.length - 1) * share)]));
  const [cut, ...cutAlso] = along(front.cut_edge);
  const [seam, ...seamAlso] = along(front.seam_line);
  const trimmed = plan.strip?.trim_mm;
  // Beyond a facing's edge it would name that.
  /** @type {Try[]} */
  const farther = plan.facing
    ? []
    : [
        [14, 30, 'start'],
        [30, 18, 'start'],
        [44, 34, 'start'],
      ];
  labels.push(
    {
      key: 'cut-edge',
      at: cut,
      also: cutAlso,
      text: trimmed ? say('trim', { length: length(trimmed) }) : say('line.cut_edge'),
      short: trimmed ? say('line.cut_edge') : undefined,
      class: 'draw-cut-text',
      weight: 5,
      tries: [
        [-8, -8, 'end'],
        [-26, -14, 'end'],
        [-10, -24, 'end'],
        [-8, 4, 'end'],
        [-18, 4, 'end'],
      ],
    },
    {
      key: 'seam-line',
      at: seam,
      also: seamAlso,
      text: say(plan.strip?.stitch_line ? 'line.finished_edge' : 'line.seam_line'),
      class: plan.strip?.stitch_line ? 'draw-strong' : 'draw-seam-text',
      weight: 5,
      tries: [[8, 18, 'start'], [16, 8, 'start'], ...farther],
    },
  );
  if (!plan.strip) neckLabel(scene, toWorld(ways.front, front.seam_line[front.seam_line.length - 1]), widthOf(scene));
}
