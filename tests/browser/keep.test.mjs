// What is kept, in the panel of a browser: work that outlives a reload, two tabs, full disks, clocks that are set back.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { entry, file, knit, nothing } from '../page/kept-entries.mjs';
import { importModule } from '../page/modules.mjs';
import { quiet, start } from './harness.mjs';
import { assertAccessible, frontLength, isReady, openPage, plant, profile, type, unfold, written } from './keep-site.mjs';

const { exportText } = await importModule('web/page/keep/merge.js');

let site;

before(async () => {
  site = await start();
});

after(() => site?.close());

async function keepAs(page, name) {
  const panel = await unfold(page, 'keep-panel');
  await panel.getByLabel('Name of this brief').fill(name);
  const before = (await names(page)).length;
  const asNew = panel.getByRole('button', { name: 'Keep as a new brief' });
  await ((await asNew.count()) ? asNew : panel.getByRole('button', { name: 'Keep this brief' })).click();
  await page.waitForFunction((n) => document.querySelectorAll('#keep-panel .kept-list')[0].querySelectorAll('li').length > n, before);
  return panel;
}

const names = (page) => page.locator('#keep-panel .kept-list').first().locator('.entry-name').allInnerTexts();

test('work in progress outlives a reload at once, and a tab that is gone', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await page.fill(frontLength, '161');
  await page.locator(frontLength).press('Tab');
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

  // Two deletions in a row: each has its way back.
  for (const name of ['Fell <b>', 'Tarn (2)']) {
    await panel.getByRole('button', { name: `Delete ${name}`, exact: true }).click();
    await panel.getByText(`“${name}” is deleted.`).waitFor();
  }
  for (const name of ['Tarn (2)', 'Fell <b>']) {
    await panel.getByRole('button', { name: `Undo: bring back ${name}`, exact: true }).click();
    await panel.getByText(`“${name}” is back.`).waitFor();
  }
  assert.deepEqual((await names(page)).sort(), ['Fell <b>', 'Tarn', 'Tarn (2)']);

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
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    panel.getByRole('button', { name: 'Save everything as a file' }).click(),
  ]);
  const path = await download.path();
  const text = await readFile(path, 'utf8');
  assert.equal(JSON.parse(text).format, 'lieflat.kept');

  const other = await profile(site);
  const there = await openPage(other, site.url);
  const inside = await unfold(there, 'keep-panel');
  const give = (content) =>
    inside.getByLabel('Read a file back').setInputFiles({ name: 'kept.json', mimeType: 'application/json', buffer: Buffer.from(content) });
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
  'storage is refused': [
    () =>
      Object.defineProperty(globalThis, 'indexedDB', {
        get() {
          throw new DOMException('no', 'SecurityError');
        },
      }),
    /does not let the page store/,
  ],
  'the database is damaged': [
    () => {
      IDBFactory.prototype.open = () => {
        throw new DOMException('broken', 'UnknownError');
      };
    },
    /storage has failed/,
  ],
  'the disk is full': [
    () => {
      IDBObjectStore.prototype.put = () => {
        throw new DOMException('full', 'QuotaExceededError');
      };
    },
    /storage is full/,
  ],
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
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      panel.getByRole('button', { name: 'Save everything as a file' }).click(),
    ]);
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
  await seed.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const asked = indexedDB.open('lieflat', 7);
        asked.onsuccess = () => resolve(asked.result.close());
        asked.onerror = () => reject(asked.error);
      }),
  );
  const page = await openPage(context, site.url);
  await page.waitForFunction(() => document.querySelector('#notices').textContent.includes('newer version'));
  const count = await page.evaluate(
    () =>
      new Promise((resolve) => {
        indexedDB.open('lieflat').onsuccess = ({ target }) => {
          target.result.transaction('briefs').objectStore('briefs').count().onsuccess = (event) => resolve(event.target.result);
        };
      }),
  );
  assert.equal(count, 1, 'it is still there');
  await context.close();
});

test('an open page gives way to a newer version of the database and says so', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '157');
  const other = await openPage(context, `${site.url}favicon.svg`, { ready: false });
  await other.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const asked = indexedDB.open('lieflat', 8);
        asked.onsuccess = () => resolve(asked.result.close());
        asked.onerror = () => reject(asked.error);
        asked.onblocked = () => reject(new Error('the page does not let go'));
      }),
  );
  await page.waitForFunction(() => document.querySelector('#notices').textContent.includes('another tab'));
  assert.equal(await page.inputValue(frontLength), '157');
  await context.close();
});

/** A page that comes to what keeps the work late. */
const late = () => {
  globalThis.requestIdleCallback = (work) => setTimeout(work, 2500);
};

test('a returning person sees their own work from the first moment, and goes on with it however quick they are', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '158');
  await page.close();
  await context.addInitScript(late);
  const next = await openPage(context, site.url, { ready: false });
  await next.waitForFunction(() => document.documentElement.classList.contains('is-ready'));
  assert.equal(await next.inputValue(frontLength), '158', 'before anything that keeps it has come');
  assert.equal(await next.locator('#keep-panel > details').count(), 0);
  await type(next, '169');
  await isReady(next);
  await written(next, '169');
  assert.equal(await next.inputValue(frontLength), '169', 'what was typed stays');
  await next.click('#undo');
  assert.equal(await next.inputValue(frontLength), '158', 'and the earlier work is a step back');
  const panel = await unfold(next, 'keep-panel');
  assert.ok(await panel.getByRole('heading', { name: 'Unfinished work' }).isHidden(), 'it is one work, not two');
  assert.deepEqual(next.problems, []);
  await context.close();
});

test('a person who is quicker than the store keeps what they began, and the earlier work too', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '158');
  await page.close();
  // Nothing but the database remembers, and it answers late: the person has typed by then.
  await context.addInitScript(() => {
    localStorage.clear();
    localStorage.setItem('lieflat.unit', 'mm');
  });
  await context.addInitScript(late);
  const next = await openPage(context, site.url, { ready: false });
  await next.locator(frontLength).waitFor();
  await type(next, '169');
  await isReady(next);
  await written(next, '169');
  assert.equal(await next.inputValue(frontLength), '169', 'what was typed stays');
  const panel = await unfold(next, 'keep-panel');
  await panel.getByRole('heading', { name: 'Unfinished work' }).waitFor();
  await panel
    .getByRole('button', { name: /^Go on with/ })
    .first()
    .click();
  await next.waitForFunction((field) => document.querySelector(field).value === '158', frontLength);
  await next.close();

  // The same with a start of one's own, of which no plan is made yet.
  const third = await openPage(context, site.url, { ready: false });
  await third.waitForFunction(() => document.documentElement.classList.contains('is-ready'));
  await third.click('#start-own');
  await third.fill(frontLength, '147');
  await isReady(third);
  await written(third, '147');
  assert.equal(await third.inputValue(frontLength), '147');
  assert.equal(await third.inputValue('#front-depth'), '', 'what is not yet read stays empty');
  assert.deepEqual([...next.problems, ...third.problems], []);
  await context.close();
});

test('what cannot be read, and a start of one’s own that is half filled in, outlive a reload', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '15x4');
  await page.fill('#front-depth', '117');
  await page.reload();
  await isReady(page);
  assert.equal(await page.inputValue(frontLength), '15x4');
  assert.equal(await page.inputValue('#front-depth'), '117', 'what was typed a moment before');
  await page.locator('#problems a').first().waitFor();
  await type(page, '155');
  await page.waitForFunction(() => document.querySelector('#problems').hidden);

  await page.click('#start-own');
  await type(page, '149');
  await page.locator('label.pick[for=finish-tape]').click();
  await page.reload();
  await page.waitForFunction(() => document.documentElement.classList.contains('is-fresh'));
  await isReady(page);
  assert.equal(await page.inputValue(frontLength), '149');
  assert.equal(await page.inputValue('#front-depth'), '', 'nothing of the example comes back');
  assert.ok(await page.locator('#finish-tape').isChecked());
  assert.ok(await page.locator('#needed').isVisible());
  // The same from the database alone, in a tab of its own.
  await page.close();
  await context.addInitScript(() => {
    localStorage.clear();
  });
  const next = await openPage(context, site.url);
  await next.waitForFunction((field) => document.querySelector(field).value === '149', frontLength);
  assert.equal(await next.inputValue('#front-depth'), '');
  assert.deepEqual([...page.problems, ...next.problems], []);
  await context.close();
});

test('a kept knit is used in a half filled form without a reading of the example', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'keep-panel');
  await page.fill('#garment-crosswise-stretched', '171');
  await type(page, '171', '#garment-crosswise-stretched');
  await page.fill('#garment-name', '');
  await panel.getByRole('button', { name: 'Keep the garment’s knit' }).click();
  await panel.getByText('Give the knit a name first', { exact: false }).waitFor();
  assert.equal(await page.evaluate(() => document.activeElement.id), 'garment-name', 'a knit has its name in one place');
  await type(page, 'Beck rib', '#garment-name');
  await panel.getByRole('button', { name: 'Keep the garment’s knit' }).click();
  await panel.locator('.knit-keeper').getByText('Kept as “Beck rib”.').waitFor();
  await panel.getByRole('button', { name: 'Use Beck rib for the garment' }).waitFor();
  const use = await panel.getByRole('button', { name: 'Use Beck rib for the garment' }).elementHandle();
  await page.click('#start-own');
  await type(page, '149');
  assert.ok(await use.evaluate((button) => button.isConnected), 'a draft is written, and the list is not drawn anew under a finger');
  await panel.getByRole('button', { name: 'Use Beck rib for the garment' }).click();
  assert.equal(await page.inputValue('#garment-crosswise-stretched'), '171');
  assert.equal(await page.inputValue('#front-depth'), '', 'still to be read');
  assert.equal(await page.inputValue(frontLength), '149');
  await panel.getByRole('button', { name: 'Use Beck rib for the strip' }).click();
  assert.equal(await page.inputValue('#strip-crosswise-stretched'), '171');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('what is kept but is no brief of this version is left alone and said, and the page works', async () => {
  const context = await profile(site);
  const seed = await openPage(context, `${site.url}favicon.svg`, { ready: false });
  const stub = { schema: 'lieflat.brief', version: 1 };
  const later = { ...JSON.parse(await readFile(new URL('../briefs/band-round.json', import.meta.url), 'utf8')), version: 2 };
  await plant(seed, [
    ['briefs', { id: 'stub', name: 'Stub', changed: '2030-01-01T00:00:00Z', revision: 1, brief: stub }],
    ['briefs', { id: 'later', name: 'Later', changed: '2030-01-01T00:00:00Z', revision: 1, brief: later }],
    ['briefs', { id: 'none', odd: true }],
    ['knits', { id: 'knit', name: 'No knit', changed: '2030-01-01T00:00:00Z', revision: 1, knit: { crosswise: { readings: 'long' } } }],
    ['drafts', { id: 'draft', changed: '2030-01-01T00:00:00Z', brief: stub }],
    [
      'drafts',
      {
        id: 'wild',
        changed: '2029-01-01T00:00:00Z',
        brief: { ...later, version: 1 },
        unplanned: { fresh: 1, sheet: { edges: 1e9, finish: 'cape' }, texts: { nowhere: 'x' } },
      },
    ],
  ]);
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'keep-panel');
  assert.match(await panel.locator('.trouble').innerText(), /1 kept entry cannot be read/);
  for (const name of ['Open Stub', 'Open Later', 'Use No knit for the garment']) {
    await panel.getByRole('button', { name }).click();
    await panel.getByText('This version of the page cannot read it.', { exact: false }).waitFor();
    await panel.getByRole('button', { name: 'Keep this brief' }).focus();
  }
  await type(page, '156');
  assert.match(await page.locator('#ticket').innerText(), /\d+\smm × \d+\smm/);
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    panel.getByRole('button', { name: 'Save everything as a file' }).click(),
  ]);
  const kept = JSON.parse(await readFile(await download.path(), 'utf8'));
  assert.deepEqual(kept.briefs.map(({ id }) => id).sort(), ['later', 'stub']);
  assert.equal(kept.unread[0].entry.id, 'none');
  assert.ok(kept.drafts.some(({ id }) => id === 'draft'));
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a file with parts that this version does not know is taken in whole, and said', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const given = JSON.parse(await readFile(new URL('../briefs/band-round.json', import.meta.url), 'utf8'));
  given.finish.band.piping_mm = 3;
  const text = exportText({ ...nothing, unread: [], briefs: [entry('p', 'Piped', given)] }, '2026-02-01T00:00:00Z');
  const panel = await unfold(page, 'keep-panel');
  await panel.getByLabel('Read a file back').setInputFiles({ name: 'kept.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await panel.getByText('1 entry has parts that this version does not know', { exact: false }).waitFor();
  await panel.getByRole('button', { name: 'Open Piped' }).click();
  await page.locator('[data-notice=unknown]').getByText('finish.band.piping_mm', { exact: false }).waitFor();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    panel.getByRole('button', { name: 'Save everything as a file' }).click(),
  ]);
  assert.equal(JSON.parse(await readFile(await download.path(), 'utf8')).briefs[0].brief.finish.band.piping_mm, 3, 'nothing is dropped');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('the browser is asked to keep things for good once there is something to lose, and not before', async () => {
  const context = await profile(site);
  await context.addInitScript(() => {
    globalThis.asked = 0;
    navigator.storage.persisted = async () => false;
    navigator.storage.persist = async () => {
      globalThis.asked += 1;
      return true;
    };
  });
  const page = await openPage(context, site.url);
  await quiet(page, 600); // longer than the pause before a draft is written
  assert.equal(await page.evaluate(() => globalThis.asked), 0);
  await type(page, '161');
  await page.waitForFunction(() => globalThis.asked === 1);
  await type(page, '162');
  assert.equal(await page.evaluate(() => globalThis.asked), 1, 'once');
  await context.close();
});

test('a disk that has room again takes what was held back', async () => {
  const context = await profile(site);
  await context.addInitScript(() => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...given) {
      if (globalThis.isFull) throw new DOMException('full', 'QuotaExceededError');
      return put.apply(this, given);
    };
  });
  const page = await openPage(context, site.url);
  await page.evaluate(() => {
    globalThis.isFull = true;
  });
  await keepAs(page, 'Tarn');
  await page.locator('[data-notice=trouble]').waitFor();
  await page.evaluate(() => {
    globalThis.isFull = false;
  });
  await type(page, '163');
  await page.locator('[data-notice=trouble]').waitFor({ state: 'detached' });
  await page.close();
  const next = await openPage(context, site.url);
  await unfold(next, 'keep-panel');
  assert.deepEqual(await names(next), ['Tarn'], 'it was written after all');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('what was held back while the disk was full is written when there is room, whatever its id', async () => {
  const context = await profile(site);
  await context.addInitScript(() => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...given) {
      // Full in mid-write: some go in, the next does not.
      if (globalThis.room !== undefined && globalThis.room-- <= 0) throw new DOMException('full', 'QuotaExceededError');
      return put.apply(this, given);
    };
  });
  const seed = await openPage(context, `${site.url}favicon.svg`, { ready: false });
  const given = JSON.parse(await readFile(new URL('../briefs/band-round.json', import.meta.url), 'utf8'));
  await plant(seed, [['briefs', entry('a/b/c', 'Slashed', given)]]);
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'keep-panel');
  await page.evaluate(() => {
    globalThis.room = 0;
  });
  for (const [from, to] of [
    ['Slashed', 'Slashed once'],
    ['Slashed once', 'Slashed twice'],
  ]) {
    await panel.getByRole('button', { name: `Rename ${from}`, exact: true }).click();
    await panel.getByLabel('New name').fill(to);
    await page.keyboard.press('Enter');
    await panel.getByText(`is now called “${to}”`, { exact: false }).waitFor();
  }
  const text = file({
    briefs: Array.from({ length: 20 }, (_, i) => entry(`f${i}`, `From the file ${i}`, given)),
    knits: [knit('k', 'Rib')],
    drafts: [],
  });
  await page.evaluate(() => {
    globalThis.room = 7;
  });
  await panel.getByLabel('Read a file back').setInputFiles({ name: 'kept.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await panel.getByText('From the file: 21 new', { exact: false }).waitFor();
  await page.locator('[data-notice=trouble]').waitFor();
  assert.equal((await names(page)).length, 21, 'all of it is here');
  await page.evaluate(() => {
    globalThis.room = undefined;
  });
  await type(page, '163');
  await page.locator('[data-notice=trouble]').waitFor({ state: 'detached' });
  await stored(page, 'briefs', 21);
  await page.close();
  const next = await openPage(context, site.url);
  await unfold(next, 'keep-panel');
  const there = await names(next);
  assert.equal(there.length, 21);
  assert.deepEqual(
    there.filter((name) => name.startsWith('Slashed')),
    ['Slashed twice'],
    'the new name too, once',
  );
  assert.deepEqual([...page.problems, ...next.problems], []);
  await context.close();
});

/** Waits until the database holds so many entries of a kind. */
const stored = (page, kind, count) =>
  page.waitForFunction(
    ([store, wanted]) => {
      indexedDB.open('lieflat').onsuccess = ({ target }) => {
        target.result.transaction(store).objectStore(store).count().onsuccess = (event) => {
          globalThis.storedCount = event.target.result;
          target.result.close();
        };
      };
      return globalThis.storedCount === wanted;
    },
    [kind, count],
    { polling: 100 },
  );

test('a brief that another tab deleted is not renamed without a word, and its name is not lost', async () => {
  const context = await profile(site);
  const one = await openPage(context, site.url);
  const panel = await keepAs(one, 'Tarn');
  const two = await openPage(context, site.url);
  const other = await unfold(two, 'keep-panel');
  await panel.getByRole('button', { name: 'Rename Tarn' }).click();
  await panel.getByLabel('New name').fill('Fell');
  await other.getByRole('button', { name: 'Delete Tarn' }).click();
  await other.getByText('“Tarn” is deleted.').waitFor();
  await one.keyboard.press('Enter');
  await panel.getByText('“Tarn” was deleted in another tab meanwhile', { exact: false }).waitFor();
  assert.deepEqual(await names(one), []);
  assert.ok(
    await panel.getByRole('button', { name: 'Undo: bring back Fell' }).evaluate((element) => element === document.activeElement),
    'the way back has the focus',
  );
  await one.keyboard.press('Enter');
  await panel.getByText('“Fell” is back.').waitFor();
  assert.deepEqual(await names(one), ['Fell']);
  await two.waitForFunction(() => document.querySelector('#keep-panel .entry-name')?.textContent === 'Fell');

  // Deleted so that no tab has heard of it.
  const gone = () =>
    one.evaluate(
      () =>
        new Promise((resolve) => {
          indexedDB.open('lieflat').onsuccess = ({ target }) => {
            const transaction = target.result.transaction('briefs', 'readwrite');
            transaction.objectStore('briefs').clear();
            transaction.oncomplete = () => {
              target.result.close();
              resolve();
            };
          };
        }),
    );
  await panel.getByRole('button', { name: 'Rename Fell' }).click();
  await panel.getByLabel('New name').fill('Beck');
  await gone();
  await one.keyboard.press('Enter');
  await panel.getByText('“Fell” was deleted in another tab meanwhile', { exact: false }).waitFor();
  await one.keyboard.press('Enter');
  await panel.getByText('“Beck” is back.').waitFor();
  assert.deepEqual(await names(one), ['Beck']);
  assert.deepEqual([...one.problems, ...two.problems], []);
  await context.close();
});

test('two tabs that race end with the same list, and nothing that was kept is lost', async () => {
  const context = await profile(site);
  const pages = [await openPage(context, site.url), await openPage(context, site.url)];
  for (const page of pages) await unfold(page, 'keep-panel');
  await keepAs(pages[0], 'Start');
  await pages[1].waitForFunction(() => document.querySelectorAll('#keep-panel .kept-list')[0].querySelectorAll('li').length === 1);
  /** Duplicates, renames and deletes by its own buttons, as fast as the page lets it; tells what it deleted, less what it made. */
  const race = (page, seed) =>
    page.evaluate(async (given) => {
      let state = given;
      const roll = (n) => {
        state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
        return state % n;
      };
      const list = () => document.querySelectorAll('#keep-panel .kept-list')[0];
      const turn = () =>
        new Promise((resolve) => {
          setTimeout(resolve, roll(12));
        });
      for (let i = 0; i < 60; i += 1) {
        const form = list().querySelector('form');
        if (form) {
          form.querySelector('input').value = `Raced ${given} ${i}`;
          form.requestSubmit();
        } else {
          const action = ['duplicate', 'duplicate', 'rename', 'delete', 'open'][roll(5)];
          const buttons = [...list().querySelectorAll(`[data-action=${action}]`)];
          if (buttons.length > (action === 'delete' ? 3 : 0)) buttons[roll(buttons.length)].click();
        }
        await turn();
      }
      list().querySelector('form')?.requestSubmit();
    }, seed);
  await Promise.all(pages.map((page, i) => race(page, i + 3)));
  const shown = (page) =>
    page.evaluate(() =>
      [...document.querySelectorAll('#keep-panel .kept-list')[0].querySelectorAll('li')]
        .map((row) => `${row.dataset.entry} ${row.querySelector('.entry-name').textContent}`)
        .sort(),
    );
  let lists = [];
  for (let tries = 0; tries < 100; tries += 1) {
    lists = await Promise.all(pages.map(shown));
    if (JSON.stringify(lists[0]) === JSON.stringify(lists[1])) break;
    await new Promise((resolve) => {
      setTimeout(resolve, 100);
    });
  }
  assert.ok(lists[0].length > 0);
  assert.deepEqual(lists[0], lists[1], 'both show the same');
  await pages[1].reload();
  await unfold(pages[1], 'keep-panel');
  await pages[1].locator('#keep-panel .kept-list').first().waitFor();
  assert.deepEqual(await shown(pages[1]), lists[0], 'and it is what is stored');
  assert.deepEqual([...pages[0].problems, ...pages[1].problems], []);
  await context.close();
});

test('work is not taken for old because the clock was set back', async () => {
  const context = await profile(site);
  const ahead = new Date('2031-01-01T00:00:00Z');
  const page = await context.newPage();
  await page.clock.setSystemTime(ahead);
  await page.goto(site.url);
  await isReady(page);
  await type(page, '158');
  await stored(page, 'drafts', 1);
  await page.close();
  // The clock is right again; the page is closed before the database has taken what was typed last.
  const next = await openPage(context, site.url);
  await next.evaluate(() => {
    IDBObjectStore.prototype.put = () => {
      throw new DOMException('gone', 'AbortError');
    };
  });
  await next.waitForFunction((field) => document.querySelector(field).value === '158', frontLength);
  await type(next, '167');
  await next.reload();
  await isReady(next);
  await next.evaluate(() => localStorage.removeItem('lieflat.work'));
  await next.close();
  const third = await openPage(context, site.url);
  await third.waitForFunction((field) => document.querySelector(field).value === '167', frontLength);
  await context.close();
});

test('thousands of kept briefs are drawn a page at a time, and every one is reached by keys and by the search', async () => {
  const context = await profile(site);
  const seed = await openPage(context, `${site.url}favicon.svg`, { ready: false });
  const given = JSON.parse(await readFile(new URL('../briefs/band-round.json', import.meta.url), 'utf8'));
  const many = Array.from({ length: 1234 }, (_, i) => [
    'briefs',
    { ...entry(`b${i}`, `Brief ${i}`, given), changed: new Date(1.7e12 - i * 1e6).toISOString() },
  ]);
  await plant(seed, many);
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'keep-panel');
  const list = panel.locator('.kept-list').first();
  assert.equal((await names(page)).length, 50);
  await assertAccessible(page, '#keep-panel');

  // Every row in turn, by the keyboard alone.
  const seen = new Set(await names(page));
  await list.getByRole('button', { name: 'Next rows' }).focus();
  for (let turns = 1; await list.getByRole('button', { name: 'Next rows' }).isEnabled(); turns += 1) {
    await page.keyboard.press('Enter');
    await page.waitForFunction((from) => document.querySelector('#keep-panel .pages select').value === from, String(turns * 50));
    for (const name of await names(page)) seen.add(name);
  }
  assert.equal(seen.size, 1234);
  assert.equal(await list.getByLabel('Rows shown').evaluate((select) => select.selectedOptions[0].textContent), '1201 to 1234 of 1234');
  assert.ok(
    await page.evaluate(() => document.querySelector('#keep-panel .pages').contains(document.activeElement)),
    'the focus stays where the pages are chosen',
  );
  await list.getByLabel('Rows shown').selectOption({ label: '601 to 650 of 1234' });
  assert.equal((await names(page))[0], 'Brief 600');

  // What is renamed comes first in the list, and the focus goes with it.
  await panel.getByRole('button', { name: 'Rename Brief 617' }).click();
  await panel.getByLabel('New name').fill('Tarn');
  await page.keyboard.press('Enter');
  await panel.getByText('“Brief 617” is now called “Tarn”.').waitFor();
  await page.waitForFunction(() => document.activeElement.getAttribute('aria-label') === 'Rename Tarn');
  assert.equal((await names(page))[0], 'Tarn');
  await panel.getByLabel('Search the kept briefs').fill('1233');
  assert.deepEqual(await names(page), ['Brief 1233']);
  await panel.getByRole('button', { name: 'Delete Brief 1233' }).click();
  await panel.getByText('Nothing kept has these words.').waitFor();
  await panel.getByLabel('Search the kept briefs').fill('');
  assert.equal(await list.getByLabel('Rows shown').evaluate((select) => select.selectedOptions[0].textContent), '1 to 50 of 1233');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a tab that crashes loses nothing that was planned', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '164');
  const gone = page.waitForEvent('crash');
  page.goto('chrome://crash').catch(() => {});
  await gone;
  const next = await openPage(context, site.url);
  await next.waitForFunction((field) => document.querySelector(field).value === '164', frontLength);
  await context.close();
});

test('a part that does not come is told, and comes when it is asked for again', async () => {
  const context = await profile(site);
  const page = await context.newPage();
  let isDown = true;
  await context.route(/\/page\/(?:keep-panel|at-rest|sizes-panel)-/, (route) => (isDown ? route.abort() : route.continue()));
  await page.goto(site.url);
  const missing = page.locator('#keep-panel .missing');
  await missing.waitFor();
  assert.match(await missing.innerText(), /nothing is saved until it comes/);
  await page.locator('#sheets-panel .missing').waitFor();
  await page.fill(frontLength, '158');
  // A reload meanwhile keeps what was typed, though nothing that keeps it is there.
  await missing.getByRole('button', { name: 'Reload' }).click();
  await page.waitForFunction((field) => document.readyState === 'complete' && document.querySelector(field)?.value === '158', frontLength);
  await missing.waitFor();
  isDown = false;
  await missing.getByRole('button', { name: 'Try again' }).click();
  await isReady(page);
  assert.equal(await page.inputValue(frontLength), '158');
  isDown = true;
  for (const id of ['keep-panel', 'sizes-panel']) {
    await page.locator(`#${id} > details > summary`).click();
    await page.locator(`#${id} .missing`).getByRole('button', { name: 'Try again' }).waitFor();
  }
  isDown = false;
  await page.locator('#keep-panel .missing').getByRole('button', { name: 'Try again' }).click();
  await page.getByRole('button', { name: 'Keep this brief' }).waitFor();
  await page.locator('#sizes-panel .missing').getByRole('button', { name: 'Try again' }).click();
  await page.locator('#sizes-panel tbody tr').first().waitFor();
  assert.equal(await page.locator('#keep-panel .missing, #sizes-panel .missing').count(), 0);
  await context.close();
});

test('a clock that is set back loses nothing of what was typed last', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '165');
  // A year earlier, the disk full: only what is written as the page goes holds the last reading.
  await page.evaluate(() => {
    const year = 365 * 24 * 3600 * 1000;
    const RealDate = Date;
    globalThis.Date = class extends RealDate {
      constructor(...given) {
        super(...(given.length ? given : [RealDate.now() - year]));
      }
      static now() {
        return RealDate.now() - year;
      }
    };
    IDBObjectStore.prototype.put = () => {
      throw new DOMException('full', 'QuotaExceededError');
    };
  });
  await page.fill(frontLength, '170');
  await page.reload();
  await isReady(page);
  await written(page, '170');
  assert.equal(await page.inputValue(frontLength), '170');
  await context.close();
});
