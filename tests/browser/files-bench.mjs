// How long pattern files of 30 000 segments take from the file to all its lines, and harmful ones to their end, in Chromium's Worker:
//   node tests/browser/files-bench.mjs [ROUNDS]   (after `bash web/build.sh`)
// Printed for a person to read. No test depends on it, for a busy machine would fail it.

import { bomb, bombInBomb, moduleOf, dxfOfSegments, pdfOfSegments, svgOfSegments } from './files-made.mjs';
import { startWorkerSite, worked } from './worker-site.mjs';

const rounds = Number(process.argv[2] ?? 10);
const site = await startWorkerSite('lieflat_pdf', 'lieflat_text');
try {
  const good = { 'many.pdf': pdfOfSegments(30_000), 'many.svg': svgOfSegments(30_000), 'many.dxf': dxfOfSegments(30_000) };
  const bad = { 'million.pdf': pdfOfSegments(1_000_000), 'million.svg': svgOfSegments(1_000_000), 'million.dxf': dxfOfSegments(1_000_000) };
  const made = { ...good, ...bad, 'bomb.pdf': bomb(), 'bomb-in-bomb.pdf': bombInBomb() };
  const rows = [];
  for (const [name, bytes] of Object.entries(made)) {
    site.files.set(name, bytes);
    const { page } = await site.open(moduleOf(name));
    const before = await worked();
    const times = await page.evaluate(
      async ({ name, rounds }) => {
        const file = await window.fetched(name);
        const times = [];
        let told = '';
        for (let round = 0; round < rounds; round++) {
          const start = performance.now();
          const answer = await window.ask({ do: 'open', file });
          times.push(Math.round(performance.now() - start));
          told = answer.opened ? `${answer.opened.lines.length} lines` : JSON.stringify(answer);
          // What is broken answers no more.
          if (answer.broken) break;
        }
        return { told, times };
      },
      { name, rounds: name in good ? rounds : Math.min(rounds, 2) },
    );
    const processor = Math.round(((await worked()) - before) / times.times.length);
    const sorted = [...times.times].sort((a, b) => a - b);
    rows.push({
      name,
      kB: Math.round(bytes.length / 1000),
      best_ms: sorted[0],
      middle_ms: sorted[sorted.length >> 1],
      processor_ms: processor,
      told: times.told.slice(0, 60),
    });
  }
  console.table(rows);
} finally {
  await site.close();
}
