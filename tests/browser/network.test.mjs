// Nobody else is asked, nothing is told, no cookie is set; and a first visit
// loads what the build counts as one.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { PATIENCE, dist, start, until } from './harness.mjs';
import { isReady, profile, type, unfold } from './keep-site.mjs';

let site;

before(async () => {
  site = await start();
});

after(() => site?.close());

test('a whole visit asks only this site for its own files, and sends nothing', async () => {
  const context = await profile(site, { serviceWorkers: 'allow' });
  const page = await context.newPage();
  const requests = [];
  context.on('request', (request) => requests.push(request));
  page.on('websocket', (socket) =>
    requests.push({ url: () => socket.url(), method: () => 'SOCKET', postData: () => null, allHeaders: async () => ({}) }),
  );
  await page.goto(site.url);
  await isReady(page);
  await type(page, '163');
  for (const id of ['keep-panel', 'share-panel', 'sizes-panel', 'outcome-panel']) await unfold(page, id);
  // A worker that has fetched all there is takes the page over.
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null, undefined, { timeout: PATIENCE });
  await page.waitForLoadState('networkidle');
  const origin = new URL(site.url).origin;
  for (const request of requests) {
    const address = new URL(request.url());
    if (['blob:', 'data:'].includes(address.protocol)) continue;
    assert.equal(address.origin, origin, request.url());
    assert.equal(request.method(), 'GET', request.url());
    assert.equal(request.postData(), null, request.url());
    assert.equal(address.search, '', `${request.url()} carries nothing`);
    assert.equal((await request.allHeaders()).cookie, undefined, 'no cookie');
  }
  assert.deepEqual(await context.cookies(), [], 'no cookie is set');
  assert.equal(await page.evaluate(() => document.cookie), '');
  await context.close();
});

test('a first visit loads no more than the build counts', async () => {
  const context = await profile(site, { isFolded: true });
  const page = await context.newPage();
  const asked = new Set();
  page.on('request', (request) => asked.add(new URL(request.url()).pathname.slice(1) || 'index.html'));
  await page.goto(site.url);
  await isReady(page);
  const { files } = JSON.parse(await readFile(`${dist.replace(/\/$/, '')}.files.json`, 'utf8'));
  const counted = new Set(files.filter(({ first }) => first).map(({ name }) => name));
  // Of the icon and the manifest the driver does not tell.
  await until('all parts that are counted are asked for', () => [...counted].every((name) => !name.startsWith('page/') || asked.has(name)));
  await page.waitForLoadState('networkidle');
  const uncounted = [...asked].filter((name) => !counted.has(name) && !name.startsWith('blob:'));
  assert.deepEqual(uncounted, [], 'asked for and not counted');
  await context.close();
});

test('every page of the site is sent with its policy, without inline scripts or styles', async () => {
  for (const name of ['', 'embed/frame.html', 'examples/blog.html']) {
    const response = await fetch(new URL(name, site.url));
    const policy = response.headers.get('content-security-policy');
    assert.match(policy, /default-src 'none'/, name);
    assert.doesNotMatch(policy, /unsafe-inline|'unsafe-eval'/, name);
    const html = await response.text();
    assert.doesNotMatch(html, /<script(?![^>]*\bsrc=)|<style|\sstyle=|\son\w+=/i, name);
    assert.doesNotMatch(html, /(?:src|href)="(?:\/|https?:)/i, `${name}: relative addresses alone`);
  }
  const hashed = await fetch(
    new URL(
      JSON.parse(await readFile(`${dist.replace(/\/$/, '')}.files.json`, 'utf8')).files.find(({ name }) => name.endsWith('.wasm')).name,
      site.url,
    ),
  );
  assert.equal(hashed.headers.get('access-control-allow-origin'), '*');
  assert.equal(hashed.headers.get('content-type'), 'application/wasm');
});
