// After one visit the page works without a network; a new version waits for the
// person, never mixes with the old one and never costs work.

import assert from 'node:assert/strict';
import { cp, readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { keptFiles } from '../../web/precache.mjs';
import { PATIENCE, launch, until, wholeChromium } from './harness.mjs';
import { hosted, publish } from './hosted.mjs';
import { frontLength, isReady, openPage, profile, type, unfold } from './keep-site.mjs';

const words = JSON.parse(await readFile(new URL('../../www/words/en.json', import.meta.url), 'utf8'));

const allowed = { serviceWorkers: 'allow' };

let browser;

before(async () => {
  browser = await launch();
});

after(() => browser?.close());

/** The page that the browser put aside while the person was elsewhere: not loaded anew when they come back. */
const goBack = async (page) => {
  await page.goBack({ waitUntil: 'commit' });
  await isReady(page);
};

const patient = { timeout: PATIENCE };

/** Which version a page is of. */
const marked = (page, mark) => page.waitForFunction((wanted) => document.documentElement.dataset.mark === wanted, mark, patient);

const controlled = (page) => page.waitForFunction(() => navigator.serviceWorker.controller !== null, undefined, patient);

/** A site and a profile in which its worker is at work. */
async function visited(t, inside) {
  const site = await hosted(t, inside);
  await publish(site, 'version one');
  const context = await profile({ browser }, allowed);
  t.after(() => context.close());
  const page = await openPage(context, site.url);
  await controlled(page);
  return { site, context, page };
}

const askForUpdate = (page) =>
  page.evaluate(async () => {
    await (await navigator.serviceWorker.getRegistration()).update();
  });

/** Which workers a page's registration has. */
const workers = (page) =>
  page.evaluate(async () => {
    const { installing, waiting, active } = await navigator.serviceWorker.getRegistration();
    return { installing: installing?.state, waiting: waiting?.state, active: active?.state };
  });

/** The versions that are kept. */
const kept = (page) => page.evaluate(async () => (await caches.keys()).filter((name) => name.startsWith('lieflat-')));

/** How many files of a version are kept, of which the site has so many. */
const countKept = (page, name) => page.evaluate(async (cache) => (await (await caches.open(cache)).keys()).length, name);

/** The next version is fetched whole and waits, so many versions being kept then. */
async function waits(page, count) {
  await askForUpdate(page);
  await until(`version ${count} waits`, async () => {
    const { installing, waiting } = await workers(page);
    return !installing && waiting && (await kept(page)).length === count;
  });
}

const useItNow = (page) => page.locator('[data-notice=update]').getByRole('button', { name: 'Use it now' }).click(patient);

test('after one visit everything works without a network', { timeout: 180_000 }, async (t) => {
  const site = await hosted(t);
  const context = await profile({ browser }, allowed);
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
  assert.ok(
    files.some((name) => /sheets_bg-\w+\.wasm$/.test(name)),
    `the sheets' wasm among ${files.join(' ')}`,
  );
  await page.goto(`${site.url}embed/frame.html`);
  await page.locator('lieflat-neckline .cut').waitFor();
  // Looking for a newer worker is all that needs the network, and fails quietly.
  assert.deepEqual(
    page.problems.filter((text) => !text.endsWith('/sw.js')),
    [],
  );
  await context.close();
});

test('a new version waits, is offered, and takes over with the work as it was', { timeout: 180_000 }, async (t) => {
  const site = await hosted(t);
  await publish(site, 'version one');
  const context = await profile({ browser }, allowed);
  const page = await openPage(context, site.url);
  await controlled(page);
  await page.reload();
  await isReady(page);
  await type(page, '167');

  await publish(site, 'version two');
  await askForUpdate(page);
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

test('what a page of the old version still asks for is there after the new one was taken elsewhere', { timeout: 240_000 }, async (t) => {
  const site = await hosted(t);
  await publish(site, 'version one');
  const context = await profile({ browser }, allowed);
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
  await page
    .locator('[data-notice=update]')
    .getByText('Another tab has taken a new version', { exact: false })
    .waitFor({ timeout: 60_000 });
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
  const context = await profile({ browser });
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
  const context = await profile({ browser }, allowed);
  const page = await openPage(context, site.url);
  await controlled(page);
  const cdp = await context.newCDPSession(page);
  const { errors, data } = await cdp.send('Page.getAppManifest');
  assert.deepEqual(errors, []);
  const manifest = JSON.parse(data);
  const sizes = await page.evaluate(
    (icons) =>
      Promise.all(
        icons.map(async ({ src, sizes: said, purpose = 'any' }) => {
          const picture = await createImageBitmap(await (await fetch(src)).blob());
          return [said, `${picture.width}x${picture.height}`, purpose];
        }),
      ),
    manifest.icons,
  );
  for (const [said, is] of sizes) assert.equal(is, said);
  assert.deepEqual(sizes.map(([, is, purpose]) => `${is} ${purpose}`).sort(), ['192x192 any', '512x512 any', '512x512 maskable']);
  for (const name of ['start_url', 'scope', 'id']) assert.ok(new URL(manifest[name], site.url).href.startsWith(site.url), name);
  const { installabilityErrors } = await cdp.send('Page.getInstallabilityErrors');
  // A window of a test is a private one, which is never installed from.
  assert.deepEqual(
    installabilityErrors.map(({ errorId }) => errorId).filter((id) => id !== 'in-incognito'),
    [],
  );
  await context.close();
});

test('hosted in a folder, every part comes, online and offline', { timeout: 180_000 }, async (t) => {
  const site = await hosted(t, 'some/folder/');
  const context = await profile({ browser }, allowed);
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
  const context = await profile({ browser }, allowed);
  const page = await openPage(context, site.url);
  await controlled(page);
  // The list is of a new version, one file is not: as in the middle of an upload.
  await publish(site, 'whole');
  await writeFile(path.join(site.folder, 'index.html'), '<!doctype html><title>half</title>');
  assert.equal(
    await page.evaluate(async () => {
      const registration = await navigator.serviceWorker.getRegistration();
      const found = new Promise((resolve) => {
        registration.addEventListener('updatefound', () => resolve(registration.installing), { once: true });
      });
      registration.update().catch(() => {});
      const worker = await found;
      await new Promise((resolve) => {
        const look = () => worker.state !== 'installing' && resolve();
        worker.addEventListener('statechange', look);
        look();
      });
      return worker.state;
    }),
    'redundant',
    'it is given up',
  );
  assert.equal(await page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).waiting), null);
  assert.equal((await kept(page)).length, 1, 'and nothing of it is left behind');
  await page.reload();
  await isReady(page);
  assert.equal(await page.evaluate(() => document.documentElement.dataset.mark), undefined, 'the whole version, not the half one');
  await context.close();
});

test('a version taken while the next is still being fetched harms neither', { timeout: 240_000 }, async (t) => {
  const { site, page } = await visited(t);
  await publish(site, 'version two');
  await waits(page, 2);
  const held = site.hold('manifest.webmanifest');
  const three = `lieflat-${await publish(site, 'version three')}`;
  await askForUpdate(page);
  await held.asked;
  assert.deepEqual(await workers(page), { installing: 'installing', waiting: 'installed', active: 'activated' });
  await useItNow(page);
  await marked(page, 'version two');
  await isReady(page);
  held.release();
  await useItNow(page);
  await marked(page, 'version three');
  assert.equal(await countKept(page, three), (await keptFiles(site.folder)).length, 'all of it is kept');
  site.isDown = true;
  await page.reload();
  await isReady(page);
  await unfold(page, 'outcome-panel');
});

test('a version that lost files while it waited is taken only when it is whole again', { timeout: 240_000 }, async (t) => {
  const { site, page } = await visited(t);
  const two = `lieflat-${await publish(site, 'version two')}`;
  await waits(page, 2);
  await type(page, '166');
  await page.evaluate((name) => caches.delete(name), two);
  site.isDown = true;
  await useItNow(page);
  await page.locator('[data-notice=update]').getByText('could not be fetched whole', { exact: false }).waitFor(patient);
  await type(page, '167');
  assert.match(await page.locator('#ticket').innerText(), /\d+\smm × \d+\smm/, 'the older one goes on');
  site.isDown = false;
  await useItNow(page);
  await marked(page, 'version two');
  await page.waitForFunction((field) => document.querySelector(field)?.value === '167', frontLength, patient);
  assert.equal(await countKept(page, two), (await keptFiles(site.folder)).length);
});

/** Every file of the version in use is kept. */
const wholeAgain = async (site, page, version) => {
  const all = (await keptFiles(site.folder)).length;
  await until('every file is kept again', async () => (await countKept(page, `lieflat-${version}`)) === all);
};

test('what the browser takes away under a running worker is fetched and kept again on the next visit', { timeout: 240_000 }, async (t) => {
  const site = await hosted(t);
  const version = await publish(site, 'version one');
  const context = await profile({ browser }, allowed);
  t.after(() => context.close());
  const page = await openPage(context, site.url);
  await controlled(page);
  // All of it, the notes too; then one part that the visit itself does not ask for.
  const losses = [
    async () => {
      for (const name of await caches.keys()) await caches.delete(name);
    },
    async () => {
      const cache = await caches.open((await caches.keys()).find((name) => name.startsWith('lieflat-')));
      for (const request of await cache.keys()) if (/sheets_bg/.test(request.url)) await cache.delete(request);
    },
  ];
  for (const lose of losses) {
    await page.evaluate(lose);
    await page.reload();
    await isReady(page);
    await wholeAgain(site, page, version);
    site.isDown = true;
    await page.reload();
    await isReady(page);
    for (const id of ['share-panel', 'sizes-panel', 'outcome-panel']) await unfold(page, id);
    site.isDown = false;
  }
  // Lost while the site has the next version already: the visit is of that one, whole, from the network.
  await publish(site, 'version two');
  await page.evaluate(losses[0]);
  await page.reload();
  await marked(page, 'version two');
  await isReady(page);
  await unfold(page, 'outcome-panel');
  assert.deepEqual(
    page.problems.filter((text) => !text.endsWith('/sw.js')),
    [],
  );
});

test('a page left open over three updates loses nothing, and nothing is kept longer than a page may need it', {
  timeout: 240_000,
}, async (t) => {
  const { site, context, page } = await visited(t);
  const [one] = await kept(page);
  await type(page, '165');
  const other = await openPage(context, site.url);
  for (const mark of ['version two', 'version three', 'version four']) {
    await publish(site, mark);
    await askForUpdate(other);
    await useItNow(other);
    await marked(other, mark);
    await isReady(other);
  }
  assert.equal(await page.evaluate(() => document.documentElement.dataset.mark), 'version one');
  const notice = page.locator('[data-notice=update]');
  await notice.getByText('Another tab has taken a new version', { exact: false }).waitFor(patient);
  assert.ok((await kept(page)).includes(one));
  site.isDown = true;
  for (const id of ['outcome-panel', 'sizes-panel']) await unfold(page, id);
  await type(page, '166');
  assert.match(await page.locator('#ticket').innerText(), /\d+\smm × \d+\smm/);
  await notice.getByRole('button', { name: 'Reload' }).click();
  await marked(page, 'version four');
  await page.waitForFunction((field) => document.querySelector(field)?.value === '166', frontLength, patient);
  site.isDown = false;
  await other.close();
  const five = `lieflat-${await publish(site, 'version five')}`;
  await askForUpdate(page);
  await useItNow(page);
  await marked(page, 'version five');
  const names = await until('only what is needed is kept', async () => {
    const now = await kept(page);
    return now.length === 2 && now;
  });
  assert.ok(names.includes(five) && !names.includes(one), `the version in use and the one before: ${names}`);
});

test('two copies of the site on one origin leave each other’s files alone', { timeout: 240_000 }, async (t) => {
  const site = await hosted(t, 'one/');
  const copy = { folder: site.folder.replace(/one\/?$/, 'two'), url: site.url.replace(/one\/$/, 'two/') };
  await cp(site.folder, copy.folder, { recursive: true });
  const context = await profile({ browser }, allowed);
  t.after(() => context.close());
  await publish(site, 'first copy');
  const page = await openPage(context, site.url);
  await controlled(page);
  const [one] = await kept(page);
  await publish(copy, 'second copy');
  const there = await openPage(context, copy.url);
  await controlled(there);
  for (const mark of ['changed', 'changed again', 'changed once more']) {
    await publish(copy, mark);
    await askForUpdate(there);
    await useItNow(there);
    await marked(there, mark);
    await isReady(there);
  }
  await there.close();
  assert.ok((await kept(page)).includes(one));
  site.isDown = true;
  await page.reload();
  await isReady(page);
});

test('back and forward through the browser’s own cache, with an update meanwhile, keeps work and offline use', {
  timeout: 240_000,
}, async (t) => {
  // The driver switches this cache off by itself, and a browser without a window has none.
  const caching = await launch({ executablePath: wholeChromium, ignoreDefaultArgs: ['--disable-back-forward-cache'] });
  t.after(() => caching.close());
  const site = await hosted(t);
  await publish(site, 'version one');
  const context = await profile({ browser: caching }, allowed);
  const page = await openPage(context, site.url);
  await controlled(page);
  await type(page, '165');
  const leave = async () => {
    await page.evaluate(() => {
      globalThis.isSame = true;
    });
    await page.goto(`${site.url}examples/blog.html`);
  };
  const isSame = () => page.evaluate(() => globalThis.isSame === true);

  await leave();
  await goBack(page);
  assert.ok(await isSame(), 'the page comes back as it was left');
  await type(page, '166');
  // The next version comes while the page is away, and is offered on it when it is back.
  await leave();
  await publish(site, 'version two');
  await waits(page, 2);
  await goBack(page);
  await page.waitForFunction((field) => document.querySelector(field)?.value === '166', frontLength, patient);
  await page.locator('[data-notice=update]').getByRole('button', { name: 'Use it now' }).waitFor(patient);
  await type(page, '167');
  // It is taken in another tab while the page is away.
  await leave();
  const other = await openPage(context, site.url);
  await useItNow(other);
  await marked(other, 'version two');
  await other.close();
  await goBack(page);
  await page.waitForFunction((field) => document.querySelector(field)?.value === '167', frontLength, patient);
  site.isDown = true;
  await unfold(page, 'outcome-panel');
  await type(page, '168');
  await page.reload();
  await marked(page, 'version two');
  await page.waitForFunction((field) => document.querySelector(field)?.value === '168', frontLength, patient);
  await page.goForward({ waitUntil: 'commit' });
  await page.locator('lieflat-neckline .cut').first().waitFor();
});

test('a version that is already being fetched when a page opens is offered on it too', { timeout: 180_000 }, async (t) => {
  const { site, context, page } = await visited(t);
  const held = site.hold('manifest.webmanifest');
  await publish(site, 'version two');
  await askForUpdate(page);
  await held.asked;
  const other = await openPage(context, site.url);
  held.release();
  for (const one of [page, other]) await one.locator('[data-notice=update]').getByRole('button', { name: 'Use it now' }).waitFor(patient);
});
