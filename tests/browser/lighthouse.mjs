// What Lighthouse says of the built page on its phone preset: node tests/browser/lighthouse.mjs
// Printed for a person to read. No test depends on it, for a busy machine would fail it.

import { spawn } from 'node:child_process';
import { readFile, rm } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { serve } from './harness.mjs';

const CATEGORIES = ['performance', 'accessibility', 'best-practices', 'seo'];
const FIGURES = ['first-contentful-paint', 'largest-contentful-paint', 'total-blocking-time', 'cumulative-layout-shift', 'speed-index'];
const root = fileURLToPath(new URL('../../', import.meta.url));
const command = `${root}tests/browser/node_modules/.bin/lighthouse`;
const file = `${root}target/lighthouse.json`;

// Lighthouse's own flags, and those without which Chromium does not start here or calls outside.
const flags = [
  '--quiet',
  '--output=json',
  `--output-path=${file}`,
  `--only-categories=${CATEGORIES}`,
  '--chrome-flags=--headless --no-sandbox --disable-gpu --disable-quic --disable-background-networking --disable-component-update --disable-sync',
];

/** @param {string} url @returns {Promise<void>} */
const run = (url) =>
  new Promise((resolve, reject) => {
    const env = { CHROME_PATH: '/usr/bin/chromium', ...process.env };
    const child = spawn(command, [url, ...flags], { env, stdio: ['ignore', 'ignore', 'inherit'] });
    child.once('error', reject).once('exit', (code) => (code ? reject(new Error(`lighthouse ended with ${code}`)) : resolve()));
  });

/** @param {Audit} audit */
const worst = ({ details }) =>
  (details?.items ?? [])
    .slice(0, 5)
    .map((item) => `      ${item.node?.selector ?? item.url ?? item.source ?? item.description ?? JSON.stringify(item).slice(0, 160)}`);

/** @typedef {{ node?: { selector?: string }, url?: string, source?: string, description?: string }} Item */
/** @typedef {{ title: string, score: number | null, displayValue?: string, details?: { items?: Item[] } }} Audit */
/** @typedef {{ score: number, auditRefs: { id: string, weight: number }[] }} Category */

/** What stands in the way of a category's 100. @param {Category} category @param {Record<string, Audit>} audits */
function inTheWay({ auditRefs }, audits) {
  return auditRefs
    .filter(({ id, weight }) => weight > 0 && (audits[id].score ?? 1) < 1)
    .flatMap(({ id }) => [`    ${id}: ${audits[id].title} ${audits[id].displayValue ?? ''}`, ...worst(audits[id])]);
}

const server = await serve();
try {
  await rm(file, { force: true });
  await run(server.url);
} finally {
  await server.close();
}
/** @type {{ categories: Record<string, Category>, audits: Record<string, Audit> }} */
const { categories, audits } = JSON.parse(await readFile(file, 'utf8'));
for (const name of CATEGORIES) {
  console.log(`${name.padEnd(15)} ${Math.round(100 * categories[name].score)}`);
  for (const line of inTheWay(categories[name], audits)) console.log(line);
}
for (const name of FIGURES) console.log(`${audits[name].title.padEnd(25)} ${audits[name].displayValue}`);
