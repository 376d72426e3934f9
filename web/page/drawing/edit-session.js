// One change of the brief from its first movement to its end. While it lasts the host hears of it at most once a
// frame; at the end once more, as a thing done. Escape takes it back.

/**
 * @param {(edit: { phase: 'drag' | 'commit', brief: object, label: string, cancelled?: true }) => void} onEdit
 */
export function editSession(onEdit) {
  let first = null;
  let latest = null;
  let label = '';
  let frame = 0;

  const tell = () => {
    frame = 0;
    if (latest) onEdit({ phase: 'drag', brief: latest, label });
  };
  const end = () => {
    cancelAnimationFrame(frame);
    frame = 0;
    const told = { first, latest };
    first = null;
    latest = null;
    return told;
  };

  return {
    /** The brief as changed so far, or null. */
    get brief() { return latest; },
    get active() { return first !== null; },
    begin(brief) {
      if (!first) first = brief;
    },
    change(brief, words) {
      latest = brief;
      label = words;
      frame ||= requestAnimationFrame(tell);
    },
    commit() {
      const done = end();
      if (done.latest) onEdit({ phase: 'commit', brief: done.latest, label });
    },
    cancel() {
      const done = end();
      if (done.latest) onEdit({ phase: 'drag', brief: done.first, label, cancelled: true });
    },
    stop: end,
  };
}
