// In a private window the page opens, plans and keeps work for as long as the window is open, and leaves nothing behind that
// a later window of the same browser could find. Firefox is told to make every window a private one; the profile stays on
// disk from one run to the next. (Chromium's profiles in all other checks are private ones.)

import assert from 'node:assert/strict';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import puppeteer from 'puppeteer-core';
import { chooseMillimetres, openSteps, PATIENCE, serve } from './harness.mjs';

const executablePath = process.env.FIREFOX ?? '/usr/bin/firefox-esr';
const field = '#front-half-length';

let site;
let userDataDir;

before(async () => {
  site = await serve();
  userDataDir = await mkdtemp(path.join(tmpdir(), 'lieflat-private-'));
});
after(async () => {
  await site?.close();
  await rm(userDataDir, { recursive: true, force: true });
});

/** A Firefox on the profile, all of its windows private or none. */
const firefox = (isPrivate) =>
  puppeteer.launch({
    browser: 'firefox',
    executablePath,
    headless: true,
    userDataDir,
    extraPrefsFirefox: { 'intl.accept_languages': 'en-GB', 'browser.privatebrowsing.autostart': isPrivate },
  });

async function opened(browser) {
  const page = await browser.newPage();
  page.setDefaultTimeout(PATIENCE);
  page.problems = [];
  page.on('pageerror', (error) => page.problems.push(String(error)));
  for (const prepare of [chooseMillimetres, openSteps]) await page.evaluateOnNewDocument(prepare);
  await page.goto(site.url);
  await page.waitForSelector('html.is-ready');
  await page.waitForSelector('#keep-panel > details');
  return page;
}

const has = (page, value) => page.waitForFunction((selector, text) => document.querySelector(selector)?.value === text, {}, field, value);

async function type(page, text) {
  await page.$eval(field, (input) => input.select());
  await page.type(field, text);
  await page.keyboard.press('Tab');
  await page.waitForFunction(
    () => document.querySelector('#undo').disabled === false && document.querySelector('#answers:not([aria-busy])'),
  );
}

/** How many briefs are kept under a name, as the page lists them. */
const listed = (page, name) =>
  page.$$eval('#keep-panel .entry-name', (all, wanted) => all.filter((one) => one.textContent.trim() === wanted).length, name);

async function keep(page, name) {
  await page.$eval('#keep-panel > details', (details) => {
    details.open = true;
  });
  await page.waitForSelector('#keep-panel input[type=text]');
  await page.$eval('#keep-panel input[type=text]', (input) => input.select());
  await page.type('#keep-panel input[type=text]', name);
  await page.$eval('#keep-panel .buttons button', (button) => button.click());
  await page.waitForFunction(
    (wanted) => [...document.querySelectorAll('#keep-panel .entry-name')].some((one) => one.textContent.trim() === wanted),
    {},
    name,
  );
}

test('in a private window work and what is kept last while it is open, and are gone after', { timeout: 240_000 }, async () => {
  let browser = await firefox(true);
  try {
    let page = await opened(browser);
    await type(page, '161');
    await keep(page, 'Invented, private');
    await page.reload();
    await has(page, '161');
    await page.waitForSelector('#keep-panel > details');
    await page.$eval('#keep-panel > details', (details) => {
      details.open = true;
    });
    await page.waitForFunction(() => document.querySelector('#keep-panel .entry-name'));
    assert.equal(await listed(page, 'Invented, private'), 1);
    assert.deepEqual(page.problems, []);
    await browser.close();

    browser = await firefox(false);
    page = await opened(browser);
    assert.equal(await page.$eval(field, (input) => input.value), '154', 'the example, not what was typed in private');
    await page.$eval('#keep-panel > details', (details) => {
      details.open = true;
    });
    await page.waitForSelector('#keep-panel input[type=text]');
    assert.equal(await listed(page, 'Invented, private'), 0);
    await type(page, '163');
    await keep(page, 'Invented, in the open');
    await browser.close();

    // The other way round: a private window does not see what the usual one keeps, and goes on without it.
    browser = await firefox(true);
    page = await opened(browser);
    assert.equal(await page.$eval(field, (input) => input.value), '154');
    assert.equal(await listed(page, 'Invented, in the open'), 0);
    await type(page, '164');
    assert.deepEqual(page.problems, []);
  } finally {
    await browser.close();
  }
});
