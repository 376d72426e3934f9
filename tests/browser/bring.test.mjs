// The room where a pattern of one's own is brought: from a photo or a file to the cut figure, by finger, keys and mouse, in words that
// every state has; nothing leaves the device, and nothing is kept. Pictures and drawings are invented; their lengths are closed
// forms. Run after `bash web/build.sh`.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { after, before, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import {
  LENGTH,
  PLACES,
  RADII,
  RADIUS,
  atRest,
  byPhoto,
  drawing,
  drawnPath,
  onScreen,
  openRoom,
  photo,
  point,
  toldLength,
  workers,
} from './bring-site.mjs';
import { pdfOf } from './files-made.mjs';
import { PATIENCE, settled, start, until } from './harness.mjs';
import { assertAccessible as axe, openPage, profile, unfold } from './keep-site.mjs';

const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };
/** The most taps from the wish to the cut figure. */
const MOST_TAPS = 12;
/** How far a photo's length may be off, mm: what the task of the room asks for at most. */
const NEAR = 1;

let site;
let picture;
before(async () => {
  site = await start();
  picture = await photo(site.browser);
});
after(() => site?.close());

/** A page of someone who has just come. */
async function visit(options = {}) {
  const context = await profile(site, options);
  const page = await openPage(context, site.url);
  return { context, page };
}

test('by finger: a photo of my pattern comes to a cut figure in few taps, every state without findings', async () => {
  const { context, page } = await visit(phone);
  const before = await page.locator('#cut-figure').innerText();
  let taps = 0;
  const tap = async (selector) => {
    taps += 1;
    await page.locator(selector).tap();
  };
  const touch = async (name) => {
    taps += 1;
    const { x, y } = await onScreen(page, PLACES[name]);
    await page.touchscreen.tap(x, y);
    await page.locator(`[data-point=${name}]`).waitFor();
    await atRest(page);
  };
  await tap('#bring');
  await page.locator('#bring-file').waitFor({ state: 'attached' });
  await axe(page, 'dialog.bring');
  // The button, and the photo in the system's own list.
  taps += 2;
  await page.setInputFiles('#bring-file', picture);
  await page.locator('#bring-corners-right').waitFor();
  await axe(page, 'dialog.bring');
  await tap('#bring-corners-right');
  await page.locator('#bring-put').waitFor();
  await axe(page, 'dialog.bring');
  for (const name of Object.keys(PLACES)) await touch(name);
  await page.locator('#bring-take').waitFor();
  await axe(page, 'dialog.bring');
  assert.ok(Math.abs((await toldLength(page)) - LENGTH) < NEAR, `${await toldLength(page)} for ${LENGTH}`);
  await tap('#bring-take');
  await page.locator('#bring-done').waitFor();
  await axe(page, 'dialog.bring');
  await tap('#bring-done');
  await page.locator('dialog.bring').waitFor({ state: 'detached' });
  await settled(page);
  assert.notEqual(await page.locator('#cut-figure').innerText(), before, 'the cut figure is of the brought half');
  assert.match(await drawnPath(page), /^M\s*0/, 'from the centre line on');
  assert.ok(taps <= MOST_TAPS, `${taps} taps`);
  assert.deepEqual(page.problems, []);
  await page.locator('#undo').click();
  await settled(page);
  assert.equal(await page.locator('#cut-figure').innerText(), before, 'one step takes it back');
  await context.close();
});

test('by keys alone: points are put and moved under a loupe, and say where they are', async () => {
  const { context, page } = await visit();
  await page.locator('#bring').focus();
  await page.keyboard.press('Enter');
  await page.locator('#bring-file').waitFor({ state: 'attached' });
  await page.locator('#bring-half-back').focus();
  await page.keyboard.press('Space');
  await page.locator('#bring-half-back:focus').waitFor();
  await page.setInputFiles('#bring-file', picture);
  const right = page.locator('#bring-corners-right');
  await right.waitFor();
  // A corner by one px, and by ten.
  const corner = page.locator('[data-point=corner0]');
  await corner.focus();
  await page.locator('.bring-loupe:not([hidden])').waitFor();
  const at = async (name) => (await page.locator(`[data-point=${name}]`).getAttribute('aria-valuetext')).match(/[\d.]+/g).map(Number);
  const [x, y] = await at('corner0');
  await page.keyboard.press('ArrowRight');
  assert.deepEqual(await at('corner0'), [x + 1, y]);
  await page.keyboard.press('PageDown');
  assert.deepEqual(await at('corner0'), [x + 1, y + 10]);
  await page.keyboard.press('PageUp');
  await page.keyboard.press('ArrowLeft');
  await right.focus();
  await page.keyboard.press('Enter');
  // Each point is put in the middle of what is seen, and walked to its place.
  for (const [name, place] of Object.entries(PLACES)) {
    await page.locator('#bring-put').focus();
    await page.keyboard.press('Enter');
    await page.locator(`[data-point=${name}]:focus`).waitFor();
    for (const [i, keys] of [
      [0, ['ArrowLeft', 'ArrowRight']],
      [1, ['ArrowUp', 'ArrowDown']],
    ]) {
      const off = Math.round(place[i] - (await at(name))[i]);
      const key = keys[off > 0 ? 1 : 0];
      for (let n = 0; n < Math.floor(Math.abs(off) / 10); n += 1) await page.keyboard.press(`Shift+${key}`);
      for (let n = 0; n < Math.abs(off) % 10; n += 1) await page.keyboard.press(key);
    }
    await atRest(page);
  }
  await until('the edge is found', async () => Math.abs((await toldLength(page).catch(() => 0)) - LENGTH) < NEAR);
  await page.locator('#bring-reading').focus();
  await page.keyboard.type('141');
  await page.keyboard.press('Tab');
  await page.locator('.bring-trust .good').waitFor();
  await page.locator('#bring-take').focus();
  await page.keyboard.press('Enter');
  await page.locator('#bring-done:focus').waitFor();
  await page.keyboard.press('Enter');
  await page.locator('dialog.bring').waitFor({ state: 'detached' });
  assert.match(await drawnPath(page, 'back'), /^M/);
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a reading that is more than one in a hundred off says what to look for', async () => {
  const { context, page } = await visit();
  await openRoom(page);
  await byPhoto(page, picture);
  await page.fill('#bring-reading', '145');
  await page.keyboard.press('Tab');
  await page.locator('.bring-trust .warning').waitFor();
  assert.match(await page.locator('.bring-trust').innerText(), /corners sit on the sheet/);
  await axe(page, 'dialog.bring');
  await page.fill('#bring-reading', '141.5');
  await page.keyboard.press('Tab');
  await page.locator('.bring-trust .good').waitFor();
  await context.close();
});

test('the line is pulled to a place, and let go of it again', async () => {
  const { context, page } = await visit();
  await openRoom(page);
  await byPhoto(page, picture);
  const line = () => page.locator('.bring-over').getAttribute('d');
  const free = await line();
  await page.locator('#bring-pull').click();
  const [a, b] = [PLACES.neck, PLACES.centre];
  // On the quarter circle, at its half.
  const half = [b[0] + (a[0] - b[0]) * Math.SQRT1_2, a[1] + (b[1] - a[1]) * Math.SQRT1_2];
  await point(page, 'via0', half);
  assert.ok(Math.abs((await toldLength(page)) - LENGTH) < NEAR);
  await page.locator('[data-point=via0]').focus();
  await page.keyboard.press('Delete');
  await page.locator('[data-point=via0]').waitFor({ state: 'detached' });
  await until('the line is as before', async () => (await line()) === free);
  await context.close();
});

test('in Spanish each state has its words', async () => {
  const { context, page } = await visit({ locale: 'es-ES' });
  await openRoom(page);
  await byPhoto(page, picture);
  assert.match(await page.locator('dialog.bring').innerText(), /Borde|borde encontrado/);
  await page.locator('#bring-take').click();
  await page.locator('#bring-done').waitFor();
  await axe(page, 'dialog.bring');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('what is brought goes nowhere and is kept nowhere', async () => {
  const { context, page } = await visit({ serviceWorkers: 'allow' });
  const requests = [];
  context.on('request', (request) => requests.push(request));
  const stores = () =>
    page.evaluate(async () => {
      const databases = await indexedDB.databases();
      const said = [];
      for (const { name } of databases) {
        const database = await new Promise((resolve) => {
          indexedDB.open(name).onsuccess = ({ target }) => resolve(target.result);
        });
        for (const store of database.objectStoreNames) {
          const all = await new Promise((resolve) => {
            database.transaction(store).objectStore(store).getAll().onsuccess = ({ target }) => resolve(target.result);
          });
          for (const one of all) {
            const blobs = Object.values(one ?? {}).filter((value) => value instanceof Blob || value instanceof ArrayBuffer);
            if (blobs.length) said.push(`${name}.${store}`);
            if (JSON.stringify(one)?.includes('invented.png')) said.push(`${name}.${store} names it`);
          }
        }
        database.close();
      }
      for (const name of await caches.keys()) {
        const cache = await caches.open(name);
        for (const { url } of await cache.keys()) if (/shared|blob:|invented/.test(url)) said.push(url);
      }
      for (const area of [localStorage, sessionStorage])
        if (/invented\.png|data:image/.test(JSON.stringify({ ...area }))) said.push('a storage names it');
      return said;
    });
  await openRoom(page);
  await byPhoto(page, picture);
  assert.deepEqual(await stores(), []);
  await page.locator('#bring-take').click();
  await page.locator('#bring-done').click();
  await settled(page);
  assert.deepEqual(await stores(), []);
  const origin = new URL(site.url).origin;
  for (const request of requests) {
    const { protocol, origin: asked } = new URL(request.url());
    if (['blob:', 'data:'].includes(protocol)) continue;
    assert.deepEqual([asked, request.method(), request.postData()], [origin, 'GET', null], request.url());
  }
  await context.close();
});

test('closed at any moment, the room ends its Worker and leaves the page as it was', async () => {
  const { context, page } = await visit();
  const before = await page.locator('#cut-figure').innerText();
  for (const wait of [() => workers(page, 1), () => page.locator('#bring-corners-right').waitFor()]) {
    await openRoom(page);
    await page.setInputFiles('#bring-file', picture);
    await wait();
    await page.keyboard.press('Escape');
    await page.locator('dialog.bring').waitFor({ state: 'detached' });
    await workers(page, 0);
  }
  assert.equal(await page.locator('#cut-figure').innerText(), before);
  await openRoom(page);
  await byPhoto(page, picture);
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('what is no pattern is refused in words, and another may be chosen at once', async () => {
  const { context, page } = await visit();
  await openRoom(page);
  for (const [file, said] of [
    [{ name: 'invented.txt', mimeType: 'text/plain', buffer: Buffer.from('no pattern') }, /no photo, PDF, SVG or DXF/],
    [{ name: 'invented.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('no picture') }, /cannot show this photo/],
    [
      {
        name: 'invented.svg',
        mimeType: 'image/svg+xml',
        buffer: Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9mm" viewBox="0 0 9 9">\n<path d="M0 0 L9 x"/></svg>'),
      },
      /its line 2 makes no sense/,
    ],
  ]) {
    await page.setInputFiles('#bring-file', file);
    await page.locator('dialog.bring .error', { hasText: said }).waitFor();
    await page.locator('#bring-file').waitFor({ state: 'attached' });
    await axe(page, 'dialog.bring');
  }
  await byPhoto(page, picture);
  await context.close();
});

test('a paler piece than can be trusted is refused in words', async () => {
  // Paper 20 grey levels off its ground.
  const faint = await photo(site.browser, { ground: '#808080', paper: '#949494' });
  const { context, page } = await visit();
  await openRoom(page);
  await page.setInputFiles('#bring-file', faint);
  await page.locator('#bring-corners-right').click();
  await page.locator('#bring-put').waitFor();
  for (const [name, place] of Object.entries(PLACES)) await point(page, name, place);
  await page.locator('dialog.bring .error', { hasText: /grey levels|another colour|contrast/ }).waitFor();
  assert.equal(await page.locator('#bring-take').count(), 0, 'no figure');
  await context.close();
});

test('a module that does not answer is given up, with words', async () => {
  const context = await profile(site);
  await context.route(/files-worker/, (route) => route.fulfill({ contentType: 'text/javascript', body: 'postMessage({ ready: true });' }));
  const page = await openPage(context, site.url);
  await openRoom(page);
  await page.setInputFiles('#bring-file', { name: 'invented.svg', mimeType: 'image/svg+xml', buffer: Buffer.from('<svg/>') });
  await page.locator('dialog.bring .error', { hasText: /too long/ }).waitFor();
  await workers(page, 0);
  await page.locator('#bring-file').waitFor({ state: 'attached' });
  await context.close();
});

test('a file let go on the page or pasted opens the room', async () => {
  const { context, page } = await visit();
  const base64 = picture.buffer.toString('base64');
  for (const name of ['drop', 'paste']) {
    await page.evaluate(
      ([kind, text]) => {
        const data = new DataTransfer();
        data.items.add(new File([Uint8Array.from(atob(text), (one) => one.charCodeAt(0))], 'invented.png', { type: 'image/png' }));
        const how = { bubbles: true, cancelable: true };
        const event =
          kind === 'drop'
            ? new DragEvent('drop', { ...how, dataTransfer: data })
            : new ClipboardEvent('paste', { ...how, clipboardData: data });
        document.body.dispatchEvent(event);
      },
      [name, base64],
    );
    await page.locator('#bring-corners-right').waitFor();
    await page.locator('#bring-close').click();
    await page.locator('dialog.bring').waitFor({ state: 'detached' });
  }
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('from a drawing in nested sizes: one pointing serves every size, and fills the table of all sizes', async () => {
  const { context, page } = await visit();
  await openRoom(page);
  await page.setInputFiles('#bring-file', drawing());
  await page.locator('select#bring-lines').waitFor();
  await axe(page, 'dialog.bring');
  // A tap on the middle size's neckline, at its half: its circle's middle lies at 20, 20.
  const half = 20 + RADIUS * Math.SQRT1_2;
  const { x, y } = await onScreen(page, [half, half]);
  await page.mouse.click(x, y);
  await page.locator('#bring-take').waitFor();
  await axe(page, 'dialog.bring');
  // Half a pi of each radius, to the tenth of a mm that is shown.
  const sizes = await page.locator('select#bring-sizes option').allInnerTexts();
  const said = sizes.map((text) => text.replaceAll('\u00a0', ' '));
  assert.deepEqual(
    said,
    Object.entries(RADII).map(([name, r]) => `${name}: ${((r * Math.PI) / 2).toFixed(1)} mm`),
  );
  assert.ok(Math.abs((await toldLength(page)) - LENGTH) <= 0.1);
  await page.fill('#bring-reading', '70');
  await page.keyboard.press('Tab');
  await page.locator('.bring-trust', { hasText: 'half had been taken for the whole' }).waitFor();
  await page.selectOption('select#bring-sizes', { label: sizes[2] });
  await until('the larger size is told', async () => Math.abs((await toldLength(page)) - (96 * Math.PI) / 2) <= 0.1);
  await page.locator('#bring-take').click();
  await page.locator('#bring-all-sizes').click();
  await page.locator('.bring-said', { hasText: '3 sizes' }).waitFor();
  await page.locator('#bring-done').click();
  await unfold(page, 'sizes-panel');
  const rows = page.locator('#sizes-panel tbody th');
  await until('each size has its row', async () => (await rows.count()) === 3);
  assert.deepEqual(await rows.allInnerTexts(), Object.keys(RADII));
  const cut = await page.locator('#sizes-panel tbody td:nth-of-type(1)').allInnerTexts();
  assert.equal(new Set(cut).size, 3, 'each is cut to its own length');
  // Another size without pointing again.
  await openRoom(page);
  await page.selectOption('select#bring-kept', { index: 1 });
  await page.locator('#bring-take').waitFor();
  assert.ok(Math.abs((await toldLength(page)) - (84 * Math.PI) / 2) <= 0.1);
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('the edge that is tapped is the one that is taken', async () => {
  const { context, page } = await visit();
  await openRoom(page);
  const armhole = 'M260 280C200 270 190 140 205 60';
  const piece = `M100 20A80 80 0 0 1 20 100V620H260V280${armhole.slice('M260 280'.length)}Z`;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="640mm" viewBox="0 0 300 640"><path d="${piece}"/></svg>`;
  await page.setInputFiles('#bring-file', { name: 'half.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(svg) });
  await page.locator('select#bring-lines').waitFor();
  // Its length and a place on it, as the browser itself has them.
  const { length, place } = await page.evaluate((d) => {
    const path = document.createElementNS('http://www.w3.org/2000/svg', 'path');
    path.setAttribute('d', d);
    const { x, y } = path.getPointAtLength(path.getTotalLength() / 2);
    return { length: path.getTotalLength(), place: [x, y] };
  }, armhole);
  const { x, y } = await onScreen(page, place);
  await page.mouse.click(x, y);
  await page.locator('#bring-take').waitFor();
  assert.ok(Math.abs((await toldLength(page)) - length) <= 0.1, 'the armhole');
  // Named in the list it was pointed at nowhere: the likeliest edge.
  await page.selectOption('select#bring-lines', { index: 0 });
  await page.selectOption('select#bring-lines', { index: 1 });
  await until('the neckline is told', async () => Math.abs((await toldLength(page)) - 40 * Math.PI) <= 0.1);
  assert.deepEqual(page.problems, []);
  await context.close();
});

/** Kept files of tools from outside the project, and what is done with each before its line is pointed at. */
const THROUGH = [
  { file: 'five-sizes.dxf', which: 2, what: 'a DXF whose pieces are blocks' },
  { file: 'layers.pdf', which: 2, what: 'a PDF with layers' },
  {
    file: 'layers.pdf',
    which: 1,
    what: 'a layer that is off in its file',
    first: async (/** @type {import('playwright-core').Page} */ page) => {
      await page.locator('.bring-ticks', { hasText: 'Size 12' }).locator('summary').click();
      await page.getByLabel('Size 12').check();
      await page.getByLabel('Size 14').uncheck();
    },
  },
  { file: 'encrypted-open.pdf', which: 0, what: 'a PDF that is encrypted without a word' },
  { file: 'tiles-own.pdf', which: 0, what: 'tiles with places of their own' },
  { file: 'tiles-copies.pdf', which: 0, what: 'tiles that are copies' },
  {
    file: 'tiles-hand.pdf',
    which: 0,
    what: 'tiles that are laid by hand',
    first: async (/** @type {import('playwright-core').Page} */ page) => {
      await page.fill('#bring-columns', '2');
      for (const over of ['#bring-over0', '#bring-over1']) await page.fill(over, '20');
      await axe(page, 'dialog.bring');
      await page.locator('#bring-join').click();
      await atRest(page);
      await page.locator('#bring-line-again').click();
    },
  },
];

for (const { file, which, what, first } of THROUGH) {
  test(`through the room: ${what} (${file}) comes to an edge as long as other tools find it`, async () => {
    const { edges } = JSON.parse(await readFile(new URL('../brought/values.json', import.meta.url), 'utf8'));
    const wanted = edges.filter((/** @type {{ file: string }} */ one) => one.file === file)[which];
    const { context, page } = await visit();
    await openRoom(page);
    await page.setInputFiles('#bring-file', fileURLToPath(new URL(`../brought/files/${file}`, import.meta.url)));
    await page.locator('#bring-lines, #bring-columns').first().waitFor();
    await first?.(page);
    const { x, y } = await onScreen(page, wanted.ends[0]);
    await page.mouse.click(x, y);
    await page.locator('#bring-take').waitFor();
    // Where several edges are offered, the one of the length that is known is among them.
    const near = () =>
      toldLength(page).then(
        (length) => Math.abs(length - wanted.length_mm) <= 0.1,
        () => false,
      );
    const others = await page.locator('select#bring-edges option').evaluateAll((all) => all.map((one) => one.value));
    for (const other of others) {
      if (await near()) break;
      await page.selectOption('select#bring-edges', other);
      await atRest(page);
    }
    await until(`${wanted.length_mm} mm`, near);
    await axe(page, 'dialog.bring');
    await page.locator('#bring-take').click();
    await page.locator('#bring-done').click();
    await settled(page);
    assert.match(await drawnPath(page), /^M\s*0/, 'it is the front');
    assert.deepEqual(page.problems, []);
    await context.close();
  });
}

// A reader looks for the header in the first 1,024 bytes (ISO 32000-1, annex H.3): the page, which fetches the module for it, as far as
// the module itself.
for (const [before, isRead] of [
  [1019, true],
  [1020, false],
]) {
  test(`a PDF that begins ${before} bytes late is ${isRead ? 'read' : 'no PDF'}`, async () => {
    const { context, page } = await visit();
    await openRoom(page);
    const buffer = Buffer.concat([Buffer.alloc(before, '\n'), pdfOf(Buffer.from('100 100 m 500 100 l S'))]);
    await page.setInputFiles('#bring-file', { name: 'invented.pdf', mimeType: 'application/pdf', buffer });
    await (isRead ? page.locator('#bring-lines') : page.locator('dialog.bring .error', { hasText: /no SVG, PDF or DXF/ })).waitFor();
    assert.deepEqual(page.problems, []);
    await context.close();
  });
}

test('a drawing without a unit is asked for a known length, by keys', async () => {
  const { context, page } = await visit();
  await openRoom(page);
  await page.setInputFiles('#bring-file', drawing({ unit: '', radii: { One: RADIUS } }));
  await page.locator('#bring-known').waitFor();
  await axe(page, 'dialog.bring');
  // From the corner at the fold's foot to the neckline's centre: 370 units, said to be 740 mm.
  await page.locator('#bring-between').focus();
  await page.keyboard.press('Enter');
  for (const place of [
    [20, 20 + RADIUS],
    [20, 300 + 2 * RADIUS],
  ]) {
    const { x, y } = await onScreen(page, place);
    await page.mouse.click(x, y);
    await atRest(page);
  }
  await page.fill('#bring-known', '740');
  await page.keyboard.press('Tab');
  await page.locator('#bring-scale').focus();
  await page.keyboard.press('Enter');
  await page.locator('#bring-known').waitFor({ state: 'detached' });
  await page.selectOption('select#bring-lines', { index: 1 });
  await page.locator('#bring-take').waitFor();
  // Twice as large as drawn.
  assert.ok(Math.abs((await toldLength(page)) / (2 * LENGTH) - 1) < 0.005, `${await toldLength(page)}`);
  await context.close();
});

/** A page of another site with a form that posts a file here, as a system's share sheet does. */
async function sharer(t) {
  const server = createServer((_, response) => {
    response.setHeader('Content-Type', 'text/html');
    response.end(
      `<form method="post" enctype="multipart/form-data" action="${new URL('shared', site.url)}"><input type="file" name="file"><button>Share</button></form>`,
    );
  }).listen(0, '127.0.0.1');
  await new Promise((resolve) => server.once('listening', resolve));
  t.after(() => server.close());
  return `http://127.0.0.1:${server.address().port}/`;
}

for (const [how, isOffline] of [
  ['shared to the page', false],
  ['shared to it without a network', true],
]) {
  test(`a photo that is ${how} opens the room with it, and is kept nowhere`, async (t) => {
    const from = await sharer(t);
    const context = await profile(site, { serviceWorkers: 'allow' });
    const page = await openPage(context, site.url);
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null, undefined, { timeout: PATIENCE });
    const kept = await page.evaluate(() => caches.keys());
    const system = await context.newPage();
    await system.goto(from);
    await system.setInputFiles('input', picture);
    if (isOffline) await context.setOffline(true);
    await system.locator('button').click();
    await system.locator('#bring-corners-right').waitFor();
    assert.equal(new URL(system.url()).search, '', 'the address says nothing of it any more');
    assert.deepEqual(await system.evaluate(() => caches.keys()), kept, 'no cache for it');
    assert.equal(await system.evaluate(() => caches.match('shared').then(Boolean)), false);
    // Taken once, it is gone.
    await system.goto(`${site.url}?shared`);
    await system.locator('#bring-file').waitFor({ state: 'attached' });
    await context.close();
  });
}

test('the manifest names the kinds of file that the room takes', async () => {
  const { share_target: target } = await (await fetch(new URL('manifest.webmanifest', site.url))).json();
  assert.equal(target.method, 'POST');
  assert.equal(target.enctype, 'multipart/form-data');
  assert.equal(new URL(target.action, site.url).href, new URL('shared', site.url).href);
  assert.ok(['image/*', 'application/pdf', 'image/svg+xml', '.dxf'].every((kind) => target.params.files[0].accept.includes(kind)));
});
