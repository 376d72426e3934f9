// Hosts the drawing alone, with small stand-ins for the page's words and with the core's own plans, asked of the test's server.

import { createDrawing } from '/page/drawing/drawing.js';
import { lightUp } from '/page/drawing/light.js';
import { pathHandles } from '/page/drawing/path-handles.js';
import { errorScene } from '/page/drawing/scene-errors.js';
import { facingScene } from '/page/drawing/scene-facing.js';

const asked = new URLSearchParams(location.search);

async function json(path, options) {
  const answer = await fetch(path, options);
  return answer.json();
}

async function standInWords(language) {
  const catalogue = await json(`/www/words/${language}.json`);
  const formats = [0, 1, 2].map((maximumFractionDigits) => new Intl.NumberFormat(language, { maximumFractionDigits }));
  const number = (n, { digits = 0 } = {}) => formats[digits].format(n);
  return {
    language,
    number,
    t(key, values = {}) {
      const text = key.split('.').reduce((at, name) => at?.[name], catalogue);
      if (typeof text !== 'string') throw new Error(`no words for ${key}`);
      return text.replace(/\{(\w+)\}/g, (_, name) => {
        if (!(name in values)) throw new Error(`no value for ${name} in ${key}`);
        return values[name];
      });
    },
    length(mm, unit, { suffix = true } = {}) {
      const figure = { mm: () => number(mm, { digits: 1 }), cm: () => number(mm / 10, { digits: 2 }), in: () => inches(mm) }[unit]();
      return suffix ? `${figure} ${unit}` : figure;
    },
  };
}

function inches(mm) {
  let parts = Math.round((mm / 25.4) * 16);
  const whole = Math.floor(parts / 16);
  parts -= whole * 16;
  let of = 16;
  while (parts && parts % 2 === 0) [parts, of] = [parts / 2, of / 2];
  if (!parts) return String(whole);
  return whole ? `${whole} ${parts}/${of}` : `${parts}/${of}`;
}

const plan = (brief) => json('/plan', { method: 'POST', body: JSON.stringify(brief) });

const host = {
  edits: [],
  brief: await json(`/briefs/${asked.get('brief') ?? 'band-round'}.json`),
  view: asked.get('view') ?? 'whole',
  async set(brief) {
    host.brief = brief;
    const answer = await plan(brief);
    // A quicker answer to a later brief is not overtaken by this one.
    if (host.brief !== brief) return answer;
    if (answer.errors) host.drawing.show({ brief, plan: host.plan, stale: true, view: host.view, errors: answer.errors });
    else {
      host.plan = answer;
      host.drawing.show({ brief, plan: answer, stale: false, view: host.view });
    }
    return answer;
  },
};
host.words = { en: await standInWords('en'), es: await standInWords('es') };
// The page fetches these when they are wanted; here they are there from the first.
const parts = { pathHandles, errorScene, facingScene, lightUp };
host.drawing = createDrawing(document.querySelector('#drawing'), {
  words: host.words[asked.get('language') ?? 'en'],
  unit: asked.get('unit') ?? 'mm',
  parts: { now: parts, get: async () => parts },
  onEdit(edit) {
    host.edits.push(edit);
    host.last = host.set(edit.brief);
  },
});
window.host = host;
await host.set(host.brief);
document.body.dataset.ready = '';
