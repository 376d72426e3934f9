// Dragging an element with finger, pen or mouse, the same for every handle.

import { isModified } from '../common/keys.js';
import { known } from '../common/known.js';

/** @import { Point } from './frame.js' */

/**
 * Whether a mouse moves with nothing pressed: it was let go where the page could not hear it, as over a menu of the system.
 * @param {PointerEvent} event
 */
export const isLifted = (event) => event.pointerType === 'mouse' && event.buttons === 0;

/**
 * @param {HTMLElement} node
 * @param {{ start(at: Point): boolean, move(at: Point, event: PointerEvent): void, end(): void, cancel(): void }} act
 *   places are px of the window; `start` says whether the drag may begin
 */
export function draggable(node, act) {
  /** @type {number | null} */
  let pointer = null;
  /** @param {PointerEvent} event @returns {Point} */
  const place = (event) => [event.clientX, event.clientY];
  /** @param {() => void} done @returns {(event: PointerEvent) => void} */
  const stop = (done) => (event) => {
    if (event.pointerId !== pointer) return;
    pointer = null;
    done();
  };
  node.addEventListener('pointerdown', (event) => {
    if (pointer !== null || event.button !== 0) return;
    event.preventDefault();
    event.stopPropagation();
    node.focus({ preventScroll: true });
    if (!act.start(place(event))) return;
    pointer = event.pointerId;
    node.setPointerCapture(event.pointerId);
  });
  node.addEventListener('pointermove', (event) => {
    if (event.pointerId !== pointer) return;
    if (isLifted(event)) stop(() => act.end())(event);
    else act.move(place(event), event);
  });
  node.addEventListener(
    'pointerup',
    stop(() => act.end()),
  );
  node.addEventListener(
    'pointercancel',
    stop(() => act.cancel()),
  );
  node.addEventListener(
    'lostpointercapture',
    stop(() => act.end()),
  );
  // A finger that lies on a handle moves the handle, never the page.
  node.addEventListener('touchstart', (event) => event.preventDefault(), { passive: false });
  return {
    /** Lets go without an end, as after Escape. */
    release() {
      if (pointer === null) return;
      const last = pointer;
      pointer = null;
      if (node.hasPointerCapture(last)) node.releasePointerCapture(last);
    },
  };
}

/** @type {Record<string, Point>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1], PageUp: [0, -1], PageDown: [0, 1] };

/** Whether a key is an arrow or a page key. @param {KeyboardEvent} event */
export const isArrow = (event) => known(ARROWS, event.key) !== undefined;

/** What an arrow or page key asks: a direction and whether the step is a large one; null for other keys. @param {KeyboardEvent} event */
export function arrowOf(event) {
  const way = known(ARROWS, event.key);
  if (!way || isModified(event)) return null;
  return { way, large: event.shiftKey || event.key.startsWith('Page') };
}
