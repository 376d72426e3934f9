// What can be done while the page's script is still on its way: ask for the person's words and the example's plan in their unit,
// and wake the browser's number writer, whose first number takes as long as drawing the neckline.

import { firstWordsOf, firstLanguage } from './common/languages.js';
import { firstUnit } from './common/settings.js';
import { firstPlanOf } from './plan/first-plan.js';

const language = firstLanguage();
for (const { href } of [firstWordsOf(language), firstPlanOf(firstUnit())]) {
  const link = document.createElement('link');
  Object.assign(link, { rel: 'preload', as: 'fetch', crossOrigin: 'anonymous', href });
  document.head.append(link);
}
new Intl.NumberFormat(language).format(0);
