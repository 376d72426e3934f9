// The page itself on paper: each worked brief's card on one page of A4 and of Letter, in both languages, by the
// browser's own printing; the sheets' panel in the finished page. Run after `bash web/build.sh`.

import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { mkdir, readFile, readdir, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { after, before, test } from 'node:test';
import { promisify } from 'node:util';
import { start } from './harness.mjs';
import { importModule } from '../page/modules.mjs';

const run = promisify(execFile);
const root = fileURLToPath(new URL('../../', import.meta.url));
const folder = `${root}target/printed/`;

let site;
let encodeBrief;
const briefs = {};

before(async () => {
  ({ encodeBrief } = await importModule('web/page/share/codec.js'));
  for (const file of (await readdir(`${root}tests/briefs`)).filter((name) => name.endsWith('.json'))) {
    briefs[file.replace('.json', '')] = JSON.parse(await readFile(`${root}tests/briefs/${file}`, 'utf8'));
  }
  await mkdir(folder, { recursive: true });
  site = await start();
});

after(() => site?.close());

/** Opens the page on somebody's link, which is how a brief comes to it from elsewhere. */
async function openBrief(brief, locale) {
  const visit = await site.open(`#brief=${encodeBrief(brief)}`, { locale, viewport: { width: 1280, height: 800 } });
  // The shared brief is said to be one once it is shown; its answers follow in turns.
  await visit.page.waitForSelector('[data-notice=shared]');
  await visit.page.waitForSelector('#answers:not([aria-busy])', { state: 'attached' });
  return visit;
}

for (const locale of ['en-GB', 'es-ES']) {
  test(`the card of every worked brief is one page on A4 and on Letter (${locale})`, async () => {
    assert.ok(Object.keys(briefs).length >= 5, 'there are briefs to print');
    for (const [name, brief] of Object.entries(briefs)) {
      const visit = await openBrief(brief, locale);
      for (const format of ['A4', 'Letter']) {
        const file = `${folder}${name}-${locale}-${format}.pdf`;
        await writeFile(file, await visit.page.pdf({ format, printBackground: true }));
        const { stdout: info } = await run('pdfinfo', [file]);
        assert.match(info, /Pages:\s+1\b/, `${name} on ${format}: ${/Pages:.*/.exec(info)[0]}`);
        const { stdout: text } = await run('pdftotext', ['-raw', file, '-']);
        const figure = await visit.page.locator('#cut-figure .figure').first().innerText();
        assert.ok(text.replaceAll(/\s+/g, ' ').includes(figure.replaceAll(/\s+/g, ' ')), `${name}: the cut figure ${figure} is on paper`);
      }
      await visit.close();
    }
  });
}

test('the drawing is large on paper, the neckline and the strip whole, and the view on the screen is as it was', async () => {
  const visit = await openBrief(briefs['tape-v'], 'en-GB');
  const { page } = visit;
  const world = () => page.locator('.draw-stage .draw-layer-strip').evaluate((layer) => layer.parentNode.getAttribute('transform'));
  const before = await world();
  await page.emulateMedia({ media: 'print' });
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
  const [stage, neckline, strip] = await page.evaluate(() =>
    ['.draw-stage', '.draw-layer-lines', '.draw-layer-strip'].map((name) => document.querySelector(name).getBoundingClientRect().toJSON()),
  );
  const mm = (px) => (px * 25.4) / 96;
  assert.ok(mm(strip.width) > 70, `the strip is ${mm(strip.width)} mm long on paper`);
  for (const part of [neckline, strip]) {
    assert.ok(part.left >= stage.left && part.right <= stage.right && part.top >= stage.top && part.bottom <= stage.bottom, 'whole');
  }
  await page.emulateMedia({ media: 'screen' });
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  await page.waitForFunction((was) => document.querySelector('.draw-layer-strip').parentNode.getAttribute('transform') === was, before);
  await visit.close();
});

test('the finished page makes its sheets offline, and says nothing to anyone', async () => {
  const visit = await openBrief(briefs['facing-scoop'], 'en-GB');
  const { page } = visit;
  const words = JSON.parse(await readFile(`${root}www/words/en.json`, 'utf8')).sheets.panel;
  const make = page.getByRole('button', { name: words.make_pdf });
  await make.waitFor();
  // A worker that is ready serves this page only once it has claimed it.
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await visit.context.setOffline(true);
  const waiting = page.waitForEvent('download');
  await make.click();
  const download = await waiting;
  const file = `${folder}sheets.pdf`;
  await download.saveAs(file);
  await run('qpdf', ['--check', file]);
  assert.deepEqual(visit.foreignRequests(), [], 'nothing is asked elsewhere');
  assert.deepEqual(visit.pageErrors, []);
  await visit.close();
});
