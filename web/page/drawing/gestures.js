// Moving and zooming the view: pinch, drag, wheel, keys.

import { isModified } from '../common/keys.js';
import { arrowOf, isLifted } from './pointer-drag.js';

/** @import { Point } from './frame.js' */

const KEY_ZOOM = 1.25;
const KEY_PAN = 40;
const LOOSE = 5; // px that a tap may slip

/**
 * @param {SVGSVGElement} canvas
 * @param {{ zoom(factor: number, at: Point): void, pan(dx: number, dy: number): void, fit(): void,
 *   middle(): Point, focused(): boolean }} act
 */
export function gestures(canvas, act) {
  /** @type {Map<number, Point>} */
  const touching = new Map();
  let slipped = 0;
  let panned = false;

  /** @param {MouseEvent} event @returns {Point} */
  const place = (event) => {
    const { left, top } = canvas.getBoundingClientRect();
    return [event.clientX - left, event.clientY - top];
  };

  canvas.addEventListener(
    'wheel',
    (event) => {
      if (!event.ctrlKey && !event.metaKey && !act.focused()) return;
      event.preventDefault();
      const px = event.deltaMode === 1 ? event.deltaY * 16 : event.deltaMode === 2 ? event.deltaY * 400 : event.deltaY;
      act.zoom(Math.exp(-Math.max(-120, Math.min(120, px)) * (event.ctrlKey ? 0.008 : 0.0025)), place(event));
    },
    { passive: false },
  );

  // The page scrolls under one finger; two are the drawing's.
  canvas.addEventListener(
    'touchstart',
    (event) => {
      if (event.touches.length > 1) event.preventDefault();
    },
    { passive: false },
  );
  canvas.addEventListener(
    'touchmove',
    (event) => {
      if (event.touches.length > 1) event.preventDefault();
    },
    { passive: false },
  );

  canvas.addEventListener('pointerdown', (event) => {
    if (event.button > 1) return;
    touching.set(event.pointerId, place(event));
    if (touching.size === 1) {
      slipped = 0;
      panned = false;
    }
    canvas.classList.add('draw-panning');
  });

  canvas.addEventListener('pointermove', (event) => {
    const before = touching.get(event.pointerId);
    if (!before) return;
    if (isLifted(event)) {
      lift(event);
      return;
    }
    const now = place(event);
    const other = [...touching].find(([id]) => id !== event.pointerId)?.[1];
    touching.set(event.pointerId, now);
    if (other) {
      pinch(before, now, other);
      return;
    }
    slipped += Math.hypot(now[0] - before[0], now[1] - before[1]);
    if (slipped < LOOSE) return;
    if (!panned) canvas.setPointerCapture(event.pointerId);
    panned = true;
    act.pan(now[0] - before[0], now[1] - before[1]);
  });

  /** @param {Point} before @param {Point} now @param {Point} other */
  function pinch(before, now, other) {
    panned = true;
    const [was, is] = [before, now].map((p) => Math.hypot(p[0] - other[0], p[1] - other[1]));
    act.pan((now[0] - before[0]) / 2, (now[1] - before[1]) / 2);
    if (was > 1 && is > 1) act.zoom(is / was, [(now[0] + other[0]) / 2, (now[1] + other[1]) / 2]);
  }

  /** @param {PointerEvent} event */
  const lift = (event) => {
    touching.delete(event.pointerId);
    if (!touching.size) canvas.classList.remove('draw-panning');
  };
  canvas.addEventListener('pointerup', lift);
  canvas.addEventListener('pointercancel', lift);
  canvas.addEventListener('lostpointercapture', (event) => {
    if (event.target === canvas) lift(event);
  });
  canvas.addEventListener('pointerleave', (event) => {
    if (!canvas.hasPointerCapture(event.pointerId)) lift(event);
  });

  canvas.addEventListener('keydown', (event) => {
    if (event.target !== canvas || isModified(event)) return;
    const asked = arrowOf(event);
    if (event.key === '+' || event.key === '=') act.zoom(KEY_ZOOM, act.middle());
    else if (event.key === '-' || event.key === '_') act.zoom(1 / KEY_ZOOM, act.middle());
    else if (event.key === '0') act.fit();
    else if (asked) act.pan(-asked.way[0] * KEY_PAN * (asked.large ? 4 : 1), -asked.way[1] * KEY_PAN * (asked.large ? 4 : 1));
    else return;
    event.preventDefault();
  });

  return { /** Whether the last press moved the view rather than tapped. */ wasPan: () => panned };
}
