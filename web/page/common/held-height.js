// A part of the page that keeps its height while a finger moves: what stands below stays where it is, and need not be laid out again.

/** @param {HTMLElement} part whose children may come and go */
export function createHeldHeight(part) {
  // Told after what is in it was laid out, so that to ask for its height costs nothing.
  const watcher = new ResizeObserver(() => {
    if (part.scrollHeight > part.clientHeight) part.style.height = `${part.scrollHeight}px`;
  });
  return {
    /** From now on it is as high as it stands, and grows where what is in it does. */
    hold() {
      if (part.style.height) return;
      part.style.height = `${part.getBoundingClientRect().height}px`;
      for (const child of part.children) watcher.observe(child);
    },
    release() {
      if (!part.style.height) return;
      part.style.height = '';
      watcher.disconnect();
    },
  };
}
