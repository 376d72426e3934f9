// Hosts the sheets' panel alone, with small stand-ins for the page's state and words.

import { createSheetsPanel } from '../../../web/page/sheets/sheets-panel.js';
import { makePdf, makePieces } from '../../../web/page/sheets/sheets.js';

async function wordsIn(language) {
  const catalogue = await (await fetch(`www/words/${language}.json`)).json();
  return {
    language,
    async whole() {},
    number: (n) => new Intl.NumberFormat(language).format(n),
    t(key, values = {}) {
      const text = key.split('.').reduce((at, name) => at?.[name], catalogue);
      if (typeof text !== 'string') throw new Error(`no words for ${key}`);
      return text.replace(/\{(\w+)\}/g, (_, name) => {
        if (!(name in values)) throw new Error(`no value for ${name} in ${key}`);
        return values[name];
      });
    },
  };
}

let panel;

window.host = {
  makePdf,
  makePieces,
  async show({ brief, answer, unit, language }) {
    document.documentElement.lang = language;
    const state = Object.assign(new EventTarget(), {
      brief,
      unit,
      language,
      plan: answer.plan ?? (answer.errors ? null : answer),
      errors: answer.errors ?? [],
    });
    const reckoner = { plan: () => (answer.errors ? answer : { plan: state.plan }) };
    panel?.destroy();
    const words = await wordsIn(language);
    panel = createSheetsPanel(document.querySelector('#sheets-panel'), { state, reckoner, words });
    Object.assign(window.host, { state, panel, wordsIn });
  },
};
