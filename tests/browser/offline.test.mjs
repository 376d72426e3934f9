// After one visit the page works without a network; a new version waits for the
// person, never mixes with the old one and never costs work.

import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { after, before, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { writeServiceWorker } from '../../web/precache.mjs';
import { dist, launch } from './harness.mjs';
import { frontLength, isReady, openPage, profile, type, unfold } from './keep-site.mjs';

const serveScript = fileURLToPath(new URL('../../web/serve.py', import.meta.url));
const allowed = { serviceWorkers: 'allow' };

let browser;

before(async () => {
  browser = await launch();
});

after(() => browser?.close());

/** A copy of the built site on a port of its own, so that it can be taken down and changed. */
async function hosted(t) {
  const folder = await mkdtemp(path.join(tmpdir(), 'lieflat-site-'));
  await cp(dist, folder, { recursive: true });
  const server = spawn('python3', [serveScript, '0', folder], { stdio: ['ignore', 'pipe', 'ignore'] });
  const url = await new Promise((resolve) => createInterface({ input: server.stdout }).once('line', resolve));
  t.after(async () => {
    server.kill();
    await rm(folder, { recursive: true, force: true });
  });
  return { browser, folder, url };
}

/** Makes another version of the site: what it says in its title, and the worker's list. */
async function publish(site, mark) {
  const index = path.join(site.folder, 'index.html');
  const html = await readFile(index, 'utf8');
  await writeFile(index, html.replace(/<title>[^<]*<\/title>/, `<title>${mark}</title>`));
  await writeServiceWorker(site.folder);
}

const controlled = (page) => page.waitForFunction(() => navigator.serviceWorker.controller !== null, undefined, { timeout: 60_000 });

test('after one visit everything works without a network', { timeout: 180_000 }, async (t) => {
  const site = await hosted(t);
  const context = await profile(site, allowed);
  const page = await openPage(context, site.url);
  await controlled(page);
  await context.setOffline(true);
  await page.goto(`${site.url}?from=home`);
  await isReady(page);
  await type(page, '158');
  assert.match(await page.locator('#ticket').innerText(), /\d+\smm × \d+\smm/);
  // Parts that the first visit never asked for are there too.
  for (const id of ['share-panel', 'sizes-panel', 'outcome-panel']) await unfold(page, id);
  const kept = await page.evaluate(async () => {
    const key = (await caches.keys())[0];
    return (await (await caches.open(key)).keys()).map(({ url }) => new URL(url).pathname);
  });
  assert.ok(kept.some((name) => /sheets_bg-\w+\.wasm$/.test(name)), `the sheets' wasm among ${kept.join(' ')}`);
  await page.goto(`${site.url}embed/frame.html`);
  await page.locator('lieflat-neckline .cut').waitFor();
  // Looking for a newer worker is all that needs the network, and fails quietly.
  assert.deepEqual(page.problems.filter((text) => !text.endsWith('/sw.js')), []);
  await context.close();
});

test('a new version waits, is offered, and takes over with the work as it was', { timeout: 180_000 }, async (t) => {
  const site = await hosted(t);
  await publish(site, 'version one');
  const context = await profile(site, allowed);
  const page = await openPage(context, site.url);
  await controlled(page);
  await page.reload();
  await isReady(page);
  await type(page, '167');

  await publish(site, 'version two');
  await page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update());
  const notice = page.locator('[data-notice=update]');
  await notice.waitFor({ timeout: 60_000 });
  // Until then every visit is of the old version, whole.
  const second = await openPage(context, site.url);
  assert.equal(await second.evaluate(() => document.title.includes('two')), false);
  await second.close();

  await notice.getByRole('button', { name: 'Use it now' }).click();
  await page.waitForFunction((field) => document.readyState === 'complete' && document.querySelector(field)?.value === '167', frontLength, { timeout: 60_000 });
  const html = await page.evaluate(async () => (await fetch('index.html')).text());
  assert.match(html, /version two/);
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a version that does not arrive whole is not used', { timeout: 180_000 }, async (t) => {
  const site = await hosted(t);
  const context = await profile(site, allowed);
  const page = await openPage(context, site.url);
  await controlled(page);
  // The list is of a new version, one file is not: as in the middle of an upload.
  await publish(site, 'whole');
  await writeFile(path.join(site.folder, 'index.html'), '<!doctype html><title>half</title>');
  await page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update().catch(() => {}));
  await page.waitForTimeout(4000);
  assert.equal(await page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).waiting), null);
  await page.reload();
  await isReady(page);
  assert.notEqual(await page.title(), 'half');
  await context.close();
});
