// How long a photo of 12 million pixels takes from its file to its curve, in Chromium's Worker:
//   node tests/browser/photo-bench.mjs [ROUNDS]   (after `bash web/build.sh`)
// Printed for a person to read. No test depends on it, for a busy machine would fail it.

import { drawn, startSite } from './photo-site.mjs';

const rounds = Number(process.argv[2] ?? 10);
const site = await startSite();
try {
  const photo = drawn(4000, 3000, 18);
  site.files.set('large.png', photo.png);
  const visit = await site.open();
  const share = 2048 / 4000;
  /** @param {[number, number]} place */
  const reduced = ([x, y]) => [(x + 0.5) * share - 0.5, (y + 0.5) * share - 0.5];
  const asked = { corners: photo.corners.map(reduced), ends: photo.ends.map(reduced), down: reduced(photo.down), rounds };
  const rows = await visit.page.evaluate(async ({ corners, ends, down, rounds }) => {
    const shown = await createImageBitmap(await window.fetched('large.png'));
    const canvas = new OffscreenCanvas(shown.width, shown.height);
    canvas.getContext('2d')?.drawImage(shown, 0, 0);
    const file = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.92 });
    const messages = {
      open: { do: 'open', file },
      rectangle: { do: 'rectangle', corners, width_mm: 210, height_mm: 297 },
      snap: { do: 'snap', at: ends[0] },
      again: { do: 'snap', at: ends[1] },
      trace: { do: 'trace', ends, down, via: [], edge: 'cut' },
    };
    const out = [];
    for (let round = 0; round < rounds; round++) {
      const row = {};
      for (const [name, message] of Object.entries(messages)) {
        const start = performance.now();
        const answer = await window.ask(message);
        row[name] = Math.round(performance.now() - start);
        if (answer.refused) throw new Error(JSON.stringify(answer));
        if (answer.edge) row.length_mm = answer.edge.length_mm;
      }
      row.all = row.open + row.rectangle + row.snap + row.again + row.trace;
      out.push(row);
    }
    return out;
  }, asked);
  console.table(rows);
  const all = rows.map((row) => row.all).sort((a, b) => a - b);
  console.log(`12 million pixels from file to curve: ${all[all.length >> 1]} ms in the middle, ${all[0]} at best, ${all.at(-1)} at worst`);
} finally {
  await site.close();
}
