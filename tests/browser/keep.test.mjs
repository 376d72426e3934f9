// What is kept: the file it is handed out in, and how such a file is taken in.
// Then the panel, in a browser.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { start } from './harness.mjs';
import { assertAccessible, frontLength, isReady, openPage, profile, type, unfold } from './keep-site.mjs';
import { importModule } from './modules.mjs';

const { ImportError, canonical, exportText, freeName, mergePlan, readExport, unionOfRecords } = await importModule('web/page/keep/merge.js');
const { toCsv } = await importModule('web/page/keep/csv.js');

const brief = (title) => ({ schema: 'lieflat.brief', version: 1, title });
const entry = (id, name, content = brief(name)) => ({ id, name, created: '2026-01-01T00:00:00Z', changed: '2026-01-02T00:00:00Z', revision: 3, brief: content });
const knit = (id, name, stretch = 50) => ({ id, name, revision: 1, knit: { name, crosswise: { percent: { stretch_percent: stretch } } } });
const draft = (id, title) => ({ id, changed: '2026-01-02T00:00:00Z', brief: brief(title) });
const nothing = { briefs: [], knits: [], drafts: [] };

function ids() {
  let count = 0;
  return () => `new-${++count}`;
}

/** What is kept after a file was taken in. */
function merged(kept, file) {
  const { add } = mergePlan(kept, readExport(file), ids());
  return Object.fromEntries(Object.keys(kept).map((kind) => [kind, [...kept[kind], ...add[kind]]]));
}

const file = (kept) => exportText({ unread: [], ...kept }, '2026-02-01T00:00:00Z');

test('a file taken in where nothing is kept brings everything', () => {
  const kept = { briefs: [entry('a', 'Tarn'), entry('b', 'Fell')], knits: [knit('k', 'Rib')], drafts: [draft('d', 'half done')] };
  const got = merged(nothing, file(kept));
  assert.deepEqual(got.briefs.map(({ id, name, brief: content }) => [id, name, content]), kept.briefs.map(({ id, name, brief: content }) => [id, name, content]));
  assert.equal(got.knits.length, 1);
  assert.equal(got.drafts.length, 1);
});

test('taken in twice, it adds nothing the second time', () => {
  const kept = { briefs: [entry('a', 'Tarn')], knits: [knit('k', 'Rib')], drafts: [draft('d', 'x')] };
  const { add, skipped, renamed } = mergePlan(kept, readExport(file(kept)), ids());
  assert.deepEqual([add.briefs, add.knits, add.drafts], [[], [], []]);
  assert.equal(skipped, 3);
  assert.deepEqual(renamed, []);
});

test('a clash is kept beside under a new name, and nothing that was there changes', () => {
  const mine = { briefs: [entry('a', 'Tarn', brief('mine'))], knits: [knit('k', 'Rib', 40)], drafts: [] };
  const before = canonical(mine);
  const theirs = { briefs: [entry('a', 'Tarn', brief('theirs'))], knits: [knit('q', 'Rib', 70)], drafts: [] };
  const { add, renamed } = mergePlan(mine, readExport(file(theirs)), ids());
  assert.equal(canonical(mine), before);
  assert.equal(add.briefs[0].name, 'Tarn (2)');
  assert.notEqual(add.briefs[0].id, 'a', 'an id that is taken is not used again');
  assert.equal(add.briefs[0].brief.title, 'theirs');
  assert.equal(add.knits[0].name, 'Rib (2)');
  assert.deepEqual(renamed, [{ from: 'Tarn', to: 'Tarn (2)' }, { from: 'Rib', to: 'Rib (2)' }]);
});

test('whatever two places kept, nothing of either is lost by merging', () => {
  let state = 7;
  const roll = (n) => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) % n;
  for (let round = 0; round < 200; round++) {
    const some = () => ({
      briefs: Array.from({ length: roll(6) }, (_, i) => entry(`b${roll(4)}-${i}`, `name ${roll(3)}`, brief(`title ${roll(3)}`))),
      knits: Array.from({ length: roll(4) }, (_, i) => knit(`k${roll(3)}-${i}`, `knit ${roll(2)}`, 40 + roll(3))),
      drafts: Array.from({ length: roll(3) }, (_, i) => draft(`d${i}`, `draft ${roll(3)}`)),
    });
    const [mine, theirs] = [some(), some()];
    const got = merged(mine, file(theirs));
    for (const kind of ['briefs', 'knits', 'drafts']) {
      const content = (one) => canonical(one.brief ?? one.knit);
      const all = got[kind].map(content);
      for (const one of [...mine[kind], ...theirs[kind]]) assert.ok(all.includes(content(one)), `${kind}: ${canonical(one)}`);
      assert.equal(new Set(got[kind].map(({ id }) => id)).size, new Set(mine[kind].map(({ id }) => id)).size + got[kind].length - mine[kind].length, 'each id once');
      const added = got[kind].slice(mine[kind].length);
      if (kind !== 'drafts') for (const { name } of added) assert.equal(got[kind].filter((one) => one.name === name).length, 1, `${name} once`);
    }
  }
});

test('files that are none are named as what they are', () => {
  const code = (text) => {
    try {
      readExport(text);
      return 'read';
    } catch (error) {
      assert.ok(error instanceof ImportError);
      return error.code;
    }
  };
  const good = file(nothing);
  assert.equal(code(good), 'read');
  assert.equal(code(good.slice(0, -5)), 'not_json');
  assert.equal(code(''), 'not_json');
  assert.equal(code('[]'), 'not_ours');
  assert.equal(code('{"format":"another"}'), 'not_ours');
  assert.equal(code(JSON.stringify({ format: 'lieflat.kept', version: 2 })), 'newer');
  assert.equal(code(JSON.stringify({ format: 'lieflat.kept', version: '1' })), 'not_ours');
  assert.equal(code(' '.repeat(20_000_001)), 'too_large');
});

test('entries that cannot be read are counted and left', () => {
  const odd = [null, 5, {}, { id: 'x' }, { id: 'x', name: 'n', brief: { schema: 'other' } }, { id: '', name: 'n', brief: brief('t') }];
  const { add, unread } = mergePlan(nothing, readExport(JSON.stringify({ format: 'lieflat.kept', version: 1, briefs: [...odd, entry('a', 'Tarn')], knits: 'none', drafts: [{ id: 1 }] })), ids());
  assert.equal(unread, odd.length + 1);
  assert.deepEqual(add.briefs.map(({ name }) => name), ['Tarn']);
});

test('names get the least number that is free', () => {
  assert.equal(freeName('Tarn', new Set()), 'Tarn');
  assert.equal(freeName('Tarn', new Set(['Tarn', 'Tarn (3)'])), 'Tarn (2)');
  assert.equal(freeName('x'.repeat(500), new Set()).length, 200);
});

test('records come together once each, in whatever order their fields stand', () => {
  const one = { finish: 'band', strip_mm: 430, outcome: 'lay_flat' };
  const same = { outcome: 'lay_flat', strip_mm: 430, finish: 'band' };
  assert.deepEqual(unionOfRecords([one], [same, { ...one, strip_mm: 431 }]), [one, { ...one, strip_mm: 431 }]);
  assert.deepEqual(unionOfRecords(undefined, undefined), []);
});

test('a table never runs in a spreadsheet', () => {
  const rows = [['=1+1', '+1', '-1', '@x', '\t=x', ' =x', '|cmd', '%x', 'plain', 'a,b', 'a"b', 'two\nlines', -12.5, 3]];
  const safe = ["'=1+1", "'+1", "'-1", "'@x", "'\t=x", "' =x", "'|cmd", "'%x", 'plain', '"a,b"', '"a""b"', '"two\nlines"', '-12.5', '3'];
  assert.equal(toCsv(rows, 'en'), `${safe.join(',')}\r\n`);
  assert.equal(toCsv([['a;b', 'a,b', 1.5]], 'es'), '"a;b";a,b;1,5\r\n');
});

// ---- the panel, in a browser

let site;

before(async () => {
  site = await start();
});

after(() => site?.close());

async function keepAs(page, name) {
  const panel = await unfold(page, 'keep-panel');
  await panel.getByLabel('Name of this brief').fill(name);
  const asNew = panel.getByRole('button', { name: 'Keep as a new brief' });
  await ((await asNew.count()) ? asNew : panel.getByRole('button', { name: 'Keep this brief' })).click();
  await page.waitForFunction(() => document.querySelector('#keep-panel .status').textContent.includes('ept'));
  return panel;
}

const names = (page) => page.locator('#keep-panel .kept-list').first().locator('.entry-name').allInnerTexts();

test('work in progress outlives a reload at once, and a tab that is gone', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await page.fill(frontLength, '161');
  await page.locator(frontLength).press('Tab');
  await page.waitForTimeout(350);
  await page.reload();
  await isReady(page);
  await page.waitForFunction((field) => document.querySelector(field).value === '161', frontLength);

  await type(page, '163');
  await page.close({ runBeforeUnload: false });
  const next = await openPage(context, site.url);
  await next.waitForFunction((field) => document.querySelector(field).value === '163', frontLength);
  assert.deepEqual(next.problems, []);
  await context.close();
});

test('two tabs each keep their own work in progress', async () => {
  const context = await profile(site);
  const one = await openPage(context, site.url);
  await type(one, '158');
  const two = await openPage(context, site.url);
  assert.equal(await two.inputValue(frontLength), '154', 'a second tab starts afresh while the first is open');
  await type(two, '166');
  await Promise.all([one.reload(), two.reload()]);
  await Promise.all([isReady(one), isReady(two)]);
  await one.waitForFunction((field) => document.querySelector(field).value === '158', frontLength);
  await two.waitForFunction((field) => document.querySelector(field).value === '166', frontLength);
  await context.close();
});

test('briefs are kept, searched, renamed, duplicated, deleted and brought back', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await keepAs(page, 'Tarn');
  await type(page, '160');
  const panel = await keepAs(page, 'Tarn');
  assert.deepEqual((await names(page)).sort(), ['Tarn', 'Tarn (2)'], 'no name twice');
  await panel.getByRole('button', { name: 'Open Tarn', exact: true }).click();
  await page.waitForFunction((field) => document.querySelector(field).value === '154', frontLength);

  await panel.getByRole('button', { name: 'Rename Tarn (2)' }).click();
  await panel.getByLabel('New name').fill('Fell <b>');
  await page.keyboard.press('Enter');
  await panel.getByText('Fell <b>', { exact: true }).waitFor();
  await panel.getByRole('button', { name: 'Duplicate Tarn', exact: true }).click();
  await panel.getByText('Tarn (2)', { exact: true }).waitFor();

  await panel.getByRole('button', { name: 'Delete Fell <b>' }).click();
  await panel.getByText('“Fell <b>” is deleted.').waitFor();
  assert.ok(!(await names(page)).includes('Fell <b>'));
  const undo = panel.getByRole('button', { name: 'Undo: bring back Fell <b>' });
  assert.ok(await undo.evaluate((element) => element === document.activeElement), 'the way back has the focus');
  await page.keyboard.press('Enter');
  await panel.getByText('Fell <b>', { exact: true }).waitFor();

  for (let i = 0; i < 4; i++) {
    const before = (await names(page)).length;
    await panel.getByRole('button', { name: 'Duplicate Tarn', exact: true }).click();
    await page.waitForFunction((n) => document.querySelector('#keep-panel .kept-list .entries').children.length > n, before);
  }
  await panel.getByLabel('Search the kept briefs').fill('FÉLL');
  assert.deepEqual(await names(page), ['Fell <b>']);
  await assertAccessible(page, '#keep-panel');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('everything goes out as one file and comes back in another browser', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const panel = await keepAs(page, 'Tarn');
  await panel.getByRole('button', { name: 'Keep the garment’s knit' }).click();
  await page.waitForFunction(() => document.querySelectorAll('#keep-panel .entries li').length >= 2);
  const [download] = await Promise.all([page.waitForEvent('download'), panel.getByRole('button', { name: 'Save everything as a file' }).click()]);
  const path = await download.path();
  const text = await readFile(path, 'utf8');
  assert.equal(JSON.parse(text).format, 'lieflat.kept');

  const other = await profile(site);
  const there = await openPage(other, site.url);
  const inside = await unfold(there, 'keep-panel');
  const give = (content) => inside.getByLabel('Read a file back').setInputFiles({ name: 'kept.json', mimeType: 'application/json', buffer: Buffer.from(content) });
  await give(text);
  await there.waitForFunction(() => document.querySelector('#keep-panel .status').textContent.startsWith('From the file: '));
  assert.ok((await names(there)).includes('Tarn'));
  await give(text);
  await there.waitForFunction(() => document.querySelector('#keep-panel .status').textContent.includes('From the file: 0 new'));
  await give('{ not json');
  await there.waitForFunction(() => document.querySelector('#keep-panel .status').textContent.includes('could not be read'));
  await give(JSON.stringify({ format: 'lieflat.kept', version: 99 }));
  await there.waitForFunction(() => document.querySelector('#keep-panel .status').textContent.includes('newer version'));
  assert.ok((await names(there)).includes('Tarn'), 'nothing was changed by files that are none');
  await context.close();
  await other.close();
});

test('a brief that two tabs change is kept twice, not overwritten', async () => {
  const context = await profile(site);
  const one = await openPage(context, site.url);
  await keepAs(one, 'Tarn');
  const two = await openPage(context, site.url);
  const panel = await unfold(two, 'keep-panel');
  await panel.getByRole('button', { name: 'Open Tarn', exact: true }).click();
  await type(two, '170');
  await panel.getByRole('button', { name: 'Keep the changes' }).click();
  await two.waitForFunction(() => document.querySelector('#keep-panel .status').textContent.startsWith('Kept'));
  await type(one, '150');
  await one.locator('#keep-panel').getByRole('button', { name: 'Keep the changes' }).click();
  await one.waitForFunction(() => document.querySelector('#keep-panel .status').textContent.includes('Another tab'));
  assert.deepEqual((await names(one)).sort(), ['Tarn', 'Tarn (2)']);
  await context.close();
});

const faults = {
  'storage is refused': [() => Object.defineProperty(globalThis, 'indexedDB', { get() { throw new DOMException('no', 'SecurityError'); } }), /does not let the page store/],
  'the database is damaged': [() => { IDBFactory.prototype.open = () => { throw new DOMException('broken', 'UnknownError'); }; }, /storage has failed/],
  'the disk is full': [() => { IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError'); }; }, /storage is full/],
};

for (const [name, [fault, said]] of Object.entries(faults)) {
  test(`nothing is lost while the page is open when ${name}`, async () => {
    const context = await profile(site);
    await context.addInitScript(fault);
    const page = await openPage(context, site.url);
    await type(page, '159');
    const panel = await keepAs(page, 'Tarn');
    await page.waitForFunction((text) => new RegExp(text).test(document.querySelector('#keep-panel .trouble').textContent), said.source);
    assert.match(await page.locator('#notices').innerText(), said);
    assert.deepEqual(await names(page), ['Tarn']);
    const [download] = await Promise.all([page.waitForEvent('download'), panel.getByRole('button', { name: 'Save everything as a file' }).click()]);
    const kept = JSON.parse(await readFile(await download.path(), 'utf8'));
    assert.equal(kept.briefs[0].brief.neckline.front.outline.measured.half_length_mm, 159, 'the file has it');
    await assertAccessible(page, '#keep-panel');
    await context.close();
  });
}

test('what a newer version stored is left alone, and said', async () => {
  const context = await profile(site);
  const seed = await openPage(context, site.url);
  await keepAs(seed, 'Tarn');
  await seed.goto(`${site.url}favicon.svg`);
  await seed.evaluate(() => new Promise((resolve, reject) => {
    const asked = indexedDB.open('lieflat', 7);
    asked.onsuccess = () => resolve(asked.result.close());
    asked.onerror = () => reject(asked.error);
  }));
  const page = await openPage(context, site.url);
  await page.waitForFunction(() => document.querySelector('#notices').textContent.includes('newer version'));
  const count = await page.evaluate(() => new Promise((resolve) => {
    indexedDB.open('lieflat').onsuccess = ({ target }) => {
      target.result.transaction('briefs').objectStore('briefs').count().onsuccess = (event) => resolve(event.target.result);
    };
  }));
  assert.equal(count, 1, 'it is still there');
  await context.close();
});

test('an open page gives way to a newer version of the database and says so', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '157');
  const other = await openPage(context, `${site.url}favicon.svg`, { ready: false });
  await other.evaluate(() => new Promise((resolve, reject) => {
    const asked = indexedDB.open('lieflat', 8);
    asked.onsuccess = () => resolve(asked.result.close());
    asked.onerror = () => reject(asked.error);
    asked.onblocked = () => reject(new Error('the page does not let go'));
  }));
  await page.waitForFunction(() => document.querySelector('#notices').textContent.includes('another tab'));
  assert.equal(await page.inputValue(frontLength), '157');
  await context.close();
});

test('a person who is quicker than the store keeps what they began, and the earlier work too', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '158');
  await page.close();
  // The page comes to its panels late: the person has typed by then.
  await context.addInitScript(() => {
    globalThis.requestIdleCallback = (work) => setTimeout(work, 2500);
  });
  const next = await openPage(context, site.url, { ready: false });
  await next.locator(frontLength).waitFor();
  await type(next, '169');
  await isReady(next);
  await next.waitForTimeout(800);
  assert.equal(await next.inputValue(frontLength), '169', 'what was typed stays');
  const panel = await unfold(next, 'keep-panel');
  await panel.getByRole('heading', { name: 'Unfinished work' }).waitFor();
  await panel.getByRole('button', { name: /^Go on with/ }).first().click();
  await next.waitForFunction((field) => document.querySelector(field).value === '158', frontLength);
  await context.close();
});
