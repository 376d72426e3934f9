// One change of the brief from its first movement to its end. While it lasts the host hears of it at most once a
// frame; at the end once more, as a thing done. Escape takes it back. One hand at a time has it: what another finger or a
// key would do to another handle meanwhile is not taken up.

/** @import { Brief } from '../types/brief.d.ts' */

/** @typedef {{ phase: 'drag' | 'commit', brief: Brief, label: string, cancelled?: true }} Edit */
/** @typedef {ReturnType<typeof editSession>} Session */
/** @typedef {{ letGo(): void }} Hand who changes the brief, and how to make them stop */

/**
 * @param {(edit: Edit) => void} onEdit
 */
export function editSession(onEdit) {
  /** @type {Brief | null} */
  let first = null;
  /** @type {Brief | null} */
  let latest = null;
  /** @type {Brief | null} */
  let told = null;
  /** @type {Hand | null} */
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
    /** Whether what changed is told in the frame to come. */
    get isTelling() {
      return frame !== 0;
    },
    /** Begins where nobody else has begun. @param {Brief} brief @param {Hand} by @returns {boolean} whether it is theirs now */
    begin(brief, by) {
      if (!first) {
        first = brief;
        hand = by;
      }
      return hand === by;
    },
    /** Whether a change is on by this hand. @param {Hand} by */
    isBy: (by) => first !== null && hand === by,
    /** Whether a brief is one that this change began with or told of. @param {Brief} brief */
    knows: (brief) => brief === first || brief === told,
    /** Ends what is on, as when the page is about to be printed. */
    letGo() {
      hand?.letGo();
    },
    /** @param {Brief} brief @param {string} words */
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
      if (done.first && done.latest) onEdit({ phase: 'drag', brief: done.first, label, cancelled: true });
    },
    stop: end,
  };
}
