// Says the result to those who listen: after a pause, and only when it has changed.

import { byId } from '../common/dom.js';

/** Quiet that must follow a change before it is spoken, ms: long enough not to talk over typing. */
const QUIET = 1000;

/** @type {ReturnType<typeof setTimeout> | undefined} */
let waiting;
let said = '';

/** @param {string} text */
export function say(text) {
  clearTimeout(waiting);
  waiting = setTimeout(() => {
    if (text === said) return;
    said = text;
    byId('live').textContent = text;
  }, QUIET);
}
