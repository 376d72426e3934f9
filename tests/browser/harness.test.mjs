// The harness itself: a check that waits must wait.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { launch, until } from './harness.mjs';

let browser;
let page;

before(async () => {
  browser = await launch();
  page = await (await browser.newContext()).newPage();
  await page.evaluate(() => {
    globalThis.count = 0;
    setInterval(() => {
      globalThis.count += 1;
    }, 20);
  });
});

after(() => browser?.close());

test('a plain predicate is waited for', async () => {
  await page.waitForFunction((n) => globalThis.count >= n, 10);
  assert.ok((await page.evaluate(() => globalThis.count)) >= 10);
});

test('a predicate that answers by a promise is refused, however it is written', async () => {
  const refused = { name: 'TypeError', message: /answers by a promise/ };
  await assert.rejects(
    page.waitForFunction(async () => false),
    refused,
  );
  await assert.rejects(
    page.waitForFunction(async () => true),
    refused,
  );
  await assert.rejects(
    page.waitForFunction(() => Promise.resolve(false)),
    refused,
  );
});

test('until asks again until it holds, gives what it found, and says what never came', async () => {
  let asked = 0;
  assert.equal(await until('the third time', async () => (++asked === 3 ? 'found' : undefined)), 'found');
  assert.equal(asked, 3);
  await assert.rejects(
    until('what never comes', () => false, 120),
    { name: 'AssertionError', message: 'waited in vain: what never comes' },
  );
});
