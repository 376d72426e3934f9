// What is shown is what is used: the unit a person starts in, the fields of the form in every unit, and a change of unit.
// Run after `bash web/build.sh`.

import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { promisify } from 'node:util';
import { importModule } from '../page/modules.mjs';
import { linked, settled, start, until } from './harness.mjs';
import { checkInches, numbersIn } from './inches.mjs';
import { unfold } from './keep-site.mjs';

const { decodeBrief, decodeLink, encodeBrief } = await importModule('web/page/share/codec.js');
const { startingValues, valuesOf } = await importModule('web/page/form/values.js');
const { fieldsOf, idOf, isAsked } = await importModule('web/page/form/fields.js');
const { firstSizes, sizeSet } = await importModule('web/page/sizes/size-set.js');
const { inches, metric } = await importModule('web/page/generated/example.js');

const run = promisify(execFile);

const MM = { mm: 1, cm: 10, in: 25.4 };
const SAME = 1e-6;

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

async function opened(options = {}, path = '') {
  const visit = await site.open(path, options);
  await visit.page.waitForSelector('html.is-ready');
  await (path ? linked : settled)(visit.page);
  return visit;
}

/** mm of a text as a person reads it: decimals, mixed numbers. */
function mmOf(text, unit) {
  const parts = text.replace(',', '.').replace('-', '').split(/\s/u);
  const sum = parts.map((part) => part.split('/').map(Number)).reduce((all, [n, d = 1]) => all + n / d, 0);
  return (text.startsWith('-') ? -1 : 1) * sum * MM[unit];
}

/** Every length and number that the form asks now: what stands there, and what is said of it. */
const fieldsShown = (page) =>
  page.evaluate(() =>
    Object.fromEntries(
      [...document.querySelectorAll('#brief input[inputmode=decimal]')].map((input) => [
        input.id,
        {
          text: input.value,
          exactly: document.getElementById(`${input.id}-exactly`)?.textContent ?? '',
          isSeen: document.getElementById(`${input.id}-exactly`)?.hidden === false,
          isDescribed: input.getAttribute('aria-describedby').includes(`${input.id}-exactly`),
        },
      ]),
    ),
  );

async function pick(page, id) {
  await page.evaluate((one) => document.querySelector(one).click(), id);
  await settled(page);
}

async function enter(page, id, text) {
  await page.fill(id, text);
  await page.press(id, 'Tab');
  await settled(page);
}

/** The brief as it stands, by the link that the page gives. */
async function briefOf(page) {
  await page.evaluate(() => {
    document.querySelector('#share-panel details').open = true;
  });
  const link = page.locator('#share-panel input[readonly]').first();
  await link.waitFor();
  const text = await until('the link', () => link.inputValue());
  return decodeBrief(new URL(text).hash.replace(/^#brief=/, '').split('&')[0]);
}

test('every field in every unit reads back as what the brief holds, or says what that is', async () => {
  const names = ['band-round', 'band-sweetheart', 'bound-scoop', 'facing-scoop', 'tape-v'];
  const briefs = await Promise.all(
    names.map(async (name) => JSON.parse(await readFile(new URL(`../briefs/${name}.json`, import.meta.url), 'utf8'))),
  );
  let walked = 0;
  let marked = 0;
  // Named as a person's own: the example that nobody touched is another in another unit.
  for (const given of [...briefs, metric, inches]) {
    const brief = { ...given, title: 'My own' };
    const visit = await opened({ isFirst: true, locale: 'en-GB' }, `#brief=${encodeBrief(brief)}`);
    const { page } = visit;
    for (const unit of ['mm', 'cm', 'in']) {
      await pick(page, `#unit-${unit}`);
      const values = valuesOf(brief, valuesOf(metric, startingValues('mm')));
      const shown = await fieldsShown(page);
      for (const field of fieldsOf(values).filter((one) => isAsked(one, values))) {
        if (!['length', 'number', 'share'].includes(field.kind) || typeof values[field.key] !== 'number') continue;
        const { text, exactly, isSeen, isDescribed } = shown[idOf(field.key)];
        const wanted = field.kind === 'share' ? 100 * values[field.key] : values[field.key];
        const read = field.kind === 'length' ? mmOf(text, field.unit ?? unit) : Number(text);
        walked += 1;
        if (Math.abs(read - wanted) < SAME) continue;
        marked += 1;
        assert.ok(isSeen && isDescribed, `${field.key} is ${wanted} and shown as ${text} ${unit}, unmarked`);
        assert.match(exactly, /^about .*: exactly /u);
        assert.ok(Math.abs(mmOf(exactly.split(/exactly /u)[1].replace(/\smm$/u, ''), 'mm') - wanted) < SAME, exactly);
      }
    }
    assert.deepEqual(await briefOf(page), brief, 'and a unit changes no brief');
    await visit.close();
  }
  assert.ok(walked > 500 && marked > 50, `${walked} fields, ${marked} of them about`);
});

test('a brief begun in inches holds fractions of an inch, and is cut by eighths', async () => {
  const visit = await opened({ isFirst: true, locale: 'en-US' });
  const { page } = visit;
  assert.ok(await page.isChecked('#unit-in'), 'a first visit from the United States is met in inches');
  await page.click('#start-own');
  for (const [id, text] of [
    ['#front-half-length', '6 1/4'],
    ['#front-depth', '4 1/2'],
    ['#back-half-length', '4 1/4'],
    ['#back-half-width', '3 1/2'],
    ['#garment-crosswise-stretched', '6 1/2'],
    ['#garment-crosswise-released', '4 1/8'],
    ['#head-own', '22 1/4'],
  ])
    await enter(page, id, text);
  const shown = await fieldsShown(page);
  for (const [id, text] of [
    ['neckline-allowance', '3/8'],
    ['front-shoulder-allowance', '3/8'],
    ['garment-crosswise-rest', '4'],
    ['band-width', '5/8'],
    ['band-join-allowance', '1/4'],
    ['head-margin', '3/4'],
    ['stays-tape-width', '3/8'],
  ])
    assert.deepEqual([shown[id].text, shown[id].isSeen], [text, false], id);
  const brief = await briefOf(page);
  assert.equal(brief.neckline.neckline_allowance_mm, 9.525);
  assert.equal(brief.finish.band.width_mm, 15.875);
  assert.equal(brief.garment_knit.crosswise.readings.rest_mm, 101.6);
  assert.equal(brief.rounding, 'eighth_inch');
  const figure = await page.locator('#cut-figure').innerText();
  for (const part of figure.split('×')) {
    const eighths = mmOf(part.replace(/\s?in/u, '').trim(), 'in') / (25.4 / 16);
    assert.ok(Math.abs(eighths - Math.round(eighths)) < SAME, `${figure} is cut by the ruler`);
    assert.doesNotMatch(figure, /about/);
  }
  await visit.close();
});

test('a fraction typed where it was about something else is meant as it is typed', async () => {
  const visit = await opened({ isFirst: true, locale: 'en-GB' }, `#brief=${encodeBrief({ ...metric, title: 'My own' })}`);
  const { page } = visit;
  await pick(page, '#unit-in');
  assert.equal((await fieldsShown(page))['neckline-allowance'].exactly.replaceAll('\u00a0', ' '), 'about 3/8 in: exactly 10 mm');
  await enter(page, '#neckline-allowance', '3/8');
  assert.equal((await fieldsShown(page))['neckline-allowance'].isSeen, false);
  await until('what was typed is read', async () => Math.abs((await briefOf(page)).neckline.neckline_allowance_mm - 9.525) < SAME);
  await visit.close();
});

test('from metric to inches a brief of one’s own stays; what is usual is offered, taken in one step, and taken back', async () => {
  const visit = await opened({ isFirst: true, locale: 'en-GB' }, `#brief=${encodeBrief({ ...metric, title: 'My own' })}`);
  const { page } = visit;
  await pick(page, '#unit-in');
  await page.waitForSelector('#usual-take');
  assert.deepEqual(await briefOf(page), { ...metric, title: 'My own' }, 'nothing is changed by the unit');
  const said = (await page.locator('#usual').innerText()).replaceAll('\u00a0', ' ');
  assert.match(said, /10 mm, where 3\/8 in would be usual/);
  assert.match(said, /millimetre, where eighth of an inch would be usual/);
  await page.click('#usual-take');
  await settled(page);
  const taken = await briefOf(page);
  assert.equal(taken.neckline.neckline_allowance_mm, 9.525);
  assert.equal(taken.rounding, 'eighth_inch');
  assert.equal(taken.neckline.front.outline.measured.half_length_mm, 154, 'a reading is as it was read');
  assert.equal(await page.locator('#usual').count(), 0);
  await page.click('#undo');
  await settled(page);
  assert.deepEqual(await briefOf(page), { ...metric, title: 'My own' }, 'one step back');
  await visit.close();
});

test('the example that nobody touched is the one of the unit, and can be had back', async () => {
  const visit = await opened({ isFirst: true, locale: 'en-GB' });
  const { page } = visit;
  assert.ok(await page.isChecked('#unit-cm'));
  const before = await page.locator('#ticket').innerText();
  await pick(page, '#unit-in');
  await page.waitForSelector('#usual-leave');
  assert.equal((await fieldsShown(page))['neckline-allowance'].text, '3/8');
  assert.ok(Object.values(await fieldsShown(page)).filter(({ isSeen }) => isSeen).length < 12, 'its readings are those of an inch tape');
  assert.doesNotMatch(await page.locator('#cut-figure').innerText(), /about/);
  await page.click('#undo');
  await settled(page);
  await pick(page, '#unit-cm');
  assert.equal(await page.locator('#ticket').innerText(), before);
  await visit.close();
});

test('a start of one’s own takes on what is usual in another unit, but for what was typed', async () => {
  const visit = await opened({ isFirst: true, locale: 'en-GB' });
  const { page } = visit;
  await page.click('#start-own');
  await enter(page, '#band-width', '1.5');
  await enter(page, '#front-half-length', '15.4');
  await pick(page, '#unit-in');
  await page.waitForSelector('#usual-leave');
  const shown = await fieldsShown(page);
  assert.equal(shown['neckline-allowance'].text, '3/8');
  assert.equal(shown['neckline-allowance'].isSeen, false);
  assert.match(shown['band-width'].exactly, /exactly 15\smm/u, 'what was typed is what it was');
  assert.match(shown['front-half-length'].exactly, /exactly 154\smm/u);
  await pick(page, '#unit-cm');
  assert.equal((await fieldsShown(page))['neckline-allowance'].text, '1');
  await visit.close();
});

test('a first visit is met in the unit and on the paper in use where the browser is, and keeps what is chosen', async () => {
  for (const [locale, unit, paper] of [
    ['en-US', 'in', 'letter'],
    ['en-GB', 'cm', 'a4'],
    ['es-MX', 'cm', 'letter'],
    ['es-ES', 'cm', 'a4'],
  ]) {
    const visit = await opened({ isFirst: true, locale });
    const { page } = visit;
    const paperIs = () => page.locator('#sheets-panel select').first().inputValue();
    await page.waitForSelector('#sheets-panel select');
    assert.ok(await page.isChecked(`#unit-${unit}`), `${locale}: ${unit}`);
    assert.equal(await paperIs(), paper, locale);
    const [otherUnit, otherPaper] = [unit === 'in' ? 'mm' : 'in', paper === 'a4' ? 'letter' : 'a4'];
    await pick(page, `#unit-${otherUnit}`);
    await page.locator('#sheets-panel select').first().selectOption(otherPaper);
    await page.reload();
    await page.waitForSelector('html.is-ready');
    await page.waitForSelector('#sheets-panel select');
    assert.ok(await page.isChecked(`#unit-${otherUnit}`), `${locale}: what was chosen is kept`);
    assert.equal(await paperIs(), otherPaper);
    await visit.close();
  }
});

test('a link is shown in the unit it was made in, and the person’s own comes back with their own work', async () => {
  const own = { ...inches, title: 'My own' };
  const visit = await opened({ isFirst: true, locale: 'en-GB' }, `#brief=${encodeBrief(own, 'in')}`);
  const { page } = visit;
  await page.waitForSelector('#unit-in:checked', { state: 'attached' });
  await settled(page);
  assert.equal((await fieldsShown(page))['neckline-allowance'].text, '3/8');
  assert.deepEqual(await briefOf(page), own);
  assert.equal(await page.evaluate(() => localStorage.getItem('lieflat.unit')), null, 'nobody chose it');
  await page.click('[data-notice=shared] button:last-of-type');
  await page.waitForSelector('#unit-cm:checked', { state: 'attached' });
  await visit.close();
  // A link of before says no unit.
  const old = await opened({ isFirst: true, locale: 'en-GB' }, `#brief=${encodeBrief(own)}`);
  await old.page.waitForSelector('[data-notice=shared]');
  assert.ok(await old.page.isChecked('#unit-cm'));
  assert.match((await fieldsShown(old.page))['neckline-allowance'].text, /^0\.9525$/);
  await old.close();
});

test('a link carries the unit that its brief is shown in', async () => {
  const visit = await opened({ isFirst: true, locale: 'en-US' });
  const { page } = visit;
  const link = async () => {
    await briefOf(page);
    const text = await page.locator('#share-panel input[readonly]').first().inputValue();
    return decodeLink(new URL(text).hash.replace(/^#brief=/, ''));
  };
  assert.deepEqual(await link(), { brief: inches, unit: 'in' });
  await enter(page, '#neckline-allowance', '1/2');
  await pick(page, '#unit-mm');
  await until('the link of the other unit', async () => (await link()).unit === 'mm');
  assert.ok(Math.abs((await link()).brief.neckline.neckline_allowance_mm - 12.7) < SAME);
  await page.reload();
  await page.waitForSelector('html.is-ready');
  assert.ok(await page.isChecked('#unit-mm'), 'work goes on in the unit that it was shown in last');
  await visit.close();
});

test('a kept brief opens in the unit it was made in', async () => {
  const visit = await opened({ isFirst: true, locale: 'en-US' });
  const { page } = visit;
  await enter(page, '#neckline-allowance', '1/2');
  await page.evaluate(() => {
    document.querySelector('#keep-panel details').open = true;
  });
  await page.getByLabel('Name of this brief').fill('Made in inches');
  await page.getByRole('button', { name: 'Keep this brief' }).click();
  await page.getByRole('button', { name: 'Open Made in inches' }).waitFor();
  await pick(page, '#unit-mm');
  await enter(page, '#neckline-allowance', '12');
  await page.getByRole('button', { name: 'Open Made in inches' }).click();
  await page.waitForSelector('#unit-in:checked', { state: 'attached' });
  await settled(page);
  const { text, isSeen } = (await fieldsShown(page))['neckline-allowance'];
  assert.deepEqual([text, isSeen], ['1/2', false]);
  assert.equal(await page.evaluate(() => localStorage.getItem('lieflat.unit')), 'mm', 'what was chosen is still kept');
  await visit.close();
});

test('every figure in inches on ticket, cards, bar, sheets and in the table of sizes is one of the plan’s, or is marked as about', async () => {
  const folder = new URL('../../target/pkg/', import.meta.url);
  const core = await import(new URL('lieflat_web.js', folder).href);
  core.initSync({ module: await readFile(new URL('lieflat_web_bg.wasm', folder)) });
  // The sheets' own: test squares of two inches.
  const onSheets = [50.8];
  const grown = { ...firstSizes(), growth: { front: { depth_mm: 12.7 }, back: {}, head_mm: undefined } };
  const seen = { page: 0, sheets: 0, sizes: 0 };
  for (const name of ['band-round', 'facing-scoop', 'tape-v']) {
    const brief = JSON.parse(await readFile(new URL(`../briefs/${name}.json`, import.meta.url), 'utf8'));
    const { plan } = JSON.parse(core.plan(JSON.stringify(brief)));
    const numbers = [...numbersIn(plan), ...numbersIn(brief)];
    const visit = await opened({ isFirst: true, locale: 'en-US', acceptDownloads: true }, `#brief=${encodeBrief(brief, 'in')}`);
    const { page } = visit;
    await page.waitForSelector('[data-notice=shared]');
    await settled(page);
    for (const id of ['ticket', 'cards', 'bar'])
      seen.page += checkInches(await page.locator(`#${id}`).evaluate((one) => one.textContent), numbers, { what: `${name}, ${id}` }).about;

    const [pdf] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Make the PDF' }).click()]);
    const file = path.join(tmpdir(), `lieflat-inches-${process.pid}-${name}.pdf`);
    await pdf.saveAs(file);
    const { stdout } = await run('pdftotext', ['-raw', file, '-']);
    seen.sheets += checkInches(stdout.replaceAll('\n', ' '), [...numbers, ...onSheets], { what: `${name}, sheets` }).about;

    const { sizes } = JSON.parse(core.sizes(JSON.stringify(brief), JSON.stringify(sizeSet(grown, brief, String))));
    const panel = await unfold(page, 'sizes-panel');
    await panel.getByLabel('Depth').first().fill('1/2');
    await panel.getByLabel('Depth').first().press('Tab');
    await until(
      'every size has figures of its own',
      async () => new Set(await panel.locator('tbody tr td:nth-child(2)').allInnerTexts()).size === 3,
    );
    for (const [i, row] of (await panel.locator('tbody tr').all()).entries())
      for (const cell of await row.locator('td').allInnerTexts())
        seen.sizes += checkInches(cell, [...numbersIn(sizes[i].plan)], { what: `${name}, size ${i}`, unit: '$' }).about;
    await visit.close();
  }
  assert.ok(seen.page > 40 && seen.sheets > 40 && seen.sizes > 20, JSON.stringify(seen));
});
