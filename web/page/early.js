// What can be done while the page's script is still on its way: ask for the person's words, and wake the browser's number
// writer, whose first number takes as long as drawing the neckline.

import { firstWordsOf, firstLanguage } from './common/languages.js';

const language = firstLanguage();
const link = document.createElement('link');
Object.assign(link, { rel: 'preload', as: 'fetch', crossOrigin: 'anonymous', href: firstWordsOf(language).href });
document.head.append(link);
new Intl.NumberFormat(language).format(0);
