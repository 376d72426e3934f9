// The live drawing: a plan's neckline and strip to one scale, with handles on what the person may move.

import { barArea, barShapes, rulerOf, rulerShapes } from './frame-marks.js';
import { editSession } from './edit-session.js';
import { gestures } from './gestures.js';
import { inkOf } from './ink.js';
import { placeLabels } from './labels.js';
import { legend } from './legend.js';
import { patterns } from './looks.js';
import { HALVES } from './frame.js';
import { element, keyed, setText, svgElement } from './nodes.js';
import { buildNeckline, completed, LAYERS, NECKLINE } from './scene.js';
import { sections } from './sections.js';
import { sliderHandles } from './slider-handles.js';
import { summaryText } from './summary.js';
import { fitted, isNarrow, panned, shows, toMm, toScreen, zoomed } from './view.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { Plan } from '../types/plan.d.ts' */
/** @import { Problem } from '../form/errors.js' */
/** @import { Point } from './frame.js' */
/** @import { Placed } from './labels.js' */
/** @import { Item } from './nodes.js' */
/** @import { Layer, Said, Scene } from './scene.js' */
/** @import { Host } from './slider-handles.js' */
/** @import { Area, Size, View } from './view.js' */
/** @import { Unit } from '../plan/reckoner.js' */

const PAD = { left: 14, top: 24, right: 46, bottom: 44 }; // px beside a ruler
const NARROW_PAD = { left: 12, top: 14, right: 12, bottom: 28 };
const LABEL_ROOM = 40; // px for the labels at an edge, at the usual text size
const PAPER_STAGE = 720; // px across on paper, before www/print.css makes them smaller
const TEXT_ROOM = 260; // px across that a stage needs for names at the usual size
/** @typedef {'zoom_in' | 'zoom_out' | 'fit' | 'fit_neckline' | 'fit_below'} ButtonName */
/** @type {[ButtonName, string][]} */
const BUTTONS = [
  ['zoom_in', '+'],
  ['zoom_out', '−'],
  ['fit', ''],
  ['fit_neckline', ''],
  ['fit_below', ''],
];
const PAUSE = 300; // ms before what only a screen reader hears is brought up to date
let instances = 0;

/** @typedef {import('./edit-session.js').Edit} Edit */
/** @typedef {Pick<import('../parts.js').Parts, 'errorScene' | 'facingScene' | 'lightUp' | 'pathHandles'>} Parts what few briefs need: points of drawn halves, the facing, places of what is wrong; and what lights a reading */
/** @typedef {{ readonly now: Parts | undefined, get(): Promise<Parts> }} LaterParts those that are there, and how they are fetched */
/** @typedef {{ words: Said, unit: Unit, onEdit: (edit: Edit) => void, parts: LaterParts }} Options */
/**
 * @typedef {object} Asked what is to be shown
 * @property {Brief} brief as the person has it now
 * @property {Plan} plan the latest there is
 * @property {boolean} [stale] whether the plan is an older one
 * @property {'half' | 'whole'} [view]
 * @property {Problem[]} [errors]
 * @property {boolean} [isLean] the line and its handles alone, as in a frame of a drag: `following` brings the rest
 */
/** @typedef {ReturnType<typeof createDrawing>} Drawing */
/** @typedef {{ view: View, size: Size, unit: Unit, words: Said }} Framed */

/** @param {HTMLElement} container @param {Options} options */
export function createDrawing(container, { words, unit, onEdit, parts }) {
  instances += 1;
  const prefix = `drawing-${instances}`;
  const dom = build(container, prefix);
  const layers = byLayer((layer) => keyed(dom.layers[layer]));
  const [plates, overlay, rulers] = [keyed(dom.plates), keyed(dom.overlay), keyed(dom.rulers)];
  const key = legend(dom.legend, keyPrefix(prefix));
  const edge = sections(dom.sections);
  // Where the cut figure stands beneath the drawing it comes first: the sections then stand in the key.
  const isBetween = matchMedia('(min-width: 64rem) and (max-width: 79.99rem)');
  const placeSections = () => (isBetween.matches ? dom.keyTitle : dom.pointBar).after(dom.sections);
  isBetween.addEventListener('change', placeSections);
  placeSections();
  const session = editSession((edit) => {
    areHandlesBehind = true;
    onEdit(edit);
    // Where no plan came of it at once, the handle goes with the finger all the same.
    if (areHandlesBehind) paintHandles();
  });
  let areHandlesBehind = false;
  /** @type {Asked & { view: 'half' | 'whole' } | null} */
  let given = null;
  /** @type {Scene | null} */
  let scene = null;
  /** @type {View} */
  let view = { k: 1, x: 0, y: 0 };
  let size = { width: 0, height: 0 };
  let followed = true; // the view is the fitted one until the person moves it
  let textScale = 1;
  /** What the rulers were last drawn for. @type {Framed | null} */
  let framed = null;
  let frame = 0;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let later;
  // What the canvas was last given: set anew it would have all that is in it laid out anew.
  let [clip, matrixText, zoom] = ['', '', 0];
  /** What is on its way while a line is dragged, and its names. @type {Scene | null} */
  let onItsWay = null;
  /** @type {ReturnType<typeof namesOf> | null} */
  let placed = null;

  /** @type {Host} */
  const host = {
    session,
    shown: () => (scene && given ? { brief: given.brief, plan: given.plan, ways: scene.ways } : null),
    toStage: (point) => toScreen(view, point),
    toMm: (point) => toMm(view, point),
    view: () => view,
    origin: () => {
      const { left, top } = dom.canvas.getBoundingClientRect();
      return [left, top];
    },
    unit: () => unit,
    words: () => words,
    tell,
    changed: () => schedule(),
    wasPan: () => moves.wasPan(),
  };
  const sliders = sliderHandles(dom.halves, host);
  /** There once a half is drawn. @type {ReturnType<Parts['pathHandles']> | undefined} */
  let points;
  let isComing = false;
  let lit = '';
  /** @type {ReturnType<Parts['lightUp']>} */
  let light;
  const moves = gestures(dom.canvas, {
    zoom: (factor, at) => look(zoomed(view, factor, at)),
    pan: (dx, dy) => look(panned(view, dx, dy)),
    fit,
    middle,
    focused: () => dom.stage.contains(document.activeElement),
  });

  /** @returns {Point} */
  function middle() {
    return [size.width / 2, size.height / 2];
  }

  /** @param {string} text @param {boolean} spoken */
  function tell(text, spoken) {
    setText(dom.readout, text);
    if (spoken) setText(dom.live, text);
  }

  /** @param {View} next */
  function look(next) {
    view = next;
    followed = false;
    schedule();
  }

  // Several events within a frame are one repaint.
  function schedule() {
    frame ||= requestAnimationFrame(() => {
      frame = 0;
      paintView();
    });
  }

  // Larger text needs more room around what it names.
  function room() {
    const more = (textScale - 1) * LABEL_ROOM;
    const ruler = rulerOf(size);
    const { left, top, right, bottom } = ruler ? PAD : NARROW_PAD;
    return {
      left: ruler + left,
      top: Math.max(ruler + top + more, light?.area ? light.head : 0),
      right: right + (ruler && more),
      bottom: bottom + more,
    };
  }

  /** @param {Area | null | undefined} box */
  function fitTo(box) {
    if (!box || !size.width) return;
    view = fitted(box, size, room());
    paintView();
  }

  /** What is to be seen where the person has not moved the view. */
  const inSight = () => light?.area ?? (scene && completed(scene).boxes.all);

  function fit() {
    followed = true;
    fitTo(inSight());
  }

  function measure() {
    const width = dom.stage.clientWidth;
    const height = dom.stage.clientHeight;
    if (width === size.width && height === size.height) return;
    size = { width, height };
    // Someone who reads with larger text gets larger text here too, as far as the stage has room for it.
    const asked = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16 || 1;
    textScale = Math.min(asked, Math.max(1, width / TEXT_ROOM));
    dom.stage.style.setProperty('--draw-fit', String(textScale / asked));
    dom.canvas.setAttribute('width', String(width));
    dom.canvas.setAttribute('height', String(height));
    // The room between neckline and strip goes by the stage's width.
    if (given) repaint(false);
    if (followed) fit();
  }

  /** @param {Asked} next */
  function show(next) {
    const before = given;
    // A change from elsewhere goes before what a finger holds: its end would take that change back.
    if (session.active && !session.knows(next.brief)) {
      sliders.drop();
      points?.drop();
      session.stop();
    }
    given = { ...next, view: next.view ?? before?.view ?? 'whole', errors: next.errors ?? [] };
    repaint(!before || before.view !== given.view);
  }

  /**
   * What a brief needs of the parts that come later; nothing while they are on their way, and then all is drawn anew.
   * @param {Asked} asked
   */
  function partsFor({ brief, plan, errors }) {
    if (!plan.facing && !errors?.length && !HALVES.some((half) => brief.neckline?.[half]?.outline?.drawn)) return undefined;
    if (!parts.now) void fetchParts();
    else points ??= parts.now.pathHandles({ halves: dom.halves, lines: dom.outline, bar: dom.pointBar }, host);
    return parts.now;
  }

  async function fetchParts() {
    if (isComing) return;
    isComing = true;
    await parts.get();
    isComing = false;
    repaint(followed);
  }

  /** @param {boolean} refit */
  function repaint(refit) {
    if (!given) return;
    const whole = given.view === 'whole';
    const { left, right } = room();
    const isLean = Boolean(given.isLean && session.active);
    scene = buildNeckline({
      ...given,
      whole,
      words,
      unit,
      prefix,
      room: (size.width || 600) - left - right,
      isNarrow: isNarrow(size),
      textScale,
      parts: partsFor(given),
    });
    // A facing's own lines move with the neckline's.
    const isAll = !isLean || given.plan.facing || lit || light;
    if (isAll) completed(scene);
    if (lit || light) light = parts.now?.lightUp(scene, dom.stage, lit);
    for (const layer of isAll ? LAYERS : NECKLINE) layers[layer].paint(scene.shapes[layer]);
    if (clip !== scene.clip) {
      clip = scene.clip;
      dom.clip.setAttribute('d', scene.clip);
    }
    if (isLean) {
      paintHandles();
      return;
    }
    dom.root.toggleAttribute('data-lit', Boolean(light));
    dom.root.toggleAttribute('data-stale', Boolean(given.stale));
    dom.stale.hidden = !given.stale;
    if (!session.active) sayBeside();
    dom.buttons.fit_neckline.hidden = !scene.boxes.below;
    dom.buttons.fit_below.hidden = !scene.boxes.below;
    setText(dom.buttons.fit_below, words.t(given.plan.strip ? 'drawing.fit_strip' : 'drawing.fit_pieces'));
    clearTimeout(later);
    later = setTimeout(describe, refit ? 0 : PAUSE);
    if (size.width && (refit || driftedOff())) fit();
    else paintView();
  }

  // A view that the person has not moved follows the drawing where it outgrows the stage, but never under a finger.
  function driftedOff() {
    const box = inSight();
    if (!box || !followed || session.active) return false;
    const ideal = fitted(box, size, room()).k;
    return !shows(view, box, size, rulerOf(size) + 6) || ideal > view.k * 1.15;
  }

  // The key and the sections.
  function sayBeside() {
    if (!given) return;
    const told = { plan: given.plan, words, unit };
    key.show(told);
    edge.show(told);
  }

  function describe() {
    if (!given) return;
    // Words beside the drawing wait for a pause: while a finger moves, a frame is the drawing's own.
    sayBeside();
    const whole = given.view === 'whole';
    setText(dom.summary, summaryText({ ...given, whole, words, unit }));
    const { title } = given.brief;
    dom.canvas.setAttribute('aria-label', title ? words.t('drawing.name_titled', { title }) : words.t('drawing.name'));
  }

  function paintView() {
    if (!scene || !given || !size.width) return;
    const matrix = `matrix(${view.k} 0 0 ${view.k} ${Math.round(view.x * 100) / 100} ${Math.round(view.y * 100) / 100})`;
    if (matrixText !== matrix) {
      matrixText = matrix;
      dom.world.setAttribute('transform', matrix);
    }
    if (zoom !== view.k) {
      zoom = view.k;
      // The patterns keep their size on the screen, as text and lines do.
      for (const pattern of dom.patterns) pattern.setAttribute('patternTransform', `scale(${1 / view.k})`);
    }
    paintHandles();
    paintNames(namesOf(completed(scene)));
    paintFrame();
  }

  function paintHandles() {
    areHandlesBehind = false;
    sliders.paint();
    points?.paint();
  }

  /** The names of what is drawn, where they stand on the stage. @param {Scene} shown */
  function namesOf(shown) {
    const stage = {
      ...size,
      left: rulerOf(size),
      top: rulerOf(size),
      textScale,
      ink: inkOf(shown.ink, view, size),
      taken: [...sliders.areas(), ...(points?.areas() ?? []), barArea({ view, size, unit }), ...staleArea(), ...shown.taken],
    };
    const spots = placeLabels(shown.labels, host.toStage, stage);
    return { plates: plateShapes(spots, textScale), texts: labelShapes(spots, textScale) };
  }

  /** @param {ReturnType<typeof namesOf>} names */
  function paintNames(names) {
    onItsWay = placed = null;
    plates.paint(names.plates);
    overlay.paint(names.texts);
  }

  // What follows a dragged line in turn, as it was when the first had its turn: what lies beneath, and the names, half of them at a time.
  const following = [
    () => {
      onItsWay = scene && completed(scene);
    },
    () => {
      if (!onItsWay || !size.width) return;
      layers.strip.paint(onItsWay.shapes.strip);
      placed = namesOf(onItsWay);
    },
    () => placed && overlay.put(placed.texts.slice(0, placed.texts.length / 2)),
    () => placed && paintNames(placed),
  ];

  // Where the drawing says that it is an older one.
  function staleArea() {
    if (!given?.stale) return [];
    const { offsetLeft: x, offsetTop: y, offsetWidth: width, offsetHeight: height } = dom.stale;
    return [{ x0: x - 4, x1: x + width + 4, y0: y - 2, y1: y + height + 2 }];
  }

  // Rulers and scale bar change with the view alone, not with every plan of a drag.
  function paintFrame() {
    const now = { view, size, unit, words };
    const last = framed;
    if (last && view === last.view && size === last.size && unit === last.unit && words === last.words) return;
    framed = now;
    rulers.paint([...rulerShapes(now), ...barShapes(now)]);
  }

  function sayAll() {
    /** @param {string} name */
    const say = (name) => words.t(`drawing.${name}`);
    dom.bar.setAttribute('aria-label', say('toolbar'));
    for (const [name, sign] of BUTTONS) {
      const node = dom.buttons[name];
      if (sign) node.setAttribute('aria-label', say(name));
      else if (name !== 'fit_below') setText(node, say(name));
    }
    for (const name of HALVES) dom.halves[name].setAttribute('aria-label', say(`half_${name}`));
    setText(dom.stale, say('stale_short'));
    setText(dom.keyTitle, say('key'));
    setText(dom.hint, say('hint'));
    setText(dom.described, say('hint'));
    dom.canvas.setAttribute('aria-label', say('name'));
    describe();
  }

  /** @type {Record<ButtonName, () => void>} */
  const act = {
    zoom_in: () => look(zoomed(view, 1.4, middle())),
    zoom_out: () => look(zoomed(view, 1 / 1.4, middle())),
    fit,
    fit_neckline: () => {
      followed = false;
      fitTo(scene?.boxes.neckline);
    },
    fit_below: () => {
      followed = false;
      fitTo(scene && completed(scene).boxes.below);
    },
  };
  for (const [name] of BUTTONS) dom.buttons[name].addEventListener('click', act[name]);
  const watcher = new ResizeObserver(measure);
  watcher.observe(dom.stage);
  // Paper shows all of it, as large as a stage of its own shape has room for. A browser lays out its paper without asking.
  let kept = { view, open: false };
  const hold = () => {
    // Paper shows what is, ranges and all.
    session.letGo();
    kept = { view, open: dom.key.open };
    // Paper cannot be unfolded.
    dom.key.open = true;
    dom.stage.style.width = `${PAPER_STAGE}px`;
    // What lies below what goes by the width, and the height by that.
    measure();
    const { x0 = 0, x1 = 1, y0 = 0, y1 = 1 } = (scene && completed(scene).boxes.all) ?? {};
    dom.stage.style.height = `${Math.min(PAPER_STAGE, ((PAPER_STAGE - room().left - room().right) * (y1 - y0)) / (x1 - x0) + room().top + room().bottom)}px`;
    measure();
    fitTo(scene && completed(scene).boxes.all);
  };
  const release = () => {
    dom.stage.style.width = dom.stage.style.height = '';
    dom.key.open = kept.open;
    view = kept.view;
    measure();
    schedule();
  };
  addEventListener('beforeprint', hold);
  addEventListener('afterprint', release);
  sayAll();
  measure();

  return {
    show,
    /** What follows a lean `show` in turn, a job each. @type {(() => void)[]} */
    following,
    /** @param {Said} next */
    setWords(next) {
      words = next;
      sayAll();
      repaint(false);
    },
    /** @param {Unit} next */
    setUnit(next) {
      unit = next;
      repaint(false);
      describe();
    },
    fit,
    /** Takes back what was said of a change that has been taken back. */
    hush: () => tell('', true),
    /** Lights the line that the reading at a path of a brief measures, and no other; none with no path. Whether one is lit by now. @param {string} [path] */
    light(path = '') {
      lit = path;
      if (parts.now) repaint(followed);
      else if (path) void fetchParts();
      return Boolean(light);
    },
    /** Whether a handle is held, by a finger or a key. */
    get isHeld() {
      return session.active;
    },
    /** Whether what a hand moves is told in the frame to come. */
    get isMoving() {
      return session.isTelling;
    },
    destroy() {
      watcher.disconnect();
      isBetween.removeEventListener('change', placeSections);
      removeEventListener('beforeprint', hold);
      removeEventListener('afterprint', release);
      session.stop();
      cancelAnimationFrame(frame);
      clearTimeout(later);
      dom.root.remove();
    },
  };
}

/** @param {string} prefix */
const keyPrefix = (prefix) => `${prefix}-key`;

/** What is made for each layer. @template Each @param {(layer: Layer) => Each} make @returns {Record<Layer, Each>} */
const byLayer = (make) => /** @type {Record<Layer, Each>} */ (Object.fromEntries(LAYERS.map((layer) => [layer, make(layer)])));

/** @param {number} x @param {number} y */
const movedTo = (x, y) => `translate(${Math.round(x)} ${Math.round(y)})`;

/** What must be named where a line runs has paper behind it, beneath all text. @param {Placed[]} placed @param {number} tall @returns {Item[]} */
function plateShapes(placed, tall) {
  return placed
    .filter(({ isStruck }) => isStruck)
    .map(({ label, x, y, anchor, width }) => {
      const [wide, high] = [Math.round(width) + 4, 14 * tall];
      const left = { start: -2, middle: -wide / 2, end: 2 - wide }[anchor];
      return {
        key: label.key,
        tag: 'rect',
        class: 'draw-plate',
        x: left,
        y: 3 - high,
        width: wide,
        height: high,
        rx: 2,
        moved: movedTo(x, y),
      };
    });
}

/**
 * Labels are moved by whole px: text that only moves is the same to the browser.
 * @param {Placed[]} placed @param {number} tall
 */
function labelShapes(placed, tall) {
  /** @type {Item[]} */
  const items = [];
  for (const { label, text, x, y, anchor, width } of placed) {
    const moved = movedTo(x, y);
    if (label.chip) {
      const wide = Math.max(18 * tall, Math.round(width));
      items.push({
        key: `${label.key}-chip`,
        tag: 'rect',
        class: `draw-chip draw-look-${label.look}`,
        x: -wide / 2,
        y: -4 - 8 * tall,
        width: wide,
        height: 16 * tall,
        rx: 3,
        moved,
      });
    }
    items.push({
      key: label.key,
      tag: 'text',
      class: `draw-text ${label.chip ? 'draw-chip-text' : (label.class ?? '')}`,
      moved,
      'text-anchor': anchor,
      text,
    });
  }
  return items;
}

/** @param {HTMLElement} container @param {string} prefix */
function build(container, prefix) {
  const root = element('div', 'draw');
  const bar = element('div', 'draw-bar');
  bar.setAttribute('role', 'group');
  const made = BUTTONS.map(([name, sign]) => {
    const button = element('button', sign ? 'draw-button draw-button-zoom' : 'draw-button', sign);
    button.type = 'button';
    bar.append(button);
    return [name, button];
  });
  const buttons = /** @type {Record<ButtonName, HTMLButtonElement>} */ (Object.fromEntries(made));
  const stage = element('div', 'draw-stage');
  const canvas = svgElement('svg', {
    class: 'draw-canvas',
    tabindex: '0',
    role: 'group',
    'aria-describedby': `${prefix}-summary ${prefix}-hint`,
    'aria-keyshortcuts': '+ - 0 ArrowLeft ArrowRight ArrowUp ArrowDown',
  });
  const drawn = buildCanvas(canvas, prefix);
  const handles = element('div', 'draw-handles');
  // Front before back, whichever way each is told: so Tab goes, and so a reader hears it.
  const halves = { front: element('div', 'draw-half'), back: element('div', 'draw-half') };
  for (const half of Object.values(halves)) {
    half.setAttribute('role', 'group');
    handles.append(half);
  }
  const stale = element('p', 'draw-stale');
  stale.hidden = true;
  const readout = element('p', 'draw-readout');
  readout.setAttribute('aria-hidden', 'true');
  stage.append(canvas, handles, stale, readout);
  const pointBar = element('div', 'draw-point-bar');
  pointBar.setAttribute('role', 'group');
  pointBar.hidden = true;
  const hint = element('p', 'draw-hint');
  // For whoever hears the drawing: what a closed fold holds describes nothing.
  const described = element('p');
  described.id = `${prefix}-hint`;
  described.hidden = true;
  const live = element('p', 'unseen');
  live.setAttribute('role', 'status');
  const summary = element('p', 'unseen');
  summary.id = `${prefix}-summary`;
  const legendBox = element('div', 'draw-legend');
  // Open where there is room for it at once.
  const key = element('details', 'draw-key');
  key.open = matchMedia('(min-width: 80rem)').matches;
  const keyTitle = element('summary');
  key.append(keyTitle, hint, legendBox);
  root.append(bar, stage, pointBar, described, live, summary, key);
  container.append(root);
  return {
    root,
    bar,
    buttons,
    stage,
    canvas,
    halves,
    stale,
    readout,
    pointBar,
    hint,
    described,
    live,
    summary,
    key,
    keyTitle,
    legend: legendBox,
    sections: element('div', 'draw-sections'),
    ...drawn,
  };
}

/** @param {SVGSVGElement} canvas @param {string} prefix */
function buildCanvas(canvas, prefix) {
  const defs = svgElement('defs');
  const clipPath = svgElement('clipPath', { id: `${prefix}-clip` });
  const clip = svgElement('path', { 'clip-rule': 'evenodd' });
  clipPath.append(clip);
  const tiles = patterns(prefix);
  // The key's tiles keep their size; the drawing's are scaled against the zoom.
  defs.append(clipPath, ...tiles, ...patterns(keyPrefix(prefix)));
  const world = svgElement('g', { class: 'draw-world' });
  const layers = byLayer((layer) => svgElement('g', { class: `draw-layer-${layer}` }));
  layers.ribbon.setAttribute('clip-path', `url(#${prefix}-clip)`);
  const outline = svgElement('g', { class: 'draw-layer-outline' });
  world.append(...Object.values(layers), outline);
  const plates = svgElement('g', { 'aria-hidden': 'true' });
  const overlay = svgElement('g', { class: 'draw-overlay', 'aria-hidden': 'true' });
  const rulers = svgElement('g', { class: 'draw-rulers', 'aria-hidden': 'true' });
  canvas.append(defs, world, plates, overlay, rulers);
  return { clip, patterns: tiles, world, layers, outline, plates, overlay, rulers };
}
