// Text keeps its size at any zoom, so it is placed on the stage each time the view changes: the first free place of
// each label's list, the weightier labels first; a light one that finds none is left out.

const LINE = 15; // px of one line of text
const widths = new Map();
let pen;

// Canvas measures text without laying the page out. A typical font is close enough to keep labels apart.
function widthOf(text, bold) {
  const key = (bold ? 'b' : 'n') + text;
  let width = widths.get(key);
  if (width === undefined) {
    pen ??= document.createElement('canvas').getContext('2d');
    pen.font = `${bold ? '600 ' : ''}12px system-ui, sans-serif`;
    width = pen.measureText(text).width;
    if (widths.size > 2000) widths.clear();
    widths.set(key, width);
  }
  return width;
}

/**
 * Where each label goes.
 * @param {{ key: string, at: [number, number], text: string, class?: string, weight: number, tries: [number, number, string][],
 *   short?: string, bold?: boolean, must?: boolean }[]} labels  `tries` are px from `at`, at the usual text size, with the text's anchor
 * @param {(point: [number, number]) => [number, number]} toStage
 * @param {{ width: number, height: number, left: number, top: number, textScale: number, taken?: object[] }} stage
 *   `taken`: areas to leave free; `textScale`: the reader's text size over the usual
 */
export function placeLabels(labels, toStage, stage) {
  const taken = [...(stage.taken ?? [])];
  const placed = [];
  for (const label of [...labels].sort((a, b) => b.weight - a.weight)) {
    const [x, y] = toStage(label.at);
    if (x < -200 || y < -200 || x > stage.width + 200 || y > stage.height + 200) continue;
    const spot = firstFree(label, x, y, taken, stage);
    if (!spot) continue;
    taken.push(spot.area);
    placed.push({ label, text: spot.text, x: spot.x, y: spot.y, anchor: spot.anchor, width: spot.width });
  }
  return placed;
}

// The whole text where there is room for it, else the short one; what must be seen goes where it covers least.
function firstFree(label, x, y, taken, stage) {
  let best = null;
  for (const text of label.short ? [label.text, label.short] : [label.text]) {
    const width = widthOf(text, label.bold) * stage.textScale + (label.chip ? 10 : 0);
    for (const [dx, dy, anchor] of label.tries) {
      const spot = spotAt(x + dx * stage.textScale, y + dy * stage.textScale, anchor, width, LINE * stage.textScale);
      const covered = inside(spot.area, stage) ? taken.reduce((sum, other) => sum + shared(other, spot.area), 0) : 1e6;
      if (covered < 1) return { ...spot, text };
      if (!best || covered < best.covered) best = { ...spot, text, covered };
    }
  }
  return label.must ? best : null;
}

function spotAt(x, y, anchor, width, line) {
  const left = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2;
  return { x, y, anchor, width, area: { x0: left - 2, x1: left + width + 2, y0: y - line + 3, y1: y + 4 } };
}

const inside = (area, stage) =>
  area.x0 >= stage.left && area.x1 <= stage.width && area.y0 >= stage.top && area.y1 <= stage.height;

// The area, px squared, that two areas share.
const shared = (a, b) =>
  Math.max(0, Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0)) * Math.max(0, Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0));
