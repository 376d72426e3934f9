// Measures the built page in Chromium; prints JSON.

import { readFile } from 'node:fs/promises';
import { gzipSync } from 'node:zlib';
import { start, dist } from '../browser/harness.mjs';
import { workedBriefs } from './plans.mjs';

const REPEATS = 5;
const middle = (list) => list.sort((a, b) => a - b)[Math.floor(list.length / 2)];
const pkg = new URL('../../target/pkg/', import.meta.url);
const FIELD = '#brief input[inputmode=decimal]';

async function repeat(measure) {
  const values = [];
  for (let i = 0; i < REPEATS; i++) values.push(await measure());
  return middle(values);
}

/** The same WebAssembly as the page's, by the same timing loop as in Node, in a page of its own origin. */
async function plans(site) {
  const opened = await site.open();
  await opened.page.route('**/bench/*', async (route) => {
    const name = new URL(route.request().url()).pathname.split('/').pop();
    const contentType = name.endsWith('.wasm') ? 'application/wasm' : 'text/javascript';
    const from = name === 'plans.mjs' ? new URL(name, import.meta.url) : new URL(name, pkg);
    await route.fulfill({ body: await readFile(from), contentType });
  });
  const rows = await opened.page.evaluate(async (briefs) => {
    const core = await import('/bench/lieflat_web.js');
    await core.default({ module_or_path: '/bench/lieflat_web_bg.wasm' });
    return (await import('/bench/plans.mjs')).planRows(core, briefs);
  }, await workedBriefs());
  await opened.close();
  return rows;
}

/** From the start of navigation, in a fresh profile, to the first figure painted; and what a bare page takes. */
async function coldStart(site) {
  const opened = await site.open('', { serviceWorkers: 'block' });
  const shown = await opened.page.evaluate(() => performance.getEntriesByType('paint').find(({ name }) => name === 'first-contentful-paint').startTime);
  await opened.close();
  return shown;
}

async function toFigures(site) {
  const context = await site.browser.newContext({ serviceWorkers: 'block' });
  const page = await context.newPage();
  await page.addInitScript(() => {
    const look = () => {
      if (/\d/.test(document.getElementById('ticket')?.textContent ?? '')) globalThis.figuresAt = performance.now();
      else requestAnimationFrame(look);
    };
    look();
  });
  await page.goto(site.url);
  await page.waitForFunction('globalThis.figuresAt');
  const at = await page.evaluate('globalThis.figuresAt');
  await context.close();
  return at;
}

/** Milliseconds from leaving a changed field to the frame after, at a quarter of the machine's speed. */
async function inputToPaint(page, field, value) {
  await page.focus(field);
  await page.fill(field, value);
  return page.evaluate(
    (selector) =>
      new Promise((resolve) => {
        const began = performance.now();
        document.querySelector(selector).dispatchEvent(new Event('change', { bubbles: true }));
        requestAnimationFrame(() => setTimeout(() => resolve(performance.now() - began)));
      }),
    field,
  );
}

async function throttled(site) {
  const opened = await site.open();
  await opened.page.waitForFunction(() => /\d/.test(document.getElementById('ticket')?.textContent ?? ''));
  const session = await opened.context.newCDPSession(opened.page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: 4 });
  const field = `#${await opened.page.evaluate((selector) => [...document.querySelectorAll(selector)].find((one) => one.checkVisibility()).id, FIELD)}`;
  const was = Number((await opened.page.inputValue(field)).replace(',', '.'));
  let turn = 0;
  const took = await repeat(() => inputToPaint(opened.page, field, String(was + (++turn % 2))));
  await opened.page.setContent('<input id="bare"><p></p>');
  const floor = await repeat(() => inputToPaint(opened.page, '#bare', String(++turn)));
  await opened.close();
  return { took, floor };
}

/** What a first visit takes, and its WebAssembly, as `gzip -9` leaves them. */
async function weights() {
  const { files } = JSON.parse(await readFile(new URL(`../../target/dist.files.json`, import.meta.url), 'utf8'));
  let [visit, wasm] = [0, 0];
  for (const { name } of files.filter(({ first }) => first)) {
    const bytes = gzipSync(await readFile(`${dist}${name}`), { level: 9 }).length;
    visit += bytes;
    if (name.endsWith('.wasm')) wasm += bytes;
  }
  return { visit: visit / 1000, wasm: wasm / 1000 };
}

const site = await start();
try {
  const browser = `Chromium ${site.browser.version()}`;
  const timed = await plans(site);
  const paint = await repeat(() => coldStart(site));
  const figures = await repeat(() => toFigures(site));
  const { took, floor } = await throttled(site);
  const { visit, wasm } = await weights();
  const rows = [
    { what: 'cold start to the first paint', by: browser, value: paint, unit: 'ms', bar: 2000 },
    { what: 'cold start to the first figures', by: browser, value: figures, unit: 'ms', bar: 2000, floor: paint, floorIs: 'its first paint' },
    { what: 'a field is left, to the next frame, at 4x throttle', by: browser, value: took, unit: 'ms', bar: 50, floor, floorIs: 'a bare field that does nothing' },
    { what: 'weight of a first visit, gzip -9', by: 'the build', value: visit, unit: 'kB', bar: 250 },
    { what: 'weight of its WebAssembly, gzip -9', by: 'the build', value: wasm, unit: 'kB', bar: 150, floor: 37, floorIs: 'an empty core with the same libraries' },
  ];
  console.log(JSON.stringify({ browser, plans: timed, rows }));
} finally {
  await site.close();
}
