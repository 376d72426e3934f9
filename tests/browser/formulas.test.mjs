// The working's formulas as they are drawn: fractions as fractions, every name in words, on narrow screens and on paper.
// That each formula is read whole and comes to its figure is checked in tests/page/formula.test.mjs.

import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { promisify } from 'node:util';
import { fractionsIn, stands } from './engine-checks.mjs';
import { linked, settled, start } from './harness.mjs';
import { importModule } from '../page/modules.mjs';
import { root } from '../page/planner.mjs';

const run = promisify(execFile);
const { encodeBrief } = await importModule('web/page/share/codec.js');

let site;
let folder;
before(async () => {
  site = await start();
  folder = await mkdtemp(path.join(tmpdir(), 'lieflat-formulas-'));
});
after(async () => {
  await site?.close();
  if (folder) await rm(folder, { recursive: true, force: true });
});

/** Briefs whose working has a point, a mitre, records or a facing in it. */
const BRIEFS = ['briefs/band-round', 'briefs/tape-v', 'briefs/facing-scoop', 'garments/10-v-women-jersey-mitred-band'];

/** The page with a brief of the tests, its working open. */
async function working(name, { width, locale, unit = 'mm' }) {
  const brief = JSON.parse(await readFile(`${root}tests/${name}.json`, 'utf8'));
  const visit = await site.open(`#brief=${encodeBrief(brief)}`, { viewport: { width, height: 800 }, locale, serviceWorkers: 'block' });
  const { page } = visit;
  await linked(page);
  if (unit !== 'mm') await page.locator(`#unit-${unit}`).check({ force: true });
  await settled(page);
  await page.locator('#working > summary').click();
  await page.locator('#working-lines .formula math').first().waitFor();
  return visit;
}

/** What no reader should see: paths, underscores, Greek by name, the notation's own functions. */
const RAW = /_|[a-z]\.[a-z]|theta|alpha|lambda|\bphi\b|\bnu\b|sqrt|undefined|\{/i;

for (const locale of ['en-GB', 'es-ES'])
  test(`formulas are drawn within their lines, fractions as fractions, with no symbol left (${locale})`, async () => {
    for (const [i, name] of BRIEFS.entries()) {
      const width = [320, 390, 800, 1280][i];
      const visit = await working(name, { width, locale });
      const { page } = visit;
      const fractions = await page.evaluate(fractionsIn, '#working-lines');
      assert.ok(fractions.length > 15, `${name}: ${fractions.length} fractions`);
      fractions.forEach(stands);
      assert.deepEqual(
        await page.$$eval('#working-lines .formula', (all) =>
          all.filter((one) => one.scrollWidth > one.clientWidth + 1).map((one) => one.textContent),
        ),
        [],
        `${name} in ${width} px`,
      );
      const [wide, room] = await page.$eval('#working-lines', (one) => [one.scrollWidth, one.clientWidth]);
      assert.ok(wide <= room && room <= width, `${name}: ${wide} px in ${room}`);
      const lines = await page.locator('#working-lines li').allInnerTexts();
      for (const text of lines) assert.doesNotMatch(text, RAW, name);
      await visit.close();
    }
  });

test('a formula is heard in words, and what is drawn is not spelt out beside it', async () => {
  const visit = await working('briefs/band-round', { width: 1280, locale: 'en-GB' });
  const { page } = visit;
  assert.equal(await page.locator('#working-lines math:not([aria-hidden=true])').count(), 0);
  const line = page.locator('.working-lines > li', { hasText: 'Strip to line' }).first();
  assert.deepEqual(await line.locator('.unseen').allInnerTexts(), [
    'Equals 100 times strip at rest divided by line sewn on',
    'Equals 100 times 436.3057 divided by 532.8692',
  ]);
  // By hand: 100 * 436.3057 / 532.8692 = 81.8786.
  assert.match(await line.locator('.result').innerText(), /= 81\.8786\s%/);
  const tree = await line.ariaSnapshot();
  assert.ok(tree.includes('Equals 100 times') && !tree.includes('mfrac'), tree);
  await visit.close();
});

test('the sums are in the person’s unit, in decimals that can be followed', async () => {
  const visit = await working('briefs/band-round', { width: 1280, locale: 'en-GB', unit: 'in' });
  const { page } = visit;
  const line = page.locator('.working-lines > li', { hasText: 'Strip to line' }).first();
  const inputs = await line.locator('.inputs').innerText();
  // By hand, an inch of 25.4 mm: 436.3057 mm = 17.1774 in, 532.8692 mm = 20.9791 in.
  assert.match(inputs, /strip at rest = 17\.1774\sin/);
  assert.match(inputs, /line sewn on = 20\.9791\sin/);
  assert.match(await page.locator('#working-lines > .hint').innerText(), /inches/);
  // A radius is one over a bend that is told per millimetre.
  const radius = page.locator('.working-lines > li', { hasText: 'tightest radius' }).first();
  assert.match(await radius.innerText(), /This rule counts in millimetres/);
  assert.match(await radius.locator('.result').innerText(), /mm$/);
  await visit.close();
});

test('printed, the working stands alone, in columns, its fractions drawn', async () => {
  const visit = await working('briefs/tape-v', { width: 1280, locale: 'es-ES' });
  const { page } = visit;
  await page.evaluate(() => {
    globalThis.print = () => {};
  });
  const press = () => page.getByRole('button', { name: 'Imprimir el cálculo' }).click();
  await press();
  await page.emulateMedia({ media: 'print' });
  const shown = await page.evaluate(() =>
    [...document.body.children].filter((one) => getComputedStyle(one).display !== 'none').map(({ className }) => className),
  );
  assert.deepEqual(shown, ['print-only']);
  const fractions = await page.evaluate(fractionsIn, '.print-only');
  assert.ok(fractions.length > 15);
  fractions.forEach(stands);
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  assert.equal(await page.locator('.print-only').count(), 0, 'the page is as it was');
  await page.emulateMedia({ media: null });
  for (const format of ['A4', 'Letter']) {
    await press();
    const file = path.join(folder, `${format}.pdf`);
    await writeFile(file, await page.pdf({ format }));
    const { stdout: text } = await run('pdftotext', ['-layout', file, '-']);
    assert.match(text, /El cálculo de «?Invented example: the Alder V neck/);
    const { stdout: boxes } = await run('pdftotext', ['-bbox', file, '-']);
    const words = [...boxes.matchAll(/xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)</g)];
    const wide = { A4: 595.3, Letter: 612 }[format];
    assert.ok(words.length > 800, `${words.length} words`);
    for (const [, , , right, , word] of words) assert.ok(Number(right) < wide - 12, `${word} ends at ${right} of ${wide} points`);
  }
  await visit.close();
});
