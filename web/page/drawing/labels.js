// Text keeps its size at any zoom, so it is placed on the stage each time the view changes: the first free place of
// each label's list, the weightier labels first; a light one that finds none is left out.

/** @import { Point } from './frame.js' */
/** @import { Area, Size } from './view.js' */

const LINE = 15; // px of one line of text
const BARE = 1e6; // worse than any place on the stage
const GUESS = 7; // px of a letter, where a browser draws no canvas
/** @typedef {'start' | 'middle' | 'end'} Anchor */
/** @typedef {[dx: number, dy: number, anchor: Anchor]} Try px from the label's place, at the usual text size, with the text's anchor */
/**
 * @typedef {object} Label
 * @property {string} key
 * @property {Point} at mm
 * @property {Point[]} [also] other places, mm
 * @property {string} text
 * @property {string} [class]
 * @property {number} weight
 * @property {Try[]} tries from `at`, or else from one of `also`
 * @property {string} [short] the text where there is no room for the whole
 * @property {boolean} [bold]
 * @property {boolean} [must] goes where it covers least, where no place is free
 * @property {boolean} [chip] a span's letter, with a plate of its own
 * @property {number} [look] which of the looks a chip has
 */
/** @typedef {{ label: Label, text: string, x: number, y: number, anchor: Anchor, width: number, isStruck: boolean }} Placed */
/** @typedef {Size & { left: number, top: number, textScale: number, taken?: Area[], ink?: { under(area: Area): number } }} Stage */
/** @typedef {ReturnType<typeof spotAt> & { text: string, lines: number, worth: number }} Spot */

/** @type {Map<string, number>} */
const widths = new Map();
/** @type {CanvasRenderingContext2D | null | undefined} */
let pen;

/**
 * Canvas measures text without laying the page out. A typical font is close enough to keep labels apart.
 * @param {string} text @param {boolean} bold
 */
function widthOf(text, bold) {
  const key = (bold ? 'b' : 'n') + text;
  let width = widths.get(key);
  if (width === undefined) {
    pen ??= document.createElement('canvas').getContext('2d');
    if (!pen) return text.length * GUESS;
    pen.font = `${bold ? '600 ' : ''}12px system-ui, sans-serif`;
    width = pen.measureText(text).width;
    if (widths.size > 2000) widths.clear();
    widths.set(key, width);
  }
  return width;
}

/** Places to try around a point, nearest first. @param {number[]} distances px @returns {Try[]} */
export const around = (...distances) =>
  distances.flatMap((d) => [
    [d, 4, 'start'],
    [-d, 4, 'end'],
    [0, d + 8, 'middle'],
    [0, -d, 'middle'],
    [d, d + 6, 'start'],
    [d, 2 - d, 'start'],
    [-d, d + 6, 'end'],
    [-d, 2 - d, 'end'],
  ]);

/**
 * Where each label goes: clear of other text, of handles, and of lines.
 * @param {Label[]} labels
 * @param {(point: Point) => Point} toStage
 * @param {Stage} stage
 *   `taken`: areas to leave free; `ink`: where lines run; `textScale`: the reader's text size over the usual
 */
export function placeLabels(labels, toStage, stage) {
  const taken = [...(stage.taken ?? [])];
  /** @type {Placed[]} */
  const placed = [];
  for (const label of [...labels].sort((a, b) => b.weight - a.weight)) {
    const spot = best(label, toStage, taken, stage);
    if (!spot) continue;
    taken.push(spot.area);
    placed.push({ label, text: spot.text, x: spot.x, y: spot.y, anchor: spot.anchor, width: spot.width, isStruck: spot.lines > 0 });
  }
  return placed;
}

/**
 * The whole text where there is room for it, else the short one; what must be seen goes where it covers least.
 * @param {Label} label @param {(point: Point) => Point} toStage @param {Area[]} taken @param {Stage} stage
 * @returns {Spot | null}
 */
function best(label, toStage, taken, stage) {
  const places = [label.at, ...(label.also ?? [])].map(toStage).filter((place) => isNear(place, stage));
  /** @type {Spot | null} */
  let least = null;
  for (const text of label.short ? [label.text, label.short] : [label.text]) {
    const width = widthOf(text, isBold(label)) * stage.textScale + (label.chip ? 10 : 0);
    for (const [x, y] of places) {
      for (const [dx, dy, anchor] of label.tries) {
        const spot = spotAt(x + dx * stage.textScale, y + dy * stage.textScale, anchor, width, LINE * stage.textScale);
        if (!inside(spot.area, stage)) {
          least ??= { ...spot, text, lines: 0, worth: BARE };
          continue;
        }
        const covered = coveredBy(taken, spot.area);
        if (covered >= 1 && !label.must) continue;
        // A span's letter has a plate of its own, which no line shows through.
        const lines = label.chip || !stage.ink ? 0 : stage.ink.under(spot.body);
        if (covered < 1 && !lines) return { ...spot, text, lines, worth: 0 };
        const worth = covered + 9 * lines;
        if (!least || worth < least.worth) least = { ...spot, text, lines, worth };
      }
    }
  }
  return label.must ? least : null;
}

/** @param {Label} label */
const isBold = (label) => Boolean(label.bold) || /draw-strong|draw-error/.test(label.class ?? '');

/** @param {Point} place @param {Stage} stage */
const isNear = ([x, y], stage) => x >= -200 && y >= -200 && x <= stage.width + 200 && y <= stage.height + 200;

/** @param {number} x @param {number} y @param {Anchor} anchor @param {number} width @param {number} line */
function spotAt(x, y, anchor, width, line) {
  const left = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2;
  return {
    x,
    y,
    anchor,
    width,
    area: { x0: left - 2, x1: left + width + 2, y0: y - line + 3, y1: y + 4 },
    // The letters themselves, without the air around them.
    body: { x0: left, x1: left + width, y0: y - line + 5, y1: y + 2 },
  };
}

/** @param {Area} area @param {Stage} stage */
const inside = (area, stage) => area.x0 >= stage.left && area.x1 <= stage.width && area.y0 >= stage.top && area.y1 <= stage.height;

/** The area, px squared, of what others take of an area. @param {Area[]} others @param {Area} area */
function coveredBy(others, { x0, x1, y0, y1 }) {
  let sum = 0;
  for (const other of others) {
    if (other.x0 >= x1 || other.x1 <= x0 || other.y0 >= y1 || other.y1 <= y0) continue;
    sum += (Math.min(other.x1, x1) - Math.max(other.x0, x0)) * (Math.min(other.y1, y1) - Math.max(other.y0, y0));
  }
  return sum;
}
