// The panel of all sizes.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { start, until } from './harness.mjs';
import { assertAccessible, frontLength, isReady, openPage, profile, unfold } from './keep-site.mjs';

let site;

before(async () => {
  site = await start();
});

after(() => site?.close());

const column = (page, name) =>
  page.evaluate((wanted) => {
    const table = document.querySelector('#sizes-panel table');
    const place = [...table.tHead.rows[0].cells].findIndex((cell) => cell.textContent === wanted);
    return [...table.tBodies[0].rows].map((row) => Number(row.cells[place].textContent));
  }, name);

test('a neckline grows over the sizes, backs may be of another size, and the table goes to a spreadsheet', async () => {
  const context = await profile(site, { permissions: ['clipboard-read', 'clipboard-write'] });
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'sizes-panel');
  await panel.locator('table').waitFor();
  // No grade is told yet: the base alone has figures, and nothing that is printed or copied says otherwise.
  assert.deepEqual((await column(page, 'Cut length')).map(Number.isFinite), [false, true, false]);
  assert.equal(await panel.locator('tbody').getByText('no grade told').count(), 2);
  await panel.getByRole('button', { name: 'Copy the table' }).click();
  await page.waitForFunction(() => document.querySelector('#sizes-panel .status').textContent.startsWith('Copied'));
  const untold = (await page.evaluate(() => navigator.clipboard.readText())).trim().split('\r\n');
  assert.match(untold[1], /^-1,-1,,.*,no grade told$/, 'a size is named by a number that is one, and has no figures');
  assert.match(untold[2], /^base,base,\d+,/);

  await panel.getByLabel('Half length').first().fill('4');
  await panel.getByLabel('Half length').first().press('Tab');
  await page.waitForFunction(
    () => new Set([...document.querySelectorAll('#sizes-panel tbody tr')].map((row) => row.cells[1].textContent)).size === 3,
  );
  const lengths = await column(page, 'Cut length');
  assert.ok(lengths[0] < lengths[1] && lengths[1] < lengths[2], lengths.join(' '));

  await panel.locator('summary', { hasText: 'Names of the sizes' }).click();
  await panel.getByLabel('Name of the size').nth(1).fill('=HYPERLINK("x")');
  await panel.getByLabel('Back from size').nth(1).selectOption({ index: 2 });
  await panel.locator('tbody').getByText('=HYPERLINK("x")').waitFor();
  assert.equal((await column(page, 'Cut length')).length, 3);
  await panel.getByRole('button', { name: 'Copy the table' }).click();
  await page.waitForFunction(() => document.querySelector('#sizes-panel .status').textContent.startsWith('Copied'));
  const csv = await page.evaluate(() => navigator.clipboard.readText());
  assert.equal(csv.trim().split('\r\n').length, 4);
  assert.match(csv, /^"?'=HYPERLINK/m, 'no formula leaves the page');

  // What is not read to its end changes nothing in silence; a size may be smaller than the one before.
  for (const [text, refused] of [
    ['4 mm more', true],
    ['--4', true],
    ['4;', true],
    ['−4', false],
    ['–\u00a04', false],
    ['4\u200e', false],
  ]) {
    await panel.getByLabel('Half length').first().fill(text);
    await panel.getByLabel('Half length').first().press('Tab');
    assert.equal((await panel.locator('.error:not([hidden])').count()) > 0, refused, JSON.stringify(text));
  }

  await panel.getByLabel('Half length').first().fill('900');
  await panel.getByLabel('Half length').first().press('Tab');
  await panel.locator('.error:not([hidden])').first().waitFor();
  assert.match(await panel.locator('.error:not([hidden])').first().innerText(), /Accepted/);
  await assertAccessible(page, '#sizes-panel');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('printed, the table stands alone', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'sizes-panel');
  await panel.locator('table').waitFor();
  await page.evaluate(() => {
    globalThis.print = () => {};
  });
  await panel.getByRole('button', { name: 'Print the table' }).click();
  await page.emulateMedia({ media: 'print' });
  const shown = await page.evaluate(() =>
    [...document.body.children].filter((element) => element.getClientRects().length).map(({ className }) => className),
  );
  assert.deepEqual(shown, ['print-only']);
  await context.close();
});

test('a table of sizes stays with its brief: over a reload, when it is kept and opened, and in the file', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'sizes-panel');
  await panel.getByLabel('Sizes above the base').selectOption('3');
  await panel.getByLabel('Half length').first().fill('4');
  await panel.getByLabel('Half length').first().press('Tab');
  await until('each size has its own length', async () => new Set(await column(page, 'Cut length')).size === 5);
  await page.reload();
  await isReady(page);
  await page.locator('#sizes-panel tbody tr').nth(4).waitFor();
  assert.equal(await panel.getByLabel('Half length').first().inputValue(), '4');

  const keep = await unfold(page, 'keep-panel');
  await keep.getByLabel('Name of this brief').fill('Graded');
  await keep.getByRole('button', { name: 'Keep this brief' }).click();
  await keep.getByText('Kept as “Graded”.').first().waitFor();
  await panel.getByLabel('Sizes above the base').selectOption('0');
  await keep.getByText('“Graded” has changes that are not kept.').waitFor();
  await keep.getByRole('button', { name: 'Open Graded' }).click();
  await page.locator('#sizes-panel tbody tr').nth(4).waitFor();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    keep.getByRole('button', { name: 'Save everything as a file' }).click(),
  ]);
  const text = await readFile(await download.path(), 'utf8');
  assert.equal(JSON.parse(text).briefs[0].sizes.larger, 3);

  const other = await profile(site);
  const there = await openPage(other, site.url);
  const inside = await unfold(there, 'keep-panel');
  await inside.getByLabel('Read a file back').setInputFiles({ name: 'kept.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await inside.getByRole('button', { name: 'Open Graded' }).click();
  await unfold(there, 'sizes-panel');
  await there.locator('#sizes-panel tbody tr').nth(4).waitFor();
  assert.equal(await there.inputValue(frontLength), '154');
  assert.deepEqual([...page.problems, ...there.problems], []);
  await context.close();
  await other.close();
});

test('each size may have readings of its own; a facing has its own figures', async () => {
  const context = await profile(site, { permissions: ['clipboard-read', 'clipboard-write'] });
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'sizes-panel');
  await panel.locator('table').waitFor();
  await panel.getByLabel('each size has its own readings').check();
  const first = panel.locator('.row.size').first();
  await first.getByLabel('Half length, front').fill('148');
  await first.getByLabel('Half length, front').press('Tab');
  await until('the first size has its own length', async () => Number.isFinite((await column(page, 'Cut length'))[0]));
  const lengths = await column(page, 'Cut length');
  assert.ok(lengths[0] < lengths[1] && Number.isNaN(lengths[2]), lengths.join(' '));
  assert.equal(await panel.locator('tbody').getByText('no readings told').count(), 1, 'the size of which nothing is told');
  assert.doesNotMatch(await panel.innerText(), /null|undefined|\[object/);
  // A size has a head of its own: a larger one leaves less to spare.
  const spare = await column(page, 'To spare over the head');
  await first.getByLabel('Head girth').fill('575');
  await first.getByLabel('Head girth').press('Tab');
  await until('the head of the first size is its own', async () => (await column(page, 'To spare over the head'))[0] === spare[0] - 10);

  await page.locator('label.pick[for=finish-facing]').click();
  await page.waitForFunction(() => document.querySelector('#sizes-panel thead').textContent.includes('Front facing, neck edge'));
  const edges = await column(page, 'Front facing, outer edge');
  assert.ok(edges[0] > 100 && edges[0] < edges[1] && Number.isNaN(edges[2]), edges.join(' '));
  await page.selectOption('#language', 'es');
  await page.waitForFunction(() => document.documentElement.lang === 'es');
  await panel.locator('table').waitFor();
  await panel.locator('.buttons button').first().click();
  await page.waitForFunction(() => document.querySelector('#sizes-panel .status').textContent !== '');
  assert.match(await page.evaluate(() => navigator.clipboard.readText()), /;/, 'columns as a Spanish spreadsheet reads them');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a strip that is cut twice, as between a point in front and one at the back, says so', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  for (const half of ['front', 'back']) await page.check(`#${half}-way-drafted`, { force: true });
  for (const half of ['front', 'back']) await page.check(`#${half}-shape-v`, { force: true });
  const panel = await unfold(page, 'sizes-panel');
  await panel.getByRole('columnheader', { name: 'Cut length, each of two' }).waitFor();
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('on a phone the cut length stands first, beside the size’s name, and the table says that there is more to the side', async () => {
  const context = await profile(site, { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'sizes-panel');
  await panel.locator('table').waitFor();
  const heads = await panel.locator('thead th').allInnerTexts();
  assert.deepEqual(heads.slice(0, 3), ['Size', 'Cut length', 'Cut width']);
  const sees = await panel.locator('.scroll').evaluate((scroll) => {
    const [name, length] = [...scroll.querySelectorAll('tbody tr:nth-child(2) > *')].map((cell) => cell.getBoundingClientRect());
    const place = scroll.getBoundingClientRect();
    const seen = length.right <= place.right;
    scroll.scrollLeft = scroll.scrollWidth;
    return {
      seen,
      more: scroll.scrollWidth > scroll.clientWidth,
      stays: Math.abs(scroll.querySelector('tbody tr:nth-child(2) th').getBoundingClientRect().left - name.left) < 2,
    };
  });
  assert.deepEqual(sees, { seen: true, more: true, stays: true }, 'the cut length without scrolling, the name all along');
  assert.ok(await panel.getByText('More columns lie to the side').isVisible());
  await page.setViewportSize({ width: 1280, height: 900 });
  assert.equal(await panel.getByText('More columns lie to the side').isVisible(), false);
  assert.deepEqual(page.problems, []);
  await context.close();
});
