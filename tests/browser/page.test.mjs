// The page as a person meets it, at phone and desk size. Run after `bash web/build.sh`.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { gzipSync } from 'node:zlib';
import { dist, painted, settled, start, unfoldAll, until } from './harness.mjs';

const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
const desk = { viewport: { width: 1280, height: 800 } };
const firstVisitBudget = 230_000;
const axeFile = new URL('node_modules/axe-core/axe.min.js', import.meta.url);
const frontLength = '#front-half-length';

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

async function opened(options = desk, path = '') {
  const visit = await site.open(path, options);
  await visit.page.waitForSelector('html.is-ready');
  await settled(visit.page);
  return visit;
}

async function cutFigure(page) {
  await settled(page);
  return page.locator('#cut-figure').innerText();
}

/** Types and leaves the field, as a person does. */
async function enter(page, selector, text) {
  await page.fill(selector, text);
  await page.locator(selector).blur();
  await settled(page);
}

/** Picks one of a choice that is shown whole. */
async function pick(page, selector) {
  await page.check(selector, { force: true });
  await settled(page);
}

function clean(visit) {
  assert.deepEqual(visit.pageErrors.concat(visit.consoleErrors), [], 'nothing went wrong unseen');
  return visit.close();
}

for (const [name, options] of Object.entries({ phone, desk })) {
  test(`opens on a worked example without an error and asks nobody else (${name})`, async () => {
    const visit = await opened(options);
    await visit.page.waitForLoadState('networkidle');
    assert.deepEqual(visit.foreignRequests(), [], 'requests elsewhere');
    assert.deepEqual(visit.failures, [], 'failed requests');
    assert.match(await cutFigure(visit.page), /^\d+\smm × \d+\smm$/);
    assert.ok(await visit.page.locator('#example-note').isVisible(), 'the example is named as one');
    assert.ok(await visit.page.locator('#drawing svg').count(), 'and drawn');
    await clean(visit);
  });
}

test('loads its WebAssembly, served as what it is, within the first visit’s weight', async () => {
  const visit = await opened(phone);
  const address = visit.requests.find((request) => request.endsWith('.wasm'));
  assert.ok(address, `a .wasm among ${visit.requests.join(' ')}`);
  const response = await visit.context.request.get(address);
  assert.equal(response.headers()['content-type'], 'application/wasm');
  const { files } = JSON.parse(await readFile(`${dist.replace(/\/$/, '')}.files.json`, 'utf8'));
  const first = files.filter((file) => file.first).map(({ name }) => name);
  let weight = 0;
  for (const file of new Set(first)) weight += gzipSync(await readFile(dist + file), { level: 9 }).length;
  assert.ok(weight > 0 && weight <= firstVisitBudget, `${weight} bytes`);
  await visit.close();
});

test('what is asked no more after an undo is missing no more', async () => {
  const visit = await opened();
  const { page } = visit;
  await enter(page, frontLength, '170');
  await pick(page, '#garment-crosswise-how-percent');
  await page.waitForSelector('html.is-older');
  await page.click('#undo');
  await settled(page);
  await until('the figures are no older ones', () => page.evaluate(() => !document.documentElement.classList.contains('is-older')));
  assert.doesNotMatch(await page.innerText('#bar'), /older/);
  assert.deepEqual(await page.locator('[aria-invalid=true]').count(), 0);
  await clean(visit);
});

test('a longer edge makes a longer band, and undo takes it back', async () => {
  const visit = await opened();
  const { page } = visit;
  const first = await cutFigure(page);
  await enter(page, frontLength, '162');
  const longer = await cutFigure(page);
  assert.ok(parseInt(longer, 10) > parseInt(first, 10), `${longer} is longer than ${first}`);
  await page.click('#undo');
  await settled(page);
  assert.equal(await cutFigure(page), first);
  assert.equal(await page.inputValue(frontLength), '154');
  await page.keyboard.press('Control+Shift+Z');
  await settled(page);
  assert.equal(await cutFigure(page), longer);
  await clean(visit);
});

test('each finish is planned, with its own fields and its own order of sewing', async () => {
  const visit = await opened();
  const { page } = visit;
  const seen = new Set();
  for (const finish of ['band', 'bound', 'tape', 'facing']) {
    await pick(page, `#finish-${finish}`);
    assert.ok(await page.locator(`#${finish}-width`).isVisible(), `${finish} asks its width`);
    assert.equal(await page.locator('#older').isVisible(), false, `${finish} is planned`);
    seen.add(await page.locator('#card-order').innerText());
  }
  assert.equal(seen.size, 4);
  await clean(visit);
});

test('bad input is named by its field, and the last good plan stays, marked as older', async () => {
  const visit = await opened(phone);
  const { page } = visit;
  const good = await cutFigure(page);
  for (const text of ['abc', '-5', '', 'NaN', '1000000000', '1e9']) {
    await enter(page, frontLength, text);
    const message = await page.locator(`${frontLength}-error`).innerText();
    assert.match(message, /20\smm to 1500\smm/, `${JSON.stringify(text)} is told what is accepted: ${message}`);
    assert.equal(await page.getAttribute(frontLength, 'aria-invalid'), 'true');
    assert.equal(await page.inputValue(frontLength), text, 'what was typed is kept');
    assert.ok(await page.locator('#older').isVisible(), 'the result is marked as older');
    await page.click(`#problems a[href="${frontLength}"]`);
    assert.equal(await page.evaluate(() => document.activeElement.id), 'front-half-length', 'the summary leads there');
    assert.equal(await cutFigure(page), good, 'the last good plan stays');
  }
  await enter(page, frontLength, '154');
  assert.equal(await page.locator('#older').isVisible(), false);
  assert.equal(await page.locator('#problems').isVisible(), false);
  assert.equal(await page.getAttribute(frontLength, 'aria-invalid'), null);
  await clean(visit);
});

test('inches are read however they are written, and switching units changes nothing', async () => {
  const visit = await opened();
  const { page } = visit;
  const millimetres = await cutFigure(page);
  await pick(page, '#unit-in');
  assert.match(await cutFigure(page), /in × /);
  await pick(page, '#unit-mm');
  assert.equal(await cutFigure(page), millimetres);
  await pick(page, '#unit-in');
  const seen = new Set();
  for (const text of ['5 7/8', '5⅞', '5.875', '5,875', '149.225 mm']) {
    await enter(page, frontLength, text);
    assert.equal(await page.locator('#older').isVisible(), false, `${text} is read`);
    assert.equal(await page.inputValue(frontLength), text, `${text} stays as typed`);
    seen.add(await page.locator('#ticket').innerText());
  }
  assert.equal(seen.size, 1, [...seen].join(' | '));
  await page.reload();
  await page.waitForSelector('html.is-ready');
  assert.ok(await page.isChecked('#unit-in'), 'the unit is remembered');
  await clean(visit);
});

test('the cut figure is in the first view, from a tablet to a desk', async () => {
  // The longer words, and the longer figure.
  const visit = await opened({ viewport: { width: 768, height: 1024 }, locale: 'es-ES' });
  const { page } = visit;
  for (const finish of ['band', 'facing']) {
    await pick(page, `#finish-${finish}`);
    for (const [width, height] of [
      [768, 1024],
      [1000, 800],
      [1100, 800],
      [1280, 800],
      [1920, 1080],
    ]) {
      await page.setViewportSize({ width, height });
      await page.evaluate(() => scrollTo(0, 0));
      // The drawing takes its new place in the next frame.
      await painted(page);
      const [bottom, over, wide] = await page.evaluate(() => {
        const figure = document.getElementById('cut-figure');
        return [figure.getBoundingClientRect().bottom, figure.scrollWidth - figure.clientWidth, document.documentElement.scrollWidth];
      });
      assert.ok(bottom <= height, `${finish} at ${width} by ${height}: it ends ${bottom} px down`);
      assert.ok(over <= 0 && wide <= width, `${finish} at ${width}: ${over} px over its place, the page ${wide} px wide`);
    }
  }
  await clean(visit);
});

test('Escape during a drag brings the brief back and plans it in full, and leaves no step', async () => {
  const visit = await opened();
  const { page } = visit;
  const before = await page.locator('#ticket').innerText();
  const { x, y, width, height } = await page.getByRole('slider', { name: 'Front depth' }).boundingBox();
  const [cx, cy] = [x + width / 2, y + height / 2];
  const [figure, length] = [await cutFigure(page), await page.inputValue('#front-depth')];
  await page.mouse.move(cx, cy);
  await page.mouse.down();
  await page.mouse.move(cx, cy + 10, { steps: 4 });
  await page.waitForFunction((was) => document.getElementById('cut-figure').innerText !== was, figure);
  await page.keyboard.press('Escape');
  await page.mouse.move(cx, cy + 20, { steps: 2 });
  await page.mouse.up();
  await settled(page);
  assert.equal(await page.locator('#ticket').innerText(), before, 'figures and ranges as before');
  assert.equal(await page.inputValue('#front-depth'), length);
  assert.ok(await page.locator('#undo').isDisabled(), 'nothing was changed, so there is nothing to undo');

  // As far as the neckline's length cannot reach: what is held stays where it is, and the drag is one step as any other.
  const top = () => page.locator('.draw-stage').evaluate((stage) => stage.getBoundingClientRect().top);
  const still = await top();
  await page.mouse.move(cx, cy);
  await page.mouse.down();
  await page.mouse.move(cx, cy + 75, { steps: 5 });
  await page.waitForSelector('.draw-stale:visible');
  assert.equal(await top(), still, 'nothing moves the drawing under the finger');
  await page.mouse.up();
  await settled(page);
  assert.ok(await page.locator('#older').isVisible(), 'told once it is let go');
  assert.match(await page.locator('#ticket').innerText(), /Length: between/, 'the last good figures have their ranges');
  await page.click('#undo');
  await settled(page);
  assert.equal(await page.locator('#ticket').innerText(), before);
  await clean(visit);
});

test('a bound V’s stay is told from its trimmed edge, with the width that serves there', async () => {
  const visit = await opened();
  const { page } = visit;
  const card = () => page.locator('#card-stays').innerText();
  await pick(page, '#finish-bound');
  await pick(page, '#front-shape-v');
  await enter(page, '#bound-width', '8');
  await enter(page, '#head-own', '480');
  // 9.5 mm of tape do not lie within a stitching 8 mm deep: 7 do, 1 mm clear of it.
  assert.match(
    await card(),
    /one piece of \d+(\.\d)?\smm, 7\smm wide, laid once the edge is trimmed: its nearer side on the new edge, the stitching 1\smm outside it\. A wider one/,
  );
  assert.match(await card(), /fold it into a mitre at the point/);
  await pick(page, '#finish-facing');
  await enter(page, '#neckline-allowance', '6');
  assert.match(
    await card(),
    /9\.5\smm wide, its nearer side 0\smm from the raw edge\. It reaches 3\.5\smm past the seam line; the widest that fits there is 7\smm\./,
  );
  await clean(visit);
});

test('edges that a person names get their tape, and go and come back whole', async () => {
  const visit = await opened();
  const { page } = visit;
  const card = () => page.locator('#card-stays').innerText();
  const add = async (index, name, part, length) => {
    await page.locator('.edges > button').click();
    await enter(page, `#edge${index}-name`, name);
    await page.selectOption(`#edge${index}-part`, part);
    await enter(page, `#edge${index}-length`, length);
  };
  await add(0, 'Front gathers', 'gathered', '120');
  await enter(page, '#edge0-gathered-from', '180');
  await add(1, 'Centre seam', 'centre_front_seam', '300');
  assert.equal(await page.locator('#problems').isVisible(), false);
  // 180 drawn up to 120.
  assert.match(await card(), /Front gathers\none piece of 120\smm.*Gathered 1\.5 to 1\./);
  assert.match(await card(), /Centre seam\none piece of 300\smm/);
  assert.match(await card(), /420\smm/, 'both together');
  for (const text of ['-7', '2.5', 'abc', '']) {
    await enter(page, '#edge1-pieces', text);
    assert.match(
      await page.locator('#edge1-pieces-error').innerText(),
      /Accepted: 1 to 8\./,
      `${JSON.stringify(text)} is told what is accepted`,
    );
  }
  await enter(page, '#edge1-pieces', '2');
  assert.match(await card(), /Centre seam\n2 pieces, each 300\smm/);
  await page.locator('fieldset.edge button').first().click();
  await settled(page);
  assert.equal(await page.inputValue('#edge0-name'), 'Centre seam', 'the other moves up');
  assert.doesNotMatch(await card(), /Front gathers/);
  await page.click('#undo');
  await settled(page);
  assert.match(await card(), /Front gathers\none piece of 120\smm/);
  assert.equal(await page.inputValue('#edge1-name'), 'Centre seam');
  await clean(visit);
});

test('a way of telling changes over without changing the neckline', async () => {
  const visit = await opened();
  const { page } = visit;
  const first = parseInt(await cutFigure(page), 10);
  for (const way of ['drafted', 'drawn', 'measured']) {
    await pick(page, `#front-way-${way}`);
    assert.equal(await page.locator('#older').isVisible(), false, `${way} is planned`);
    assert.ok(Math.abs(parseInt(await cutFigure(page), 10) - first) <= 2, `${way} keeps the cut length`);
  }
  assert.match(await page.inputValue(frontLength), /^15[34]/);
  // With a point in front and at the back a strip runs from one to the other on each side: two of them.
  for (const [half, path] of [
    ['front', 'M 0 180 L 85 0'],
    ['back', 'M 0 60 L 85 0'],
  ]) {
    await pick(page, `#${half}-way-drawn`);
    await enter(page, `#${half}-path`, path);
  }
  assert.match(await page.locator('#ticket').innerText(), /Cut 2 of this size/);
  assert.match(await page.locator('#bar').textContent(), /^2 of \d+/);
  assert.match(await page.locator('#card-order').innerText(), /Cut 2 strips, each /);
  assert.match(await page.locator('#card-marks').innerText(), /At centre back: Mitred/);
  assert.match((await page.locator('.draw-overlay text').allTextContents()).join('|'), /2 strips, cut \d+/);
  await clean(visit);
});

test('a drawn path is read to its end or refused with the place, in both languages', async () => {
  const visit = await opened();
  const { page } = visit;
  const whole = 'M 0 115 C 30 115 60 105 75 80 C 84 64 88 30 88 0';
  await pick(page, '#front-way-drawn');
  await enter(page, '#front-path', whole);
  const figure = await cutFigure(page);
  for (const typeset of [
    whole.replace('80 C', '80\u00a0C'),
    whole.replaceAll(' ', '\u2009'),
    whole.replace('M 0', 'M −0'),
    whole.replace('M 0', 'M –0'),
  ]) {
    await enter(page, '#front-path', 'M 0 95 L 88 0');
    await enter(page, '#front-path', typeset);
    assert.equal(await page.locator('#front-path-error').isVisible(), false, typeset);
    assert.equal(await cutFigure(page), figure, `${JSON.stringify(typeset)} is the whole path`);
  }
  const refused = [
    [whole.replace('80 C', '80; C'), '30', ';'],
    [whole.replace('80 C', '80 (shoulder) C'), '31', '(shoulder)'],
    [`${whole} #`, '50', '#'],
    [whole.replace('80 C', '80 🧵 C'), '31', '🧵 U+1F9F5'],
    [whole.replace('80 C', '80 \u202e C'), '31', 'U+202E'],
    [whole.replace('80 C', '80 <b> C'), '31', '<b>'],
    [whole.slice(0, -2), '47', ''],
    [`${whole} L 1e999 0`, '52', '1e999'],
  ];
  for (const [language, words] of [
    ['en', /character (\d+)/],
    ['es', /carácter (\d+)/],
  ]) {
    await page.selectOption('#language', language);
    await page.waitForFunction((wanted) => document.documentElement.lang === wanted, language);
    for (const [text, place, found] of refused) {
      await enter(page, '#front-path', text);
      const message = await page.locator('#front-path-error').innerText();
      assert.equal(words.exec(message)?.[1], place, `${language}, ${JSON.stringify(text)}: ${message}`);
      assert.ok(message.includes(found) && !/\{|undefined/.test(message), `what stands there: ${message}`);
      assert.ok(await page.locator('#older').isVisible(), 'the plan is marked as older');
    }
  }
  await clean(visit);
});

test('measures as they are typeset are the measures, and what shows as nothing is nothing', async () => {
  const visit = await opened();
  const { page } = visit;
  await pick(page, '#unit-in');
  await enter(page, frontLength, '6 1/16');
  const figure = await cutFigure(page);
  for (const text of ['6\u20091⁄16', '6\u200b1⁄16', '6¹⁄₁₆', '６　１／１６', '٦ ١/١٦', '\u200e6 1/16\u200f', '6\u202f1/16″']) {
    await enter(page, frontLength, '5');
    await enter(page, frontLength, text);
    assert.equal(await page.locator(`${frontLength}-error`).isVisible(), false, text);
    assert.equal(await cutFigure(page), figure, JSON.stringify(text));
  }
  for (const text of ['6 1/16 or so', '6;', '--6', '6 1⁄16\u202e']) {
    await enter(page, frontLength, text);
    assert.ok(await page.locator(`${frontLength}-error`).isVisible(), JSON.stringify(text));
  }
  await enter(page, frontLength, '6 1/16');
  await enter(page, '#front-half-width', '\u200e');
  assert.equal(await page.locator('#front-half-width-error').isVisible(), false, 'a mark alone is an entry left empty');
  await clean(visit);
});

test('from a cold page a band takes at most eight entries', async () => {
  const visit = await opened(phone);
  const { page } = visit;
  let entries = 1;
  await page.click('#start-own');
  assert.equal(await page.locator('#ticket').isVisible(), false, 'no figure of the example is left to cut by');
  assert.equal(await page.locator('#problems').isVisible(), false, 'what is merely needed is no error');
  const readings = {
    'front-half-length': '160',
    'front-depth': '118',
    'back-half-length': '110',
    'back-half-width': '90',
    'garment-crosswise-stretched': '155',
    'garment-crosswise-released': '103',
    'head-own': '570',
  };
  for (const [id, text] of Object.entries(readings)) {
    await enter(page, `#${id}`, text);
    entries += 1;
  }
  assert.ok(entries <= 8, `${entries} entries`);
  assert.match(await cutFigure(page), /^\d+\smm × \d+\smm$/);
  assert.equal(await page.locator('#needed').isVisible(), false);
  await clean(visit);
});

test('a band that does not lie flat offers what would cure it, and a button does so', async () => {
  const visit = await opened();
  const { page } = visit;
  await enter(page, '#band-width', '40');
  assert.ok(await page.locator('#cures').isVisible(), 'cures are offered');
  await page.click('[data-cure=narrower]');
  await settled(page);
  assert.equal(await page.locator('#cures').isVisible(), false, 'the cure cures');
  await page.click('#undo');
  assert.equal(await page.inputValue('#band-width'), '40', 'and is undone in one step');
  await clean(visit);
});

test('a pinned plan is compared with the changed one', async () => {
  const visit = await opened();
  const { page } = visit;
  await page.click('#pin');
  await page.locator('#compare h2').waitFor();
  await enter(page, '#band-width', '17');
  const text = await page.locator('#compare').innerText();
  assert.match(text, /15\smm → 17\smm/);
  assert.match(text, /[+−-]\d/, 'with a signed difference');
  // Front and back meet at the neck points, in the one line and in the other.
  const ends = await page.locator('#compare polyline').evaluateAll((lines) =>
    lines.map((line) => {
      const { x, y } = line.points[line.points.length - 1];
      return [x, y];
    }),
  );
  assert.equal(ends.length, 8);
  for (const i of [0, 1, 4, 5])
    assert.ok(Math.hypot(ends[i][0] - ends[i + 2][0], ends[i][1] - ends[i + 2][1]) < 1.5, `${ends[i]} and ${ends[i + 2]}`);
  await clean(visit);
});

test('the class view leads through the working by keyboard and back', async () => {
  const visit = await opened();
  const { page } = visit;
  await page.focus('#open-class-view');
  await page.keyboard.press('Enter');
  const line = page.locator('.class-working .line');
  await line.locator('h3').waitFor();
  const first = await line.innerText();
  await page.focus('.class-working .next');
  await page.keyboard.press('Enter');
  assert.notEqual(await line.innerText(), first);
  await line.locator('.formula math').first().waitFor();
  await page.keyboard.press('Escape');
  assert.equal(await page.locator('#class-working').isVisible(), false);
  assert.equal(await page.evaluate(() => document.activeElement.id), 'open-class-view');
  await clean(visit);
});

test('the ruler is set true before its readings are used', async () => {
  const visit = await opened();
  const { page } = visit;
  await page.click('[data-ruler=garment]');
  const use = page.locator('dialog .primary');
  assert.ok(await use.isDisabled(), 'not before it is true');
  for (const name of ['At rest', 'Stretched', 'Let go'])
    assert.ok(await page.getByRole('slider', { name, exact: true }).isVisible(), `${name} is set with a slider`);
  assert.doesNotMatch(await page.locator('dialog').innerText(), /\[object|false|null/);
  await page.locator('dialog details button').click();
  await use.click();
  assert.equal(await page.inputValue('#garment-crosswise-rest'), '50');
  await clean(visit);
});

test('Spanish writes its own words and numbers, and is remembered', async () => {
  const visit = await opened({ ...desk, locale: 'es-ES' });
  const { page } = visit;
  assert.equal(await page.getAttribute('html', 'lang'), 'es');
  const ticket = await page.locator('#ticket').innerText();
  assert.match(ticket, /La cabeza pasa, sobran \d/);
  assert.match(ticket, /Tira respecto al escote: \d+,\d\s%/, 'a decimal comma');
  await page.selectOption('#language', 'en');
  await page.waitForFunction(() => document.documentElement.lang === 'en');
  await page.reload();
  await page.waitForSelector('html.is-ready');
  assert.equal(await page.getAttribute('html', 'lang'), 'en');
  await clean(visit);
});

test('never scrolls sideways, at any width or at double text', async () => {
  for (const [width, size] of [
    [320, '100%'],
    [320, '200%'],
    [390, '100%'],
    [640, '200%'],
    [1280, '100%'],
  ]) {
    const visit = await opened({ viewport: { width, height: 800 } });
    await visit.page.evaluate((text) => {
      document.documentElement.style.fontSize = text;
    }, size);
    await unfoldAll(visit.page);
    await painted(visit.page);
    const wide = await visit.page.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(wide <= width, `${wide} px wide in ${width} px at ${size}`);
    await visit.close();
  }
});

test('at double text a desk keeps its room for drawing and figure', async () => {
  for (const width of [1024, 1280, 1920]) {
    const visit = await opened({ viewport: { width, height: 800 }, isFolded: true });
    await visit.page.evaluate(() => {
      document.documentElement.style.fontSize = '200%';
    });
    await painted(visit.page);
    const widths = await visit.page.evaluate(() => ['stage', 'drawing', 'ticket'].map((id) => document.getElementById(id).clientWidth));
    const [stage, drawing, ticket] = widths.map((one) => one / width);
    assert.ok(stage > 0.4 && drawing > 0.2 && ticket > 0.14, `${widths} px of ${width}`);
    await visit.close();
  }
});

/** States that axe looks at: a name, how a person gets there, and the way back to the start. */
const states = [
  ['start'],
  ['error', (page) => enter(page, frontLength, 'abc'), (page) => enter(page, frontLength, '154')],
  ...['facing', 'bound', 'tape'].map((finish) => [finish, (page) => pick(page, `#finish-${finish}`), (page) => pick(page, '#finish-band')]),
  ...['drafted', 'drawn'].map((way) => [way, (page) => pick(page, `#front-way-${way}`), (page) => pick(page, '#front-way-measured')]),
  ['class view', (page) => page.click('#open-class-view')],
  [
    'class view, an idea, the other tone',
    async (page) => {
      await page.keyboard.press('ArrowRight');
      await page.locator('.class-working .formula').first().waitFor();
      await page.locator('.class-working [aria-pressed]').last().click();
    },
    (page) => page.keyboard.press('Escape'),
  ],
  [
    'compare',
    async (page) => {
      await page.click('#pin');
      await page.locator('#compare h2').waitFor();
    },
  ],
  [
    'ruler',
    async (page) => {
      await page.click('[data-ruler=garment]');
      await page.locator('dialog.ruler .primary').waitFor();
    },
    (page) => page.keyboard.press('Escape'),
  ],
  ['folds', unfoldAll],
  ['own', (page) => page.click('#start-own')],
];

const findings = (page, options) =>
  page.evaluate(
    async (given) =>
      (await globalThis.axe.run(document, given)).violations.flatMap(({ id, nodes }) =>
        nodes.map((node) => `${id}: ${node.target.join(' ')}`),
      ),
    options,
  );

for (const locale of ['en-GB', 'es-ES']) {
  test(`axe finds nothing in any state, light or dark (${locale})`, async () => {
    const visit = await opened({ ...desk, locale, reducedMotion: 'reduce' });
    const { page } = visit;
    await page.evaluate(await readFile(axeFile, 'utf8'));
    for (const [name, reach, leave] of states) {
      await reach?.(page);
      await settled(page);
      await painted(page);
      assert.deepEqual(await findings(page, {}), [], `${name}, light`);
      // Of all rules only the one for colours can find something else in other colours.
      await page.emulateMedia({ colorScheme: 'dark' });
      assert.deepEqual(await findings(page, { runOnly: ['color-contrast'] }), [], `${name}, dark`);
      await page.emulateMedia({ colorScheme: 'light' });
      await leave?.(page);
    }
    await visit.close();
  });
}
