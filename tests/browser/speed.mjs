// What the page costs while it is used, and how long a first visit takes: for the benchmarks, which print it.
//
// Scripting is the main thread's own time, which other work on the machine does not lengthen, times four for a processor
// that much slower. Input to paint and the start are by the clock, with the browser slowed four times.

import { setTimeout as sleep } from 'node:timers/promises';

const SLOWER = 4;
const STEPS = 60;
const ROUNDS = 15;
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
  return { ...visit, devtools };
}

const frameOf = (page) =>
  page.evaluate(
    () =>
      new Promise((resolve) => {
        requestAnimationFrame(() => setTimeout(resolve));
      }),
  );

/**
 * Notes in the page how long each move of a finger took to be painted: from when the browser had it, as the event says, to the end of
 * the frame that follows it. (Moves are handed to a page at the start of a frame; to ask for the time from outside, or to wait for a
 * frame more, would count what no finger waits for.)
 */
function watchMoves() {
  globalThis.moveWaits = [];
  const { port1, port2 } = new MessageChannel();
  port1.addEventListener('message', ({ data }) => globalThis.moveWaits.push(performance.now() - data));
  port1.start();
  // After this frame's own work, and so after it was painted.
  addEventListener('pointermove', ({ timeStamp }) => requestAnimationFrame(() => port2.postMessage(timeStamp)), true);
}

async function dragging(visit, what) {
  const handle = visit.page.locator('.draw-handle').first();
  await handle.scrollIntoViewIfNeeded();
  const { x, y, width, height } = await handle.boundingBox();
  const at = (down) => visit.page.mouse.move(x + width / 2, y + height / 2 + down);
  await at(0);
  await visit.page.mouse.down();
  const go = async () => {
    for (let i = 0; i < STEPS; i += 1) {
      await at(2 + (i % 20));
      await frameOf(visit.page);
    }
  };
  const ownTime = async () => {
    await visit.page.evaluate(watchMoves);
    await go();
    return visit.page.evaluate(() => globalThis.moveWaits);
  };
  await go(); // warm
  const rows = await (what === 'script' ? scriptOfFrames(visit, go) : ownTime());
  await visit.page.mouse.up();
  return rows;
}

/** Changes a field as typing does, again and again, each time until all of the page has followed. Runs in the page. */
async function typeOn(rounds) {
  const field = document.getElementById('front-half-length');
  const frame = () =>
    new Promise((resolve) => {
      requestAnimationFrame(() => setTimeout(resolve));
    });
  const waits = [];
  for (let i = 0; i < rounds; i += 1) {
    field.value = String(150 + (i % 9));
    const began = performance.now();
    field.dispatchEvent(new Event('change', { bubbles: true }));
    await frame();
    await frame(); // the figure comes with the frame after the one that reckoned it
    waits.push(performance.now() - began);
    while (document.getElementById('answers').hasAttribute('aria-busy')) await frame();
  }
  return waits;
}

async function typing(visit, what) {
  await visit.page.evaluate(typeOn, ROUNDS); // warm
  if (what === 'paint') return visit.page.evaluate(typeOn, ROUNDS);
  return scriptOfFrames(visit, () => visit.page.evaluate(typeOn, ROUNDS));
}

const SCRIPT =
  /^(?:FunctionCall|EvaluateScript|TimerFire|FireAnimationFrame|EventDispatch|RunMicrotasks|v8\.callFunction|V8\.GC.*|MinorGC|MajorGC)$/;

/** What each frame of the page spent in scripts while something was done, as its trace has it: ms for the slower processor. */
async function scriptOfFrames({ page }, act) {
  const browser = page.context().browser();
  await browser.startTracing(page, { categories: ['devtools.timeline', 'disabled-by-default-devtools.timeline', 'v8'] });
  await act();
  const { traceEvents } = JSON.parse(await browser.stopTracing());
  const main = busiestMain(traceEvents);
  const own = traceEvents.filter(({ pid, tid }) => pid === main.pid && tid === main.tid).sort((a, b) => a.ts - b.ts);
  const frames = [0];
  let end = 0;
  for (const { name, ph, ts, dur = 0, tdur = 0 } of own) {
    if (name === 'Commit') frames.push(0); // a frame is done
    // What stands inside another is counted with it.
    if (ph !== 'X' || !SCRIPT.test(name) || ts < end) continue;
    end = ts + dur;
    frames[frames.length - 1] += (SLOWER * tdur) / 1000;
  }
  return frames.filter((ms) => ms > 0);
}

/** The main thread of the page that was busy: a browser has others, of its own pages. */
function busiestMain(events) {
  const mains = events.filter(({ name, args }) => name === 'thread_name' && args.name === 'CrRendererMain');
  const busy = ({ pid, tid }) => events.filter((one) => one.pid === pid && one.tid === tid && SCRIPT.test(one.name)).length;
  return mains.sort((a, b) => busy(b) - busy(a))[0];
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
      requestAnimationFrame(() =>
        setTimeout(() => {
          globalThis.seen[name] = performance.now();
        }),
      );
    }
  }).observe(document, { childList: true, subtree: true, attributes: true, attributeFilter: ['class'] });
}

/** From the request until the first plan has been painted, and until the page answers what is typed: ms. */
async function firstVisit(site) {
  const context = await site.browser.newContext({ ...PHONE, isFolded: true, serviceWorkers: 'block' });
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
