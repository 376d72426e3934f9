// What holds for the page whatever it shows. Run after `bash web/build.sh`:
//   node --test tests/browser/*.test.mjs

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { gzipSync } from 'node:zlib';
import { dist, start } from './harness.mjs';

const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
const desk = { viewport: { width: 1280, height: 800 } };
const firstVisitBudget = 250_000;

let site;

before(async () => {
  site = await start();
});

after(() => site?.close());

for (const [name, options] of Object.entries({ phone, desk })) {
  test(`opens without an error and asks nobody else (${name})`, async () => {
    const visit = await site.open('', options);
    assert.deepEqual(visit.foreignRequests(), [], 'requests elsewhere');
    assert.deepEqual(visit.failures, [], 'failed requests');
    assert.deepEqual(visit.pageErrors, [], 'uncaught errors');
    assert.deepEqual(visit.consoleErrors, [], 'console errors');
    assert.notEqual(await visit.page.title(), '');
    assert.ok(await visit.page.locator('h1').first().isVisible(), 'a heading is seen');
    await visit.close();
  });
}

test('loads its WebAssembly, served as what it is', async () => {
  const visit = await site.open('', desk);
  const address = visit.requests.find((request) => request.endsWith('.wasm'));
  assert.ok(address, `a .wasm among ${visit.requests.join(' ')}`);
  const response = await visit.context.request.get(address);
  assert.equal(response.headers()['content-type'], 'application/wasm');
  await visit.close();
});

test('weighs at most 250 kB, gzipped, on a first visit', async () => {
  const visit = await site.open('', phone);
  const paths = new Set(visit.requests.map((address) => new URL(address).pathname));
  let weight = 0;
  for (const path of paths) {
    const bytes = await readFile(dist + (path === '/' ? 'index.html' : path.slice(1)));
    weight += gzipSync(bytes, { level: 9 }).length;
  }
  assert.ok(weight > 0, 'something was loaded');
  assert.ok(weight <= firstVisitBudget, `${weight} bytes`);
  await visit.close();
});
