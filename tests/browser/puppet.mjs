// Browsers driven by puppeteer, thinly, as the checks of every engine ask for.

import puppeteer from 'puppeteer-core';
import { chooseMillimetres, openSteps } from './harness.mjs';

/** @import { Browser, BrowserContext, Page } from 'puppeteer-core' */
/** @import { Driver } from './engine-checks.mjs' */

/** Debian's. @param {object} [options] what puppeteer takes beside */
export const launchFirefox = (options) =>
  puppeteer.launch({ browser: 'firefox', executablePath: process.env.FIREFOX ?? '/usr/bin/firefox-esr', headless: true, ...options });

/**
 * What gives a driver: none is there before the first load, and each load is a first visit, with storage of its own.
 * @param {() => Browser} browser @param {() => string} url the page's address @param {object} [viewport]
 * @returns {() => Driver}
 */
export function puppet(browser, url, viewport = { width: 1280, height: 800 }) {
  /** @type {(Driver & { context: BrowserContext }) | undefined} */
  let driver;
  async function load() {
    await driver?.context.close();
    const context = await browser().createBrowserContext();
    const page = await context.newPage();
    await page.setViewport(/** @type {import('puppeteer-core').Viewport} */ (viewport));
    driver = driverOf(context, page, await whatGoesWrong(page));
    await page.goto(url());
  }
  const waiting = { load };
  /** @param {BrowserContext} context @param {Page} page @param {string[]} wrong */
  const driverOf = (context, page, wrong) => ({ context, load, wrong: () => wrong, ...acts(page) });
  return () => driver ?? /** @type {Driver} */ (waiting);
}

/** Errors, failed requests and violations of the policy, as they come. @param {Page} page */
async function whatGoesWrong(page) {
  /** @type {string[]} */
  const wrong = [];
  page.on('console', (message) => message.type() === 'error' && wrong.push(message.text()));
  page.on('pageerror', (error) => wrong.push(String(error)));
  page.on('requestfailed', (request) => wrong.push(`${request.url()} failed`));
  // Firefox tells of a violated policy neither as a message nor as an error.
  await page.exposeFunction('tellOfViolation', (/** @type {string} */ text) => wrong.push(text));
  for (const prepare of [chooseMillimetres, openSteps]) await page.evaluateOnNewDocument(prepare);
  await page.evaluateOnNewDocument(() => {
    addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI }) =>
      Reflect.get(globalThis, 'tellOfViolation')(`${violatedDirective} ${blockedURI}`),
    );
  });
  return wrong;
}

/** @param {Page} page @returns {Omit<Driver, 'load' | 'wrong'>} */
const acts = (page) => ({
  run: (act, ...given) => page.evaluate(/** @type {(...given: any[]) => any} */ (act), ...given),
  click: (selector) => page.click(selector),
  async enter(selector, text) {
    await page.focus(selector);
    await page.$eval(selector, (field) => /** @type {HTMLInputElement} */ (field).select());
    await page.keyboard.type(text);
    await page.keyboard.press('Tab');
  },
  async drag([x, y], [toX, toY]) {
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(toX, toY, { steps: 6 });
    await page.mouse.up();
  },
});
