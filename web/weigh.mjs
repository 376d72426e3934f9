// Lists what every file of target/dist weighs and fails where the page is over
// its budget. Bytes are counted as `gzip -9` leaves them; a kB is 1000 of them.

import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';

const dist = fileURLToPath(new URL('../target/dist', import.meta.url));

const budgets = { wasm: 145_000, firstVisit: 230_000 };

/** Modules that are fetched when they are asked for, by the names of their packages, and what each may weigh. */
const later = { lieflat_photo: 50_000, lieflat_pdf: 175_000, lieflat_text: 175_000 };

/** Scripts of the page that come for a way into the room where a pattern is brought, and what each way's may weigh together. */
const ways = { photo: { scripts: ['room', 'photo-way'], budget: 8_000 }, files: { scripts: ['room', 'files-way'], budget: 8_000 } };

/** @typedef {{ name: string, first: boolean }} Listed a file of the built site, and whether a first visit loads it */
/** @typedef {Awaited<ReturnType<typeof weigh>>} Weighed */

/** @param {string | number} value @param {number} [width] */
const pad = (value, width = 10) => String(value).padStart(width);

/** @param {Listed} file */
async function weigh({ name, first }) {
  const bytes = await readFile(`${dist}/${name}`);
  return { name, first, raw: bytes.length, packed: gzipSync(bytes, { level: 9 }).length };
}

/** @param {Weighed[]} files */
const packed = (files) => files.reduce((sum, file) => sum + file.packed, 0);

/** @param {string} title @param {Weighed[]} files */
function list(title, files) {
  console.log(`${pad('bytes')} ${pad('gzip -9')}  ${title}`);
  for (const { raw, packed: small, name } of files) console.log(`${pad(raw)} ${pad(small)}  ${name}`);
  console.log(`${pad(files.reduce((sum, file) => sum + file.raw, 0))} ${pad(packed(files))}  in all\n`);
}

/** @param {string} what @param {number} weight @param {number} budget */
function within(what, weight, budget) {
  console.log(`${what}: ${weight} of ${budget} bytes, gzipped`);
  if (weight <= budget) return true;
  console.error(`${what} is over its budget by ${weight - budget} bytes`);
  return false;
}

/** @type {{ files: Listed[] }} */
const { files } = JSON.parse(await readFile(`${dist}.files.json`, 'utf8'));
const weighed = await Promise.all(files.map(weigh));
const first = weighed.filter((file) => file.first);
list('a first visit', first);
list(
  'fetched when it is wanted, or kept for offline use after the page has loaded',
  weighed.filter((file) => !file.first),
);
const wasm = packed(first.filter(({ name }) => name.endsWith('.wasm')));
const kept = [within('wasm', wasm, budgets.wasm), within('first visit', packed(first), budgets.firstVisit)];
for (const [name, budget] of Object.entries(later)) {
  const bytes = await readFile(new URL(`../target/pkg/${name}_bg.wasm`, import.meta.url));
  kept.push(within(name, gzipSync(bytes, { level: 9 }).length, budget));
}
for (const [way, { scripts, budget }] of Object.entries(ways)) {
  const come = weighed.filter(({ name }) => scripts.some((script) => name.startsWith(`page/${script}-`)));
  kept.push(within(`scripts of the way by ${way}`, packed(come), budget));
}
if (kept.includes(false)) process.exit(1);
