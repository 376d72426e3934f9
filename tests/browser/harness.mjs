// Serves the built page and drives Debian's Chromium against it: without a window's parts, of which the page sees nothing,
// as that is twice as quick to open a page (0.6 s for 1.3 s on two busy cores).

import { AssertionError } from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

/** @import { Browser, BrowserContextOptions as ContextOptions, Page } from 'playwright-core' */
/** @typedef {ContextOptions & { isFirst?: boolean, isFolded?: boolean }} Options of one who never chose a unit; of one who has not opened a step of what is asked */

const root = fileURLToPath(new URL('../../', import.meta.url));

/** The folder that is served: what `bash web/build.sh` makes, with the slash at its end. */
export const dist = process.env.LIEFLAT_DIST ?? `${root}target/dist/`;

/** The whole browser, for what its window's parts may bear on. */
export const wholeChromium = '/usr/bin/chromium';
const bareChromium = '/usr/bin/chromium-headless-shell';
export const chromiumPath = process.env.CHROMIUM ?? (existsSync(bareChromium) ? bareChromium : wholeChromium);

// The sandbox cannot start for root, and nothing here may call outside: the
// rest keeps the browser's own errands off the network.
export const chromiumFlags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** Serves `dist` on a free port: `{ url, close }`. */
export async function serve() {
  if (!existsSync(`${dist}index.html`)) {
    throw new Error('target/dist holds no page: run `bash web/build.sh` first');
  }
  const server = spawn('python3', [`${root}web/serve.py`, '0', dist], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const stop = () => server.kill();
  process.once('exit', stop);
  /** @type {string} */
  const url = await new Promise((resolve, reject) => {
    createInterface({ input: server.stdout }).once('line', resolve);
    server.once('error', reject);
    server.once('exit', (code) => reject(new Error(`web/serve.py ended with ${code}`)));
  });
  return {
    url,
    async close() {
      process.removeListener('exit', stop);
      if (server.exitCode !== null || server.signalCode !== null) return;
      const ended = new Promise((resolve) => server.once('exit', resolve));
      stop();
      await ended;
    },
  };
}

/**
 * Starts Chromium with a profile of its own, removed when it is closed.
 * @param {import('playwright-core').LaunchOptions} [options]
 */
export async function launch({ args = [], ...options } = {}) {
  const browser = await chromium.launch({ executablePath: chromiumPath, args: [...chromiumFlags, ...args], ...options });
  const newContext = browser.newContext.bind(browser);
  /** @param {Options} [given] */
  browser.newContext = async ({ isFirst = false, isFolded = false, ...given } = {}) => {
    const context = await newContext(given);
    if (!isFirst) await context.addInitScript(chooseMillimetres);
    if (!isFolded) await context.addInitScript(openSteps);
    context.setDefaultTimeout(PATIENCE);
    context.on('page', refusePromises);
    return context;
  };
  return browser;
}

/**
 * The driver polls a predicate until it gives something true, and a promise is: a predicate that answers by one would be
 * waited for once, whatever it comes to. `until` waits for those.
 * @param {Page} page
 */
function refusePromises(page) {
  const wait = page.waitForFunction.bind(page);
  /** @param {unknown} act @returns {never} */
  const refuse = (act) => {
    throw new TypeError(`waitForFunction is given a predicate that answers by a promise: use until()\n${act}`);
  };
  /** @param {any} act a function or its text, as the driver takes it @param {any} [arg] @param {object} [options] */
  const waitForPlain = async (act, arg, options) => {
    if (typeof act === 'function' && act.constructor !== Function) refuse(act);
    // By the clock: a browser on a busy machine may keep its frames back for a minute.
    const handle = await wait(act, arg, { polling: 100, ...options });
    // It was true when it was polled: what is not came by a promise. A page that has gone on since cannot be asked.
    if (!(await handle.evaluate((/** @type {unknown} */ value) => Boolean(value)).catch(() => true))) refuse(act);
    return handle;
  };
  page.waitForFunction = waitForPlain;
}

/** How long a check waits for what it looks at, ms: a slow machine that runs other things beside. */
export const PATIENCE = 60_000;

/**
 * Waits until something holds, asking again and again; gives what it then is.
 * @template T
 * @param {string} what is waited for, in words for whoever reads that it never came
 * @param {() => Promise<T> | T} asked gives something true once it holds
 * @returns {Promise<T>}
 */
export async function until(what, asked, patience = PATIENCE) {
  const end = Date.now() + patience;
  do {
    const found = await asked();
    if (found) return found;
    await new Promise((resolve) => setTimeout(resolve, 50));
  } while (Date.now() < end);
  throw new AssertionError({ message: `waited in vain: ${what}` });
}

/**
 * Opens `url` in a fresh profile and waits until it is loaded. Returns
 * the page with what happened on it since before the first byte:
 *
 * - `consoleErrors`, `pageErrors`: texts;
 * - `requests`: addresses, workers' and web sockets' among them;
 * - `failures`: the requests that failed or were answered with 400 or more;
 * - `foreignRequests()`: the requests to anything but the page's own origin.
 *
 * `options` are Playwright's context options: `viewport`, `deviceScaleFactor`,
 * `hasTouch`, `colorScheme`, `locale` and the like; `isFirst` for one who never chose a unit, `isFolded` for
 * one who has not opened a step of what is asked in this tab.
 * @param {Browser} browser @param {string} url @param {Options} [options]
 */
export async function open(browser, url, options = {}) {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 800 },
    deviceScaleFactor: 1,
    ...options,
  });
  const page = await context.newPage();
  /** @type {Record<'consoleErrors' | 'pageErrors' | 'requests' | 'failures', string[]>} */
  const seen = { consoleErrors: [], pageErrors: [], requests: [], failures: [] };

  context.on('console', (message) => {
    if (message.type() === 'error') seen.consoleErrors.push(message.text());
  });
  context.on('weberror', (error) => seen.pageErrors.push(String(error.error())));
  troubles.set(page, seen.pageErrors);
  context.on('request', (request) => seen.requests.push(request.url()));
  context.on('requestfailed', (request) => {
    seen.failures.push(`${request.url()} ${request.failure()?.errorText}`);
  });
  context.on('response', (response) => {
    if (response.status() >= 400) seen.failures.push(`${response.url()} ${response.status()}`);
  });
  page.on('websocket', (socket) => seen.requests.push(socket.url()));

  const origin = new URL(url).origin;
  await page.goto(url);
  return {
    page,
    context,
    ...seen,
    foreignRequests: () => seen.requests.filter((address) => isForeign(address, origin)),
    close: () => context.close(),
  };
}

/** Most checks are of a person who chose millimetres before, wherever their browser says they are. */
export function chooseMillimetres() {
  try {
    if (!localStorage.getItem('lieflat.unit')) localStorage.setItem('lieflat.unit', 'mm');
  } catch {
    // A frame without storage, or a browser that keeps nothing.
  }
}

/** Most checks are of a person who has all that is asked open in this tab: each field can be filled in at once. */
export function openSteps() {
  const steps = ['pieces', 'knit', 'finish', 'head', 'rest'].map((step) => `step-${step}`);
  const rare = ['pieces', 'knit', 'finish'].map((step) => `more-${step}`);
  try {
    if (!sessionStorage.getItem('lieflat.open.asks')) sessionStorage.setItem('lieflat.open.asks', JSON.stringify([...steps, ...rare]));
  } catch {
    // A frame without storage, or a browser that keeps nothing.
  }
}

/** Data and blob addresses are made by the page itself and ask nobody. @param {string} address @param {string} origin */
function isForeign(address, origin) {
  const { protocol, origin: asked } = new URL(address);
  return !['data:', 'blob:'].includes(protocol) && asked !== origin;
}

/** What went wrong on each page since it was opened, for a check that waited in vain. @type {WeakMap<Page, string[]>} */
const troubles = new WeakMap();

/** Waits until all of the page has followed the last change: figure and drawing come first, the cards in turns. @param {Page} page */
export async function settled(page) {
  try {
    return await page.waitForSelector('#answers:not([aria-busy])', { state: 'attached' });
  } catch (error) {
    const frame = page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => resolve('frames come'))));
    const late = new Promise((resolve) => setTimeout(() => resolve('no frame comes'), 5000));
    const seen = [await Promise.race([frame, late]), ...(troubles.get(page) ?? [])].join('; ');
    throw new Error(`the page is still busy: ${seen}`, { cause: error });
  }
}

/** Waits until a page shows what the link that it was opened with brought, which comes after the page itself. @param {Page} page */
export async function linked(page) {
  await page.waitForSelector('[data-notice=shared]');
  return settled(page);
}

/**
 * Waits until what the page has put off by up to `ms` is done, by the page's own clock: a timer set now goes off after those
 * that were set before it, however slow the machine. For showing that nothing came.
 * @param {Page} page @param {number} ms
 */
export const quiet = (page, ms) =>
  page.evaluate(
    (length) =>
      new Promise((resolve) => {
        setTimeout(resolve, length);
      }),
    ms,
  );

/** Opens every fold, and waits for what is fetched into it. @param {Page} page */
export async function unfoldAll(page) {
  await page.waitForSelector('#outcome-panel > details', { state: 'attached' });
  await page.locator('details').evaluateAll((all) => {
    for (const one of /** @type {HTMLDetailsElement[]} */ (all)) one.open = true;
  });
  await page.waitForFunction(() => [...document.querySelectorAll('.folded')].every((fold) => fold.childElementCount > 0));
  await page.waitForSelector('.working-lines .formula', { state: 'attached' });
}

/** Waits until the page has been painted as it now is. @param {Page} page */
export const painted = (page) =>
  page.evaluate(
    () =>
      new Promise((resolve) => {
        requestAnimationFrame(() => requestAnimationFrame(resolve));
      }),
  );

/** The server and the browser together: `{ url, browser, open, close }`. */
export async function start() {
  const server = await serve();
  try {
    const browser = await launch();
    return {
      url: server.url,
      browser,
      /** Opens a path of the page, its front by default. @param {string} [path] @param {Options} [options] */
      open: (path = '', options = {}) => open(browser, new URL(path, server.url).href, options),
      async close() {
        await browser.close();
        await server.close();
      },
    };
  } catch (error) {
    await server.close();
    throw error;
  }
}
