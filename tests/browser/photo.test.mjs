// The photo's module in its Worker in Chromium: it unpacks real files and measures what is in them.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { drawn, QUARTER_MM, ROUND_MM, startSite } from './photo-site.mjs';

/** @type {Awaited<ReturnType<typeof startSite>>} */
let site;
/** @type {Awaited<ReturnType<typeof site.open>>} */
let visit;
const photo = drawn(1600, 1200, 18);

before(async () => {
  site = await startSite();
  site.files.set('piece.png', photo.png);
  visit = await site.open();
});

after(() => site?.close());

/** Asks the Worker. @param {object} message */
const ask = (message) => visit.page.evaluate((asked) => window.ask(asked), message);

/** Opens what is served by a name. @param {string} name */
const openFile = (name) => visit.page.evaluate(async (from) => window.ask({ do: 'open', file: await window.fetched(from) }), name);

/** @param {[number, number]} a @param {[number, number]} b */
const apart = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);

test('a file is unpacked in the Worker, and its edge comes out as it was drawn', async () => {
  const { opened } = await openFile('piece.png');
  assert.deepEqual([opened.width_px, opened.height_px], [1600, 1200]);
  for (const [index, corner] of opened.corners.entries()) {
    assert.ok(apart(corner, photo.corners[index]) < 2, `corner ${index} at ${corner}, drawn at ${photo.corners[index]}`);
  }
  const { set } = await ask({ do: 'rectangle', corners: opened.corners, width_mm: 210, height_mm: 297 });
  assert.ok(Math.abs(set.tilt_deg - 18) < 2, `${set.tilt_deg} degrees for 18`);
  const ends = [];
  for (const [x, y] of photo.ends) {
    const { snapped } = await ask({ do: 'snap', at: [x + 2, y - 2] });
    assert.ok(apart(snapped, [x, y]) < 1, `${snapped} for ${x}, ${y}`);
    ends.push(snapped);
  }
  const { edge } = await ask({ do: 'trace', ends, down: photo.down, via: [], edge: 'cut' });
  const off = Math.abs(edge.length_mm - QUARTER_MM);
  assert.ok(off < 0.5 && off < edge.uncertainty_mm, `${edge.length_mm} mm for ${QUARTER_MM}, by ${edge.uncertainty_mm}`);
  assert.ok(Math.abs(edge.width_mm - ROUND_MM) < 0.5, `${edge.width_mm} mm wide`);
  assert.ok(Math.abs(edge.depth_mm - ROUND_MM) < 0.5, `${edge.depth_mm} mm deep`);
  assert.match(edge.path_mm, /^M0,[\d.]+( C[\d. ,-]+)+$/);
  // A second half of the same photo may follow without opening it again, and gives the same.
  assert.deepEqual((await ask({ do: 'trace', ends, down: photo.down, via: [], edge: 'cut' })).edge, edge);
});

test('messages that come at once are answered one by one, in their order', async () => {
  const answers = await visit.page.evaluate(
    async ([corners, at]) => {
      const file = await window.fetched('piece.png');
      const asked = [{ do: 'open', file }, { do: 'rectangle', corners, width_mm: 210, height_mm: 297 }, { do: 'snap', at }, { do: 'no' }];
      return Promise.all(asked.map((message) => window.ask(message)));
    },
    [photo.corners, photo.ends[0]],
  );
  assert.deepEqual(
    answers.map((answer) => Object.keys(answer)[0]),
    ['opened', 'set', 'snapped', 'refused'],
  );
});

test('a photo that lies on its side by its EXIF is opened upright, and a large one reduced', async () => {
  const sizes = await visit.page.evaluate(async () => {
    const canvas = new OffscreenCanvas(3000, 1000);
    canvas.getContext('2d')?.fillRect(0, 0, 1500, 1000);
    const jpeg = new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg' })).arrayBuffer());
    // APP1 with orientation 6, a quarter turn (CIPA DC-008, 4.6.4): after the start of the image.
    const exif = [0xff, 0xe1, 0, 34, 0x45, 0x78, 0x69, 0x66, 0, 0, 0x4d, 0x4d, 0, 42, 0, 0, 0, 8, 0, 1, 1, 0x12, 0, 3, 0, 0, 0, 1, 0, 6];
    const turned = new Blob([jpeg.slice(0, 2), new Uint8Array([...exif, 0, 0, 0, 0, 0, 0]), jpeg.slice(2)]);
    const size = ({ opened }) => [opened.width_px, opened.height_px];
    return [size(await window.ask({ do: 'open', file: new Blob([jpeg]) })), size(await window.ask({ do: 'open', file: turned }))];
  });
  assert.deepEqual(sizes, [
    [2048, 682],
    [682, 2048],
  ]);
});

test('what is no photo is refused with its code, and the Worker goes on', async () => {
  const refused = await visit.page.evaluate(async () => {
    const head = new Uint8Array([
      0x89, 80, 78, 71, 13, 10, 26, 10, 0, 0, 0, 13, 73, 72, 68, 82, 0, 0, 0x9c, 0x40, 0, 0, 0x75, 0x30, 8, 0, 0, 0, 0,
    ]);
    const small = new OffscreenCanvas(300, 200);
    small.getContext('2d');
    const files = [
      new Blob([new Uint8Array(100_000_001)]),
      new Blob([head]),
      new Blob(['<svg xmlns="http://www.w3.org/2000/svg"/>']),
      new Blob([]),
      'no file',
      await small.convertToBlob(),
    ];
    const out = [];
    for (const file of files) out.push((await window.ask({ do: 'open', file })).refused);
    for (const message of [null, 7, {}, { do: 'trace' }, { do: 'snap', at: [1, 'x'] }]) out.push((await window.ask(message)).refused);
    out.push((await window.ask({ do: 'snap', at: [1, 1] })).refused);
    return out;
  });
  assert.deepEqual(refused, [
    { code: 'file_large', bytes: 100_000_001, most: 100_000_000 },
    { code: 'too_many_pixels', pixels: 1_200_000_000, most: 120_000_000 },
    { code: 'not_a_picture' },
    { code: 'not_a_picture' },
    { code: 'not_understood' },
    { code: 'photo_small', longest_px: 300, least_px: 800 },
    ...Array.from({ length: 5 }, () => ({ code: 'not_understood' })),
    { code: 'no_photo' },
  ]);
  assert.ok((await openFile('piece.png')).opened, 'a photo is opened after all that');
});

/** How much this site keeps in the browser. */
const kept = () =>
  visit.page.evaluate(async () => [Object.keys(localStorage), await indexedDB.databases(), await caches.keys(), sessionStorage.length]);

test('nothing of a photo leaves the Worker: nothing is asked for, nothing is kept', async () => {
  const [before, asked] = [await kept(), visit.requests.length];
  const { opened } = await openFile('piece.png');
  assert.ok((await ask({ do: 'rectangle', corners: opened.corners, width_mm: 210, height_mm: 297 })).set);
  assert.ok((await ask({ do: 'trace', ends: photo.ends, down: photo.down, via: [], edge: 'cut' })).edge);
  const since = visit.requests.slice(asked).map((address) => new URL(address).pathname);
  assert.deepEqual(since, ['/piece.png'], 'the photo itself, which the test fetched');
  assert.deepEqual(await kept(), before);
});
