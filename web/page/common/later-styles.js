// What parts look like that are fetched when they are wanted: fetched with the first of them, once for all.

/** @type {Promise<void> | undefined} */
let coming;

/** Done once the page has the styles; a fetch that failed is tried again the next time. @returns {Promise<void>} */
export function laterStyles() {
  coming ??= new Promise((resolve, reject) => {
    const link = document.createElement('link');
    link.addEventListener('load', () => resolve());
    link.addEventListener('error', () => {
      link.remove();
      coming = undefined;
      reject(new Error(`${link.href} did not come`));
    });
    Object.assign(link, { rel: 'stylesheet', href: new URL('../../../www/later.css', import.meta.url).href });
    document.head.append(link);
  });
  return coming;
}
