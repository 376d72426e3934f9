// Editing a drawn outline: pure functions on SVG path text. An outline is points joined by cubics, in mm, from the
// centre line to the neck point. Only shapes are handled here; what a line measures is the core's business.

import { PATH_SEGMENTS } from '../generated/limits.js';

/** @typedef {{ x: number, y: number }} Spot */
/** @typedef {{ c1: Spot, c2: Spot, straight: boolean }} Piece  the cubic between two neighbouring points */
/** @typedef {{ points: Spot[], pieces: Piece[] }} Outline */
/** @typedef {'in' | 'out'} Side  the handle that leads to a point, or away from it */
/** @typedef {{ name: string, relative: boolean, values: number[] }} Command */
/** @typedef {{ text: string, at: number }} Reader */
/** @typedef {Outline & { last: { kind: 'cubic' | 'quadratic', handle: Spot } | null }} Growing an outline as it is read */
/** @typedef {{ piece: number, t: number, x: number, y: number, distance: number }} Near */

/** @param {number} x @param {number} y @returns {Spot} */
const spot = (x, y) => ({ x, y });
/** @param {Spot} a @param {Spot} b @param {number} [share] */
const plus = (a, b, share = 1) => spot(a.x + b.x * share, a.y + b.y * share);
/** @param {Spot} a @param {Spot} b */
const minus = (a, b) => spot(a.x - b.x, a.y - b.y);
/** @param {Spot} a @param {Spot} b @param {number} t */
const between = (a, b, t) => spot(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t);
/** @param {Spot} a */
const size = (a) => Math.hypot(a.x, a.y);

/** @type {Record<string, number>} */
const COUNTS = { M: 2, L: 2, H: 1, V: 1, C: 6, S: 4, Q: 4, T: 2, A: 7 };
/** Longest run that is read: as many segments as the core takes, the start and a close. No hand could tell more points apart. */
const MOST_COMMANDS = PATH_SEGMENTS[1] + 2;
const NUMBER = /[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?/iy;

/**
 * Reads one open run of an SVG path; lines, quadratics and arcs become cubics.
 * @param {string} text
 * @returns {Outline | null} null where it does not read as one
 */
export function parsePath(text) {
  const commands = readCommands(plain(String(text)));
  if (commands?.[0]?.name !== 'M') return null;
  /** @type {Growing} */
  const run = { points: [], pieces: [], last: null };
  for (const command of commands) if (!follow(run, command)) return null;
  if (run.points.length < 2) return null;
  return fromCentre({ points: run.points, pieces: run.pieces });
}

/** Marks that show as nothing: directions and joiners, but no override, under which digits show in another order. */
const UNSEEN = /[\u061c\u200c-\u200f\u202a-\u202c\u2060\u2066-\u2069\ufeff]/g;
const EASTERN_DIGITS = /[\u0660-\u0669\u06f0-\u06f9]/g;

/**
 * Typeset text as the core reads it (core/src/typeset.rs), so that a path that it takes has its handles.
 * @param {string} text
 */
function plain(text) {
  return text
    .replace(UNSEEN, '')
    .replaceAll('\u200b', ' ')
    .replace(/[\uff01-\uff5e]/g, (c) => String.fromCharCode(c.charCodeAt(0) - 0xfee0))
    .replace(/[\u2010-\u2013\u2212\ufe63]/g, '-')
    .replaceAll('\u066b', '.')
    .replaceAll('\u060c', ',')
    .replaceAll('\u0085', ' ')
    .replace(EASTERN_DIGITS, (c) => String(c.charCodeAt(0) % 16));
}

/** @param {string} text */
function readCommands(text) {
  /** @type {Command[]} */
  const commands = [];
  const reader = { text, at: 0 };
  let letter = '';
  for (skip(reader); reader.at < text.length; skip(reader)) {
    if (/[a-z]/i.test(text[reader.at])) {
      letter = text[reader.at];
      reader.at += 1;
      if (!COUNTS[letter.toUpperCase()]) return null;
    } else if (!letter) return null;
    else if (letter === 'M' || letter === 'm') letter = letter === 'M' ? 'L' : 'l';
    const values = readNumbers(reader, letter.toUpperCase());
    if (!values || commands.length === MOST_COMMANDS) return null;
    commands.push({ name: letter.toUpperCase(), relative: letter !== letter.toUpperCase(), values });
  }
  return commands;
}

/** @param {Reader} reader */
const skip = (reader) => {
  while (/[\s,]/.test(reader.text[reader.at] ?? '')) reader.at += 1;
};

/** @param {Reader} reader @param {string} name */
function readNumbers(reader, name) {
  const values = [];
  for (let i = 0; i < COUNTS[name]; i += 1) {
    skip(reader);
    // An arc's two flags may stand without a space before what follows.
    const flag = name === 'A' && (i === 3 || i === 4);
    const pattern = flag ? /[01]/y : NUMBER;
    pattern.lastIndex = reader.at;
    const found = pattern.exec(reader.text);
    if (!found || !Number.isFinite(Number(found[0]))) return null;
    reader.at = pattern.lastIndex;
    values.push(Number(found[0]));
  }
  return values;
}

/** @param {Growing} run @param {Command} command */
function follow(run, { name, relative, values }) {
  const here = run.points[run.points.length - 1] ?? spot(0, 0);
  const base = relative ? here : spot(0, 0);
  /** @param {number} i */
  const at = (i) => spot(values[i] + base.x, values[i + 1] + base.y);
  const last = run.last;
  run.last = null;
  switch (name) {
    case 'M':
      if (run.points.length) return false;
      run.points.push(at(0));
      return true;
    case 'L':
      return line(run, here, at(0));
    case 'H':
      return line(run, here, spot(values[0] + base.x, here.y));
    case 'V':
      return line(run, here, spot(here.x, values[0] + base.y));
    case 'C':
      return cubic(run, at(0), at(2), at(4));
    case 'S':
      return cubic(run, last?.kind === 'cubic' ? mirrored(here, last.handle) : here, at(0), at(2));
    case 'Q':
      return quadratic(run, here, at(0), at(2));
    case 'T':
      return quadratic(run, here, last?.kind === 'quadratic' ? mirrored(here, last.handle) : here, at(0));
    default:
      return arc(run, here, values, at(5));
  }
}

/** @param {Spot} centre @param {Spot} handle */
const mirrored = (centre, handle) => plus(centre, minus(centre, handle));

/** @param {Growing} run @param {Spot} from @param {Spot} to */
function line(run, from, to) {
  run.points.push(to);
  run.pieces.push(straightPiece(from, to));
  return true;
}

/** @param {Spot} from @param {Spot} to @returns {Piece} */
const straightPiece = (from, to) => ({ c1: between(from, to, 1 / 3), c2: between(from, to, 2 / 3), straight: true });

/** @param {Growing} run @param {Spot} c1 @param {Spot} c2 @param {Spot} to */
function cubic(run, c1, c2, to) {
  run.points.push(to);
  run.pieces.push({ c1, c2, straight: false });
  run.last = { kind: 'cubic', handle: c2 };
  return true;
}

/** @param {Growing} run @param {Spot} from @param {Spot} handle @param {Spot} to */
function quadratic(run, from, handle, to) {
  cubic(run, between(from, handle, 2 / 3), between(to, handle, 2 / 3), to);
  run.last = { kind: 'quadratic', handle };
  return true;
}

/**
 * An arc of an ellipse by its ends, as the SVG recommendation's implementation notes turn it into a centre and angles.
 * @param {Growing} run @param {Spot} from @param {number[]} values @param {Spot} to
 */
function arc(run, from, [rx0, ry0, turn, large, sweep], to) {
  let [rx, ry] = [Math.abs(rx0), Math.abs(ry0)];
  if (from.x === to.x && from.y === to.y) return true;
  if (!rx || !ry) return line(run, from, to);
  const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
  const half = spot((from.x - to.x) / 2, (from.y - to.y) / 2);
  const p = spot(cos * half.x + sin * half.y, -sin * half.x + cos * half.y);
  const over = (p.x / rx) ** 2 + (p.y / ry) ** 2;
  if (over > 1) [rx, ry] = [rx * Math.sqrt(over), ry * Math.sqrt(over)];
  const rest = Math.max(0, ((rx * ry) ** 2 - (rx * p.y) ** 2 - (ry * p.x) ** 2) / ((rx * p.y) ** 2 + (ry * p.x) ** 2));
  const share = (large === sweep ? -1 : 1) * Math.sqrt(rest);
  const c = spot((share * rx * p.y) / ry, (-share * ry * p.x) / rx);
  const start = Math.atan2((p.y - c.y) / ry, (p.x - c.x) / rx);
  let swing = Math.atan2((-p.y - c.y) / ry, (-p.x - c.x) / rx) - start;
  if (sweep && swing < 0) swing += 2 * Math.PI;
  if (!sweep && swing > 0) swing -= 2 * Math.PI;
  const middle = spot((from.x + to.x) / 2, (from.y + to.y) / 2);
  /** @param {number} u @param {number} v */
  const place = (u, v) =>
    spot(middle.x + cos * (c.x + rx * u) - sin * (c.y + ry * v), middle.y + sin * (c.x + rx * u) + cos * (c.y + ry * v));
  return arcPieces(run, { start, swing, place, to });
}

/** @param {Growing} run @param {{ start: number, swing: number, place: (u: number, v: number) => Spot, to: Spot }} arc */
function arcPieces(run, { start, swing, place, to }) {
  const parts = Math.max(1, Math.ceil(Math.abs(swing) / (Math.PI / 2) - 1e-9));
  const step = swing / parts;
  const pull = (4 / 3) * Math.tan(step / 4);
  for (let i = 0; i < parts; i += 1) {
    const [a, b] = [start + i * step, start + (i + 1) * step];
    const [ca, sa, cb, sb] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b)];
    cubic(run, place(ca - pull * sa, sa + pull * ca), place(cb + pull * sb, sb - pull * cb), i === parts - 1 ? to : place(cb, sb));
  }
  run.last = null;
  return true;
}

/**
 * A path may be drawn from the neck point: it is turned round, so that the first point is the one at the centre.
 * @param {Outline} outline
 */
function fromCentre(outline) {
  const first = outline.points[0];
  const last = outline.points[outline.points.length - 1];
  return Math.abs(first.x) > 0.5 && Math.abs(last.x) <= 0.5 ? reversed(outline) : outline;
}

/** The same line run the other way. @param {Outline} outline @returns {Outline} */
export function reversed({ points, pieces }) {
  return {
    points: [...points].reverse(),
    pieces: [...pieces].reverse().map(({ c1, c2, straight }) => ({ c1: c2, c2: c1, straight })),
  };
}

/** @param {number} value */
const round = (value) => Math.round(value * 100) / 100 || 0;
/** @param {Spot} spot */
const pair = ({ x, y }) => `${round(x)} ${round(y)}`;

/** Path text rounded to 0.01 mm. @param {Outline} outline */
export function pathOf({ points, pieces }) {
  const rest = pieces.map(({ c1, c2, straight }, i) => {
    const to = pair(points[i + 1]);
    return straight ? ` L ${to}` : ` C ${pair(c1)} ${pair(c2)} ${to}`;
  });
  return `M ${pair(points[0])}${rest.join('')}`;
}

/** The place at `t` on a piece. @param {Outline} outline @param {number} i @param {number} t */
export function spotOn({ points, pieces }, i, t) {
  return split(points[i], pieces[i], points[i + 1], t).middle;
}

/**
 * De Casteljau: both halves lie exactly on the cubic they come from.
 * @param {Spot} from @param {Piece} piece @param {Spot} to @param {number} t
 */
function split(from, { c1, c2 }, to, t) {
  const [a, b, c] = [between(from, c1, t), between(c1, c2, t), between(c2, to, t)];
  const [d, e] = [between(a, b, t), between(b, c, t)];
  return { middle: between(d, e, t), before: [a, d], after: [e, c] };
}

/** A new point at `t` of piece `i`; the line keeps its shape. @param {Outline} outline @param {number} i @param {number} t @returns {Outline} */
export function inserted({ points, pieces }, i, t) {
  const piece = pieces[i];
  const { middle, before, after } = split(points[i], piece, points[i + 1], t);
  const two = piece.straight
    ? [straightPiece(points[i], middle), straightPiece(middle, points[i + 1])]
    : [
        { c1: before[0], c2: before[1], straight: false },
        { c1: after[0], c2: after[1], straight: false },
      ];
  return { points: points.toSpliced(i + 1, 0, middle), pieces: pieces.toSpliced(i, 1, ...two) };
}

/** Whether a point may go: the two ends stay. @param {Outline} outline @param {number} i */
export const canDelete = ({ points }, i) => i > 0 && i < points.length - 1;

/** Without point `i`; its neighbours keep their handles. @param {Outline} outline @param {number} i @returns {Outline} */
export function deleted(outline, i) {
  if (!canDelete(outline, i)) return outline;
  const { points, pieces } = outline;
  const [before, after] = [pieces[i - 1], pieces[i]];
  const joined =
    before.straight && after.straight ? straightPiece(points[i - 1], points[i + 1]) : { c1: before.c1, c2: after.c2, straight: false };
  return { points: points.toSpliced(i, 1), pieces: pieces.toSpliced(i - 1, 2, joined) };
}

/**
 * Point `i` moved to (x, y), its handles with it; the first stays on the centre line.
 * @param {Outline} outline @param {number} i @param {number} x @param {number} y @returns {Outline}
 */
export function moved(outline, i, x, y) {
  const from = outline.points[i];
  const to = spot(i === 0 ? 0 : x, y);
  const by = minus(to, from);
  const points = outline.points.with(i, to);
  const pieces = outline.pieces.map((piece, j) => {
    if (j !== i && j !== i - 1) return piece;
    if (piece.straight) return straightPiece(points[j], points[j + 1]);
    return j === i ? { ...piece, c1: plus(piece.c1, by) } : { ...piece, c2: plus(piece.c2, by) };
  });
  return { points, pieces };
}

/** A point's handle, or null: 'in' leads to it, 'out' away from it. @param {Outline} outline @param {number} i @param {Side} which */
export function handleOf({ pieces }, i, which) {
  const piece = which === 'in' ? pieces[i - 1] : pieces[i];
  if (!piece || piece.straight) return null;
  return which === 'in' ? piece.c2 : piece.c1;
}

/** @param {Outline} outline @param {number} i @param {Side} which @param {Spot} handle @returns {Outline} */
function withHandle(outline, i, which, handle) {
  const j = which === 'in' ? i - 1 : i;
  const piece = outline.pieces[j];
  if (!piece) return outline;
  const changed = which === 'in' ? { ...piece, c2: handle } : { ...piece, c1: handle };
  return { points: outline.points, pieces: outline.pieces.with(j, { ...changed, straight: false }) };
}

/**
 * A handle moved to (x, y). Where the point is smooth the handle across from it turns with it, its length kept.
 * @param {Outline} outline @param {number} i @param {Side} which @param {number} x @param {number} y
 */
export function handleMoved(outline, i, which, x, y) {
  const smooth = isSmooth(outline, i);
  const moved = withHandle(outline, i, which, spot(x, y));
  const other = which === 'in' ? 'out' : 'in';
  const across = handleOf(outline, i, other);
  if (!smooth || !across) return moved;
  const point = outline.points[i];
  const pull = minus(point, spot(x, y));
  if (size(pull) < 1e-6) return moved;
  return withHandle(moved, i, other, plus(point, pull, size(minus(across, point)) / size(pull)));
}

// Directions this near in line count as smooth: rounding to 0.01 mm turns a handle of a few mm by less.
const IN_LINE = Math.sin((1 * Math.PI) / 180);

/** Whether the line runs through point `i` without a corner. @param {Outline} outline @param {number} i */
export function isSmooth(outline, i) {
  const [into, out] = [direction(outline, i, 'in'), direction(outline, i, 'out')];
  if (!into || !out) return false;
  return into.x * out.x + into.y * out.y > 0 && Math.abs(into.x * out.y - into.y * out.x) < IN_LINE;
}

/**
 * The line's direction of travel on one side of a point; a handle that lies on its point gives none, the next one does.
 * @param {Outline} outline @param {number} i @param {Side} which
 */
function direction({ points, pieces }, i, which) {
  const piece = which === 'in' ? pieces[i - 1] : pieces[i];
  if (!piece) return null;
  const chain = which === 'in' ? [piece.c2, piece.c1, points[i - 1]] : [piece.c1, piece.c2, points[i + 1]];
  const far = chain.find((p) => size(minus(p, points[i])) > 1e-6);
  if (!far) return null;
  const way = which === 'in' ? minus(points[i], far) : minus(far, points[i]);
  return spot(way.x / size(way), way.y / size(way));
}

/** Point `i` made smooth: both handles in one line, their lengths kept. @param {Outline} outline @param {number} i @returns {Outline} */
export function smoothed(outline, i) {
  if (!canDelete(outline, i)) return outline;
  const [before, point, after] = [outline.points[i - 1], outline.points[i], outline.points[i + 1]];
  const [into, out] = [direction(outline, i, 'in'), direction(outline, i, 'out')];
  let way = into && out ? plus(into, out) : minus(after, before);
  if (size(way) < 1e-3) way = minus(after, before);
  if (size(way) < 1e-6) return outline;
  const unit = spot(way.x / size(way), way.y / size(way));
  const [one, two] = [reach(outline, i, 'in', before), reach(outline, i, 'out', after)];
  return withHandle(withHandle(outline, i, 'in', plus(point, unit, -one)), i, 'out', plus(point, unit, two));
}

/** @param {Outline} outline @param {number} i @param {Side} which @param {Spot} neighbour */
function reach(outline, i, which, neighbour) {
  const handle = handleOf(outline, i, which);
  const kept = handle ? size(minus(handle, outline.points[i])) : 0;
  return kept > 0.5 ? kept : size(minus(neighbour, outline.points[i])) / 3;
}

/** Point `i` made a corner: each handle turned toward its own neighbour. @param {Outline} outline @param {number} i @returns {Outline} */
export function cornered(outline, i) {
  if (!canDelete(outline, i)) return outline;
  /** @param {Side} which @param {Spot} neighbour */
  const toward = (which, neighbour) => {
    const way = minus(neighbour, outline.points[i]);
    const length = size(way);
    return length > 0 ? plus(outline.points[i], way, Math.min(1 / 3, reach(outline, i, which, neighbour) / length)) : outline.points[i];
  };
  const into = withHandle(outline, i, 'in', toward('in', outline.points[i - 1]));
  return withHandle(into, i, 'out', toward('out', outline.points[i + 1]));
}

/**
 * The place on the line nearest to (x, y).
 * @param {Outline} outline @param {number} x @param {number} y
 * @returns {Near}
 */
export function nearest(outline, x, y) {
  /** @param {number} piece @param {number} t @returns {Near} */
  const far = (piece, t) => {
    const p = spotOn(outline, piece, t);
    return { piece, t, x: p.x, y: p.y, distance: Math.hypot(p.x - x, p.y - y) };
  };
  let best = far(0, 0);
  const steps = 24;
  for (let piece = 0; piece < outline.pieces.length; piece += 1) {
    const list = Array.from({ length: steps + 1 }, (_, i) => far(piece, i / steps));
    // Each dip between the samples is followed to its bottom: the line may come near in more than one place.
    for (let i = 0; i <= steps; i += 1) {
      const least = Math.min(list[i - 1]?.distance ?? Infinity, list[i + 1]?.distance ?? Infinity);
      if (list[i].distance <= least) best = nearer(best, bottom(far, list[i], 1 / steps));
    }
  }
  return best;
}

/** @param {(piece: number, t: number) => Near} far @param {Near} start @param {number} reach */
function bottom(far, start, reach) {
  let best = start;
  for (let width = reach; width > 1e-5; width /= 2) {
    for (const sign of [-1, 1]) best = nearer(best, far(best.piece, Math.min(1, Math.max(0, best.t + sign * width))));
  }
  return best;
}

/** @param {Near} a @param {Near} b */
const nearer = (a, b) => (b.distance < a.distance ? b : a);
