// One part of the page on paper by itself.

import { h } from './dom.js';

/** Prints nodes alone, outside the page's own layout; they are gone afterwards. @param {Node[]} nodes */
export function printAlone(nodes) {
  const sheet = h('div', { class: 'print-only' }, nodes);
  document.body.append(sheet);
  document.body.classList.add('prints-alone');
  const done = () => {
    sheet.remove();
    document.body.classList.remove('prints-alone');
  };
  addEventListener('afterprint', done, { once: true });
  print();
}
