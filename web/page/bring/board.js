// The board on which a photo or a drawing lies: seen near or far, moved by finger, mouse and keys; points on it under a loupe.
// Places are in the picture's own units: pixels of a photo, or a file's.

import { h, s } from '../common/dom.js';
import { gestures } from '../drawing/gestures.js';
import { arrowOf, draggable } from '../drawing/pointer-drag.js';

/** @typedef {[number, number]} Place */
/** @typedef {[number, number, number, number]} Box left, top, width and height */
/**
 * @typedef {object} Mark a point that a person sets
 * @property {string} id
 * @property {string} name in words
 * @property {Place} at
 * @property {boolean} [isVia] whether it can be taken away again
 */
/**
 * @typedef {object} Acts what the board tells
 * @property {(id: string, at: Place, isDone: boolean) => void} move a point was moved; not done while it is still held
 * @property {(id: string) => void} remove a point is to be taken away
 * @property {(near: string[], at: Place) => void} tap the bare board was tapped, near lines of these names
 */

/** How near a line must be to a tap to be meant, px, and how many places round it are looked at. */
const NEAR = 12;
const ROUND = 8;
/** How far the board zooms, from half of all that there is. */
const MOST_ZOOM = 100;
const BUTTON_ZOOM = 1.6;
/** The loupe's side, px, and how many times nearer than the board it shows. */
const LOUPE = 144;
const LOUPE_ZOOM = 4;
/** How many units a page key moves a point where an arrow key moves it one. */
const LARGE = 10;

export class Board {
  /** px of the screen in a unit, and the place at the upper left. */
  #scale = 1;
  /** @type {Place} */
  #corner = [0, 0];
  /** @type {Box} */
  #box = [0, 0, 1, 1];
  /** How far a key moves a point. */
  #step = 1;
  /** The point that the next press sets, and the one under a finger that pressed the bare board. @type {string | undefined} */
  #wanted;
  /** @type {string | undefined} */
  #held;
  /** @type {Mark[]} */
  #marks = [];
  /** @type {Map<string, HTMLElement>} */
  #handles = new Map();

  /** @param {(key: string, values?: Record<string, string>) => string} t words @param {Acts} acts */
  constructor(t, acts) {
    this.t = t;
    this.acts = acts;
    this.picture = s('g', { id: 'bring-picture' });
    this.lines = s('g', { id: 'bring-drawn' });
    this.view = s('svg', { class: 'bring-view', tabindex: 0, role: 'group' }, this.picture, this.lines);
    this.cross = s('path', { class: 'bring-cross' });
    const seen = ['picture', 'drawn'].map((name) => s('use', { href: `#bring-${name}` }));
    this.loupe = s('svg', { class: 'bring-loupe', 'aria-hidden': 'true' }, seen, this.cross);
    this.points = h('div', { class: 'bring-points' });
    this.tools = h('div', { class: 'bring-zoom' });
    this.element = h('div', { class: 'bring-board' }, this.view, this.points, this.loupe, this.tools);
    new ResizeObserver(() => this.#draw()).observe(this.view);
    this.#listen();
  }

  /** Puts the board in the words of now. */
  say() {
    this.view.setAttribute('aria-label', this.t('board'));
    /** @param {string} key @param {string} sign @param {() => void} act */
    const button = (key, sign, act) =>
      h(
        'button',
        { type: 'button', 'aria-label': this.t(key), title: this.t(key), onclick: act },
        h('span', { 'aria-hidden': 'true', text: sign }),
      );
    this.tools.replaceChildren(
      button('nearer', '+', () => this.#zoom(BUTTON_ZOOM)),
      button('farther', '−', () => this.#zoom(1 / BUTTON_ZOOM)),
      button('all', '⤢', () => this.fit()),
    );
  }

  /** Lays a picture down and shows it whole. @param {Box} box @param {Node[]} nodes @param {number} [step] of a key, in its units */
  lay(box, nodes, step = 1) {
    this.#box = box;
    this.#step = step;
    this.picture.replaceChildren(...nodes);
    this.trace('');
    this.marks([]);
    this.#look();
    this.fit();
  }

  /** Draws a line over the picture, as SVG's path; none where it is empty. @param {string} d */
  trace(d) {
    this.lines.replaceChildren(...['under', 'over'].map((name) => s('path', { class: `bring-${name}`, d })));
  }

  /** @returns {Place} */
  #room() {
    return [this.view.clientWidth || 1, this.view.clientHeight || 1];
  }

  /** px to a unit where all of it is seen. */
  #whole() {
    const [width, height] = this.#room();
    return Math.min(width / this.#box[2], height / this.#box[3]) * 0.96;
  }

  /** Shows the whole picture. */
  fit() {
    const [left, top, width, height] = this.#box;
    this.#scale = this.#whole();
    this.#centre([left + width / 2, top + height / 2]);
  }

  /** The place in the middle of what is seen. */
  get middle() {
    return this.#inside(this.#placeAt(this.#middle()));
  }

  /** @returns {Place} */
  #middle() {
    const [width, height] = this.#room();
    return [width / 2, height / 2];
  }

  /** @param {Place} px @returns {Place} */
  #placeAt([x, y]) {
    return [this.#corner[0] + x / this.#scale, this.#corner[1] + y / this.#scale];
  }

  /** @param {Place} at */
  #centre(at) {
    const [x, y] = this.#middle();
    this.#corner = [at[0] - x / this.#scale, at[1] - y / this.#scale];
    this.#draw();
  }

  /** @param {Place} at @returns {Place} */
  #inside([x, y]) {
    const [left, top, width, height] = this.#box;
    return [Math.min(Math.max(x, left), left + width), Math.min(Math.max(y, top), top + height)];
  }

  /** @param {number} factor @param {Place} [px] what stays where it is */
  #zoom(factor, px = this.#middle()) {
    const [x, y] = this.#placeAt(px);
    const least = this.#whole() / 2;
    this.#scale = Math.min(Math.max(this.#scale * factor, least), least * MOST_ZOOM);
    this.#corner = [x - px[0] / this.#scale, y - px[1] / this.#scale];
    this.#draw();
  }

  #draw() {
    const [width, height] = this.#room();
    this.view.setAttribute('viewBox', `${this.#corner.join(' ')} ${width / this.#scale} ${height / this.#scale}`);
    for (const { id, at } of this.#marks) {
      const handle = this.#handles.get(id);
      if (!handle) continue;
      const [x, y] = [0, 1].map((i) => (at[i] - this.#corner[i]) * this.#scale);
      handle.style.transform = `translate(${x}px, ${y}px)`;
      handle.classList.toggle('bring-away', x < 0 || y < 0 || x > width || y > height);
    }
  }

  /** The points there are. Those of before keep their elements, and the person on one of them stays. @param {Mark[]} marks */
  marks(marks) {
    this.#marks = marks;
    for (const [id, handle] of this.#handles) {
      if (this.#markOf(id)) continue;
      handle.remove();
      this.#handles.delete(id);
    }
    for (const mark of marks) this.#tell(mark);
    this.#draw();
  }

  /** @param {string} id */
  #markOf(id) {
    return this.#marks.find((mark) => mark.id === id);
  }

  /** The next press on the board sets a point. @param {string} [id] */
  want(id) {
    this.#wanted = id;
    this.element.classList.toggle('bring-wants', id !== undefined);
  }

  /** Puts the person on a point; one out of sight is brought into it. @param {string} id */
  focus(id) {
    const [mark, handle] = [this.#markOf(id), this.#handles.get(id)];
    if (mark && handle?.classList.contains('bring-away')) this.#centre(mark.at);
    handle?.focus({ preventScroll: true });
  }

  /** @param {Mark} mark */
  #tell({ id, name, at }) {
    const handle = this.#handles.get(id) ?? this.#handle(id);
    const [x, y] = at.map((one) => String(Math.round(one * 10) / 10));
    const [left, , width] = this.#box;
    const said = { label: name, valuenow: x, valuemin: left, valuemax: left + width, valuetext: this.t('place', { x, y }) };
    for (const [key, value] of Object.entries(said)) handle.setAttribute(`aria-${key}`, String(value));
  }

  /** @param {string} id */
  #handle(id) {
    const handle = h('div', { class: 'bring-point', role: 'slider', tabindex: 0, 'data-point': id });
    const place = () => this.#markOf(id)?.at ?? this.middle;
    handle.addEventListener('focus', () => this.#look(place()));
    handle.addEventListener('blur', () => this.#look());
    /** Where the drag and the point began. @type {Place} */
    let from = [0, 0];
    let at = from;
    draggable(handle, {
      start: (px) => {
        at = place();
        from = [at[0] - px[0] / this.#scale, at[1] - px[1] / this.#scale];
        return true;
      },
      move: (px) => {
        at = [from[0] + px[0] / this.#scale, from[1] + px[1] / this.#scale];
        this.#move(id, at, false);
      },
      end: () => this.#move(id, at, true),
      cancel: () => this.#move(id, at, true),
    });
    handle.addEventListener('keydown', (event) => {
      const asked = arrowOf(event);
      const step = this.#step * (asked?.large ? LARGE : 1);
      const [x, y] = place();
      if (asked) this.#move(id, [x + asked.way[0] * step, y + asked.way[1] * step], true);
      else if (this.#markOf(id)?.isVia && event.key === 'Delete') this.acts.remove(id);
      else return;
      event.preventDefault();
    });
    this.#handles.set(id, handle);
    this.points.append(handle);
    return handle;
  }

  /** @param {string} id @param {Place} to @param {boolean} isDone */
  #move(id, to, isDone) {
    const at = this.#inside(to);
    const mark = this.#markOf(id);
    if (mark) {
      mark.at = at;
      this.#tell(mark);
      this.#draw();
    }
    this.#look(at);
    this.acts.move(id, at, isDone);
  }

  /** Shows what is around a place, or nothing. @param {Place} [at] */
  #look(at) {
    this.loupe.toggleAttribute('hidden', !at);
    if (!at) return;
    const side = LOUPE / Math.max(this.#scale * LOUPE_ZOOM, 1 / this.#step);
    const [left, top] = [at[0] - side / 2, at[1] - side / 2];
    this.loupe.setAttribute('viewBox', `${left} ${top} ${side} ${side}`);
    // Open in the middle, so that the place itself is seen.
    const [arm, gap] = [side * 0.45, side * 0.1];
    this.cross.setAttribute('d', `M${left} ${at[1]}h${arm}m${gap} 0h${arm}M${at[0]} ${top}v${arm}m0 ${gap}v${arm}`);
    // Away from the finger.
    this.loupe.classList.toggle('bring-right', (at[0] - this.#corner[0]) * this.#scale < this.#middle()[0]);
  }

  #listen() {
    const { view } = this;
    const moving = gestures(view, {
      zoom: (factor, px) => this.#zoom(factor, px),
      pan: (dx, dy) => {
        if (this.#held) return;
        this.#corner = [this.#corner[0] - dx / this.#scale, this.#corner[1] - dy / this.#scale];
        this.#draw();
      },
      fit: () => this.fit(),
      middle: () => this.#middle(),
      focused: () => true,
    });
    /** @param {PointerEvent} event */
    const placeOf = ({ clientX, clientY }) => {
      const { left, top } = view.getBoundingClientRect();
      return this.#placeAt([clientX - left, clientY - top]);
    };
    let fingers = 0;
    view.addEventListener('pointerdown', (event) => {
      fingers = event.isPrimary ? 1 : fingers + 1;
      // A second finger moves the board: the first one no longer means a place.
      this.#held = fingers === 1 && event.button === 0 ? this.#wanted : undefined;
      if (this.#held) this.#look(this.#inside(placeOf(event)));
    });
    view.addEventListener('pointermove', (event) => {
      if (this.#held && event.isPrimary) this.#move(this.#held, placeOf(event), false);
    });
    view.addEventListener('pointerup', (event) => {
      const held = this.#held;
      this.#held = undefined;
      if (held) this.#move(held, placeOf(event), true);
      else if (event.isPrimary && event.button === 0 && !moving.wasPan()) this.acts.tap(this.#linesAt(event), placeOf(event));
    });
    view.addEventListener('pointercancel', () => {
      this.#held = undefined;
    });
  }

  /** Lines at a place of the screen and near it, the nearest first. @param {PointerEvent} event */
  #linesAt({ clientX, clientY }) {
    /** @type {Set<string>} */
    const found = new Set();
    for (let turn = 0; turn <= 3 * ROUND; turn += 1) {
      const [r, angle] = [(NEAR / 3) * Math.ceil(turn / ROUND), (turn / ROUND) * 2 * Math.PI];
      const line = document.elementFromPoint(clientX + r * Math.cos(angle), clientY + r * Math.sin(angle))?.closest('[data-line]');
      if (line) found.add(line.getAttribute('data-line') ?? '');
    }
    return [...found];
  }
}
