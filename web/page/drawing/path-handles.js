// The points of a drawn outline on the stage, with a small toolbar for the one that is selected.

import { isModified } from '../common/keys.js';
import { toHalf, toWorld } from './frame.js';
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
import { arrowOf, draggable } from './pointer-drag.js';

const pathAt = (half) => ['neckline', half, 'outline', 'drawn', 'path_mm'];
const textOf = (brief, half) => brief?.neckline?.[half]?.outline?.drawn?.path_mm;
const NUDGES = [
  ['left', '←', -1, 0],
  ['right', '→', 1, 0],
  ['up', '↑', 0, -1],
  ['down', '↓', 0, 1],
];

/**
 * @param {{ halves: { front: HTMLElement, back: HTMLElement }, lines: SVGGElement, bar: HTMLElement }} place
 * @param {object} host as for the slider handles
 */
export function pathHandles({ halves: groups, lines, bar }, host) {
  const kept = new Map();
  const drawnLines = keyed(lines);
  const toolbar = buildToolbar();
  let areas = [];
  let selected = null; // { half, i }
  const tools = { letGo: () => host.session.commit() };
  const parsed = { text: {}, outline: {} };

  const brief = () => host.session.brief ?? host.shown()?.brief;
  const halves = () => ['front', 'back'].filter((half) => outlineOf(half));

  function outlineOf(half) {
    const text = textOf(brief(), half);
    if (parsed.text[half] !== text) {
      parsed.text[half] = text;
      parsed.outline[half] = text === undefined ? null : parsePath(text);
    }
    return parsed.outline[half];
  }

  const stage = (half, { x, y }) => host.toStage(toWorld(host.shown().ways[half], [x, y]));
  const say = (key, values) => host.words().t(`drawing.${key}`, values);
  const length = (mm) => host.words().length(mm, host.unit(), { suffix: true });

  function put(by, half, outline, label) {
    if (host.session.begin(host.shown().brief, by)) host.session.change(withValue(brief(), pathAt(half), pathOf(outline)), label);
  }

  function done(by, spoken) {
    if (!host.session.isBy(by)) return;
    host.session.commit();
    if (spoken) host.tell(spoken, true);
    host.changed();
  }

  /** One whole step at once, as the toolbar's buttons do. */
  function step(half, outline, label) {
    put(tools, half, outline, label);
    done(tools, label);
    paint();
  }

  function describe(half, i) {
    const outline = outlineOf(half);
    const { x, y } = outline.points[i];
    const kind =
      i === 0
        ? say('point.first')
        : i === outline.points.length - 1
          ? say('point.last')
          : say(isSmooth(outline, i) ? 'point.smooth' : 'point.corner');
    return `${say(`point.name_${half}`, { number: i + 1, count: outline.points.length })}: ${say('point.place', { out: length(x), down: length(y) })}, ${kind}`;
  }

  function select(half, i, focus = false) {
    selected = { half, i };
    paint();
    if (focus) kept.get(`${half}.${i}`)?.node.focus({ preventScroll: true });
  }

  function moveBy(by, half, i, which, dx, dy) {
    const outline = outlineOf(half);
    const from = which ? handleOf(outline, i, which) : outline.points[i];
    if (!from) return;
    moveTo(by, half, i, which, from.x + dx, from.y + dy);
  }

  function moveTo(by, half, i, which, x, y) {
    const outline = outlineOf(half);
    const next = which ? handleMoved(outline, i, which, x, y) : moved(outline, i, x, y);
    put(by, half, next, say('edit.moved', { point: say(`point.name_${half}`, { number: i + 1, count: outline.points.length }) }));
    host.tell(describe(half, i), false);
    paint();
  }

  function addAt(half, piece, t) {
    step(half, inserted(outlineOf(half), piece, t), say(`edit.added_${half}`));
    select(half, piece + 1, true);
  }

  function add() {
    if (!selected) return;
    const { half, i } = selected;
    const last = outlineOf(half).points.length - 1;
    addAt(half, Math.min(i, last - 1), 0.5);
  }

  function remove() {
    if (!selected) return;
    const { half, i } = selected;
    if (!canDelete(outlineOf(half), i)) return;
    step(half, deleted(outlineOf(half), i), say(`edit.deleted_${half}`));
    select(half, i - 1, true);
  }

  function toggle() {
    if (!selected) return;
    const { half, i } = selected;
    const outline = outlineOf(half);
    if (!canDelete(outline, i)) return;
    const smooth = isSmooth(outline, i);
    step(half, smooth ? cornered(outline, i) : smoothed(outline, i), say(smooth ? 'edit.cornered' : 'edit.smoothed'));
  }

  function walk(by) {
    const all = halves().flatMap((half) => outlineOf(half).points.map((_, i) => ({ half, i })));
    if (!all.length) return;
    const here = selected ? all.findIndex(({ half, i }) => half === selected.half && i === selected.i) : -1;
    const next = all[(here + by + all.length + (here < 0 && by < 0 ? 1 : 0)) % all.length];
    selected = next;
    paint();
    host.tell(describe(next.half, next.i), true);
  }

  function buildToolbar() {
    const group = element('div', 'draw-point-buttons');
    const name = element('p', 'draw-point-name');
    const button = (key, sign, act) => {
      const node = element('button', 'draw-button');
      node.type = 'button';
      node.append(element('span', 'draw-button-sign', sign));
      node.firstChild.setAttribute('aria-hidden', 'true');
      node.append(element('span', key.startsWith('nudge') ? 'draw-unseen' : 'draw-button-text'));
      node.addEventListener('click', act);
      group.append(node);
      return { key, node };
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

  function nudge(dx, dy) {
    if (!selected) return;
    const size = STEPS[host.unit()][0];
    const { half, i } = selected;
    const up = host.shown().ways[half].up;
    moveBy(tools, half, i, null, dx * size, dy * size * up);
    done(tools, describe(half, i));
  }

  function make(key, half, i, which) {
    const node = element('button', which ? 'draw-knob' : 'draw-point');
    node.type = 'button';
    node.append(element('span', 'draw-handle-dot'));
    let grip = [0, 0];
    let last = null;
    let view = null;
    let travelled = false;
    /** Takes the point where it stands now, with the finger where it is. */
    const take = (at) => {
      const [x, y] = stage(half, spot());
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
    const spot = () => (which ? handleOf(outlineOf(half), i, which) : outlineOf(half)?.points[i]);
    const drag = draggable(node, {
      start(at) {
        if (!host.session.begin(host.shown().brief, hand)) return false;
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
        const [ox, oy] = host.origin();
        const [x, y] = toHalf(host.shown().ways[half], host.toMm([at[0] - ox - grip[0], at[1] - oy - grip[1]]));
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
      if (event.key === 'Escape' && host.session.isBy(hand)) {
        drag.release();
        node.classList.remove('draw-held');
        host.session.cancel();
        host.changed();
      } else if (arrowOf(event)) {
        const {
          way: [dx, dy],
          large,
        } = arrowOf(event);
        const size = STEPS[host.unit()][large ? 1 : 0];
        moveBy(hand, half, i, which, dx * size, dy * size * host.shown().ways[half].up);
      } else if (isModified(event)) return;
      else if (!which && (event.key === 'Delete' || event.key === 'Backspace')) remove();
      else if (!which && (event.key === 'a' || event.key === 'Insert')) add();
      else if (!which && event.key === 's') toggle();
      else return;
      event.preventDefault();
      event.stopPropagation();
    });
    node.addEventListener('keyup', (event) => {
      if (arrowOf({ key: event.key }) && !node.classList.contains('draw-held')) done(hand, describe(half, i));
    });
    node.addEventListener('blur', () => {
      if (!node.classList.contains('draw-held')) done(hand);
    });
    groups[half].append(node);
    return {
      node,
      key,
      drop() {
        drag.release();
        if (host.session.isBy(hand)) host.session.stop();
      },
    };
  }

  function wanted() {
    const list = [];
    for (const half of halves()) {
      outlineOf(half).points.forEach((point, i) => {
        list.push({ key: `${half}.${i}`, half, i, which: null, at: point });
        if (selected?.half !== half || selected.i !== i) return;
        for (const which of ['in', 'out']) {
          const at = handleOf(outlineOf(half), i, which);
          if (at) list.push({ key: `${half}.${i}.${which}`, half, i, which, at });
        }
      });
    }
    return list;
  }

  function checkSelection() {
    if (selected && !(selected.i < (outlineOf(selected.half)?.points.length ?? 0))) selected = null;
  }

  function paint() {
    if (!host.shown()) return;
    checkSelection();
    const list = wanted();
    areas = [];
    for (const item of list) {
      let entry = kept.get(item.key);
      if (!entry) {
        entry = make(item.key, item.half, item.i, item.which);
        kept.set(item.key, entry);
      }
      const [x, y] = stage(item.half, item.at);
      areas.push({ x0: x - 11, x1: x + 11, y0: y - 11, y1: y + 11 });
      entry.node.style.transform = `translate(${Math.round(x * 10) / 10}px, ${Math.round(y * 10) / 10}px)`;
      const label = item.which
        ? say(`point.handle_${item.which}`, {
            point: say(`point.name_${item.half}`, { number: item.i + 1, count: outlineOf(item.half).points.length }),
          })
        : describe(item.half, item.i);
      if (entry.label !== label) {
        entry.label = label;
        entry.node.setAttribute('aria-label', label);
      }
      if (!item.which) {
        const chosen = selected?.half === item.half && selected.i === item.i;
        entry.node.classList.toggle('draw-selected', chosen);
        entry.node.classList.toggle('draw-round', isSmooth(outlineOf(item.half), item.i));
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
    paintLines(list);
    paintToolbar();
  }

  // Tab goes along the line: each point, then its own handles. The one with the focus stays, or it would lose it.
  function order(list) {
    for (const half of ['front', 'back']) {
      let place = groups[half].querySelector('.draw-point, .draw-knob');
      for (const { key } of list.filter((item) => item.half === half)) {
        const { node } = kept.get(key);
        if (node === place) place = place.nextElementSibling;
        else if (node === document.activeElement) place = node.nextElementSibling;
        else groups[half].insertBefore(node, place);
      }
    }
  }

  function paintLines(list) {
    const shown = host.shown();
    const items = halves().flatMap((half) => {
      const { up, lift } = shown.ways[half];
      const transform = `matrix(1 0 0 ${up} 0 ${Math.round(-lift * up * 1000) / 1000})`;
      const d = pathOf(outlineOf(half));
      return [
        { key: `line-${half}`, tag: 'path', class: 'draw-outline', d, transform },
        { key: `hit-${half}`, tag: 'path', class: 'draw-outline-hit', d, transform, 'data-half': half },
      ];
    });
    for (const { half, i, which, at } of list) {
      if (!which) continue;
      const point = outlineOf(half).points[i];
      const [from, to] = [point, at].map(({ x, y }) => toWorld(shown.ways[half], [x, y]).join(' '));
      items.push({ key: `arm-${which}`, tag: 'path', class: 'draw-arm', d: `M${from}L${to}` });
    }
    drawnLines.paint(items);
  }

  function paintToolbar() {
    const any = halves().length > 0;
    if (bar.hidden === any) bar.hidden = !any;
    if (!any) return;
    const chosen = selected ? outlineOf(selected.half) : null;
    const inner = chosen ? canDelete(chosen, selected.i) : false;
    const smooth = inner && isSmooth(chosen, selected.i);
    setText(toolbar.name, selected ? describe(selected.half, selected.i) : say('point.none'));
    bar.setAttribute('aria-label', say('point.toolbar'));
    for (const { key, node } of toolbar.buttons) {
      const text = key === 'smooth' ? say(smooth ? 'point.make_corner' : 'point.make_smooth') : say(`point.${key}`);
      setText(node.lastChild, text);
      const walks = key === 'previous' || key === 'next';
      const able = walks || (selected && (inner || key === 'add' || key.startsWith('nudge')));
      // A button that goes dead under the finger would lose the focus: it stays and says so.
      if (able) node.removeAttribute('aria-disabled');
      else node.setAttribute('aria-disabled', 'true');
    }
  }

  lines.addEventListener('click', (event) => {
    const half = event.target.dataset?.half;
    if (!half || host.wasPan?.()) return;
    const [ox, oy] = host.origin();
    const [x, y] = toHalf(host.shown().ways[half], host.toMm([event.clientX - ox, event.clientY - oy]));
    const place = nearest(outlineOf(half), x, y);
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
