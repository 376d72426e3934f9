// How fast the page answers under a processor four times slower: node tests/browser/bench.mjs
// Scripting is the main thread's own time by the browser's counters; input to paint ends at the frame after the event.

import { start } from './harness.mjs';

const SLOWER = 4;
const STEPS = 40;

const site = await start();
const visit = await site.open('', { viewport: { width: 390, height: 844 }, hasTouch: true });
const { page } = visit;
await page.waitForSelector('html.is-ready');
const devtools = await visit.context.newCDPSession(page);
await devtools.send('Performance.enable');
await devtools.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });

async function scripting() {
  const { metrics } = await devtools.send('Performance.getMetrics');
  return 1000 * metrics.find(({ name }) => name === 'ScriptDuration').value;
}

const painted = () => page.evaluate(() => new Promise((resolve) => {
  requestAnimationFrame(() => setTimeout(() => resolve(performance.now())));
}));

async function measure(act) {
  const [script, began] = [await scripting(), await page.evaluate(() => performance.now())];
  await act();
  const ended = await painted();
  return { script: (await scripting()) - script, paint: ended - began };
}

function report(name, rows) {
  for (const what of ['script', 'paint']) {
    const sorted = rows.map((row) => row[what]).sort((a, b) => a - b);
    const at = (share) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))].toFixed(1);
    console.log(`${name.padEnd(8)} ${what === 'script' ? 'scripting a frame' : 'input to paint'}: median ${at(0.5)} ms, p95 ${at(0.95)} ms`);
  }
}

const handle = await page.locator('.draw-handle').first().boundingBox();
const [x, y] = [handle.x + handle.width / 2, handle.y + handle.height / 2];
await page.mouse.move(x, y);
await page.mouse.down();
const dragged = [];
for (let i = 1; i <= STEPS; i += 1) dragged.push(await measure(() => page.mouse.move(x, y + (i % 30))));
await page.mouse.up();
report('dragging', dragged);

const typed = [];
for (let i = 0; i < STEPS / 4; i += 1) {
  typed.push(await measure(async () => {
    await page.fill('#front-half-length', String(150 + (i % 9)));
    await page.locator('#front-half-length').blur();
  }));
}
report('typing', typed);
await site.close();
