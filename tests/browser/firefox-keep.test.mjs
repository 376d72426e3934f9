// The same page in another engine: work that outlives a reload, a link, all
// sizes, and the embedded calculator.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { after, before, test } from 'node:test';
import puppeteer from 'puppeteer-core';
import { PATIENCE, chooseMillimetres, openSteps, serve } from './harness.mjs';
import { importModule } from '../page/modules.mjs';
import { checkLostFiles, checkUpdatesThatOverlap } from './update-checks.mjs';

const executablePath = process.env.FIREFOX ?? '/usr/bin/firefox-esr';
const field = '#front-half-length';

let site;
let browser;

before(async () => {
  site = await serve();
  browser = await puppeteer.launch({
    browser: 'firefox',
    executablePath,
    headless: true,
    extraPrefsFirefox: { 'intl.accept_languages': 'en-GB' },
  });
});

after(async () => {
  await browser?.close();
  await site?.close();
});

async function newPage() {
  const page = await browser.newPage();
  page.setDefaultTimeout(PATIENCE);
  for (const prepare of [chooseMillimetres, openSteps]) await page.evaluateOnNewDocument(prepare);
  return page;
}

async function opened(address) {
  const page = await newPage();
  page.problems = [];
  page.on('pageerror', (error) => page.problems.push(String(error)));
  await page.goto(address);
  await page.waitForSelector('#keep-panel > details');
  return page;
}

const has = (page, value) => page.waitForFunction((selector, text) => document.querySelector(selector)?.value === text, {}, field, value);

test('work outlives a reload in Firefox', async () => {
  const page = await opened(site.url);
  await page.$eval(field, (input) => input.select());
  await page.type(field, '161');
  await page.keyboard.press('Tab');
  await page.reload();
  await has(page, '161');
  assert.deepEqual(page.problems, []);
  await page.close();
});

test('a link opens in Firefox, and all sizes are worked out', async () => {
  const { briefLink } = await importModule('web/page/share/codec.js');
  const brief = JSON.parse(readFileSync(new URL('../briefs/band-round.json', import.meta.url), 'utf8'));
  brief.neckline.front.outline.measured.half_length_mm = 171;
  const page = await opened(briefLink(brief, site.url));
  await has(page, '171');
  await page.waitForSelector('[data-notice=shared]');
  await page.$eval('#sizes-panel > details > summary', (summary) => summary.click());
  await page.waitForSelector('#sizes-panel tbody tr');
  assert.deepEqual(page.problems, []);
  await page.close();
});

test('the embedded calculator works in Firefox', async () => {
  const page = await newPage();
  const problems = [];
  page.on('pageerror', (error) => problems.push(String(error)));
  await page.goto(`${site.url}examples/blog.html`);
  await page.waitForFunction(() => document.querySelector('#second')?.shadowRoot?.querySelector('.cut'));
  assert.match(await page.$eval('#second', (element) => element.shadowRoot.querySelector('.cut').textContent), /in × /);
  assert.deepEqual(problems, []);
  await page.close();
});

test('in Firefox what cannot be read outlives a reload, and a returning person sees their own from the first moment', async () => {
  const page = await opened(site.url);
  await page.$eval(field, (input) => input.select());
  await page.type(field, '16x2');
  await page.keyboard.press('Tab');
  await page.reload();
  await has(page, '16x2');
  await page.$eval(field, (input) => input.select());
  await page.type(field, '162');
  await page.keyboard.press('Tab');
  await page.reload({ waitUntil: 'domcontentloaded' });
  await page.waitForFunction(() => document.documentElement.classList.contains('is-ready'));
  assert.equal(await page.$eval(field, ({ value }) => value), '162');
  assert.deepEqual(page.problems, []);
  await page.close();
});

test('in Firefox everything is there without a network after one visit', async (t) => {
  const own = await serve();
  t.after(() => own.close());
  const page = await opened(own.url);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await own.close();
  await page.reload();
  await page.waitForSelector('#keep-panel > details');
  await page.$eval('#outcome-panel > details > summary', (summary) => summary.click());
  await page.waitForSelector('#outcome-panel .folded > *');
  assert.deepEqual(page.problems, []);
  await page.close();
});

test('in Firefox a part that did not come comes when it is asked for again', async (t) => {
  const own = await serve(); // a site that no worker serves yet
  t.after(() => own.close());
  const page = await newPage();
  let isDown = true;
  await page.setRequestInterception(true);
  page.on('request', (request) => (isDown && /\/page\/at-rest-/.test(request.url()) ? request.abort() : request.continue()));
  await page.goto(own.url);
  await page.waitForSelector('#keep-panel .missing button');
  isDown = false;
  // In the page itself: what else is still coming may move the button away from under a mouse.
  await page.$eval('#keep-panel .missing button', (again) => again.click());
  await page.waitForSelector('#keep-panel > details');
  await page.close();
});

/** A page of its own for each check of updates. */
async function updating(t) {
  const page = await newPage();
  t.after(() => page.close());
  return { visit: (url) => page.goto(url), reload: () => page.reload(), ask: (act, ...given) => page.evaluate(act, ...given) };
}

test('in Firefox a version taken while the next is still being fetched harms neither', async (t) =>
  checkUpdatesThatOverlap(t, await updating(t)));

test('in Firefox files that were taken away are fetched and kept again', async (t) => checkLostFiles(t, await updating(t)));
