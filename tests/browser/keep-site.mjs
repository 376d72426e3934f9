// What the tests of the kept panels do alike: the page with its panels mounted,
// in English unless said otherwise, and axe over a part of it.

import assert from 'node:assert/strict';
import { createRequire } from 'node:module';
import { settled, until } from './harness.mjs';

const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

/** @import { BrowserContext, BrowserContextOptions, Page } from 'playwright-core' */
/** @typedef {Page & { problems: string[] }} Watched a page with what went wrong on it */
/** @typedef {{ browser: import('playwright-core').Browser }} Site */

/** Missing words and refused promises are failures here. */
const strict = 'globalThis.lieflatStrictWords = true;';

/**
 * Opens the page in a context; waits until its panels are there.
 * @param {BrowserContext} context @param {string} address @param {{ ready?: boolean }} [how]
 */
export async function openPage(context, address, { ready = true } = {}) {
  const opened = await context.newPage();
  /** @type {Watched} */
  const page = Object.assign(opened, { problems: /** @type {string[]} */ ([]) });
  page.on('pageerror', (error) => page.problems.push(String(error.stack ?? error)));
  page.on('console', (message) => message.type() === 'error' && page.problems.push(`${message.text()} ${message.location().url}`));
  await page.goto(address);
  if (ready) await isReady(page);
  return page;
}

/** @param {Page} page */
export async function isReady(page) {
  await page.locator('#keep-panel > details').waitFor();
}

/** A profile of its own: storage, caches, tabs that see each other. @param {Site} site @param {BrowserContextOptions & { isFirst?: boolean, isFolded?: boolean }} [options] */
export async function profile(site, options = {}) {
  const context = await site.browser.newContext({
    locale: 'en-GB',
    viewport: { width: 1280, height: 900 },
    serviceWorkers: 'block',
    ...options,
  });
  await context.addInitScript(strict);
  return context;
}

/** Unfolds a panel. @param {Page} page @param {string} id */
export async function unfold(page, id) {
  const details = page.locator(`#${id} > details`);
  await details.waitFor();
  if (!(await details.evaluate((element) => element.hasAttribute('open')))) await details.locator(':scope > summary').click();
  // Its content is fetched when it is first wanted.
  await details.locator(':scope > .folded > *').first().waitFor({ state: 'attached' });
  return page.locator(`#${id}`);
}

export const frontLength = '#front-half-length';

/** Opens every step of what is asked, and waits for its fields. @param {Page} page */
export async function unfoldSteps(page) {
  await page.locator('.step').evaluateAll((steps) => {
    for (const step of /** @type {HTMLDetailsElement[]} */ (steps)) step.open = true;
  });
  await page.locator(frontLength).waitFor({ state: 'attached' });
}

/**
 * Types a reading and leaves the field, as a person does; the page has followed then, and the draft is written.
 * @param {Page} page @param {string} text @param {string} [selector]
 */
export async function type(page, text, selector = frontLength) {
  await page.waitForSelector('html.is-ready', { state: 'attached' });
  const before = await page.inputValue(selector);
  await page.fill(selector, text);
  await page.locator(selector).press('Tab');
  await settled(page);
  if (text !== before) await written(page, text);
}

/** Waits until the draft that holds a reading is written. @param {Page} page @param {string} text */
export const written = (page, text) => until(`a draft with ${text} is written`, () => page.evaluate(isWritten, text));

/**
 * In the page: whether a draft in the database holds a reading. So it is, too, where nothing is to be waited for: on a page
 * that what keeps drafts has not come to, or whose storage is in trouble.
 * @param {string} text
 */
async function isWritten(text) {
  if (!document.querySelector('#keep-panel > details') || document.querySelector('[data-notice=trouble]')) return true;
  /** @type {unknown[]} */
  const drafts = await new Promise((resolve, reject) => {
    const asked = indexedDB.open('lieflat');
    asked.onerror = () => reject(asked.error);
    asked.onsuccess = () => {
      const database = asked.result;
      const all = database.transaction('drafts').objectStore('drafts').getAll();
      all.onsuccess = () => resolve(all.result);
      all.onerror = () => reject(all.error);
      database.close();
    };
  });
  /** @param {unknown} value @returns {boolean} */
  const holds = (value) =>
    typeof value === 'object' && value !== null ? Object.values(value).some(holds) : value === text || value === Number(text);
  return drafts.some(holds);
}

/** What axe finds wrong in a part of the page. @param {Page} page @param {string} selector */
export async function axeFindings(page, selector) {
  // Past the page's policy, as no script of the page may be.
  if (!(await page.evaluate(() => 'axe' in globalThis))) {
    const { readFile } = await import('node:fs/promises');
    await page.evaluate(await readFile(axePath, 'utf8'));
  }
  const found = await page.evaluate(async (part) => {
    const { axe } = /** @type {{ axe: typeof import('axe-core') }} */ (/** @type {unknown} */ (globalThis));
    return (await axe.run(part)).violations;
  }, selector);
  return found.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(' | ')}`);
}

/** @param {Page} page @param {string} selector */
export async function assertAccessible(page, selector) {
  assert.deepEqual(await axeFindings(page, selector), [], `axe on ${selector}`);
}

/**
 * Puts entries straight into the database, as a damaged or another version's page would leave them.
 * @param {import('playwright-core').Page} page
 * @param {[kind: string, entry: object][]} entries
 */
export async function plant(page, entries) {
  await page.evaluate(
    (all) =>
      new Promise((resolve, reject) => {
        const asked = indexedDB.open('lieflat', 1);
        asked.onupgradeneeded = () => {
          for (const kind of ['briefs', 'knits', 'drafts']) asked.result.createObjectStore(kind, { keyPath: 'id' });
        };
        asked.onsuccess = () => {
          const transaction = asked.result.transaction(['briefs', 'knits', 'drafts'], 'readwrite');
          for (const [kind, one] of all) transaction.objectStore(kind).put(one);
          transaction.oncomplete = () => {
            asked.result.close();
            resolve(undefined);
          };
          // It comes after whatever error ended it.
          transaction.onabort = () => reject(transaction.error);
        };
      }),
    entries,
  );
}
