// Words that stand in index.html itself, so that it reads without a script, put in the person's language.

/** @param {import('./words.js').Words} words */
export function putStaticWords(words) {
  document.documentElement.lang = words.language;
  document.title = words.t('page.title');
  document.querySelector('meta[name=description]')?.setAttribute('content', words.t('page.description'));
  for (const element of document.querySelectorAll('[data-t]')) element.textContent = words.t(element.getAttribute('data-t') ?? '');
  for (const element of document.querySelectorAll('[data-t-label]'))
    element.setAttribute('aria-label', words.t(element.getAttribute('data-t-label') ?? ''));
}
