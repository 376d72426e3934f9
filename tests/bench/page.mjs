// Measures the built page in Chromium; prints JSON.

import { readFile } from 'node:fs/promises';
import { gzipSync } from 'node:zlib';
import { start, dist } from '../browser/harness.mjs';
import { pdfRows } from '../browser/sheets-bench.mjs';
import { atShare, startsOf, useOf } from '../browser/speed.mjs';
import { workedBriefs } from './plans.mjs';

const REPEATS = 5;
const middle = (list) => list.sort((a, b) => a - b)[Math.floor(list.length / 2)];
const pkg = new URL('../../target/pkg/', import.meta.url);
/** Slow 4G, kB a second. */
const SLOW_4G = 204.8;

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
  const rows = await opened.page.evaluate(
    async (briefs) => {
      const core = await import('/bench/lieflat_web.js');
      await core.default({ module_or_path: '/bench/lieflat_web_bg.wasm' });
      return (await import('/bench/plans.mjs')).planRows(core, briefs);
    },
    await workedBriefs(),
  );
  await opened.close();
  return rows;
}

/** From the start of navigation, in a fresh profile, to the first figure painted; and what a bare page takes. */
async function coldStart(site) {
  const opened = await site.open('', { serviceWorkers: 'block' });
  const first = await opened.page.waitForFunction(() => performance.getEntriesByName('first-contentful-paint')[0]?.startTime);
  const shown = await first.jsonValue();
  await opened.close();
  return shown;
}

/** Use under a hand: scripting of a frame against its 16 ms, and by the clock what the person waits. */
const useRows = (uses, by) =>
  uses.flatMap(({ name, script, paint }) => [
    {
      what: `${name}: scripting of a frame at 4x, p95`,
      by,
      value: atShare(script, 0.95),
      unit: 'ms',
      bar: 16,
      floor: atShare(script, 0.5),
      floorIs: 'the median',
    },
    {
      what: `${name}: input to paint at 4x, p95`,
      by,
      value: atShare(paint, 0.95),
      unit: 'ms',
      bar: 100,
      floor: atShare(paint, 0.5),
      floorIs: 'the median',
    },
  ]);

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
  const uses = await useOf(site);
  const starts = await startsOf(site);
  const pdfs = await pdfRows();
  const { visit, wasm } = await weights();
  const rows = [
    { what: 'cold start to the first paint', by: browser, value: paint, unit: 'ms', bar: 2000 },
    {
      what: 'slow 4G and 4x, first plan painted, median',
      by: browser,
      value: atShare(starts.plan, 0.5),
      unit: 'ms',
      bar: 2000,
      floor: (visit / SLOW_4G) * 1000,
      floorIs: 'its bytes on that network',
    },
    { what: 'slow 4G and 4x, answers what is typed, median', by: browser, value: atShare(starts.ready, 0.5), unit: 'ms', bar: 2000 },
    ...useRows(uses, browser),
    {
      what: 'a whole PDF, the slowest brief, middle of 30',
      by: browser,
      value: Math.max(...pdfs.map(({ middle: one }) => one)),
      unit: 'ms',
      bar: 100,
    },
    { what: 'the first PDF, its module fetched', by: browser, value: Math.max(...pdfs.map(({ ms }) => ms)), unit: 'ms' },
    { what: 'weight of a first visit, gzip -9', by: 'the build', value: visit, unit: 'kB', bar: 236 },
    {
      what: 'weight of its WebAssembly, gzip -9',
      by: 'the build',
      value: wasm,
      unit: 'kB',
      bar: 150,
      floor: 37,
      floorIs: 'an empty core with the same libraries',
    },
  ];
  console.log(JSON.stringify({ browser, plans: timed, rows }));
} finally {
  await site.close();
}
