// How long one show() of the drawing takes in Chromium, its processor slowed to a quarter: node tests/browser/drawing-bench.mjs
// Printed for a person to read: `least` is the drawing's own cost, the rest carries what else the machine is doing. No test depends on it, for a busy machine would fail it.

import { readdir } from 'node:fs/promises';
import { briefOf, planOf, root, startSite } from './drawing-site.mjs';
import { withValue } from '../../web/page/drawing/handles.js';

const SLOWED = 4;
const ROUNDS = 60;

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

// Scripting is show() itself; frame adds the style, layout and paint that follow from it, forced by reading a box.
function timed([list, view, rounds]) {
  const [script, frame] = [[], []];
  for (let i = 0; i < rounds; i += 1) {
    const { brief, plan } = list[i % list.length];
    const start = performance.now();
    window.host.drawing.show({ brief, plan, view });
    script.push(performance.now() - start);
    document.querySelector('.draw-world').getBoundingClientRect();
    frame.push(performance.now() - start);
  }
  const at = (values, share) => values.slice(10).sort((a, b) => a - b)[Math.floor((values.length - 10) * share)];
  return { least: at(script, 0), half: at(script, 0.5), most: at(script, 0.95), laid: at(frame, 0.5) };
}

const site = await startSite();
const names = (await readdir(`${root}tests/briefs`)).filter((name) => name.endsWith('.json')).map((name) => name.slice(0, -5));
console.log(`one show(), ms, processor slowed ${SLOWED} times\n${'brief'.padEnd(20)}view    least  median  95 of 100  median with layout`);
for (const name of names) {
  const list = await dragged(await briefOf(name));
  for (const view of ['half', 'whole']) {
    const visit = await site.open(`brief=${name}&view=${view}`, { viewport: { width: 390, height: 844 } });
    const client = await visit.context.newCDPSession(visit.page);
    await client.send('Emulation.setCPUThrottlingRate', { rate: SLOWED });
    const { least, half, most, laid } = await visit.page.evaluate(timed, [list, view, ROUNDS]);
    console.log(`${name.padEnd(20)}${view.padEnd(7)}${least.toFixed(1).padStart(6)}${half.toFixed(1).padStart(8)}${most.toFixed(1).padStart(11)}${laid.toFixed(1).padStart(20)}`);
    await visit.close();
  }
}
await site.close();
