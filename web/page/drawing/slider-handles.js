// The handles of drafted and measured halves on the stage: sliders for finger, mouse and keys.

import { isModified } from '../common/keys.js';
import { known } from '../common/known.js';
import { toHalf, toWorld } from './frame.js';
import { byTravel, handlesOf, stepped, STEPS, travelOf, valueAfter, valueAt, withValue } from './handles.js';
import { element, setText } from './nodes.js';
import { arrowOf, draggable, isArrow } from './pointer-drag.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { HalfName, Plan } from '../types/plan.d.ts' */
/** @import { Session } from './edit-session.js' */
/** @import { Point, Ways } from './frame.js' */
/** @import { Handle } from './handles.js' */
/** @import { Said } from './scene.js' */
/** @import { Area, View } from './view.js' */
/** @import { Unit } from '../plan/reckoner.js' */

// Where a handle stands off its place, px: front and back meet at the neck point, and share theirs.
/** @type {Record<string, Point>} */
const OFF = { 'front.half_width': [32, 23], 'back.half_width': [32, -23] };
const GLYPHS = { x: '↔', y: '↕', free: '⤡' };

/** The end of a handle's range that a key leads to. @type {Record<string, 'min' | 'max'>} */
const ENDS = { Home: 'min', End: 'max' };
/** @param {KeyboardEvent} event */
const endOf = (event) => (isModified(event) ? undefined : known(ENDS, event.key));

/** @typedef {{ brief: Brief, plan: Plan, ways: Ways }} Shown what is on the stage */
/**
 * @typedef {object} Host what handles need of the drawing
 * @property {Session} session
 * @property {() => Shown | null} shown
 * @property {(mm: Point) => Point} toStage
 * @property {(px: Point) => Point} toMm
 * @property {() => View} view
 * @property {() => Point} origin of the stage in the window, px
 * @property {() => Unit} unit
 * @property {() => Said} words
 * @property {(text: string, spoken: boolean) => void} tell
 * @property {() => void} changed
 * @property {() => boolean} wasPan whether the last press moved the view rather than tapped
 */
/** @typedef {{ node: HTMLElement, sign: HTMLElement, values: Record<string, string | number>, at: string, drop(): void }} Slider */
/** @typedef {{ handle: Handle, place: Point }} Held the handle under a finger as it was at the start, and where it stood */

/** @param {Record<HalfName, HTMLElement>} halves @param {Host} host */
export function sliderHandles(halves, host) {
  /** @type {Map<string, Slider>} */
  const kept = new Map();
  /** @type {Area[]} */
  let areas = [];
  /** @type {Held | null} */
  let held = null;

  function handles() {
    const shown = host.shown();
    return shown ? handlesOf(host.session.brief ?? shown.brief, shown.plan) : [];
  }

  /** @param {string} id */
  const find = (id) => handles().find((handle) => handle.id === id);

  /** @param {Handle} handle @param {number} value */
  function set(handle, value) {
    const brief = host.session.brief ?? host.shown()?.brief;
    if (!brief || value === handle.value) return;
    const text = `${nameOf(handle)}: ${valueText({ ...handle, value })}`;
    host.session.change(withValue(brief, handle.path, value), text);
    host.tell(text, false);
  }

  /** @param {Handle} handle */
  const nameOf = (handle) => host.words().t(`drawing.handle.${handle.half}_${handle.kind}`);

  /** @param {Handle} handle */
  function valueText({ measure, value }) {
    const words = host.words();
    return measure === 'percent' ? `${words.number(value, { digits: 1 })} %` : words.length(value, host.unit(), { suffix: true });
  }

  /** @param {Handle} handle @returns {Point} */
  function stagePlace(handle) {
    const shown = host.shown();
    if (shown && held?.handle.id === handle.id && byTravel(handle)) {
      const [ux, uy] = fuller(handle, shown);
      const far = travelOf(held.handle, handle.value);
      return [held.place[0] + ux * far, held.place[1] + uy * far];
    }
    return restPlace(handle);
  }

  /**
   * On the stage, the way from the chord to the corner: along it a line grows fuller.
   * @param {Handle} handle @param {Shown} shown @returns {Point}
   */
  function fuller(handle, shown) {
    const draft = shown.brief.neckline[handle.half].outline.drafted;
    const [width, depth] = draft ? [draft.half_width_mm, draft.depth_mm] : [1, 1];
    const size = Math.hypot(width, depth);
    return [width / size, (depth / size) * shown.ways[handle.half].up];
  }

  /** @param {Handle} handle @returns {Point} */
  function restPlace(handle) {
    const shown = host.shown();
    const [wx, wy] = shown ? toWorld(shown.ways[handle.half], handle.at) : [0, 0];
    const [x, y] = host.toStage(handle.kind === 'half_width' ? [wx, 0] : [wx, wy]);
    const [dx, dy] = OFF[handle.id] ?? [0, 0];
    return [x + dx, y + dy];
  }

  /** @param {Handle} handle @returns {Slider} */
  function make({ id, half }) {
    const node = element('div', 'draw-handle');
    node.tabIndex = 0;
    node.setAttribute('role', 'slider');
    const sign = element('span', 'draw-handle-dot');
    node.append(sign);
    /** @type {Point} */
    let grip = [0, 0];
    /** @type {Point} */
    let last = [0, 0];
    /** @type {View | null} */
    let view = null;
    /** Takes the handle where it stands now, with the finger where it is. @param {Point} at @param {Handle} handle */
    const take = (at, handle) => {
      const place = restPlace(handle);
      const [ox, oy] = host.origin();
      grip = [at[0] - ox - place[0], at[1] - oy - place[1]];
      held = { handle, place };
      view = host.view();
    };
    const hand = {
      letGo: () => {
        drag.release();
        finish(() => host.session.commit());
      },
    };
    const drag = draggable(node, {
      start(at) {
        const handle = find(id);
        const shown = host.shown();
        if (!handle || !shown || !host.session.begin(shown.brief, hand)) return false;
        take(at, handle);
        last = at;
        node.classList.add('draw-held');
        host.tell(`${nameOf(handle)}: ${valueText(handle)}`, false);
        return true;
      },
      move(at) {
        const handle = find(id);
        const shown = host.shown();
        if (!handle || !shown) return;
        // The stage grew or shrank under the finger: the value goes on from where it was.
        if (view !== host.view()) take(last, handle);
        last = at;
        const [ox, oy] = host.origin();
        const [x, y] = [at[0] - ox - grip[0], at[1] - oy - grip[1]];
        if (held && byTravel(handle)) {
          const [ux, uy] = fuller(handle, shown);
          set(handle, valueAfter(held.handle, (x - held.place[0]) * ux + (y - held.place[1]) * uy, snapOf(handle)));
          return;
        }
        const [dx, dy] = OFF[id] ?? [0, 0];
        const point = toHalf(shown.ways[handle.half], host.toMm([x - dx, y - dy]));
        set(handle, valueAt(handle, point, host.session.brief ?? shown.brief, snapOf(handle)));
      },
      end() {
        finish(() => host.session.commit(), true);
      },
      cancel() {
        finish(() => host.session.cancel());
      },
    });
    /** @param {() => void} how @param {boolean} [spoken] */
    const finish = (how, spoken) => {
      node.classList.remove('draw-held');
      held = null;
      const handle = find(id);
      how();
      if (handle && spoken) host.tell(`${nameOf(handle)}: ${valueText(handle)}`, true);
      host.changed();
    };
    node.addEventListener('keydown', (event) => {
      if (event.key === 'Escape' && host.session.isBy(hand)) {
        drag.release();
        finish(() => host.session.cancel());
        event.preventDefault();
        event.stopPropagation();
        return;
      }
      const asked = arrowOf(event);
      const handle = find(id);
      const shown = host.shown();
      const end = endOf(event);
      if (!(asked || end) || !handle) return;
      event.preventDefault();
      event.stopPropagation();
      if (!shown || !host.session.begin(shown.brief, hand)) return;
      set(handle, end ? handle[end] : stepped(handle, signOf(handle, asked?.way ?? [0, 0]), asked?.large ?? false, host.unit()));
      paint();
    });
    // Holding a key down is one change: it ends when the key is let go or the handle is left.
    node.addEventListener('keyup', (event) => {
      if ((isArrow(event) || endOf(event)) && host.session.isBy(hand) && !node.classList.contains('draw-held'))
        finish(() => host.session.commit());
    });
    node.addEventListener('blur', () => {
      if (host.session.isBy(hand) && !node.classList.contains('draw-held')) finish(() => host.session.commit());
    });
    halves[half].append(node);
    return {
      node,
      sign,
      values: {},
      at: '',
      drop() {
        drag.release();
        if (host.session.isBy(hand)) host.session.stop();
      },
    };
  }

  /** @param {Handle} handle */
  const snapOf = (handle) => STEPS[handle.measure === 'percent' ? 'percent' : host.unit()][0];

  function paint() {
    const list = handles();
    areas = [];
    for (const handle of list) {
      let entry = kept.get(handle.id);
      if (!entry) {
        entry = make(handle);
        kept.set(handle.id, entry);
      }
      const [x, y] = stagePlace(handle);
      areas.push({ x0: x - 13, x1: x + 13, y0: y - 13, y1: y + 13 });
      change(entry, {
        'aria-label': nameOf(handle),
        'aria-valuemin': handle.min,
        'aria-valuemax': handle.max,
        'aria-valuenow': handle.value,
        'aria-valuetext': valueText(handle),
        'aria-orientation': handle.axis === 'y' ? 'vertical' : 'horizontal',
      });
      const at = `translate(${Math.round(x * 10) / 10}px, ${Math.round(y * 10) / 10}px)`;
      if (entry.at !== at) {
        entry.at = at;
        entry.node.style.transform = at;
      }
      setText(entry.sign, GLYPHS[handle.axis]);
    }
    for (const [id, entry] of kept) {
      if (list.some((handle) => handle.id === id)) continue;
      kept.delete(id);
      entry.drop();
      entry.node.remove();
    }
  }

  return {
    paint,
    /** Lets go of what is held, without an end. */
    drop() {
      held = null;
      for (const { node, drop } of kept.values()) {
        drop();
        node.classList.remove('draw-held');
      }
    },
    /** Areas on the stage that text should leave free. */
    areas: () => areas,
  };
}

/**
 * Right and up mean more; on the drawing itself a handle goes the way of the key, arrow or page, where its axis lies that way.
 * @param {Handle} handle @param {Point} way
 */
function signOf(handle, [dx, dy]) {
  if (handle.axis === 'y') return dy ? screenSign(handle, dy) : dx;
  return dx || -dy;
}

/** The front's depth grows down the screen, the back's, which is drawn turned up, grows up. @param {Handle} handle @param {number} dy */
const screenSign = (handle, dy) => (handle.half === 'back' ? -dy : dy);

/** @param {Slider} entry @param {Record<string, string | number>} attributes */
function change({ node, values }, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (values[name] === value) continue;
    values[name] = value;
    node.setAttribute(name, String(value));
  }
}
