// Where what reckons does not come, or is long in coming, no figure of the example stands as if it were the answer to what a
// person entered, kept or was sent; what they entered waits, and one press asks for it again.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { settled, start } from './harness.mjs';
import { profile } from './keep-site.mjs';
import { importModule } from '../page/modules.mjs';

const { encodeBrief } = await importModule('web/page/share/codec.js');
const brief = JSON.parse(await readFile(new URL('../briefs/tape-v.json', import.meta.url), 'utf8'));
const WASM = /lieflat_web_bg-\w+\.wasm/;

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

/** Ways in which the core does not come: each a route, or what a browser lacks. */
const WAYS = {
  'is blocked on the way': (route) => route.abort(),
  'is not there': (route) => route.fulfill({ status: 404, body: 'not found' }),
  'came damaged': async (route) => {
    const response = await route.fetch();
    const bytes = await response.body();
    return route.fulfill({ response, body: bytes.subarray(0, bytes.length - 999) });
  },
  'is another file': (route) =>
    route.fulfill({ status: 200, contentType: 'application/wasm', body: '<!doctype html><title>Sign in</title>' }),
};

/** A page whose core is held back: `come` lets it through, `fail` lets each ask end in one of the ways. */
async function waiting({ path = '', setUp, options } = {}) {
  const context = await profile(site, options);
  const held = [];
  let act = (route) => new Promise((resolve) => held.push(() => resolve(act(route))));
  await context.route(WASM, (route) => act(route));
  if (setUp) await context.addInitScript(setUp);
  const page = await context.newPage();
  page.problems = [];
  page.on('pageerror', (error) => page.problems.push(String(error.stack ?? error)));
  await page.goto(site.url + path);
  const go = (how) => {
    act = how;
    for (const one of held.splice(0)) one();
  };
  return { page, context, come: () => go((route) => route.continue()), fail: (way) => go(WAYS[way]) };
}

/** All figures with a unit that stand on the page outside the form, as a person sees them. */
const figures = (page) =>
  page.evaluate(() =>
    ['#ticket', '#drawing', '#answers', '#bar', '#cures'].filter(
      (part) =>
        document.querySelector(part).checkVisibility({ visibilityProperty: true }) &&
        /\d\s*(mm|cm|in)\b/.test(document.querySelector(part).innerText),
    ),
  );

const failed = (page) => page.locator('#failed').waitFor();

for (const way of Object.keys(WAYS)) {
  test(`where it ${way} the example stays named as one, until something is entered`, async () => {
    const { page, context, come, fail } = await waiting();
    fail(way);
    await failed(page);
    // The core can fail before the example's figure has come, which says whose it is.
    await page.locator('#ticket', { hasText: /^Invented example/ }).waitFor();
    assert.ok(await page.locator('#example-note').isVisible());
    await page.fill('#front-half-length', '171');
    assert.deepEqual(await figures(page), [], 'no figure stands beside what was entered');
    assert.match(await page.locator('#ticket').innerText(), /not worked out/);
    come();
    await page.click('#load-again');
    await page.waitForSelector('html.is-ready');
    assert.equal(await page.locator('#failed').isVisible(), false);
    await page.locator('#front-half-length').blur();
    await page.locator('#undo:enabled').waitFor();
    await settled(page);
    assert.equal(await page.inputValue('#front-half-length'), '171', 'what was entered waited');
    assert.match(await page.locator('#ticket').innerText(), /\d+\smm × \d+\smm/);
    assert.ok(await page.locator('#drawing').isVisible());
    assert.deepEqual(page.problems, []);
    await context.close();
  });
}

test('where a browser cannot run it at all, the same', async () => {
  const { page, context, come } = await waiting({
    setUp: () => {
      delete globalThis.WebAssembly;
    },
  });
  come();
  await failed(page);
  await page.check('#finish-facing', { force: true });
  assert.deepEqual(await figures(page), []);
  assert.deepEqual(page.problems, []);
  await context.close();
});

/** What a person may do first: each takes the example's figures away, and is done once the core has come. */
const ACTS = {
  'a reading': [
    (page) => page.fill('#front-half-length', '170'),
    async (page) => assert.equal(await page.inputValue('#front-half-length'), '170'),
  ],
  'a choice': [
    (page) => page.check('#finish-facing', { force: true }),
    async (page) => assert.match(await page.locator('#ticket').innerText(), /Cut the facing/),
  ],
  'a list': [(page) => page.selectOption('#head', 'men'), async (page) => assert.equal(await page.inputValue('#head'), 'men')],
  'a start of their own': [(page) => page.click('#start-own'), (page) => page.locator('#needed li').first().waitFor()],
  'an edge to stay': [
    (page) => page.evaluate(() => document.querySelector('.edges > button').click()),
    (page) => page.locator('#edge0-name').waitFor({ state: 'attached' }),
  ],
};

for (const [what, [act, done]] of Object.entries(ACTS)) {
  test(`while it is on its way, ${what} is no question that the example answers`, async () => {
    const { page, context, come } = await waiting();
    await page.waitForSelector('#front-half-length');
    assert.deepEqual(await figures(page), ['#ticket', '#drawing'], 'the example’s, named as such');
    await act(page);
    assert.deepEqual(await figures(page), []);
    come();
    await page.waitForSelector('html.is-ready');
    await settled(page);
    await done(page);
    assert.deepEqual(page.problems, []);
    await context.close();
  });
}

/** What was to be opened in the example's place. */
const OPENED = {
  'a link': { path: `#brief=${encodeBrief(brief)}` },
  'a damaged link': { path: '#brief=1junk' },
  'what this browser kept': {
    setUp: `localStorage.setItem('lieflat.work', JSON.stringify({ id: 'kept', brief: ${JSON.stringify(brief)} }))`,
  },
};

for (const [what, how] of Object.entries(OPENED)) {
  test(`where ${what} was to be opened, neither figure nor name of the example stands in its place`, async () => {
    const { page, context, come, fail } = await waiting(how.setUp ? { setUp: { content: how.setUp } } : how);
    fail('is not there');
    await failed(page);
    assert.deepEqual(await figures(page), []);
    assert.equal(await page.locator('#example-note').isVisible(), false);
    come();
    await page.click('#load-again');
    await page.waitForSelector('html.is-ready');
    if (what !== 'a damaged link') await page.locator('#ticket', { hasText: brief.title }).waitFor();
    else await page.locator('[data-notice=broken]').waitFor();
    assert.deepEqual(page.problems, []);
    await context.close();
  });
}

test('nothing that needs it can be taken hold of before it comes', async () => {
  const { page, context, come } = await waiting();
  await page.waitForSelector('#front-half-length');
  const slider = page.locator('[role=slider]').first();
  await slider.waitFor();
  const box = await slider.boundingBox();
  await page.mouse.move(box.x + 15, box.y + 15);
  await page.mouse.down();
  await page.mouse.move(box.x + 40, box.y + 40, { steps: 5 });
  await page.mouse.up();
  await page.keyboard.press('Control+z');
  for (const id of ['undo', 'open-class-view', 'pin', 'view'])
    await page
      .locator(`#${id}`)
      .click({ force: true, timeout: 1000 })
      .catch(() => {});
  assert.deepEqual(page.problems, []);
  come();
  await page.waitForSelector('html.is-ready');
  await settled(page);
  assert.ok(await page.locator('#undo').isDisabled(), 'nothing was changed');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a class view that does not come says so, and is asked for again', async () => {
  const context = await profile(site);
  let isDown = true;
  await context.route(/later-parts/, (route) => (isDown ? route.abort() : route.continue()));
  const page = await context.newPage();
  await page.goto(site.url);
  await page.waitForSelector('html.is-ready');
  await page.click('#open-class-view');
  const again = page.locator('#tools .missing').getByRole('button', { name: 'Try again' });
  await again.waitFor();
  isDown = false;
  await again.click();
  await page.locator('.class-working .line h3').waitFor();
  await context.close();
});
