// The handles of drafted and measured halves on the stage: sliders for finger, mouse and keys.

import { toHalf, toWorld } from './frame.js';
import { byTravel, handlesOf, stepped, STEPS, travelOf, valueAfter, valueAt, withValue } from './handles.js';
import { element, setText } from './nodes.js';
import { arrowOf, draggable } from './pointer-drag.js';

// Where a handle stands off its place, px: front and back meet at the neck point, and share theirs.
const OFF = { 'front.half_width': [32, 23], 'back.half_width': [32, -23] };
const GLYPHS = { x: '↔', y: '↕', free: '⤡' };

/**
 * @param {{ front: HTMLElement, back: HTMLElement }} halves
 * @param {{ session: object, shown(): object | null, toStage(p: [number, number]): [number, number], toMm(p: [number, number]): [number, number],
 *   origin(): [number, number], unit(): string, words(): object, tell(text: string, spoken: boolean): void, changed(): void }} host
 */
export function sliderHandles(halves, host) {
  const kept = new Map();
  let areas = [];
  let held = null; // the handle under a finger as it was at the start, and where it stood

  function handles() {
    const shown = host.shown();
    return shown ? handlesOf(host.session.brief ?? shown.brief, shown.plan) : [];
  }

  const find = (id) => handles().find((handle) => handle.id === id);

  function set(handle, value) {
    const shown = host.shown();
    const brief = host.session.brief ?? shown.brief;
    if (value === handle.value) return;
    const text = `${nameOf(handle)}: ${valueText({ ...handle, value })}`;
    host.session.change(withValue(brief, handle.path, value), text);
    host.tell(text, false);
    paint();
  }

  const nameOf = (handle) => host.words().t(`drawing.handle.${handle.half}_${handle.kind}`);

  function valueText({ measure, value }) {
    const words = host.words();
    return measure === 'percent' ? `${words.number(value, { digits: 1 })} %` : words.length(value, host.unit(), { suffix: true });
  }

  function stagePlace(handle) {
    if (held?.handle.id === handle.id && byTravel(handle)) {
      const [ux, uy] = fuller(handle);
      const far = travelOf(held.handle, handle.value);
      return [held.place[0] + ux * far, held.place[1] + uy * far];
    }
    return restPlace(handle);
  }

  // On the stage, the way from the chord to the corner: along it a line grows fuller.
  function fuller(handle) {
    const { half_width_mm: width, depth_mm: depth } = host.shown().brief.neckline[handle.half].outline.drafted;
    const size = Math.hypot(width, depth);
    return [width / size, (depth / size) * host.shown().ways[handle.half].up];
  }

  function restPlace(handle) {
    const shown = host.shown();
    const [wx, wy] = toWorld(shown.ways[handle.half], handle.at);
    const [x, y] = host.toStage(handle.kind === 'half_width' ? [wx, 0] : [wx, wy]);
    const [dx, dy] = OFF[handle.id] ?? [0, 0];
    return [x + dx, y + dy];
  }

  function make({ id, half }) {
    const node = element('div', 'draw-handle');
    node.tabIndex = 0;
    node.setAttribute('role', 'slider');
    node.append(element('span', 'draw-handle-dot'));
    let grip = null;
    let last = null;
    let view = null;
    /** Takes the handle where it stands now, with the finger where it is. */
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
        if (!handle || !host.session.begin(host.shown().brief, hand)) return false;
        take(at, handle);
        last = at;
        node.classList.add('draw-held');
        host.tell(`${nameOf(handle)}: ${valueText(handle)}`, false);
        return true;
      },
      move(at) {
        const handle = find(id);
        const shown = host.shown();
        if (!handle) return;
        // The stage grew or shrank under the finger: the value goes on from where it was.
        if (view !== host.view()) take(last, handle);
        last = at;
        const [ox, oy] = host.origin();
        const [x, y] = [at[0] - ox - grip[0], at[1] - oy - grip[1]];
        if (byTravel(handle)) {
          const [ux, uy] = fuller(handle);
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
      if (!asked || !handle) return;
      event.preventDefault();
      event.stopPropagation();
      if (!host.session.begin(host.shown().brief, hand)) return;
      set(handle, stepped(handle, signOf(handle, asked.way, event.key), asked.large, host.unit()));
    });
    // Holding a key down is one change: it ends when the key is let go or the handle is left.
    node.addEventListener('keyup', (event) => {
      if (arrowOf({ key: event.key }) && host.session.isBy(hand) && !node.classList.contains('draw-held'))
        finish(() => host.session.commit());
    });
    node.addEventListener('blur', () => {
      if (host.session.isBy(hand) && !node.classList.contains('draw-held')) finish(() => host.session.commit());
    });
    halves[half].append(node);
    return {
      node,
      values: {},
      drop() {
        drag.release();
        if (host.session.isBy(hand)) host.session.stop();
      },
    };
  }

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
      if (entry.at !== at) entry.node.style.transform = entry.at = at;
      setText(entry.node.firstChild, GLYPHS[handle.axis]);
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

// Right and up mean more; on the drawing itself a handle goes the way of the key where its axis lies that way.
function signOf(handle, [dx, dy], key) {
  if (key.startsWith('Page')) return key === 'PageUp' ? 1 : -1;
  if (handle.axis === 'y') return dy ? screenSign(handle, dy) : dx;
  return dx || -dy;
}

// The front's depth grows down the screen, the back's, which is drawn turned up, grows up.
const screenSign = (handle, dy) => (handle.half === 'back' ? -dy : dy);

function change({ node, values }, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (values[name] === value) continue;
    values[name] = value;
    node.setAttribute(name, value);
  }
}
