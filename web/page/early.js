// What can be done while the page's script is still on its way: ask for the person's words and the example's plan in their unit, then
// for the core; and wake the browser's number writer, whose first number takes as long as drawing the neckline.

import { firstWordsOf, firstLanguage } from './common/languages.js';
import { firstUnit } from './common/settings.js';
import { firstPlanOf } from './plan/first-plan.js';

const language = firstLanguage();

/** @param {URL} address @param {'auto' | 'low'} fetchPriority */
function askFor({ href }, fetchPriority) {
  const link = document.createElement('link');
  Object.assign(link, { rel: 'preload', as: 'fetch', crossOrigin: 'anonymous', fetchPriority, href });
  document.head.append(link);
}

for (const address of [firstWordsOf(language), firstPlanOf(firstUnit())]) askFor(address, 'auto');
// The largest by far and the last to be needed. Asked for by the page itself it would share a slow line with what draws the first plan;
// from here it comes when that is all but there.
askFor(new URL('../../target/pkg/lieflat_web_bg.wasm', import.meta.url), 'low');
new Intl.NumberFormat(language).format(0);
