// What one show() of the drawing costs in Chromium, for a processor four times slower: node tests/browser/drawing-bench.mjs
// Printed for a person to read. No test depends on it, for a busy machine would fail it.

import { readdir } from 'node:fs/promises';
import { briefOf, planOf, root } from '../page/planner.mjs';
import { startSite } from './drawing-site.mjs';
import { withValue } from '../../web/page/drawing/handles.js';

const SLOWED = 4;
const ROUNDS = 120;

/** Plans of a brief whose front grows a millimetre at a time, as under a finger. */
async function dragged(brief) {
  const list = [];
  for (let i = 0; i < 6; i += 1) {
    const kind = Object.keys(brief.neckline.front.outline)[0];
    const path = ['neckline', 'front', 'outline', kind, 'depth_mm'];
    const depth = brief.neckline.front.outline[kind].depth_mm;
    const changed = depth === undefined ? brief : withValue(brief, path, depth + i);
    list.push({ brief: changed, plan: await planOf(changed) });
  }
  return list;
}

function shownOver([list, view, rounds]) {
  for (let i = 0; i < rounds; i += 1) window.host.drawing.show({ ...list[i % list.length], view });
}

// One frame for each show, so that style, layout and paint are done each time, as under a finger.
function shownByFrames([list, view, rounds]) {
  return new Promise((resolve) => {
    let i = 0;
    const next = () => {
      if (i === rounds) return resolve();
      window.host.drawing.show({ ...list[i % list.length], view });
      i += 1;
      return requestAnimationFrame(next);
    };
    requestAnimationFrame(next);
  });
}

// As while a finger holds a handle.
function held() {
  const node = document.querySelector('[role=slider]');
  node.setPointerCapture = () => {};
  const { left, top } = node.getBoundingClientRect();
  node.dispatchEvent(new PointerEvent('pointerdown', { pointerId: 1, clientX: left + 15, clientY: top + 15, button: 0, bubbles: true }));
}

// The main thread's own time, which other work on the machine does not lengthen: ms for each round.
async function spent(client, page, act, given) {
  const read = async () =>
    Object.fromEntries((await client.send('Performance.getMetrics')).metrics.map(({ name, value }) => [name, value]));
  const before = await read();
  await page.evaluate(act, given);
  const after = await read();
  const ms = (name) => ((after[name] - before[name]) * 1000 * SLOWED) / ROUNDS;
  return { task: ms('TaskDuration'), style: ms('RecalcStyleDuration'), layout: ms('LayoutDuration') };
}

const site = await startSite();
const names = (await readdir(`${root}tests/briefs`)).filter((name) => name.endsWith('.json')).map((name) => name.slice(0, -5));
console.log(
  `one show(), ms of the main thread, times ${SLOWED} for a processor that much slower\n${'brief'.padEnd(20)}view   scripting  style  layout  whole frame`,
);
for (const name of names) {
  const list = await dragged(await briefOf(name));
  for (const view of ['half', 'whole']) {
    const visit = await site.open(`brief=${name}&view=${view}`, { viewport: { width: 390, height: 844 } });
    const client = await visit.context.newCDPSession(visit.page);
    await visit.page.evaluate(held);
    await client.send('Performance.enable', { timeDomain: 'threadTicks' });
    const given = [list, view, ROUNDS];
    await spent(client, visit.page, shownOver, given); // warm
    const script = await spent(client, visit.page, shownOver, given);
    const { task, style, layout } = await spent(client, visit.page, shownByFrames, given);
    const columns = [
      [script.task, 9],
      [style, 7],
      [layout, 8],
      [task, 13],
    ];
    console.log(name.padEnd(20) + view.padEnd(7) + columns.map(([ms, wide]) => ms.toFixed(1).padStart(wide)).join(''));
    await visit.close();
  }
}
await site.close();
