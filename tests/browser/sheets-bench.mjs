// How long a whole PDF takes in Chromium's WebAssembly: node tests/browser/sheets-bench.mjs (after `bash web/build.sh`)
// Printed for a person to read. No test depends on it, for a busy machine would fail it.

import { pathToFileURL } from 'node:url';
import { briefOf, planOf } from '../page/planner.mjs';
import { Sheet } from '../../web/page/generated/sheets.js';
import { startSite } from './sheets-site.mjs';

const ROUNDS = 30;
const BRIEFS = ['band-round', 'tape-v', 'facing-scoop', 'bound-scoop', 'band-sweetheart'];

async function times([brief, plan, options, rounds]) {
  const clock = async () => {
    const start = performance.now();
    const made = await window.host.makePdf(brief, plan, options);
    return { ms: performance.now() - start, pages: made.pages, bytes: made.bytes.length };
  };
  // Fetches the module and is refused: what is measured is the first sheets, not the network.
  await window.host.makePdf({}, {}, options).catch(() => {});
  const first = await clock();
  const more = [];
  for (let i = 0; i < rounds; i += 1) more.push((await clock()).ms);
  more.sort((a, b) => a - b);
  return { ...first, middle: more[rounds >> 1], worst: more.at(-1) };
}

/** For each worked brief: ms of the first PDF with the module fetched, of the middle and of the worst of the rest. */
export async function pdfRows() {
  const site = await startSite();
  const rows = [];
  for (const name of BRIEFS) {
    const brief = await briefOf(name);
    const plan = await planOf(brief);
    const visit = await site.open(brief);
    const options = {
      paper: 'a4',
      unit: 'mm',
      language: 'es',
      date: '2026-11-25',
      link: `https://example.org/#brief=1${'aB3'.repeat(200)}`,
      sheets: Sheet,
    };
    rows.push({ name, ...(await visit.page.evaluate(times, [brief, plan.plan ?? plan, options, ROUNDS])) });
    await visit.close();
  }
  await site.close();
  return rows;
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  console.log('whole PDF, ms: first with the module fetched, then the middle and the worst of', ROUNDS);
  for (const { name, ms, middle, worst, pages, bytes } of await pdfRows()) {
    const figures = [ms, middle, worst].map((one) => one.toFixed(1).padStart(7)).join('');
    console.log(`${name.padEnd(14)}${figures}   ${pages} pages, ${bytes} bytes`);
  }
}
