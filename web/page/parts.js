// What the page fetches only when it is wanted, for whoever wants it: later-parts.js, once for all of them.

import { laterStyles } from './common/later-styles.js';

/** @typedef {typeof import('./later-parts.js')} Parts */

/** @type {Parts | undefined} */
let now;
/** @type {Promise<Parts> | undefined} */
let coming;

export const parts = {
  /** The parts where they are there already. @returns {Parts | undefined} */
  get now() {
    return now;
  },
  /** Fetches the parts, once; a fetch that failed is tried again the next time. @returns {Promise<Parts>} */
  get() {
    coming ??= Promise.all([import('./later-parts.js'), laterStyles()]).then(
      ([come]) => {
        now = come;
        return come;
      },
      (error) => {
        coming = undefined;
        throw error;
      },
    );
    return coming;
  },
  /** Asks for them ahead of need; where they do not come, whoever needs them says so. */
  async ahead() {
    await parts.get().catch(() => {});
  },
};
