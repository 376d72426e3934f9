// The page in WebKit, kin to the engine of many phones, by Debian's WebKitGTK. Run after `bash web/build.sh`.

import { spawn } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { createServer } from 'node:net';
import { after, before, test } from 'node:test';
import { checkEngine } from './engine-checks.mjs';
import { serve } from './harness.mjs';
import { checkLostFiles, checkUpdatesThatOverlap } from './update-checks.mjs';
import { openSession } from './webdriver.mjs';

const TAB = '\ue004';
const BACKSPACE = '\ue003';
const STARTING = 30_000; // ms for a virtual screen and the driver on it
const TRIES = 3;

// Neither a graphics card nor an unprivileged user is to be had where tests run.
const without = { WEBKIT_DISABLE_COMPOSITING_MODE: '1', WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1' };

let server;
let running;
let address;
let session;

function miniBrowser() {
  if (process.env.WEBKIT_BROWSER) return process.env.WEBKIT_BROWSER;
  const folders = readdirSync('/usr/lib').map((name) => `/usr/lib/${name}/webkit2gtk-4.1/MiniBrowser`);
  const found = folders.find((path) => existsSync(path));
  if (!found) throw new Error('no MiniBrowser of webkit2gtk-4.1 under /usr/lib: run `bash tests/setup.sh`');
  return found;
}

const freePort = () =>
  new Promise((resolve) => {
    const asking = createServer().listen(0, '127.0.0.1', () => {
      const { port } = asking.address();
      asking.close(() => resolve(port));
    });
  });

// In a group of its own, so that the screen and all on it end together.
function startDriver(port) {
  const args = ['-a', 'WebKitWebDriver', `--port=${port}`];
  const child = spawn('xvfb-run', args, { env: { ...process.env, ...without }, stdio: ['ignore', 'ignore', 'inherit'], detached: true });
  const stop = () => {
    try {
      process.kill(-child.pid);
    } catch {
      /* it has ended by itself */
    }
  };
  process.once('exit', stop);
  return {
    stop,
    failed: new Promise((_, reject) =>
      child.once('error', reject).once('exit', (code) => reject(new Error(`xvfb-run ended with ${code}`))),
    ),
  };
}

async function answers(address) {
  const end = Date.now() + STARTING;
  while (Date.now() < end) {
    try {
      return await fetch(`${address}/status`);
    } catch {
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
  }
  throw new Error('WebKitWebDriver does not answer');
}

async function begin() {
  const port = await freePort();
  running = startDriver(port);
  running.failed.catch(() => {});
  address = `http://127.0.0.1:${port}`;
  await Promise.race([answers(address), running.failed]);
}

before(async () => {
  server = await serve();
  await begin();
});
after(async () => {
  await session?.end().catch(() => {});
  running?.stop();
  await server?.close();
});

// A session of its own for each check: automated, the browser starts with empty storage. Now and then it does not come
// up and the driver waits for ever: then both are begun anew.
async function load(url = server.url) {
  await session?.end().catch(() => {});
  session = undefined;
  for (let tries = 1; !session; tries += 1) {
    try {
      session = await openSession(address, { 'webkitgtk:browserOptions': { binary: miniBrowser(), args: ['--automation'] } });
    } catch (error) {
      if (tries === TRIES) throw error;
      running.stop();
      await begin();
    }
  }
  await session.goTo(url);
  // As in the other engines, most checks are of a person who chose millimetres before.
  const isNew = await session.run(() => !localStorage.getItem('lieflat.unit'));
  if (!isNew) return;
  await session.run(() => localStorage.setItem('lieflat.unit', 'mm'));
  await session.goTo(url);
}

checkEngine(() => ({
  load,
  run: (act, ...given) => session.run(act, ...given),
  click: (selector) => session.click(selector),
  async enter(selector, text) {
    const { length } = await session.run((where) => document.querySelector(where).value, selector);
    await session.type(selector, BACKSPACE.repeat(length) + text + TAB);
  },
  drag: (from, to) => session.drag(from, to),
}));

const updating = { visit: load, reload: () => session.reload(), ask: (act, ...given) => session.ask(act, ...given) };

test('in WebKit a version taken while the next is still being fetched harms neither', (t) => checkUpdatesThatOverlap(t, updating));

test('in WebKit files that were taken away are fetched and kept again', (t) => checkLostFiles(t, updating));
