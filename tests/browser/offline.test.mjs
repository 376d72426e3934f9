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

const words = JSON.parse(await readFile(new URL('../../www/words/en.json', import.meta.url), 'utf8'));

const serveScript = fileURLToPath(new URL('../../web/serve.py', import.meta.url));
const allowed = { serviceWorkers: 'allow' };

let browser;

before(async () => {
  browser = await launch();
});

after(() => browser?.close());

/** A copy of the built site on a port of its own, so that it can be taken down and changed. */
async function hosted(t, inside = '') {
  const top = await mkdtemp(path.join(tmpdir(), 'lieflat-site-'));
  const folder = path.join(top, inside);
  await cp(dist, folder, { recursive: true });
  const server = spawn('python3', [serveScript, '0', top], { stdio: ['ignore', 'pipe', 'ignore'] });
  const url = await new Promise((resolve) => createInterface({ input: server.stdout }).once('line', resolve));
  t.after(async () => {
    server.kill();
    await rm(top, { recursive: true, force: true });
  });
  return { browser, folder, url: url + inside };
}

/** Makes another version of the site: a mark that no script changes, and the worker's list. */
async function publish(site, mark) {
  const index = path.join(site.folder, 'index.html');
  const html = await readFile(index, 'utf8');
  await writeFile(index, html.replace(/<html lang="en"[^>]*>/, `<html lang="en" data-mark="${mark}">`));
  await writeServiceWorker(site.folder);
}

/** Which version a page is of. */
const marked = (page, mark) => page.waitForFunction((wanted) => document.documentElement.dataset.mark === wanted, mark, { timeout: 60_000 });

const controlled = (page) => page.waitForFunction(() => navigator.serviceWorker.controller !== null, undefined, { timeout: 60_000 });

test('after one visit everything works without a network', { timeout: 180_000 }, async (t) => {
  const site = await hosted(t);
  const context = await profile(site, allowed);
  const page = await openPage(context, site.url);
  await controlled(page);
  await context.setOffline(true);
  await page.goto(`${site.url}?from=home`);
  await isReady(page);
  const make = page.getByRole('button', { name: words.sheets.panel.make_pdf });
  const [pdf] = await Promise.all([page.waitForEvent('download'), make.click()]);
  assert.match(await readFile(await pdf.path(), 'latin1'), /^%PDF-/, 'the sheets too');
  await type(page, '158');
  assert.match(await page.locator('#ticket').innerText(), /\d+\smm × \d+\smm/);
  // Parts that the first visit never asked for are there too.
  for (const id of ['share-panel', 'sizes-panel', 'outcome-panel']) await unfold(page, id);
  const files = await page.evaluate(async () => {
    const key = (await caches.keys()).find((name) => name.startsWith('lieflat-'));
    return (await (await caches.open(key)).keys()).map(({ url }) => new URL(url).pathname);
  });
  assert.ok(files.some((name) => /sheets_bg-\w+\.wasm$/.test(name)), `the sheets' wasm among ${files.join(' ')}`);
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
  assert.equal(await second.evaluate(() => document.documentElement.dataset.mark), 'version one');
  await second.close();

  await notice.getByRole('button', { name: 'Use it now' }).click();
  // The page as it was shows the same reading: only its mark tells that it is the next one.
  await marked(page, 'version two');
  await page.waitForFunction((field) => document.querySelector(field)?.value === '167', frontLength, { timeout: 60_000 });
  const html = await page.evaluate(async () => (await fetch('index.html')).text());
  assert.match(html, /version two/);
  assert.deepEqual(page.problems, []);
  await context.close();
});

/** The next version is fetched whole and waits, so many versions being kept then. */
async function waits(page, count) {
  await page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update());
  await page.waitForFunction(async (n) => {
    const { installing, waiting } = await navigator.serviceWorker.getRegistration();
    const names = (await caches.keys()).filter((name) => name.startsWith('lieflat-'));
    return !installing && waiting && names.length === n;
  }, count, { timeout: 60_000 });
}

const kept = (page) => page.evaluate(async () => (await caches.keys()).filter((name) => name.startsWith('lieflat-')));

test('what a page of the old version still asks for is there after the new one was taken elsewhere', { timeout: 240_000 }, async (t) => {
  const site = await hosted(t);
  await publish(site, 'version one');
  const context = await profile(site, allowed);
  const page = await openPage(context, site.url);
  await controlled(page);
  const [one] = await kept(page);
  // Two comes and is never taken; three is, in another tab.
  await publish(site, 'version two');
  await waits(page, 2);
  const two = (await kept(page)).find((name) => name !== one);
  await publish(site, 'version three');
  await waits(page, 3);
  await type(page, '168');
  const other = await openPage(context, site.url);
  await other.locator('[data-notice=update]').getByRole('button', { name: 'Use it now' }).click();
  await marked(other, 'version three');
  await page.locator('[data-notice=update]').getByText('Another tab has taken a new version', { exact: false }).waitFor({ timeout: 60_000 });
  const after = await kept(page);
  assert.ok(after.includes(one), 'the version that the open page is of');
  assert.ok(!after.includes(two), 'not the one that nobody took');
  // A part that this page never asked for comes, without a network too, and the work is as it was.
  await context.setOffline(true);
  await unfold(page, 'outcome-panel');
  assert.equal(await page.inputValue(frontLength), '168');
  await context.setOffline(false);
  await page.locator('[data-notice=update]').getByRole('button', { name: 'Reload' }).click();
  await marked(page, 'version three');
  await page.waitForFunction((field) => document.querySelector(field)?.value === '168', frontLength, { timeout: 60_000 });
  await context.close();
});

test('the network cut in the middle of a first visit costs nothing that was typed', { timeout: 180_000 }, async (t) => {
  const site = await hosted(t);
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '159');
  await context.setOffline(true);
  await page.locator('#keep-panel > details > summary').click();
  const missing = page.locator('#keep-panel .missing');
  await missing.waitFor();
  await type(page, '160');
  assert.match(await page.locator('#ticket').innerText(), /\d+\smm × \d+\smm/, 'planning goes on');
  await page.selectOption('#language', 'es');
  await page.locator('#tools .missing').waitFor();
  await context.setOffline(false);
  await page.locator('#tools .missing').getByRole('button', { name: 'Try again' }).click();
  await page.waitForFunction(() => document.documentElement.lang === 'es');
  await page.selectOption('#language', 'en');
  await page.waitForFunction(() => document.documentElement.lang === 'en');
  await missing.getByRole('button', { name: 'Try again' }).click();
  await page.getByRole('button', { name: 'Keep this brief' }).waitFor();
  assert.equal(await page.inputValue(frontLength), '160');
  await context.close();
});

test('the page can be installed: its manifest is whole and its icons are what it says', { timeout: 120_000 }, async (t) => {
  const site = await hosted(t);
  const context = await profile(site, allowed);
  const page = await openPage(context, site.url);
  await controlled(page);
  const cdp = await context.newCDPSession(page);
  const { errors, data } = await cdp.send('Page.getAppManifest');
  assert.deepEqual(errors, []);
  const manifest = JSON.parse(data);
  const sizes = await page.evaluate((icons) => Promise.all(icons.map(async ({ src, sizes: said, purpose = 'any' }) => {
    const picture = await createImageBitmap(await (await fetch(src)).blob());
    return [said, `${picture.width}x${picture.height}`, purpose];
  })), manifest.icons);
  for (const [said, is] of sizes) assert.equal(is, said);
  assert.deepEqual(sizes.map(([, is, purpose]) => `${is} ${purpose}`).sort(), ['192x192 any', '512x512 any', '512x512 maskable']);
  for (const name of ['start_url', 'scope', 'id']) assert.ok(new URL(manifest[name], site.url).href.startsWith(site.url), name);
  const { installabilityErrors } = await cdp.send('Page.getInstallabilityErrors');
  // A window of a test is a private one, which is never installed from.
  assert.deepEqual(installabilityErrors.map(({ errorId }) => errorId).filter((id) => id !== 'in-incognito'), []);
  await context.close();
});

test('hosted in a folder, every part comes, online and offline', { timeout: 180_000 }, async (t) => {
  const site = await hosted(t, 'some/folder/');
  const context = await profile(site, allowed);
  const page = await openPage(context, site.url);
  await controlled(page);
  await context.setOffline(true);
  await page.reload();
  await isReady(page);
  await unfold(page, 'sizes-panel');
  await page.locator('#sizes-panel tbody tr').first().waitFor();
  await page.goto(`${site.url}examples/blog.html`);
  await page.locator('#second .cut').waitFor();
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
  assert.equal((await kept(page)).length, 1, 'and nothing of it is left behind');
  await page.reload();
  await isReady(page);
  assert.equal(await page.evaluate(() => document.documentElement.dataset.mark), undefined, 'the whole version, not the half one');
  await context.close();
});
