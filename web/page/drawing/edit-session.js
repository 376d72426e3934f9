// One change of the brief from its first movement to its end. While it lasts the host hears of it at most once a
// frame; at the end once more, as a thing done. Escape takes it back. One hand at a time has it: what another finger or a
// key would do to another handle meanwhile is not taken up.

/** @typedef {{ letGo(): void }} Hand who changes the brief, and how to make them stop */

/**
 * @param {(edit: { phase: 'drag' | 'commit', brief: object, label: string, cancelled?: true }) => void} onEdit
 */
export function editSession(onEdit) {
  let first = null;
  let latest = null;
  let told = null;
  let hand = null;
  let label = '';
  let frame = 0;

  const tell = () => {
    frame = 0;
    if (!latest) return;
    told = latest;
    onEdit({ phase: 'drag', brief: latest, label });
  };
  const end = () => {
    cancelAnimationFrame(frame);
    frame = 0;
    const done = { first, latest };
    first = null;
    latest = null;
    told = null;
    hand = null;
    return done;
  };

  return {
    /** The brief as changed so far, or null. */
    get brief() {
      return latest;
    },
    get active() {
      return first !== null;
    },
    /** Begins where nobody else has begun. @param {object} brief @param {Hand} by @returns {boolean} whether it is theirs now */
    begin(brief, by) {
      if (!first) [first, hand] = [brief, by];
      return hand === by;
    },
    /** Whether a change is on by this hand. */
    isBy: (by) => first !== null && hand === by,
    /** Whether a brief is one that this change began with or told of. */
    knows: (brief) => brief === first || brief === told,
    /** Ends what is on, as when the page is about to be printed. */
    letGo() {
      hand?.letGo();
    },
    change(brief, words) {
      if (!first) return;
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
