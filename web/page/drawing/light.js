// A reading shows itself: the line it measures is lit in the drawing, with its name and figure. What is read of a knit is lit on
// a swatch beside it (swatch.js).

import { setApart } from '../common/foreign-text.js';
import { fullName } from '../form/names.js';
import { FIELDS } from '../form/fields.js';
import { valuesOf } from '../form/values.js';
import { rulerOf } from './frame-marks.js';
import { HALVES, between, box, pathText, placeAt, toWorld } from './frame.js';
import { knownLine } from './handles.js';
import { around } from './labels.js';
import { element, setText } from './nodes.js';
import { swatch } from './swatch.js';

/** @import { Field } from '../form/fields.js' */
/** @import { FormValue, FormValues } from '../form/values.js' */
/** @import { HalfName, StripPlan } from '../types/plan.d.ts' */
/** @import { Point, Run } from './frame.js' */
/** @import { Said, Scene } from './scene.js' */
/** @import { Lay } from './scene-strip.js' */
/** @import { Area } from './view.js' */
/** @import { Unit } from '../plan/reckoner.js' */

/** A line nearer than this to nothing on the screen is shown enlarged, and a stage lower than this shows what is near alone, px. */
const [SHORT, LOW] = [14, 300];
/** What is shown around a line that is enlarged: so much of its own size, but mm at least. */
const [AROUND, AROUND_LEAST] = [0.25, 14];
/** Where along half the round, from centre back, a width across the line is shown: in front, clear of centre and neck point. */
const ACROSS = 0.72;
/** How far along the shoulder its allowance and its slope are shown, mm. */
const SHOULDER = 42;
const PERCENT = { percent: ' %', deg: '°' };

/** @typedef {{ lines: Point[][], guides?: Point[][], isSpan?: boolean }} Lit what is lit, mm of the drawing; a span has its ends marked */
/** @typedef {{ scene: Scene, name: string, value: FormValue, values: FormValues }} Asked a field by its name in its half, finish or knit */
/** @typedef {{ area: Area | undefined, head: number }} Shown what a low stage is to show, and how much of its height the caption takes, px */

/**
 * Lights the reading at a path of a brief in a scene; with no path, or one that no reading has, nothing is lit.
 * @param {Scene} scene @param {HTMLElement} stage @param {string} path
 * @returns {Shown | undefined}
 */
export function lightUp(scene, stage, path) {
  for (const old of stage.querySelectorAll('.draw-caption, .draw-aside')) old.remove();
  const field = FIELDS.find(({ paths }) => paths.includes(path));
  if (!field) return undefined;
  const { words, unit } = scene;
  const values = valuesOf(scene.brief);
  const value = values[field.key];
  const figure = figureOf(field, value, words, unit);
  const caption = element('p', 'draw-caption');
  caption.setAttribute('aria-hidden', 'true');
  setText(caption, fullName(field, /** @type {any} */ (words), values) + words.t('list.inside') + figure);
  const half = HALVES.find((name) => name === field.half);
  const name = field.key.slice(field.key.lastIndexOf('.') + 1);
  const asked = { scene, name, value, values };
  const isOfKnit = field.knit !== undefined || field.key.startsWith('asks.');
  const lit = isOfKnit ? undefined : half ? ofHalf(asked, half) : ofWhole(asked, field.key);
  if (!isOfKnit && !lit) return undefined;
  stage.append(caption);
  caption.style.top = `${rulerOf({ width: stage.clientWidth }) + 6}px`;
  const head = caption.offsetTop + caption.offsetHeight;
  if (isOfKnit) stage.append(swatch({ field, values, words, room: [stage.clientWidth, stage.clientHeight - head] }));
  const { offsetLeft: x0, offsetTop: y0, offsetWidth, offsetHeight } = caption;
  scene.taken.push({ x0, y0, x1: x0 + offsetWidth, y1: y0 + offsetHeight });
  return { area: lit && shine(scene, lit, field.kind === 'choice' ? '' : figure, stage), head };
}

/** A value as it is told. @param {Field} field @param {FormValue} value @param {Said} words @param {Unit} unit */
function figureOf({ kind, unit: counted = '', words: key }, value, words, unit) {
  if (value === null || value === undefined || value === '') return words.t('light.not_told');
  if (kind === 'choice') return words.t(`${key}.options.${value}`);
  if (typeof value !== 'number') return key === 'field.path' ? words.t('light.as_drawn') : setApart(String(value));
  if (kind === 'length') return words.length(value, counted === 'mm' ? 'mm' : unit, { suffix: true });
  return words.number(value, { digits: 2 }) + (PERCENT[/** @type {keyof typeof PERCENT} */ (counted)] ?? '');
}

/**
 * Draws what is lit; gives what a low stage is to show of the drawing, or any stage where the line would hardly be seen.
 * @param {Scene} scene @param {Lit} lit @param {string} figure @param {HTMLElement} stage
 */
function shine(scene, { lines, guides = [], isSpan = false }, figure, stage) {
  const d = lines.map((line) => pathText(line)).join('');
  const ends = isSpan ? [lines[0][0], lines[0][lines[0].length - 1]] : [];
  scene.shapes.light.push(
    { key: 'guides', tag: 'path', class: 'draw-lit-guide', d: guides.map((line) => pathText(line)).join('') || 'M0 0' },
    { key: 'halo', tag: 'path', class: 'draw-lit-halo', d },
    { key: 'lit', tag: 'path', class: 'draw-lit', d },
    // A dot is a line of no length with round ends.
    { key: 'ends', tag: 'path', class: 'draw-lit-ends', d: ends.map((end) => `${pathText([end])}h.01`).join('') || 'M0 0' },
  );
  const longest = lines.reduce((one, other) => (other.length > one.length ? other : one));
  const [from, to] = [longest[0], longest[longest.length - 1]];
  /** @type {Point} */
  const middle = longest.length > 2 ? longest[longest.length >> 1] : [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  if (figure)
    scene.labels.push({
      key: 'lit',
      at: middle,
      also: [from, to],
      text: figure,
      class: 'draw-lit-text',
      bold: true,
      must: true,
      weight: 40,
      tries: around(10, 18, 30),
    });
  const near = box();
  for (const line of [...lines, ...guides]) near.addAll(line, false);
  const [wide, high] = [near.x1 - near.x0, near.y1 - near.y0];
  const more = Math.max(AROUND_LEAST, AROUND * Math.max(wide, high));
  const { all } = scene.boxes;
  const isShort = (Math.hypot(wide, high) * scene.room) / (all.x1 - all.x0) < SHORT;
  if (!isShort && stage.clientHeight >= LOW) return undefined;
  return { x0: near.x0 - more, y0: near.y0 - more, x1: near.x1 + more, y1: near.y1 + more };
}

/** What a reading of a half is read along. @param {Asked} asked @param {HalfName} half @returns {Lit} */
function ofHalf({ scene, name, value, values }, half) {
  const { brief, plan, ways } = scene;
  /** @param {Point[]} points */
  const placed = (points) => points.map((point) => toWorld(ways[half], point));
  const line = knownLine(brief, plan, half);
  const [centre, neck] = [line[0], line[line.length - 1]];
  const whole = { lines: [placed(line)] };
  /** @type {Point} */
  const corner = [neck[0], centre[1]];
  const size = typeof value === 'number' ? value : 0;
  /** @type {Point} of the centre, level with the neck point */
  const level = [centre[0], neck[1]];
  switch (name) {
    case 'half_length':
      return { ...whole, isSpan: true };
    case 'depth':
      return { lines: [placed([level, centre])], guides: [placed([level, neck])], isSpan: true };
    case 'half_width':
      return { lines: [placed([level, neck])], guides: [placed([level, centre])], isSpan: true };
    case 'corner_radius': {
      // A sharp corner has no radius: the corner itself.
      if (!size)
        return {
          lines: [placed([[corner[0] - SHOULDER / 2, corner[1]], corner, [corner[0], corner[1] - SHOULDER / 2]])],
        };
      const middle = size * (1 - Math.SQRT1_2);
      /** @type {Point[]} */
      const radius = [
        [corner[0] - size, corner[1] - size],
        [corner[0] - middle, corner[1] - middle],
      ];
      return { lines: [placed(radius)], guides: [placed(line)], isSpan: true };
    }
    case 'roundness':
      return { ...whole, guides: [placed([centre, corner, neck])] };
    case 'leg_hollow':
      return { ...whole, guides: [placed([centre, neck])] };
    case 'centre':
    case 'centre_allowance':
      return centreOf(scene, half, values);
    case 'shoulder_allowance':
    case 'shoulder_slope':
      return shoulderOf(scene, half, name === 'shoulder_slope' ? undefined : size);
    default:
      return whole;
  }
}

/** The centre, or a seam's allowance beside it. @param {Scene} scene @param {HalfName} half @param {FormValues} values @returns {Lit} */
function centreOf({ plan, ways }, half, values) {
  const [x, y] = toWorld(ways[half], plan.seam_line[half].seam_line[0]);
  const { up } = ways[half];
  const allowance = values[`${half}.centre`] === 'seam' ? Number(values[`${half}.centre_allowance`] ?? 0) : 0;
  /** @param {number} off @returns {Point[]} */
  const upright = (off) => [
    [x - off, y],
    [x - off, y + 26 * up],
  ];
  if (!allowance) return { lines: [upright(0)] };
  const across = y + 13 * up;
  /** @type {Point[]} */
  const span = [
    [x, across],
    [x - allowance, across],
  ];
  return { lines: [span], guides: [upright(0), upright(allowance)], isSpan: true };
}

/** A shoulder's allowance, or without one its slope. @param {Scene} scene @param {HalfName} half @param {number} [allowance] @returns {Lit} */
function shoulderOf({ plan, ways }, half, allowance) {
  const { seam_line, shoulder_direction } = plan.seam_line[half];
  const [x, y] = seam_line[seam_line.length - 1];
  const [dx, dy] = shoulder_direction;
  /** @param {number} along @param {number} [off] @returns {Point} */
  const at = (along, off = 0) => toWorld(ways[half], [x + along * dx + off * dy, y + along * dy - off * dx]);
  if (allowance !== undefined) {
    const guides = [0, allowance].map((off) => [at(0, off), at(SHOULDER, off)]);
    return { lines: [[at(SHOULDER / 2), at(SHOULDER / 2, allowance)]], guides, isSpan: true };
  }
  const level = toWorld(ways[half], [x + SHOULDER, y]);
  return { lines: [[at(0), at(SHOULDER)]], guides: [[at(0), level]] };
}

/** What is read of the neckline or of its finish. @param {Asked} asked @param {string} key of the field @returns {Lit | undefined} */
function ofWhole({ scene, name, value }, key) {
  const { brief, plan, ways } = scene;
  const size = typeof value === 'number' ? value : 0;
  if (key === 'readings_at')
    return { lines: HALVES.map((half) => knownLine(brief, plan, half).map((point) => toWorld(ways[half], point))) };
  if (key === 'neckline_allowance') return across(scene.run, 0, -size);
  const { finish, strip, facing } = plan;
  const isOfFinish = key === 'finish' || key.startsWith('strip') || key.startsWith(`${finish.kind}.`);
  if (!isOfFinish) return undefined;
  if (name === 'width') return across(scene.sewn, 0, finish.side === 'inside' ? size : -size);
  if (name === 'understitch') return across(scene.sewn, facing?.favour_mm ?? 0, size);
  if (name === 'topstitch') return across(scene.sewn, 0, size);
  if (name === 'edge_allowance') return across(scene.sewn, finish.width_mm, size);
  if (strip && scene.lay) return ofStrip(scene.lay, strip, name, size);
  return { lines: HALVES.map((half) => (facing?.[half].outer_line ?? []).map((point) => toWorld(ways[half], point))) };
}

/** A width across a line: from so far off it, toward the garment, so much further. @param {Run} run @param {number} from @param {number} width @returns {Lit} */
function across(run, from, width) {
  const length = run.at[run.at.length - 1];
  const { point, along } = placeAt(run, length * ACROSS);
  /** @param {number} off @returns {Point} */
  const at = (off) => [point[0] + along[1] * off, point[1] - along[0] * off];
  return {
    lines: [[at(from), at(from + width)]],
    guides: [between(run, length * (ACROSS - 0.15), length * (ACROSS + 0.15))],
    isSpan: true,
  };
}

/** What is read of the strip, where it lies flat beneath the neckline. @param {Lay} lay @param {StripPlan} strip @param {string} name @param {number} size @returns {Lit} */
function ofStrip(lay, strip, name, size) {
  const { top, scale } = lay;
  const [x0, x1] = lay.cut;
  const foot = top + lay.width;
  /** @param {number} y @returns {Point[]} */
  const level = (y) => [
    [x0, top + y],
    [x1, top + y],
  ];
  /** @type {Point[]} */
  const outline = [
    [x0, top],
    [x1, top],
    [x1, foot],
    [x0, foot],
    [x0, top],
  ];
  const middle = top + lay.width / 2;
  if (name === 'join_allowance') {
    const end = lay.ring && lay.cut[0] === -lay.extra ? 0 : x1 - lay.extra;
    const way = end ? 1 : -1;
    /** @type {Point[]} */
    const span = [
      [end, middle],
      [end + way * size * scale, middle],
    ];
    return { lines: [span], isSpan: true };
  }
  if (name === 'ratio') {
    /** @type {Point[]} */
    const sewn = [strip.marks[0], strip.marks[strip.marks.length - 1]].map(({ on_strip_mm }) => [
      lay.place(on_strip_mm),
      top + lay.seams[0],
    ]);
    return { lines: [sewn], isSpan: true };
  }
  if (name === 'turn_under') {
    const x = x0 + 0.6 * (x1 - x0);
    /** @type {Point[]} */
    const span = [
      [x, foot - size * scale],
      [x, foot],
    ];
    return { lines: [span], isSpan: true };
  }
  if (name === 'layers') return { lines: [level(lay.folds[0] ?? lay.width)] };
  if (name === 'point')
    return {
      lines: [
        [
          [x1, top],
          [x1, foot],
        ],
      ],
    };
  return { lines: [outline] };
}
