// Pieces by a projector in the finished page: true to size by two taps or by keys, told where height and width differ, and
// asked again with another zoom. Run after `bash web/build.sh`.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { linked, painted, start, until } from './harness.mjs';
import { importModule } from '../page/modules.mjs';
import { briefOf, planOf, root } from '../page/planner.mjs';

const axeFile = new URL('node_modules/axe-core/axe.min.js', import.meta.url);
/** What a length may be off by on the screen: half a pixel in a hundred. */
const OFF = 0.005;

let site;
let encodeBrief;
let words;
let brief;
let strip;

before(async () => {
  ({ encodeBrief } = await importModule('web/page/share/codec.js'));
  words = JSON.parse(await readFile(`${root}www/words/en.json`, 'utf8')).sheets;
  brief = await briefOf('band-round');
  const plan = await planOf(brief);
  ({ strip } = plan.plan ?? plan);
  site = await start();
});

after(() => site?.close());

const act = (page, name) => page.getByRole('button', { name: words.projector[name], exact: true });

async function opened(options = {}) {
  const visit = await site.open(`#brief=${encodeBrief(brief)}`, { locale: 'en-GB', ...options });
  await linked(visit.page);
  return visit;
}

async function project({ page }) {
  // On a narrow screen the panel stands folded.
  await page.locator('#sheets-panel > details').evaluate((fold) => {
    fold.open = true;
  });
  await page.getByRole('button', { name: words.panel.make_project }).click();
  await page.getByRole('dialog', { name: words.projector.heading }).waitFor();
}

const tap = async (page, ...places) => {
  for (const [x, y] of places) await page.mouse.click(x, y);
};

const known = (page) => page.getByLabel(words.projector.length);
const choose = (page, name) => page.locator('.beam-controls select').selectOption(name);

/** Where a shape lies on the screen without its line's own width: CSS px. */
const placeOf = (locator) =>
  locator.evaluate((shape) => {
    const [{ x, y, width, height }, matrix] = [shape.getBBox(), shape.getScreenCTM()];
    const corners = [
      [x, y],
      [x + width, y + height],
    ].map(([a, b]) => new DOMPoint(a, b).matrixTransform(matrix));
    const [xs, ys] = [corners.map((corner) => corner.x), corners.map((corner) => corner.y)];
    return {
      x: Math.min(...xs),
      y: Math.min(...ys),
      width: Math.abs(xs[1] - xs[0]),
      height: Math.abs(ys[1] - ys[0]),
    };
  });
const strips = (page) => placeOf(page.locator('.beam-cut path').first());

/** How wide the strip's cut line is on the screen, in CSS px, read from the picture: the longest run of ink of its upper edge. */
async function drawnWidth(page, scale) {
  await act(page, 'hide').click();
  await painted(page);
  const edge = await strips(page);
  const picture = (await page.screenshot()).toString('base64');
  const run = await page.evaluate(
    async ([data, y]) => {
      const image = new Image();
      image.src = `data:image/png;base64,${data}`;
      await image.decode();
      const canvas = Object.assign(document.createElement('canvas'), { width: image.width, height: image.height });
      const context = canvas.getContext('2d', { willReadFrequently: true });
      context.drawImage(image, 0, 0);
      const { data: dots } = context.getImageData(0, Math.round(y), image.width, 1);
      const paper = dots[0] > 128;
      let [longest, now] = [0, 0];
      for (let i = 0; i < dots.length; i += 4) {
        now = dots[i] > 128 === paper ? 0 : now + 1;
        longest = Math.max(longest, now);
      }
      return longest;
    },
    [picture, edge.y * scale],
  );
  await act(page, 'controls').click();
  // Half of the line's three pixels stands beyond each end.
  return run / scale - 3;
}

for (const scale of [1, 2]) {
  test(`a piece is as long as it is once two taps have set a length true (${scale} dots to a pixel)`, async () => {
    const visit = await opened({ deviceScaleFactor: scale });
    const { page } = visit;
    assert.ok(!visit.requests.some((address) => /projector/.test(address)), 'not fetched before it is asked for');
    await project(visit);
    assert.ok(await act(page, 'show').isDisabled(), 'nothing is shown before it is set true');
    await known(page).fill('650');
    await tap(page, [200, 620], [720, 620]);
    await act(page, 'show').click();
    await choose(page, 'strip');
    const meant = (520 / 650) * strip.cut_length.cut_mm;
    for (const invert of [false, true]) {
      if (invert) await act(page, 'light').click();
      const width = await drawnWidth(page, scale);
      assert.ok(Math.abs(width - meant) <= OFF * meant, `${width} px for ${meant}, ${invert ? 'light on dark' : 'dark on light'}`);
    }
    const bar = await placeOf(page.locator('.beam-across'));
    assert.ok(Math.abs(bar.width - 80) <= OFF * 80, `100 mm are 80 px, not ${bar.width}`);
    assert.deepEqual(visit.foreignRequests(), []);
    assert.deepEqual(visit.consoleErrors, []);
    assert.deepEqual(visit.pageErrors, []);
    await visit.close();
  });
}

test('across and down are set apart, a projector out of square is said, and the piece made up for it', async () => {
  const visit = await opened();
  const { page } = visit;
  await project(visit);
  const status = page.locator('.beam-controls [role=status]');
  await known(page).fill('500');
  await tap(page, [200, 620], [600, 620]);
  assert.ok((await status.innerText()).includes(words.projector.one_way.replace('{way}', words.projector.down)), await status.innerText());
  await page.getByLabel(words.projector.down, { exact: true }).check();
  await known(page).fill('400');
  await tap(page, [300, 200], [300, 500]);
  // 0.8 px a mm across, 0.75 down: by hand.
  assert.match(await status.innerText(), /6\.7/);
  await act(page, 'show').click();
  await choose(page, 'strip');
  const box = await strips(page);
  const [width, height] = [strip.cut_length.cut_mm * 0.8, strip.cut_width.cut_mm * 0.75];
  assert.ok(Math.abs(box.width - width) <= OFF * width && Math.abs(box.height - height) <= OFF * 100, JSON.stringify(box));
  await act(page, 'turn').click();
  const turned = await strips(page);
  assert.ok(Math.abs(turned.height - strip.cut_length.cut_mm * 0.75) <= OFF * turned.height, `turned: ${JSON.stringify(turned)}`);
  assert.ok(Math.abs(turned.width - strip.cut_width.cut_mm * 0.8) <= OFF * 100, `turned: ${JSON.stringify(turned)}`);
  const matrix = () =>
    page.locator('.beam-piece').evaluate((piece) => piece.getCTM().a * piece.getCTM().d - piece.getCTM().b * piece.getCTM().c);
  assert.ok((await matrix()) > 0, 'not mirrored');
  await act(page, 'mirror').click();
  assert.ok((await matrix()) < 0, 'mirrored');
  assert.equal(await act(page, 'mirror').getAttribute('aria-pressed'), 'true');
  await visit.close();
});

test('by keys alone: the ends are moved, the piece is moved, and Escape gives the page back', async () => {
  const visit = await opened();
  const { page } = visit;
  const opener = page.getByRole('button', { name: words.panel.make_project });
  await opener.focus();
  await page.keyboard.press('Enter');
  await page.getByRole('dialog', { name: words.projector.heading }).waitFor();
  const focused = () =>
    page.evaluate(
      () => document.activeElement.getAttribute('data-end') ?? document.activeElement.dataset.act ?? document.activeElement.tagName,
    );
  await until('the first end is reached by Tab', async () => {
    await page.keyboard.press('Tab');
    return (await focused()) === '0';
  });
  // The ends stand a half of 1280 px apart: 40 px farther by Shift and arrow, 3 px nearer by arrow.
  for (let i = 0; i < 4; i += 1) await page.keyboard.press('Shift+ArrowLeft');
  for (let i = 0; i < 3; i += 1) await page.keyboard.press('ArrowRight');
  assert.equal(await focused(), '0', 'the end keeps the focus');
  await act(page, 'show').focus();
  await page.keyboard.press('Enter');
  const bar = await placeOf(page.locator('.beam-across'));
  const meant = (100 * (640 + 37)) / 500;
  assert.ok(Math.abs(bar.width - meant) <= OFF * meant, `${bar.width} for ${meant}`);
  const left = async () => (await strips(page)).x;
  const before = await left();
  await page.locator('.beam').focus();
  await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('ArrowLeft');
  assert.ok(Math.abs((await left()) - before - 90) < 0.5, 'ten steps and one back');
  await page.keyboard.press('Escape');
  await page.locator('.projector').waitFor({ state: 'detached' });
  assert.equal(await page.evaluate(() => document.activeElement.textContent), words.panel.make_project, 'back where it was asked for');
  assert.equal(await page.locator('[inert]').count(), 0, 'the page is awake again');
  await visit.close();
});

test('a drag moves the piece; what was set is kept on the device, and asked again with another zoom', async () => {
  const visit = await opened();
  const { page } = visit;
  await project(visit);
  await known(page).fill('500');
  await tap(page, [200, 620], [600, 620]);
  await act(page, 'close').click();
  await project(visit);
  await choose(page, 'strip');
  const left = async () => (await strips(page)).x;
  const before = await left();
  await page.mouse.move(400, 700);
  await page.mouse.down();
  await page.mouse.move(430, 650, { steps: 3 });
  await page.mouse.up();
  assert.ok(Math.abs((await left()) - before - 30) < 0.5, 'as far as the pointer');
  const kept = await page.evaluate(() => localStorage.getItem('lieflat.projector'));
  assert.ok(kept.includes('500'), kept);
  const session = await visit.context.newCDPSession(page);
  // A browser's zoom of 125 %: as many dots, fewer pixels.
  await session.send('Emulation.setDeviceMetricsOverride', { width: 1024, height: 640, deviceScaleFactor: 1.25, mobile: false });
  await page.getByText(words.projector.changed).waitFor();
  assert.ok(await act(page, 'show').isDisabled(), 'nothing is shown at a scale that no longer holds');
  await visit.close();
});

for (const [name, options] of [
  ['desk', {}],
  ['phone', { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true }],
]) {
  test(`axe finds nothing, and nothing sticks out (${name})`, async () => {
    const visit = await opened(options);
    const { page } = visit;
    await project(visit);
    await page.evaluate(await readFile(axeFile, 'utf8'));
    const violations = () =>
      page.evaluate(async () =>
        (await globalThis.axe.run('.projector')).violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html}`)),
      );
    assert.deepEqual(await violations(), [], 'setting it true');
    await known(page).fill('200');
    const height = page.viewportSize().height - 60;
    await tap(page, [40, height], [340, height]);
    await act(page, 'show').click();
    assert.deepEqual(await violations(), [], 'showing the piece');
    const boxes = await page.locator('.beam-piece text').evaluateAll((all) => all.map((text) => text.getBoundingClientRect().toJSON()));
    const over = (a, b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
    assert.ok(boxes.length > 0 && boxes.every((a, i) => boxes.slice(i + 1).every((b) => !over(a, b))), 'no words stand over others');
    assert.ok(
      boxes.every(({ width, height }) => Math.max(width, height) > 11),
      'and all are large enough to read',
    );
    await act(page, 'light').click();
    await act(page, 'hide').click();
    assert.deepEqual(await violations(), [], 'bare');
    await act(page, 'controls').click();
    const sticksOut = await page.evaluate(() => {
      const all = [...document.querySelectorAll('.beam-controls, .beam-controls *')];
      return all.filter((one) => one.getBoundingClientRect().right > innerWidth + 0.5 || one.getBoundingClientRect().left < -0.5).length;
    });
    assert.equal(sticksOut, 0, 'within the width');
    await visit.close();
  });
}
