// The language of an embedded calculator.

import { isLanguage } from '../common/languages.js';

/** The language there is for a tag such as `es-MX`; English where there is none. @param {string | null | undefined} tag */
export function languageOf(tag) {
  const short = (tag ?? '').toLowerCase().split('-')[0];
  return isLanguage(short) ? short : 'en';
}
