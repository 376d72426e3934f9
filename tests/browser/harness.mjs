// Serves the built page and drives Debian's Chromium against it.

import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const root = fileURLToPath(new URL('../../', import.meta.url));

/** The folder that is served: what `bash web/build.sh` makes. */
export const dist = `${root}target/dist/`;

const chromiumPath = process.env.CHROMIUM ?? '/usr/bin/chromium';

// The sandbox cannot start for root, and nothing here may call outside: the
// rest keeps the browser's own errands off the network.
const chromiumFlags = [
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

/** Starts Chromium with a profile of its own, removed when it is closed. */
export function launch() {
  return chromium.launch({ executablePath: chromiumPath, args: chromiumFlags });
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
 * `hasTouch`, `colorScheme`, `locale` and the like.
 */
export async function open(browser, url, options = {}) {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 800 },
    deviceScaleFactor: 1,
    ...options,
  });
  const page = await context.newPage();
  const seen = { consoleErrors: [], pageErrors: [], requests: [], failures: [] };

  context.on('console', (message) => {
    if (message.type() === 'error') seen.consoleErrors.push(message.text());
  });
  context.on('weberror', (error) => seen.pageErrors.push(String(error.error())));
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

// Data and blob addresses are made by the page itself and ask nobody.
function isForeign(address, origin) {
  const { protocol, origin: asked } = new URL(address);
  return !['data:', 'blob:'].includes(protocol) && asked !== origin;
}

/** Waits until all of the page has followed the last change: figure and drawing come first, the cards in turns. */
export const settled = (page) => page.waitForSelector('#answers:not([aria-busy])', { state: 'attached' });

/** The server and the browser together: `{ url, browser, open, close }`. */
export async function start() {
  const server = await serve();
  try {
    const browser = await launch();
    return {
      url: server.url,
      browser,
      /** Opens a path of the page, its front by default. */
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
