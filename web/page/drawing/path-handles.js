// The points of a drawn outline on the stage, with a small toolbar for the one that is selected.

import { asideOf, leadTo } from './aside.js';
import { isModified } from '../common/keys.js';
import { HALVES, toHalf, toWorld } from './frame.js';
import { STEPS, withValue } from './handles.js';
import { element, keyed, setText } from './nodes.js';
import {
  canDelete,
  cornered,
  deleted,
  handleMoved,
  handleOf,
  inserted,
  isSmooth,
  moved,
  nearest,
  parsePath,
  pathOf,
  smoothed,
} from './path-editor.js';
import { arrowOf, draggable, isArrow } from './pointer-drag.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { HalfName } from '../types/plan.d.ts' */
/** @import { Hand } from './edit-session.js' */
/** @import { Point, Ways } from './frame.js' */
/** @import { Item } from './nodes.js' */
/** @import { Outline, Side, Spot } from './path-editor.js' */
/** @import { Say } from './scene.js' */
/** @import { Host } from './slider-handles.js' */
/** @import { Area, View } from './view.js' */

/** @param {HalfName} half */
const pathAt = (half) => ['neckline', half, 'outline', 'drawn', 'path_mm'];
/** @param {Brief | undefined} brief @param {HalfName} half */
const textOf = (brief, half) => brief?.neckline?.[half]?.outline?.drawn?.path_mm;
/** @type {[way: string, sign: string, dx: number, dy: number][]} */
const NUDGES = [
  ['left', '←', -1, 0],
  ['right', '→', 1, 0],
  ['up', '↑', 0, -1],
  ['down', '↓', 0, 1],
];

/** @type {Side[]} */
const SIDES = ['in', 'out'];

/** @typedef {{ half: HalfName, i: number }} Chosen a point of the outline */
/** @typedef {Chosen & { key: string, which: Side | null, at: Spot }} Wanted a point, or one of its handles, and where it lies */
/** @typedef {{ node: HTMLElement, label: string, aside: Point, drop(): void }} Knob and how far off its place it is shown, px */
/** @typedef {{ key: string, node: HTMLElement, text: HTMLElement }} Tool */

/**
 * @param {{ halves: Record<HalfName, HTMLElement>, lines: SVGGElement, bar: HTMLElement }} place
 * @param {Host} host
 */
export function pathHandles({ halves: groups, lines, bar }, host) {
  /** @type {Map<string, Knob>} */
  const kept = new Map();
  const drawnLines = keyed(lines);
  const toolbar = buildToolbar();
  /** @type {Area[]} */
  let areas = [];
  /** @type {Chosen | null} */
  let selected = null;
  const tools = { letGo: () => host.session.commit() };
  /** What was read of each half last. @type {{ [Half in HalfName]?: { text: string | undefined, outline: Outline | null } }} */
  const parsed = {};

  const brief = () => host.session.brief ?? host.shown()?.brief;
  /** The halves that are drawn, with their outlines. */
  const halves = () =>
    HALVES.flatMap((half) => {
      const outline = outlineOf(half);
      return outline ? [{ half, outline }] : [];
    });

  /** @param {HalfName} half */
  function outlineOf(half) {
    const text = textOf(brief(), half);
    const before = parsed[half];
    if (before && before.text === text) return before.outline;
    const outline = text === undefined ? null : parsePath(text);
    parsed[half] = { text, outline };
    return outline;
  }

  /** @param {Ways} ways @param {HalfName} half @param {Spot} spot */
  const stage = (ways, half, { x, y }) => host.toStage(toWorld(ways[half], [x, y]));
  /** @type {Say} */
  const say = (key, values) => host.words().t(`drawing.${key}`, values);
  /** @param {number} mm */
  const length = (mm) => host.words().length(mm, host.unit(), { suffix: true });

  /** @param {Hand} by @param {HalfName} half @param {Outline} outline @param {string} label */
  function put(by, half, outline, label) {
    const shown = host.shown();
    if (!shown || !host.session.begin(shown.brief, by)) return;
    host.session.change(withValue(host.session.brief ?? shown.brief, pathAt(half), pathOf(outline)), label);
  }

  /** @param {Hand} by @param {string} [spoken] */
  function done(by, spoken) {
    if (!host.session.isBy(by)) return;
    host.session.commit();
    if (spoken) host.tell(spoken, true);
    host.changed();
  }

  /** One whole step at once, as the toolbar's buttons do. @param {HalfName} half @param {Outline} outline @param {string} label */
  function step(half, outline, label) {
    put(tools, half, outline, label);
    done(tools, label);
    paint();
  }

  /** @param {HalfName} half @param {number} i */
  function describe(half, i) {
    const outline = outlineOf(half);
    if (!outline?.points[i]) return '';
    const { x, y } = outline.points[i];
    const kind =
      i === 0
        ? say('point.first')
        : i === outline.points.length - 1
          ? say('point.last')
          : say(isSmooth(outline, i) ? 'point.smooth' : 'point.corner');
    return `${say(`point.name_${half}`, { number: i + 1, count: outline.points.length })}: ${say('point.place', { out: length(x), down: length(y) })}, ${kind}`;
  }

  /** @param {HalfName} half @param {number} i @param {boolean} [focus] */
  function select(half, i, focus = false) {
    selected = { half, i };
    paint();
    if (focus) kept.get(`${half}.${i}`)?.node.focus({ preventScroll: true });
  }

  /** @param {Hand} by @param {HalfName} half @param {number} i @param {Side | null} which @param {number} dx @param {number} dy */
  function moveBy(by, half, i, which, dx, dy) {
    const outline = outlineOf(half);
    if (!outline) return;
    const from = which ? handleOf(outline, i, which) : outline.points[i];
    if (!from) return;
    moveTo(by, half, i, which, from.x + dx, from.y + dy);
  }

  /** @param {Hand} by @param {HalfName} half @param {number} i @param {Side | null} which @param {number} x @param {number} y */
  function moveTo(by, half, i, which, x, y) {
    const outline = outlineOf(half);
    if (!outline) return;
    const next = which ? handleMoved(outline, i, which, x, y) : moved(outline, i, x, y);
    put(by, half, next, say('edit.moved', { point: say(`point.name_${half}`, { number: i + 1, count: outline.points.length }) }));
    host.tell(describe(half, i), false);
    paint();
  }

  /** @param {HalfName} half @param {number} piece @param {number} t */
  function addAt(half, piece, t) {
    const outline = outlineOf(half);
    if (!outline) return;
    step(half, inserted(outline, piece, t), say(`edit.added_${half}`));
    select(half, piece + 1, true);
  }

  function add() {
    const outline = selected && outlineOf(selected.half);
    if (selected && outline) addAt(selected.half, Math.min(selected.i, outline.points.length - 2), 0.5);
  }

  function remove() {
    if (!selected) return;
    const { half, i } = selected;
    const outline = outlineOf(half);
    if (!outline || !canDelete(outline, i)) return;
    step(half, deleted(outline, i), say(`edit.deleted_${half}`));
    select(half, i - 1, true);
  }

  function toggle() {
    if (!selected) return;
    const { half, i } = selected;
    const outline = outlineOf(half);
    if (!outline || !canDelete(outline, i)) return;
    const smooth = isSmooth(outline, i);
    step(half, smooth ? cornered(outline, i) : smoothed(outline, i), say(smooth ? 'edit.cornered' : 'edit.smoothed'));
  }

  /** @param {number} by */
  function walk(by) {
    const all = halves().flatMap(({ half, outline }) => outline.points.map((_, i) => ({ half, i })));
    if (!all.length) return;
    const here = all.findIndex(({ half, i }) => half === selected?.half && i === selected.i);
    const next = all[(here + by + all.length + (here < 0 && by < 0 ? 1 : 0)) % all.length];
    selected = next;
    paint();
    host.tell(describe(next.half, next.i), true);
  }

  function buildToolbar() {
    const group = element('div', 'draw-point-buttons');
    const name = element('p', 'draw-point-name');
    /** @param {string} key @param {string} sign @param {() => void} act @returns {Tool} */
    const button = (key, sign, act) => {
      const node = element('button', 'draw-button');
      node.type = 'button';
      const mark = element('span', 'draw-button-sign', sign);
      mark.setAttribute('aria-hidden', 'true');
      const text = element('span', key.startsWith('nudge') ? 'unseen' : 'draw-button-text');
      node.append(mark, text);
      node.addEventListener('click', act);
      group.append(node);
      return { key, node, text };
    };
    const buttons = [
      button('previous', '‹', () => walk(-1)),
      button('next', '›', () => walk(1)),
      ...NUDGES.map(([way, sign, dx, dy]) => button(`nudge_${way}`, sign, () => nudge(dx, dy))),
      button('add', '+', add),
      button('smooth', '∿', toggle),
      button('delete', '×', remove),
    ];
    bar.append(name, group);
    return { name, buttons };
  }

  /** @param {number} dx @param {number} dy */
  function nudge(dx, dy) {
    const shown = host.shown();
    if (!selected || !shown) return;
    const size = STEPS[host.unit()][0];
    const { half, i } = selected;
    const up = shown.ways[half].up;
    moveBy(tools, half, i, null, dx * size, dy * size * up);
    done(tools, describe(half, i));
  }

  /** @param {Wanted} wanted @returns {Knob} */
  function make({ half, i, which }) {
    const node = element('button', which ? 'draw-knob' : 'draw-point');
    node.type = 'button';
    node.append(element('span', 'draw-handle-dot'));
    /** @type {Point} */
    let grip = [0, 0];
    /** @type {Point} */
    let last = [0, 0];
    /** @type {View | null} */
    let view = null;
    let travelled = false;
    /** Takes the point where it stands now, with the finger where it is. @param {Point} at */
    const take = (at) => {
      const [shown, now] = [host.shown(), spot()];
      if (!shown || !now) return;
      const [x, y] = stage(shown.ways, half, now);
      const [ox, oy] = host.origin();
      grip = [at[0] - ox - x, at[1] - oy - y];
      view = host.view();
    };
    const hand = {
      letGo: () => {
        drag.release();
        node.classList.remove('draw-held');
        done(hand);
      },
    };
    const spot = () => {
      const outline = outlineOf(half);
      return outline && (which ? handleOf(outline, i, which) : outline.points[i]);
    };
    const drag = draggable(node, {
      start(at) {
        const shown = host.shown();
        if (!shown || !host.session.begin(shown.brief, hand)) return false;
        if (!which) select(half, i);
        take(at);
        last = at;
        travelled = false;
        node.classList.add('draw-held');
        return true;
      },
      move(at) {
        // The stage grew or shrank under the finger: the point goes on from where it was.
        if (view !== host.view()) take(last);
        last = at;
        const shown = host.shown();
        if (!shown) return;
        const [ox, oy] = host.origin();
        const [x, y] = toHalf(shown.ways[half], host.toMm([at[0] - ox - grip[0], at[1] - oy - grip[1]]));
        travelled = true;
        moveTo(hand, half, i, which, x, y);
      },
      end() {
        node.classList.remove('draw-held');
        if (travelled) done(hand, describe(half, i));
        else host.session.stop();
      },
      cancel() {
        node.classList.remove('draw-held');
        host.session.cancel();
        host.changed();
      },
    });
    node.addEventListener('focus', () => {
      if (!which && !(selected?.half === half && selected.i === i)) select(half, i);
    });
    node.addEventListener('keydown', (event) => {
      const asked = arrowOf(event);
      if (event.key === 'Escape' && host.session.isBy(hand)) {
        drag.release();
        node.classList.remove('draw-held');
        host.session.cancel();
        host.changed();
      } else if (asked) {
        const [dx, dy] = asked.way;
        const size = STEPS[host.unit()][asked.large ? 1 : 0];
        moveBy(hand, half, i, which, dx * size, dy * size * (host.shown()?.ways[half].up ?? 1));
      } else if (isModified(event)) return;
      else if (!which && (event.key === 'Delete' || event.key === 'Backspace')) remove();
      else if (!which && (event.key === 'a' || event.key === 'Insert')) add();
      else if (!which && event.key === 's') toggle();
      else return;
      event.preventDefault();
      event.stopPropagation();
    });
    node.addEventListener('keyup', (event) => {
      if (isArrow(event) && !node.classList.contains('draw-held')) done(hand, describe(half, i));
    });
    node.addEventListener('blur', () => {
      if (!node.classList.contains('draw-held')) done(hand);
    });
    groups[half].append(node);
    return {
      node,
      label: '',
      aside: [0, 0],
      drop() {
        drag.release();
        if (host.session.isBy(hand)) host.session.stop();
      },
    };
  }

  function wanted() {
    /** @type {Wanted[]} */
    const list = [];
    for (const { half, outline } of halves()) {
      for (const [i, point] of outline.points.entries()) {
        list.push({ key: `${half}.${i}`, half, i, which: null, at: point });
        if (selected?.half !== half || selected.i !== i) continue;
        for (const which of SIDES) {
          const at = handleOf(outline, i, which);
          if (at) list.push({ key: `${half}.${i}.${which}`, half, i, which, at });
        }
      }
    }
    return list;
  }

  function checkSelection() {
    if (selected && !(selected.i < (outlineOf(selected.half)?.points.length ?? 0))) selected = null;
  }

  function paint() {
    const shown = host.shown();
    if (!shown) return;
    checkSelection();
    const list = wanted();
    areas = [];
    /** @type {Point[]} */
    const taken = [];
    for (const item of list) {
      let entry = kept.get(item.key);
      if (!entry) {
        entry = make(item);
        kept.set(item.key, entry);
      }
      const place = stage(shown.ways, item.half, item.at);
      const aside = entry.node.classList.contains('draw-held') ? entry.aside : asideOf(place, taken);
      const [x, y] = [place[0] + aside[0], place[1] + aside[1]];
      taken.push([x, y]);
      entry.aside = aside;
      leadTo(entry.node, aside);
      areas.push({ x0: x - 11, x1: x + 11, y0: y - 11, y1: y + 11 });
      entry.node.style.transform = `translate(${Math.round(x * 10) / 10}px, ${Math.round(y * 10) / 10}px)`;
      const label = item.which
        ? say(`point.handle_${item.which}`, {
            point: say(`point.name_${item.half}`, { number: item.i + 1, count: outlineOf(item.half)?.points.length }),
          })
        : describe(item.half, item.i);
      if (entry.label !== label) {
        entry.label = label;
        entry.node.setAttribute('aria-label', label);
      }
      if (!item.which) {
        const chosen = selected?.half === item.half && selected.i === item.i;
        entry.node.classList.toggle('draw-selected', chosen);
        const outline = outlineOf(item.half);
        entry.node.classList.toggle('draw-round', outline !== null && isSmooth(outline, item.i));
        if (chosen) entry.node.setAttribute('aria-current', 'true');
        else entry.node.removeAttribute('aria-current');
      }
    }
    for (const [key, entry] of kept) {
      if (list.some((item) => item.key === key)) continue;
      kept.delete(key);
      entry.drop();
      entry.node.remove();
    }
    order(list);
    paintLines(list, shown.ways);
    paintToolbar();
  }

  /** Tab goes along the line: each point, then its own handles. The one with the focus stays, or it would lose it. @param {Wanted[]} list */
  function order(list) {
    for (const half of HALVES) {
      let place = groups[half].querySelector('.draw-point, .draw-knob');
      for (const { key } of list.filter((item) => item.half === half)) {
        const node = kept.get(key)?.node;
        if (!node) continue;
        if (node === place) place = place.nextElementSibling;
        else if (node === document.activeElement) place = node.nextElementSibling;
        else groups[half].insertBefore(node, place);
      }
    }
  }

  /** @param {Wanted[]} list @param {Ways} ways */
  function paintLines(list, ways) {
    /** @type {Item[]} */
    const items = halves().flatMap(({ half, outline }) => {
      const { up, lift } = ways[half];
      const transform = `matrix(1 0 0 ${up} 0 ${Math.round(-lift * up * 1000) / 1000})`;
      const d = pathOf(outline);
      /** @type {Item[]} */
      const both = [
        { key: `line-${half}`, tag: 'path', class: 'draw-outline', d, transform },
        { key: `hit-${half}`, tag: 'path', class: 'draw-outline-hit', d, transform, 'data-half': half },
      ];
      return both;
    });
    for (const { half, i, which, at } of list) {
      const point = outlineOf(half)?.points[i];
      if (!which || !point) continue;
      const [from, to] = [point, at].map(({ x, y }) => toWorld(ways[half], [x, y]).join(' '));
      items.push({ key: `arm-${which}`, tag: 'path', class: 'draw-arm', d: `M${from}L${to}` });
    }
    drawnLines.paint(items);
  }

  function paintToolbar() {
    const any = halves().length > 0;
    if (bar.hidden === any) bar.hidden = !any;
    if (!any) return;
    const chosen = selected ? outlineOf(selected.half) : null;
    const at = selected?.i ?? 0;
    const inner = chosen !== null && canDelete(chosen, at);
    const smooth = inner && isSmooth(chosen, at);
    setText(toolbar.name, selected ? describe(selected.half, selected.i) : say('point.none'));
    bar.setAttribute('aria-label', say('point.toolbar'));
    for (const { key, node, text: name } of toolbar.buttons) {
      const text = key === 'smooth' ? say(smooth ? 'point.make_corner' : 'point.make_smooth') : say(`point.${key}`);
      setText(name, text);
      const walks = key === 'previous' || key === 'next';
      const able = walks || (selected && (inner || key === 'add' || key.startsWith('nudge')));
      // A button that goes dead under the finger would lose the focus: it stays and says so.
      if (able) node.removeAttribute('aria-disabled');
      else node.setAttribute('aria-disabled', 'true');
    }
  }

  lines.addEventListener('click', (event) => {
    const { target } = event;
    const half = HALVES.find((name) => target instanceof SVGElement && target.dataset.half === name);
    const shown = host.shown();
    const outline = half && outlineOf(half);
    if (!half || !outline || !shown || host.wasPan()) return;
    const [ox, oy] = host.origin();
    const [x, y] = toHalf(shown.ways[half], host.toMm([event.clientX - ox, event.clientY - oy]));
    const place = nearest(outline, x, y);
    if (place.t > 0.02 && place.t < 0.98) addAt(half, place.piece, place.t);
  });

  return {
    paint,
    /** Lets go of what is held, without an end. */
    drop() {
      for (const { node, drop } of kept.values()) {
        drop();
        node.classList.remove('draw-held');
      }
    },
    areas: () => areas,
  };
}
