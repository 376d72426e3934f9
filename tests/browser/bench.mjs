// How fast the page answers on a phone: node tests/browser/bench.mjs
// Printed for a person to read. No test depends on it, for a busy machine would fail it.

import { start } from './harness.mjs';
import { atShare, startsOf, useOf } from './speed.mjs';

const report = (name, values) =>
  console.log(`${name.padEnd(34)} median ${atShare(values, 0.5).toFixed(1)} ms, p95 ${atShare(values, 0.95).toFixed(1)} ms`);

const site = await start();
for (const { name, script, paint } of await useOf(site)) {
  report(`${name}: scripting a frame`, script);
  report(`${name}: input to paint`, paint);
}
const { plan, ready } = await startsOf(site);
report('slow 4G: first plan painted', plan);
report('slow 4G: answers what is typed', ready);
await site.close();
