// Dragging an element with finger, pen or mouse, the same for every handle.

import { isModified } from '../keys.js';

/**
 * @param {HTMLElement} node
 * @param {{ start(at: [number, number]): void, move(at: [number, number], event: PointerEvent): void, end(): void, cancel(): void }} act
 *   places are px of the window
 */
export function draggable(node, act) {
  let pointer = null;
  const place = (event) => [event.clientX, event.clientY];
  const stop = (done) => (event) => {
    if (event.pointerId !== pointer) return;
    pointer = null;
    done();
  };
  node.addEventListener('pointerdown', (event) => {
    if (pointer !== null || event.button !== 0) return;
    pointer = event.pointerId;
    node.setPointerCapture(pointer);
    event.preventDefault();
    event.stopPropagation();
    node.focus({ preventScroll: true });
    act.start(place(event));
  });
  node.addEventListener('pointermove', (event) => {
    if (event.pointerId === pointer) act.move(place(event), event);
  });
  node.addEventListener('pointerup', stop(() => act.end()));
  node.addEventListener('pointercancel', stop(() => act.cancel()));
  // A finger that lies on a handle moves the handle, never the page.
  node.addEventListener('touchstart', (event) => event.preventDefault(), { passive: false });
  return {
    /** Lets go without an end, as after Escape. */
    release() {
      if (pointer === null) return false;
      if (node.hasPointerCapture(pointer)) node.releasePointerCapture(pointer);
      pointer = null;
      return true;
    },
  };
}

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1], PageUp: [0, -1], PageDown: [0, 1] };

/** What an arrow or page key asks: a direction and whether the step is a large one; null for other keys. */
export function arrowOf(event) {
  const way = ARROWS[event.key];
  if (!way || isModified(event)) return null;
  return { way, large: event.shiftKey || event.key.startsWith('Page') };
}
