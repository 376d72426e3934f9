// From a plan to what is drawn: shapes in mm by layer, labels, and the boxes to fit. Nothing here touches the page.

import { box, halfRound, sewnRound, wayOf } from './frame.js';
import { facingScene } from './scene-facing.js';
import { necklineScene } from './scene-neckline.js';
import { stripScene } from './scene-strip.js';

/** The layers, undermost first. */
export const LAYERS = ['ribbon', 'strain', 'facing', 'lines', 'stays', 'clips', 'marks', 'strip', 'errors'];

// Room for the lines of text between the neckline and what lies beneath it: px where all is shown, and its bounds in mm.
const GAP = { px: 74, least: 40, most: 160 };
const STEP = 20; // mm

/**
 * @param {{ brief: object, plan: object, whole: boolean, errors?: object[], words: object, unit: string, prefix: string,
 *   room: number, textScale: number }} given  `room`: the stage's px across; `textScale`: the reader's text size over the usual
 * @returns {{ shapes: Record<string, object[]>, labels: object[], ink: { points: object[], both: boolean }[], clip: string, ways: object, run: object,
 *   boxes: { all: object, neckline: object, below: object | null } }}
 */
export function buildScene(given) {
  const { plan } = given;
  const ways = { front: wayOf(plan.seam_line.front, 'front'), back: wayOf(plan.seam_line.back, 'back') };
  const scene = {
    ...given,
    ways,
    run: halfRound(plan, ways),
    sewn: sewnRound(plan, ways),
    shapes: Object.fromEntries(LAYERS.map((layer) => [layer, []])),
    labels: [],
    ink: [],
    clip: '',
    boxes: { all: box(), neckline: box(), below: null },
    say: sayer(given.words),
    length: (mm) => given.words.length(mm, given.unit, { suffix: true }),
    percent: (n, digits = 0) => given.words.number(n, { digits }),
  };
  necklineScene(scene);
  const below = box();
  // In whole steps, so that what lies beneath stays where it is while a handle moves a little.
  const top = Math.ceil((scene.boxes.neckline.y1 + gap(scene)) / STEP) * STEP;
  if (plan.strip) stripScene(scene, below, top);
  if (plan.facing) facingScene(scene, below, top);
  scene.boxes.below = below.empty ? null : below;
  scene.boxes.all.join(scene.boxes.neckline);
  scene.boxes.all.join(below);
  return scene;
}

const fixed = new WeakMap();

// Words without a figure in them are looked up once for each catalogue: a drag asks for the same forty each frame.
function sayer(words) {
  if (!fixed.has(words)) fixed.set(words, new Map());
  const known = fixed.get(words);
  return (key, values) => {
    if (values) return words.t(`drawing.${key}`, values);
    if (!known.has(key)) known.set(key, words.t(`drawing.${key}`));
    return known.get(key);
  };
}

function gap({ plan, whole, boxes, room, textScale }) {
  const length = plan.strip?.cut_length.cut_mm ?? 0;
  // Of a ring the half view shows half; two strips are one for each side.
  const strip = plan.strip?.pieces === 2 ? length * (whole ? 2.1 : 1) : length * (whole ? 1 : 0.55);
  const width = Math.max(strip, boxes.neckline.x1 - boxes.neckline.x0, plan.facing ? (boxes.neckline.x1 - boxes.neckline.x0) * 2 : 0);
  return Math.min(GAP.most, Math.max(GAP.least, (GAP.px * textScale * width) / room));
}

/** How marks are named, short and long. */
export function markNames(strip, say) {
  return strip.marks.map(({ place, number }) =>
    number
      ? { short: String(number), long: say(`place.${place}`, { number }) }
      : { short: say(`place_short.${place}`), long: say(`place.${place}`) },
  );
}
