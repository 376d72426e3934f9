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

const frontLength = '#front-half-length';
const settle = 600; // longer than the page's pause before it plans

const cutFigure = (page) => page.locator('#cut-figure').innerText();

async function type(page, selector, text) {
  await page.fill(selector, text);
  await page.waitForTimeout(settle);
}

test('opens on an example that is already worked out', async () => {
  const visit = await site.open('', phone);
  assert.match(await cutFigure(visit.page), /^\d+\smm × \d+\smm$/);
  assert.match(await visit.page.locator('#bar').innerText(), /^Cut \d+\smm × \d+\smm/);
  assert.ok(await visit.page.locator('#drawing svg[role=img] desc').count(), 'the drawing is told in words');
  await visit.close();
});

test('a brief typed in changes the cut figure', async () => {
  const visit = await site.open('', desk);
  const before = await cutFigure(visit.page);
  await type(visit.page, frontLength, '162');
  const after = await cutFigure(visit.page);
  assert.notEqual(after, before);
  assert.ok(parseInt(after, 10) > parseInt(before, 10), `${after} is longer than ${before}`);
  await visit.page.selectOption('#finish', 'facing');
  await visit.page.waitForTimeout(settle);
  assert.equal(await visit.page.locator('#band-width').isVisible(), false, 'a facing has no band');
  assert.ok(await visit.page.locator('#facing-card table').isVisible(), 'its pieces are shown');
  assert.deepEqual(visit.pageErrors.concat(visit.consoleErrors), []);
  await visit.close();
});

test('bad input is named by its field, and the last good plan stays, marked as older', async () => {
  const visit = await site.open('', phone);
  const { page } = visit;
  const good = await cutFigure(page);
  for (const text of ['abc', '-5', '', 'NaN', '1000000000', '1e9']) {
    await type(page, frontLength, text);
    const message = await page.locator(`${frontLength}-error`).innerText();
    assert.match(message, /20 mm to 1500 mm/, `${JSON.stringify(text)} is told what is accepted: ${message}`);
    assert.equal(await page.getAttribute(frontLength, 'aria-invalid'), 'true');
    assert.equal(await page.inputValue(frontLength), text, 'what was typed is kept');
    assert.ok(await page.locator('#older').isVisible(), 'the result is marked as older');
    assert.ok(await page.locator(`#problems a[href="${frontLength}"]`).isVisible(), 'the summary links to it');
    assert.equal(await cutFigure(page), good, 'the last good plan stays');
  }
  await type(page, frontLength, '154');
  assert.equal(await page.locator('#older').isVisible(), false);
  assert.equal(await page.locator('#problems').isVisible(), false);
  assert.equal(await page.getAttribute(frontLength, 'aria-invalid'), null);
  assert.equal(await cutFigure(page), good);
  assert.deepEqual(visit.pageErrors.concat(visit.consoleErrors), []);
  await visit.close();
});

test('inches are read however they are written, and switching units changes nothing', async () => {
  const visit = await site.open('', desk);
  const { page } = visit;
  const millimetres = await cutFigure(page);
  await page.selectOption('#unit', 'in');
  await page.waitForTimeout(settle);
  assert.match(await cutFigure(page), /in × /);
  await page.selectOption('#unit', 'mm');
  await page.waitForTimeout(settle);
  assert.equal(await cutFigure(page), millimetres);

  await page.selectOption('#unit', 'in');
  await page.waitForTimeout(settle);
  const seen = new Set();
  for (const text of ['5 7/8', '5⅞', '5.875', '5,875', '149.225 mm']) {
    await type(page, frontLength, text);
    assert.equal(await page.locator('#older').isVisible(), false, `${text} is read`);
    seen.add(await page.locator('#headline').innerText());
  }
  assert.equal(seen.size, 1, [...seen].join(' | '));

  const head = new Set();
  for (const text of ['15 3/8', '15⅜']) {
    await type(page, '#head-girth', text);
    assert.equal(await page.locator('#older').isVisible(), false, `${text} is read`);
    head.add(await page.locator('#head-card').innerText());
  }
  assert.equal(head.size, 1);
  assert.match([...head][0], /15 3\/8\sin/);
  await visit.close();
});

test('never scrolls sideways', async () => {
  for (const width of [320, 390, 1280]) {
    const visit = await site.open('', { viewport: { width, height: 800 } });
    await visit.page.locator('details').evaluateAll((all) => all.forEach((one) => (one.open = true)));
    const wide = await visit.page.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(wide <= width, `${wide} px wide in ${width} px`);
    await visit.close();
  }
});
