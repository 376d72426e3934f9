// What the page costs while it is used, and how long a first visit takes: for the benchmarks, which print it.
//
// Scripting is the main thread's own time, which other work on the machine does not lengthen, times four for a processor
// that much slower. Input to paint and the start are by the clock, with the browser slowed four times.

import { setTimeout as sleep } from 'node:timers/promises';

const SLOWER = 4;
const STEPS = 60;
const STARTS = 7;
/** Long enough for a first visit to be over, ms. */
const START_TAKES = 6000;
const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true };
/** Slow 4G as Lighthouse has it: milliseconds there and back, and bytes a second. */
const SLOW_4G = { offline: false, latency: 150, downloadThroughput: 1_638_400 / 8, uploadThroughput: 675_000 / 8 };

async function opened(site) {
  const visit = await site.open('', PHONE);
  await visit.page.waitForSelector('html.is-ready');
  const devtools = await visit.context.newCDPSession(visit.page);
  await devtools.send('Performance.enable', { timeDomain: 'threadTicks' });
  return { ...visit, devtools };
}

async function scripting(devtools) {
  const { metrics } = await devtools.send('Performance.getMetrics');
  return 1000 * metrics.find(({ name }) => name === 'ScriptDuration').value;
}

const frameOf = (page) => page.evaluate(() => new Promise((resolve) => {
  requestAnimationFrame(() => setTimeout(() => resolve(performance.now())));
}));

async function costs({ page, devtools }, act) {
  const [script, began] = [await scripting(devtools), await page.evaluate(() => performance.now())];
  await act();
  const ended = await frameOf(page);
  return { script: SLOWER * ((await scripting(devtools)) - script), paint: ended - began };
}

async function dragging(visit, what) {
  const handle = visit.page.locator('.draw-handle').first();
  await handle.scrollIntoViewIfNeeded();
  const { x, y, width, height } = await handle.boundingBox();
  const at = (down) => visit.page.mouse.move(x + width / 2, y + height / 2 + down);
  await at(0);
  await visit.page.mouse.down();
  for (let i = 0; i < 10; i += 1) await costs(visit, () => at(i)); // warm
  const rows = [];
  for (let i = 0; i < STEPS; i += 1) rows.push((await costs(visit, () => at(2 + (i % 20))))[what]);
  await visit.page.mouse.up();
  return rows;
}

async function typing(visit, what) {
  const field = visit.page.locator('#front-half-length');
  const rows = [];
  for (let i = 0; i < STEPS / 4; i += 1) {
    await field.focus();
    await field.evaluate((one, text) => { one.value = text; }, String(150 + (i % 9)));
    rows.push((await costs(visit, () => field.evaluate((one) => one.dispatchEvent(new Event('change', { bubbles: true })))))[what]);
    // What follows in turns is frames of their own; the person has the figure with the first.
    while (await visit.page.evaluate(() => document.getElementById('answers').hasAttribute('aria-busy'))) {
      const { script } = await costs(visit, () => {});
      if (what === 'script') rows.push(script);
    }
  }
  return rows;
}

/** Notes in the page itself when things are there and painted: asking from outside would cost the page time. */
function watchStart() {
  globalThis.seen = {};
  const isThere = {
    plan: () => document.getElementById('cut-figure') && document.querySelector('.draw-layer-lines > *'),
    ready: () => document.documentElement?.classList.contains('is-ready'),
  };
  new MutationObserver(() => {
    for (const [name, test] of Object.entries(isThere)) {
      if (name in globalThis.seen || !test()) continue;
      globalThis.seen[name] = undefined;
      requestAnimationFrame(() => setTimeout(() => { globalThis.seen[name] = performance.now(); }));
    }
  }).observe(document, { childList: true, subtree: true, attributes: true, attributeFilter: ['class'] });
}

/** From the request until the first plan has been painted, and until the page answers what is typed: ms. */
async function firstVisit(site) {
  const context = await site.browser.newContext({ ...PHONE, serviceWorkers: 'block' });
  const page = await context.newPage();
  await page.addInitScript(watchStart);
  const devtools = await context.newCDPSession(page);
  await devtools.send('Network.enable');
  await devtools.send('Network.emulateNetworkConditions', SLOW_4G);
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  await page.goto(site.url, { waitUntil: 'commit' });
  await sleep(START_TAKES);
  const seen = await page.evaluate(() => globalThis.seen);
  await context.close();
  return seen;
}

const ACTS = { dragging, typing };

/** Scripting and input to paint, ms a frame, of what a hand does. @returns {Promise<{ name: string, script: number[], paint: number[] }[]>} */
export async function useOf(site) {
  const rows = [];
  for (const [name, act] of Object.entries(ACTS)) {
    const visit = await opened(site);
    const script = await act(visit, 'script');
    await visit.devtools.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
    rows.push({ name, script, paint: await act(visit, 'paint') });
    await visit.close();
  }
  return rows;
}

/** First visits on a slow network and processor, ms. @returns {Promise<{ plan: number[], ready: number[] }>} */
export async function startsOf(site) {
  const starts = [];
  for (let i = 0; i < STARTS; i += 1) starts.push(await firstVisit(site));
  return { plan: starts.map(({ plan }) => plan), ready: starts.map(({ ready }) => ready) };
}

/** The value below which a share of a list lies. */
export function atShare(values, share) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
}
