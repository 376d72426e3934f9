// How long a photo of 12 million pixels takes from its file to its curve, in Chromium's Worker:
//   node tests/browser/photo-bench.mjs [ROUNDS]   (after `bash web/build.sh`)
// Printed for a person to read. No test depends on it, for a busy machine would fail it.

import { drawn, startSite } from './photo-site.mjs';
import { worked } from './worker-site.mjs';

const rounds = Number(process.argv[2] ?? 10);
const site = await startSite();
try {
  const photo = drawn(4000, 3000, 18);
  site.files.set('large.png', photo.png);
  const visit = await site.open();
  const share = 2048 / 4000;
  /** @param {[number, number]} place */
  const reduced = ([x, y]) => [(x + 0.5) * share - 0.5, (y + 0.5) * share - 0.5];
  const asked = { corners: photo.corners.map(reduced), ends: photo.ends.map(reduced), down: reduced(photo.down) };
  await visit.page.evaluate(async ({ corners, ends, down }) => {
    const shown = await createImageBitmap(await window.fetched('large.png'));
    const canvas = new OffscreenCanvas(shown.width, shown.height);
    canvas.getContext('2d')?.drawImage(shown, 0, 0);
    const file = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.92 });
    window.messages = {
      open: { do: 'open', file },
      rectangle: { do: 'rectangle', corners, width_mm: 210, height_mm: 297 },
      snap: { do: 'snap', at: ends[0] },
      trace: { do: 'trace', ends, down, via: [], edge: 'cut' },
    };
  }, asked);
  /** @param {string} name */
  const once = (name) =>
    visit.page.evaluate(async (which) => {
      const start = performance.now();
      const answer = await window.ask(window.messages[which]);
      if (answer.refused) throw new Error(JSON.stringify(answer));
      return performance.now() - start;
    }, name);
  const rows = [];
  for (const what of ['open', 'rectangle', 'snap', 'trace']) {
    await once(what);
    const before = await worked();
    const times = [];
    for (let round = 0; round < rounds; round++) times.push(Math.round(await once(what)));
    const processor = Math.round(((await worked()) - before) / rounds);
    times.sort((a, b) => a - b);
    rows.push({ what, times: what === 'snap' ? 2 : 1, least: times[0], middle: times[rounds >> 1], processor });
  }
  console.table(rows);
  /** @param {'least' | 'middle' | 'processor'} key */
  const sum = (key) => rows.reduce((all, row) => all + row.times * row[key], 0);
  console.log(
    `12 million pixels from file to curve: ${sum('middle')} ms in the middle, ${sum('least')} at best, ${sum('processor')} ms of the processor`,
  );
} finally {
  await site.close();
}
