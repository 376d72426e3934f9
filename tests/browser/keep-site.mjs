// What the tests of the kept panels do alike: the page with its panels mounted,
// in English unless said otherwise, and axe over a part of it.

import assert from 'node:assert/strict';
import { createRequire } from 'node:module';

const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

/** Missing words and refused promises are failures here. */
const strict = 'globalThis.lieflatStrictWords = true;';

/** Opens the page in a context; waits until its panels are there. */
export async function openPage(context, address, { ready = true } = {}) {
  const page = await context.newPage();
  page.problems = [];
  page.on('pageerror', (error) => page.problems.push(String(error.stack ?? error)));
  page.on('console', (message) => message.type() === 'error' && page.problems.push(`${message.text()} ${message.location().url}`));
  await page.goto(address);
  if (ready) await isReady(page);
  return page;
}

export async function isReady(page) {
  await page.locator('#keep-panel > details').waitFor();
}

/** A profile of its own: storage, caches, tabs that see each other. */
export async function profile(site, options = {}) {
  const context = await site.browser.newContext({ locale: 'en-GB', viewport: { width: 1280, height: 900 }, serviceWorkers: 'block', ...options });
  await context.addInitScript(strict);
  return context;
}

/** Unfolds a panel. */
export async function unfold(page, id) {
  const details = page.locator(`#${id} > details`);
  await details.waitFor();
  if (!(await details.evaluate((element) => element.open))) await details.locator(':scope > summary').click();
  // Its content is fetched when it is first wanted.
  await details.locator(':scope > .folded > *').first().waitFor({ state: 'attached' });
  return page.locator(`#${id}`);
}

export const frontLength = '#front-half-length';

/** Types a reading and leaves the field, as a person does. */
export async function type(page, text, selector = frontLength) {
  await page.fill(selector, text);
  await page.locator(selector).press('Tab');
  await page.waitForTimeout(600); // the page's pause before it plans, and the draft's
}

/** What axe finds wrong in a part of the page. */
export async function axeFindings(page, selector) {
  // Past the page's policy, as no script of the page may be.
  if (!(await page.evaluate(() => 'axe' in globalThis))) {
    const { readFile } = await import('node:fs/promises');
    await page.evaluate(await readFile(axePath, 'utf8'));
  }
  const found = await page.evaluate(async (part) => (await globalThis.axe.run(part)).violations, selector);
  return found.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(' | ')}`);
}

export async function assertAccessible(page, selector) {
  assert.deepEqual(await axeFindings(page, selector), [], `axe on ${selector}`);
}
