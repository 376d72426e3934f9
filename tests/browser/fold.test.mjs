// What is asked, folded: four steps of a line each that fit a phone and a desk, every field at most two taps away, by keyboard as
// well; from a cold page to a figure of one's own in eight entries, each leading to the next, with the figure in sight all along.
// The heights are the project's own aims for a phone of 390 px and two screens of 1280 by 800 px.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { painted, settled, start, until } from './harness.mjs';
import { assertAccessible, type } from './keep-site.mjs';
import { importModule } from '../page/modules.mjs';

const { FIELDS, idOf, isAsked } = await importModule('web/page/form/fields.js');
const { valuesOf } = await importModule('web/page/form/values.js');
const { metric: example } = await importModule('web/page/generated/example.js');

const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, locale: 'en-GB', isFolded: true };
const desk = { viewport: { width: 1280, height: 800 }, locale: 'en-GB', isFolded: true };
const STEPS = ['pieces', 'knit', 'finish', 'head', 'rest'];

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

async function opened(options) {
  const visit = await site.open('', options);
  await visit.page.waitForSelector('html.is-ready');
  await settled(visit.page);
  await visit.page.waitForSelector('#outcome-panel > details', { state: 'attached' });
  return visit;
}

async function clean(visit) {
  assert.deepEqual([visit.pageErrors, visit.consoleErrors], [[], []]);
  await visit.close();
}

const tap = (page, selector) => page.locator(`${selector} > summary`).click();
const told = (page, step) => page.locator(`#step-${step} .told`).evaluate((line) => line.textContent.trim());
const heightOf = (page, selector) => page.$eval(selector, (node) => node.getBoundingClientRect().height);

/** Begins with one's own and opens the steps, as a person does who looks at all that is asked. */
async function ownOpened(page) {
  await page.click('#start-own');
  await page.locator('#front-half-length').waitFor();
  for (const step of ['knit', 'finish', 'head']) await tap(page, `#step-${step}`);
  await page.locator('#head-own').waitFor();
  await painted(page);
}

test('on a phone the page opens in 3,600 px, and all that a new brief asks stands in 2,600', async () => {
  const visit = await opened(phone);
  const { page } = visit;
  const all = await page.evaluate(() => document.documentElement.scrollHeight);
  assert.ok(all <= 3600, `the page is ${all} px high`);
  for (const seen of ['#cut-figure', '#ticket .verdict', '#card-marks tbody tr'])
    assert.ok(await page.locator(seen).first().isVisible(), seen);
  await ownOpened(page);
  const form = await heightOf(page, '#brief');
  assert.ok(form > 1500 && form <= 2600, `the form is ${form} px high`);
  await clean(visit);
});

test('at a desk all that a new brief asks stands in two screens', async () => {
  const visit = await opened(desk);
  const { page } = visit;
  await ownOpened(page);
  const form = await heightOf(page, '#brief');
  assert.ok(form > 900 && form <= 1600, `the form is ${form} px high`);
  const [front, back] = await page.$$eval('.step-body > .halves > .half', (halves) => halves.map((one) => one.getBoundingClientRect().top));
  assert.equal(front, back, 'front and back stand beside each other');
  await clean(visit);
});

test('every field is at most two taps away, and its step is the one it stands in', async () => {
  const visit = await opened(desk);
  const { page } = visit;
  await tap(page, '#step-pieces');
  await page.locator('#front-half-length').waitFor();
  const folds = await page.evaluate(
    (ids) =>
      ids.map((id) => {
        const field = document.getElementById(id);
        const around = [];
        for (let fold = field?.closest('details'); fold; fold = fold.parentElement.closest('details')) around.push(fold.id);
        return [id, around];
      }),
    FIELDS.map(({ key }) => idOf(key)),
  );
  for (const [id, around] of folds) {
    assert.ok(around.length === 1 || around.length === 2, `${id} is behind ${around}`);
    assert.ok(
      STEPS.some((step) => around.at(-1) === `step-${step}`),
      `${id} is behind ${around}`,
    );
  }
  // As a finger meets them: those that the example asks, each in a page as it opens.
  const values = valuesOf(example);
  const asked = FIELDS.filter((field) => isAsked(field, values)).map(({ key }) => idOf(key));
  assert.ok(asked.length > 60, `${asked.length} fields are asked`);
  const way = new Map(folds);
  for (const id of asked) {
    await page.locator('#brief details').evaluateAll((all) => {
      for (const one of all) one.open = false;
    });
    for (const fold of way.get(id).toReversed()) await tap(page, `#${fold}`);
    assert.ok(await page.locator(`#${id}`).isVisible(), id);
  }
  await clean(visit);
});

test('a step opens, and what is rare in it, by keyboard alone, and says so', async () => {
  const visit = await opened(desk);
  const { page } = visit;
  await page.focus('#step-finish > summary');
  await page.keyboard.press('Enter');
  await page.locator('#band-width').waitFor();
  const reached = [];
  while (reached.length < 30 && !reached.includes('more-finish')) {
    await page.keyboard.press('Tab');
    reached.push(await page.evaluate(() => document.activeElement.id || document.activeElement.parentElement.id));
  }
  for (const id of ['finish-band', 'band-width', 'band-layers', 'strip-other', 'more-finish'])
    assert.ok(reached.includes(id), `${id}: ${reached}`);
  await page.keyboard.press('Space');
  await page.locator('#band-ratio').waitFor();
  // As a screen reader has them: a heading each, in a control that says whether it is open.
  for (const name of ['The pattern pieces', 'The knit', 'The finish', 'The head that must pass'])
    assert.equal(await page.getByRole('heading', { level: 2, name }).count(), 1, name);
  assert.match(await page.locator('#more-finish > summary').textContent(), /^More \(The finish\)$/);
  await clean(visit);
});

test('ends at a point are asked with a point alone, and a side that may stay empty stands behind the fold', async () => {
  const visit = await opened(desk);
  const { page } = visit;
  for (const step of STEPS) await tap(page, `#step-${step}`);
  await page.locator('#band-width').waitFor();
  assert.equal(await page.locator('#band-point').isVisible(), false);
  await page.check('#front-shape-v', { force: true });
  assert.ok(await page.locator('#band-point').isVisible());
  await page.check('#front-shape-round', { force: true });
  assert.equal(await page.locator('#band-point').isVisible(), false);
  assert.equal(await page.locator('#front-half-width').isVisible(), false, 'beside a length it may stay empty');
  await page.check('#front-way-drafted', { force: true });
  assert.ok(await page.locator('#front-half-width').isVisible(), 'a draft has no other');
  await clean(visit);
});

for (const [locale, unit, lines] of [
  [
    'en-GB',
    'mm',
    [
      'Front: round, 154 long, 115 deep',
      'Back: round, 108 long, 88 wide',
      '100 stretches to 160, back to 103',
      'Band, 15 wide',
      '565 round, 20 of ease',
    ],
  ],
  [
    'es-ES',
    'cm',
    [
      'Delantero: redonda, 15,4 de largo, 11,5 de profundidad',
      '10 estira a 16, vuelve a 10,3',
      'Tira, 1,5 de ancho',
      '56,5 de contorno, 2 de holgura',
    ],
  ],
  // The invented example in inches: 6 by 4 1/2 and a band of 5/8.
  ['en-US', 'in', ['Front: round, 6 long, 4 1/2 deep', 'Band, 5/8 wide']],
]) {
  test(`a folded step says in a line what was told (${locale}, ${unit})`, async () => {
    const visit = await opened({ ...phone, locale, isFirst: true });
    const { page } = visit;
    await page.evaluate((one) => document.getElementById(`unit-${one}`).click(), unit);
    await settled(page);
    const all = (await Promise.all(STEPS.map((step) => told(page, step)))).join(' | ').replaceAll('\u00a0', ' ');
    for (const line of lines) assert.ok(all.includes(line), `${line}: ${all}`);
    await clean(visit);
  });
}

test('what a step says follows what is entered, drawn and taken back', async () => {
  const visit = await opened(desk);
  const { page } = visit;
  await tap(page, '#step-pieces');
  await type(page, '163', '#front-half-length');
  assert.match(await told(page, 'pieces'), /Front: round, 163 long, 115 deep/);
  await page.click('#undo');
  await settled(page);
  assert.match(await told(page, 'pieces'), /Front: round, 154 long/);
  await type(page, 'long', '#front-half-length');
  assert.match(await told(page, 'pieces'), /one entry to look at/);
  await tap(page, '#step-pieces');
  await page.locator('#problems a').click();
  assert.ok(await page.locator('#front-half-length').isVisible(), 'its summary leads into the folded step');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'front-half-length');
  await clean(visit);
});

test('the bar leads into a step that nothing was opened of yet', async () => {
  const visit = await opened(phone);
  const { page } = visit;
  // As one of a kept brief with an entry that cannot be read finds it.
  await tap(page, '#step-head');
  await page.fill('#head-own', 'big');
  await page.locator('#head-own').blur();
  await settled(page);
  await page.evaluate(() => sessionStorage.removeItem('lieflat.open.asks'));
  await page.reload();
  await page.waitForSelector('html.is-ready');
  await page.locator('#problems a').click();
  await page.waitForFunction(() => document.activeElement.id === 'head-own');
  assert.equal(await page.inputValue('#head-own'), 'big');
  await clean(visit);
});

test('what was changed before the form has come stands in it, and a key alone brings it, for the browser to search', async () => {
  const visit = await opened(desk);
  const { page } = visit;
  assert.equal(await page.locator('#front-depth').count(), 0, 'a first visit does without');
  await page.getByRole('slider', { name: 'Front depth' }).focus();
  await page.keyboard.press('ArrowDown');
  // The field comes while the key's change is still on its way to it.
  await page.waitForFunction(() => document.getElementById('front-depth')?.value === '116');
  assert.equal(await page.locator('#front-depth').isVisible(), false, 'folded still');
  await page.click('#undo');
  await settled(page);
  await tap(page, '#step-pieces');
  assert.equal(await page.inputValue('#front-depth'), '115');
  await clean(visit);
});

test('kept work that is refused says so, and leads to the entry in its folded step', async () => {
  const visit = await opened(desk);
  const { page } = visit;
  await tap(page, '#step-finish');
  await type(page, '900', '#band-width');
  await page.evaluate(() => sessionStorage.removeItem('lieflat.open.asks'));
  await page.reload();
  await page.waitForSelector('html.is-ready');
  await page.locator('#problems a').click();
  await page.waitForFunction(() => document.activeElement.id === 'band-width');
  assert.equal(await page.inputValue('#band-width'), '900');
  assert.match(await told(page, 'finish'), /one entry to look at/);
  await clean(visit);
});

test('without a network the steps open as they do with one, after one visit', async () => {
  const visit = await opened({ ...desk, serviceWorkers: 'allow' });
  const { page, context } = visit;
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await context.setOffline(true);
  await page.reload();
  await page.waitForSelector('html.is-ready');
  assert.equal(await page.locator('#front-depth').count(), 0);
  await tap(page, '#step-pieces');
  await page.locator('#front-depth').waitFor();
  await type(page, '120', '#front-depth');
  assert.match(await told(page, 'pieces'), /120 deep/);
  await visit.close();
});

/** A person's own readings, invented. */
const OWN = {
  'front-half-length': '160',
  'front-depth': '118',
  'back-half-length': '110',
  'back-half-width': '90',
  'garment-crosswise-stretched': '155',
  'head-own': '570',
};

test('from a cold page Enter leads from each needed reading to the next, and says how many are left, to an own figure in eight entries', async () => {
  const visit = await opened(phone);
  const { page } = visit;
  let entries = 1;
  await page.click('#start-own');
  const at = () => page.evaluate(() => document.activeElement.id);
  for (const [id, text] of Object.entries(OWN)) {
    await page.waitForFunction((wanted) => document.activeElement.id === wanted, id);
    const left = 6 - entries + 1;
    assert.match(await page.locator('#bar').textContent(), new RegExp(left === 1 ? '^one entry needed' : `^${left} entries needed`));
    assert.ok(await page.locator('#bar').isVisible(), 'and that is in sight');
    assert.equal(await page.$eval(`#${id}`, (field) => field.enterKeyHint), left === 1 ? 'done' : 'next');
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
    entries += 1;
  }
  assert.ok(entries <= 8, `${entries} entries`);
  await settled(page);
  assert.match(await page.locator('#cut-figure').innerText(), /^\d+\smm\s×\s\d+\smm$/);
  assert.equal(await at(), 'bar', 'from the last it leads to the figure');
  assert.match(await page.locator('#bar').textContent(), /^\d+\smm × \d+\smm/);
  await clean(visit);
});

test('Enter stays with an entry that cannot be read, and leads on where nothing is needed', async () => {
  const visit = await opened(desk);
  const { page } = visit;
  await page.click('#start-own');
  await page.waitForFunction(() => document.activeElement.id === 'front-half-length');
  await page.keyboard.type('long');
  await page.keyboard.press('Enter');
  await page.locator('#front-half-length-error', { hasText: 'not a number' }).waitFor();
  assert.equal(await page.evaluate(() => document.activeElement.id), 'front-half-length');
  await page.reload();
  await page.waitForSelector('html.is-ready');
  await clean(visit);
  const other = await opened(desk);
  await tap(other.page, '#step-pieces');
  await other.page.focus('#front-half-length');
  await other.page.keyboard.press('Enter');
  assert.equal(await other.page.evaluate(() => document.activeElement.id), 'front-depth');
  assert.equal(await other.page.evaluate(() => getSelection().toString() || document.activeElement.value), '115');
  await clean(other);
});

test('one press leads from the figure to the answers and one back to the entry', async () => {
  const visit = await opened(phone);
  const { page } = visit;
  await tap(page, '#step-head');
  await page.locator('#head-own').tap();
  const bar = page.locator('#bar');
  await bar.waitFor();
  // What the bar says follows where the window comes to rest.
  await page.waitForFunction(() => document.getElementById('bar').getAttribute('data-leads') === 'To the answers');
  await bar.tap();
  await page.waitForFunction(() => document.getElementById('answers').getBoundingClientRect().top < 120);
  await page.waitForFunction(() => document.getElementById('bar').getAttribute('data-leads') === 'Back to your entries');
  await bar.tap();
  await page.waitForFunction(() => document.activeElement.id === 'head-own');
  await page.waitForFunction(() => {
    const { top, bottom } = document.activeElement.getBoundingClientRect();
    return top >= 0 && bottom <= innerHeight;
  });
  await clean(visit);
});

test('with a keyboard on the screen the figure stands above it, and so does the field', async () => {
  const visit = await opened(phone);
  const { page } = visit;
  await tap(page, '#step-finish');
  await page.locator('#band-width').tap();
  // A phone's keyboard takes 340 px of what is seen, and nothing of the page: as WebKit and Chromium have it.
  const seen = 844 - 340;
  await page.evaluate((height) => {
    Object.defineProperty(visualViewport, 'height', { configurable: true, get: () => height });
    visualViewport.dispatchEvent(new Event('resize'));
  }, seen);
  const places = () =>
    page.evaluate(() =>
      ['#bar', '#band-width'].map((one) => document.querySelector(one).getBoundingClientRect()).map(({ top, bottom }) => [top, bottom]),
    );
  await until('both are above the keyboard', async () => (await places()).every(([top, bottom]) => top >= 0 && bottom <= seen + 0.5));
  const [bar, field] = await places();
  assert.ok(field[1] <= bar[0], `the field ends at ${field[1]}, the bar begins at ${bar[0]}`);
  await page.evaluate(() => {
    delete visualViewport.height;
    visualViewport.dispatchEvent(new Event('resize'));
  });
  await until('the bar is at the foot again', async () => Math.abs((await places())[0][1] - 844) < 1);
  await clean(visit);
});

for (const [name, options] of Object.entries({ phone, desk })) {
  test(`axe finds nothing, folded and open (${name})`, async () => {
    const visit = await opened(options);
    const { page } = visit;
    await assertAccessible(page, 'body');
    await page.locator('#brief details').evaluateAll((all) => {
      for (const one of all) one.open = true;
    });
    await page.locator('#band-width').waitFor();
    await page.locator('#brief details').evaluateAll((all) => {
      for (const one of all) one.open = true;
    });
    await assertAccessible(page, 'body');
    await page.evaluate(() => document.getElementById('start-own').click());
    await page.locator('#needed li').first().waitFor();
    await assertAccessible(page, 'body');
    await clean(visit);
  });
}

test('at double text a phone scrolls nowhere sideways, folded or open, and the bar is whole', async () => {
  for (const isOwn of [false, true]) {
    const visit = await opened(phone);
    const { page } = visit;
    await page.evaluate(() => {
      document.documentElement.style.fontSize = '200%';
    });
    if (isOwn) await ownOpened(page);
    else await tap(page, '#step-pieces');
    await page.locator('#front-half-length').focus();
    await painted(page);
    const found = await page.evaluate(() => {
      const wide = [...document.querySelectorAll('header *, .step *, #bar, #bar *, #needed *, #ticket *')]
        .filter(
          (node) =>
            node.checkVisibility() && !node.matches('.unseen, svg, svg *, option') && node.getBoundingClientRect().right > innerWidth + 0.5,
        )
        .map((node) => `${node.tagName}#${node.id}.${node.className}`);
      const bar = document.getElementById('bar');
      const { top, bottom } = bar.getBoundingClientRect();
      return {
        page: document.documentElement.scrollWidth,
        wide,
        isWhole: bar.scrollHeight <= bar.clientHeight + 1 && top > 0 && bottom <= innerHeight + 0.5,
      };
    });
    assert.deepEqual(found, { page: 390, wide: [], isWhole: true });
    await clean(visit);
  }
});
