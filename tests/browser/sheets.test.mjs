// The sheets' panel in Chromium: what it makes, what it says, and how true a piece is as the browser draws it.
// Needs target/pkg: run `bash web/build.sh` first.

import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { promisify } from 'node:util';
import { gzipSync } from 'node:zlib';
import { briefOf, planOf, root } from '../page/planner.mjs';
import { startSite } from './sheets-site.mjs';

const run = promisify(execFile);
const CSS_PX_MM = 25.4 / 96;
const WITHIN_MM = 0.2;
const MOST_WASM = 150_000;

let site;

before(async () => {
  site = await startSite();
});

after(() => site?.close());

const label = (words, key) => key.split('.').reduce((at, name) => at[name], words);
const wordsOf = async (language, group = 'panel') => JSON.parse(await readFile(`${root}www/words/${language}.json`, 'utf8')).sheets[group];

function untroubled(visit) {
  assert.deepEqual(visit.foreignRequests(), [], 'nothing is asked elsewhere');
  assert.deepEqual(visit.pageErrors, [], 'uncaught errors');
  assert.deepEqual(visit.consoleErrors, [], 'console errors');
}

async function savedPdf(visit, words) {
  const waiting = visit.page.waitForEvent('download');
  await visit.page.getByRole('button', { name: words.make_pdf }).click();
  const download = await waiting;
  const file = path.join(tmpdir(), `lieflat-${process.pid}-${download.suggestedFilename()}`);
  await download.saveAs(file);
  return { file, name: download.suggestedFilename() };
}

for (const [name, language, unit, paper, locale] of [
  ['band-round', 'en', 'in', '612 x 792', 'en-US'],
  ['facing-scoop', 'es', 'cm', '595.276 x 841.89', 'es-ES'],
]) {
  test(`a PDF is saved that qpdf accepts, on the paper of the unit (${name}, ${language})`, async () => {
    const words = await wordsOf(language);
    const visit = await site.open(await briefOf(name), { unit, language, locale });
    const { file, name: saved } = await savedPdf(visit, words);
    assert.match(saved, /^lieflat-[a-z0-9-]+\.pdf$/, 'named after the brief');
    await run('qpdf', ['--check', file]);
    const { stdout } = await run('pdfinfo', [file]);
    assert.ok(stdout.includes(paper) || stdout.includes(paper.split(' x ').reverse().join(' x ')), stdout);
    const pages = /Pages:\s+(\d+)/.exec(stdout)[1];
    await visit.page.waitForFunction(() => document.querySelector('[role=status]').textContent.includes('.pdf'));
    const status = await visit.page.getByRole('status').innerText();
    assert.ok(status.includes(saved) && status.includes(pages), status);
    untroubled(visit);
    await visit.close();
  });
}

test('the module is fetched when a sheet is asked for, and no sooner', async () => {
  const words = await wordsOf('en');
  const visit = await site.open(await briefOf('band-round'));
  await visit.page.waitForLoadState('networkidle');
  const fetched = () => visit.requests.filter((address) => address.endsWith('.wasm')).length;
  assert.equal(fetched(), 0, 'not with the page');
  await savedPdf(visit, words);
  assert.equal(fetched(), 1, 'then once');
  await savedPdf(visit, words);
  assert.equal(fetched(), 1, 'and kept');
  await visit.close();
});

test('weighs at most 150 kB, gzipped', async () => {
  const bytes = await readFile(`${root}target/pkg/lieflat_sheets_bg.wasm`);
  const weight = gzipSync(bytes, { level: 9 }).length;
  assert.ok(weight <= MOST_WASM, `${weight} bytes`);
});

test('each piece is its own SVG, and Chromium draws it at its true size', async () => {
  const words = await wordsOf('en');
  const brief = await briefOf('band-round');
  const plan = await planOf(brief);
  const { strip } = plan.plan ?? plan;
  const visit = await site.open(brief);
  await visit.page.getByRole('button', { name: words.make_svg }).click();
  const links = visit.page.locator('.files a');
  await links.first().waitFor();
  const names = await links.allInnerTexts();
  assert.equal(names.length, 3, `strip and both necklines: ${names}`);
  const waiting = visit.page.waitForEvent('download');
  await links.filter({ hasText: 'strip' }).click();
  const file = path.join(tmpdir(), `lieflat-${process.pid}-strip.svg`);
  await (await waiting).saveAs(file);

  const picture = await (await site.browser.newContext()).newPage();
  await picture.goto(`file://${file}`);
  const { cut, marks } = await picture.evaluate(() => ({
    cut: document.querySelector('#cut path').getBoundingClientRect().toJSON(),
    marks: [...document.querySelectorAll('#marks .mark')]
      .map((mark) => mark.getBoundingClientRect().toJSON())
      .filter((box) => box.height > 100 && box.width < 1)
      .map((box) => box.x),
  }));
  const near = (px, mm, what) => assert.ok(Math.abs(px * CSS_PX_MM - mm) <= WITHIN_MM, `${what}: ${px * CSS_PX_MM} for ${mm}`);
  near(cut.width, strip.cut_length.cut_mm, 'length');
  near(cut.height, strip.cut_width.cut_mm, 'width');
  const half = strip.relaxed_length_mm / 2;
  const meant = strip.marks
    .flatMap(({ on_strip_mm: at }) => (Math.abs(half - at) < 1e-6 ? [0] : [half - at, at - half]))
    .sort((a, b) => a - b);
  const found = marks.sort((a, b) => a - b);
  assert.equal(found.length, meant.length, `${found} for ${meant}`);
  for (let i = 1; i < meant.length; i += 1) near(found[i] - found[i - 1], meant[i] - meant[i - 1], `between marks ${i}`);
  await picture.close();
  untroubled(visit);
  await visit.close();
});

test('each piece is its own DXF of either release, in both languages, and ezdxf reads it', async () => {
  for (const [language, act, ending, version] of [
    ['en', 'make_dxf_r2000', '-r2000.dxf', 'AC1015'],
    ['es', 'make_dxf_r12', '-r12.dxf', 'AC1009'],
  ]) {
    const words = await wordsOf(language);
    const visit = await site.open(await briefOf('facing-scoop'), { language });
    await visit.page.getByRole('button', { name: words[act] }).click();
    const links = visit.page.locator('.files a');
    await links.first().waitFor();
    assert.equal(await links.count(), 4, 'two facings and both necklines');
    for (const name of await links.allInnerTexts()) assert.match(name, /^lieflat-[a-z0-9-]+\.dxf$/);
    const waiting = visit.page.waitForEvent('download');
    await links.filter({ hasText: `facing-front${ending}` }).click();
    const file = path.join(tmpdir(), `lieflat-${process.pid}${ending}`);
    await (await waiting).saveAs(file);
    const { stdout } = await run(`${root}target/dxf-venv/bin/python`, [`${root}tests/dxf/read.py`, file]);
    const read = JSON.parse(stdout);
    assert.deepEqual([read.version, read.faults], [version, []]);
    assert.ok(
      read.drawn.some(({ layer, closed, points }) => layer === 'CUT' && (closed || points.length > 20)),
      'with its outline',
    );
    untroubled(visit);
    await visit.close();
  }
});

test('a brief in error gives no sheet and says why', async () => {
  const words = { ...(await wordsOf('es')), ...(await wordsOf('es', 'made')) };
  const brief = await briefOf('band-round');
  brief.finish.band.width_mm = 0;
  const visit = await site.open(brief, { language: 'es' });
  await visit.page.getByRole('button', { name: words.make_pdf }).click();
  await visit.page.getByRole('alert').filter({ hasText: /\S/ }).waitFor();
  assert.equal(await visit.page.getByRole('alert').innerText(), words.in_error.replace('{count}', '1'));
  assert.ok(!(await visit.page.locator('.files').isVisible()), 'no file');
  assert.equal(await visit.page.evaluate(() => document.activeElement.tagName), 'BUTTON', 'the focus stays');
  await visit.close();
});

test('with no sheet chosen it says what to choose; the finish decides what there is', async () => {
  const words = await wordsOf('en');
  const visit = await site.open(await briefOf('facing-scoop'));
  const box = (key) => visit.page.getByRole('checkbox', { name: label(words, key) });
  assert.equal(await box('strip').count(), 0, 'a facing has no strip');
  for (const key of ['card', 'facing', 'template']) await box(key).uncheck();
  await visit.page.getByRole('button', { name: words.make_pdf }).click();
  await visit.page.getByRole('alert').filter({ hasText: /\S/ }).waitFor();
  assert.equal(await visit.page.getByRole('alert').innerText(), (await wordsOf('en', 'made')).none_wanted);
  await visit.close();
});

test('letters that the sheets cannot print are named, and a name with an accent apart is printed', async () => {
  const words = await wordsOf('en');
  const brief = { ...(await briefOf('tape-v')), title: 'n\u0303andu\u0301 😀\u202e' };
  const visit = await site.open(brief);
  const { file, name } = await savedPdf(visit, words);
  assert.equal(name, 'lieflat-nandu.pdf');
  const { stdout } = await run('pdftotext', [file, '-']);
  assert.ok(stdout.includes('ñandú'), 'accents are whole');
  await visit.page.getByRole('status').filter({ hasText: 'U+1F600' }).waitFor();
  assert.match(await visit.page.getByRole('status').innerText(), /U\+202E, 😀 \(U\+1F600\)/);
  await visit.close();
});

test('all that a card says is in words', async () => {
  const garment = JSON.parse(await readFile(`${root}tests/garments/01-crew-women-jersey-band.json`, 'utf8'));
  for (const language of ['en', 'es']) {
    const words = JSON.parse(await readFile(`${root}www/words/${language}.json`, 'utf8'));
    const visit = await site.open(garment, { language });
    const { file } = await savedPdf(visit, words.sheets.panel);
    const { stdout } = await run('pdftotext', [file, '-']);
    const key = new RegExp(`\\b(${Object.keys(words).join('|')})\\.[a-z_]+`);
    assert.doesNotMatch(stdout, key, 'no name of a text where the text is wanted');
    assert.match(stdout.replace(/\s+/g, ' '), language === 'en' ? /drawn in by the band’s pull/ : /la tensión de la tira encoge/);
    await visit.close();
  }
});

test('every control has a name, is reached by key and works by key', async () => {
  const words = await wordsOf('en');
  const visit = await site.open(await briefOf('band-round'));
  await visit.page.locator('h1').click();
  const reached = [];
  for (let i = 0; i < 11; i += 1) {
    await visit.page.keyboard.press('Tab');
    reached.push(
      await visit.page.evaluate(() => {
        const at = document.activeElement;
        return at.labels?.[0]?.textContent ?? at.textContent;
      }),
    );
  }
  for (const key of [
    'paper',
    'card',
    'strip',
    'template',
    'strip_form',
    'make_pdf',
    'make_svg',
    'make_dxf_r2000',
    'make_dxf_r12',
    'make_project',
  ]) {
    assert.ok(reached.includes(words[key]), `${words[key]} among ${reached}`);
  }
  await visit.page.getByRole('button', { name: words.make_pdf }).focus();
  const waiting = visit.page.waitForEvent('download');
  await visit.page.keyboard.press('Enter');
  await waiting;
  await visit.close();
});

test('the paper is the region’s', async () => {
  for (const [locale, paper] of [
    ['en-US', 'letter'],
    ['es-ES', 'a4'],
    ['es-MX', 'letter'],
  ]) {
    const visit = await site.open(await briefOf('tape-v'), { locale });
    assert.equal(await visit.page.locator('select').first().inputValue(), paper, locale);
    untroubled(visit);
    await visit.close();
  }
});
