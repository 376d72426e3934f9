// What a change costs in a tab among thousands of kept briefs: node tests/browser/keep-bench.mjs [how many] [how often]
// Printed for a person to read. No test depends on it, for a busy machine would fail it.

import { readFileSync } from 'node:fs';
import { start } from './harness.mjs';
import { frontLength, openPage, profile, unfold } from './keep-site.mjs';

const COUNT = Number(process.argv[2] ?? 5000);
const ROUNDS = Number(process.argv[3] ?? 5);
const given = JSON.parse(readFileSync(new URL('../briefs/band-round.json', import.meta.url), 'utf8'));

/** Fills the database. Runs in the page. */
const fill = ([count, brief]) =>
  new Promise((resolve, reject) => {
    const asked = indexedDB.open('lieflat', 1);
    asked.onupgradeneeded = () => {
      for (const kind of ['briefs', 'knits', 'drafts']) asked.result.createObjectStore(kind, { keyPath: 'id' });
    };
    asked.onsuccess = () => {
      const transaction = asked.result.transaction('briefs', 'readwrite');
      for (let i = 0; i < count; i += 1) {
        const changed = new Date(1.7e12 - i * 1e6).toISOString();
        transaction.objectStore('briefs').put({ id: `b${i}`, name: `Brief ${i}`, created: changed, changed, revision: 1, brief });
      }
      transaction.oncomplete = () => {
        asked.result.close();
        resolve();
      };
      transaction.onabort = () => reject(transaction.error);
    };
  });

/** The main thread's own time while something was done and followed up, ms: other work on the machine does not lengthen it. */
async function heldUp({ client, page }, act) {
  const read = async () => (await client.send('Performance.getMetrics')).metrics.find(({ name }) => name === 'TaskDuration').value;
  const before = await read();
  await act();
  // The draft is written after a pause, and the lists are drawn after that.
  await page.evaluate(
    () =>
      new Promise((resolve) => {
        requestAnimationFrame(() => setTimeout(resolve, 600));
      }),
  );
  return ((await read()) - before) * 1000;
}

async function watched(page) {
  const client = await page.context().newCDPSession(page);
  await client.send('Performance.enable', { timeDomain: 'threadTicks' });
  return { client, page };
}

const middle = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
const report = (what, values) =>
  console.log(`${what.padEnd(46)} median ${middle(values).toFixed(0)} ms, most ${Math.max(...values).toFixed(0)} ms`);

const site = await start();
const context = await profile(site);
context.setDefaultTimeout(300_000); // a busy machine
const seed = await openPage(context, `${site.url}favicon.svg`, { ready: false });
await seed.evaluate(fill, [COUNT, given]);
await seed.close();

console.log(`${COUNT} briefs kept; the main thread's own time for a change and all that follows it`);
const page = await openPage(context, site.url);
const here = await watched(page);
const panel = page.locator('#keep-panel');
report('unfolding the panel', [
  await heldUp(here, async () => {
    await unfold(page, 'keep-panel');
    await panel.locator('.entries li').first().waitFor();
  }),
]);
const other = await openPage(context, site.url);
const there = await watched(other);
await unfold(other, 'keep-panel');

const times = (act) => [...Array(ROUNDS).keys()].map((i) => () => act(i));
async function measured(what, acts, on = here) {
  const values = [];
  for (const act of acts) values.push(await heldUp(on, act));
  report(what, values);
}

const status = (text) => page.waitForFunction((wanted) => document.querySelector('#keep-panel .status').textContent.includes(wanted), text);
const press = (selector) => page.evaluate((which) => document.querySelector(which).click(), selector);
const list = '#keep-panel .kept-list .entries li';

await measured(
  'deleting',
  times(async (i) => {
    const name = await page.locator(`${list}:nth-child(${i + 3}) .entry-name`).textContent();
    await press(`${list}:nth-child(${i + 3}) [data-action=delete]`);
    await status(`“${name}” is deleted`);
  }),
);
await measured(
  'bringing back',
  times(async () => {
    await press('#keep-panel .undo button');
    await status('is back');
  }),
);
await measured(
  'renaming, form and name',
  times(async (i) => {
    await press(`${list}:nth-child(${i + 2}) [data-action=rename]`);
    await page.fill('#keep-panel .rename input', `Renamed ${i}`);
    await press('#keep-panel .rename [type=submit]');
    await status(`is now called “Renamed ${i}”`);
  }),
);
await measured(
  'duplicating',
  times(async () => {
    await press(`${list}:first-child [data-action=duplicate]`);
    await status('A copy is kept');
  }),
);
await measured(
  'typing a reading, with its draft written',
  times(async (i) => {
    await page.fill(frontLength, String(160 + i));
    await page.locator(frontLength).press('Tab');
    await page.waitForFunction(
      ([selector, value]) => document.querySelector(selector).value === value && document.querySelector('#answers:not([aria-busy])'),
      [frontLength, String(160 + i)],
    );
  }),
);
await measured(
  'typing a letter in the search',
  [...'brief 77'].map((_, i) => async () => {
    await page.fill('#keep-panel input[type=search]', 'brief 77'.slice(0, i + 1));
  }),
);
await page.fill('#keep-panel input[type=search]', '');
await measured(
  'another tab deletes: this one is held up',
  times(async (i) => {
    const before = await other.locator(`${list}:nth-child(2) .entry-name`).textContent();
    await page.evaluate(() => document.querySelector('#keep-panel .kept-list .entries li:nth-child(2) [data-action=delete]').click());
    await other.waitForFunction(
      (was) => document.querySelector('#keep-panel .kept-list .entries li:nth-child(2) .entry-name').textContent !== was,
      before,
    );
    return i;
  }),
  there,
);
await context.close();
await site.close();
