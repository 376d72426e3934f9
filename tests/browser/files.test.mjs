// The modules of files in their Worker in Chromium: they read real files, and files made to harm end with their Worker.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { bomb, bombInBomb, moduleOf } from './files-made.mjs';
import { pkg, startWorkerSite } from './worker-site.mjs';

const brought = new URL('../brought/', import.meta.url);

/** @type {Awaited<ReturnType<typeof startWorkerSite>>} */
let site;

before(async () => {
  site = await startWorkerSite('lieflat_pdf', 'lieflat_text');
});

after(() => site?.close());

/** A page with a Worker of its own, that has been asked to open a file. @param {string} name */
async function opened(name) {
  const { page } = await site.open(moduleOf(name));
  const answer = await page.evaluate(async (from) => window.ask({ do: 'open', file: await window.fetched(from) }), name);
  return { page, answer, ask: (/** @type {object} */ message) => page.evaluate((asked) => window.ask(asked), message) };
}

test('each kind of file is read in the Worker, and its edge is as long as other tools find it', async () => {
  const { edges } = JSON.parse(await readFile(new URL('values.json', brought), 'utf8'));
  for (const file of ['five-sizes.svg', 'five-sizes.dxf', 'layers.pdf']) {
    site.files.set(file, await readFile(new URL(`files/${file}`, brought)));
    const { answer, ask } = await opened(file);
    assert.ok(answer.opened, `${file}: ${JSON.stringify(answer).slice(0, 200)}`);
    const wanted = edges.find((/** @type {{ file: string }} */ edge) => edge.file === file);
    const lengths = [];
    for (const line of answer.opened.lines.keys()) {
      const { edge } = await ask({ do: 'edge', line, ends: wanted.ends });
      if (edge) lengths.push(edge.length_mm);
    }
    const nearest = Math.min(...lengths.map((length) => Math.abs(length - wanted.length_mm)));
    assert.ok(nearest <= 0.02, `${file}: ${lengths} for ${wanted.length_mm}`);
    assert.deepEqual(await ask({ do: 'piece', line: 9999 }), { refused: { code: 'no_such' } });
    assert.deepEqual(await ask({ do: 'nothing that there is' }), { refused: { code: 'not_understood' } });
    assert.deepEqual(await ask({ do: 'edge', line: 'one' }), { refused: { code: 'not_understood' } });
  }
});

test('neither module has more memory than it says', async () => {
  for (const name of ['lieflat_pdf', 'lieflat_text']) {
    const wasm = await readFile(`${pkg}${name}_bg.wasm`);
    const { memory } = (await WebAssembly.instantiate(await WebAssembly.compile(wasm), imports(wasm))).exports;
    // Of 64 kB each, 256 MB are 4096 pages (messages.rs, MOST_MEMORY).
    assert.throws(() => /** @type {WebAssembly.Memory} */ (memory).grow(4096), RangeError, name);
    assert.ok(/** @type {WebAssembly.Memory} */ (memory).grow(3000) > 0, `${name}: most of it is there`);
  }
});

/** Something of each kind that a module imports. @param {Buffer} wasm */
function imports(wasm) {
  /** @type {Record<string, Record<string, any>>} */
  const all = {};
  for (const { module, name, kind } of WebAssembly.Module.imports(new WebAssembly.Module(wasm))) {
    all[module] ??= {};
    all[module][name] = kind === 'function' ? () => {} : undefined;
  }
  return all;
}

test('what unpacks to gigabytes ends its Worker and nothing else', async () => {
  for (const [name, made] of Object.entries({ 'bomb.pdf': bomb(), 'bomb-in-bomb.pdf': bombInBomb() })) {
    site.files.set(name, made);
    const { page, answer } = await opened(name);
    assert.ok(answer.broken || answer.refused?.code === 'too_much', `${name}: ${JSON.stringify(answer).slice(0, 200)}`);
    assert.equal(await page.evaluate(() => document.title), 'Worker', 'the page goes on');
  }
});

test('a file of a hundred megabytes is not even read', async () => {
  for (const name of ['lieflat_pdf', 'lieflat_text']) {
    const { page } = await site.open(name);
    const answer = await page.evaluate(() => window.ask({ do: 'open', file: new Blob([new Uint8Array(100_000_000)]) }));
    assert.deepEqual(answer, { refused: { code: 'too_large', bytes: 100_000_000, most: 64_000_000 } });
  }
});
