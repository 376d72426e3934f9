// Whatever a browser has stored, the page opens, plans what is typed, shows what can be read, and lets the rest be saved
// or deleted. Run after `bash web/build.sh`.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { settled, start } from './harness.mjs';
import { assertAccessible, frontLength, isReady, openPage, plant as plantEntries, profile, unfold, unfoldSteps } from './keep-site.mjs';
import { importModule } from '../page/modules.mjs';
import { sound, spoiled } from '../page/spoiled-entries.mjs';
import { GOOD, KINDS, NAMES, STORES, TEXTS, plant } from './nonsense.mjs';

const { exportText } = await importModule('web/page/keep/merge.js');

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

/** A page of the site that runs nothing of it, to plant from. */
const field = (context) => openPage(context, `${site.url}favicon.svg`, { ready: false });

/** The page plans what is typed, whatever else there is. */
async function plans(page, length = '157') {
  // Which steps stood open is spoiled too.
  await unfoldSteps(page);
  await page.fill(frontLength, length);
  await page.locator(frontLength).press('Tab');
  await page.waitForFunction(
    ([selector, value]) => document.querySelector(selector).value === value && document.querySelector('#answers:not([aria-busy])'),
    [frontLength, length],
  );
  await settled(page);
  // In the unit in use where the browser is: which was chosen is spoiled too.
  assert.match(await page.locator('#ticket').innerText(), /[\d.]+\s[cm]m × [\d.]+\s[cm]m/);
}

async function opens(context) {
  const page = await openPage(context, site.url, { ready: false });
  await page.waitForFunction(() => document.documentElement.classList.contains('is-ready'), undefined, { timeout: 60_000 });
  await page.locator('#keep-panel > details').waitFor({ timeout: 60_000 });
  return page;
}

async function survives(context) {
  const page = await opens(context);
  await plans(page);
  const panel = await unfold(page, 'keep-panel');
  await panel.getByRole('button', { name: 'Keep this brief' }).waitFor();
  assert.deepEqual(page.problems, []);
  return { page, panel };
}

for (const [what, stores, kinds] of [
  ...KINDS.map((kind) => [`${kind} in every store`, STORES, [kind]]),
  ...STORES.map((store) => [`every kind of nonsense among the ${store}`, [store], KINDS]),
]) {
  test(`the page opens on ${what}`, async () => {
    const context = await profile(site);
    const seed = await field(context);
    const count = await seed.evaluate(plant, [stores, kinds, GOOD]);
    assert.ok(count > 2, `${count} entries are planted`);
    const { page, panel } = await survives(context);
    const [search, good] = [panel.getByLabel('Search the kept briefs'), panel.getByRole('button', { name: 'Open Good one' })];
    // Where there are few, there is no search.
    await search.filter({ visible: true }).or(good).first().waitFor();
    if (await search.isVisible()) await search.fill('Good one');
    await good.click();
    await page.waitForFunction((selector) => document.querySelector(selector).value === '154', frontLength);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      panel.getByRole('button', { name: 'Save everything as a file' }).click(),
    ]);
    const file = JSON.parse(await readFile(await download.path(), 'utf8'));
    assert.ok(file.briefs.some(({ id }) => id === 'good'));
    const planted = [
      ...STORES.flatMap((store) => file[store].filter(({ name, id }) => name !== 'Good one' && !/^[\da-f-]{36}$/.test(id))),
      ...file.unread,
    ].length;
    assert.equal(planted, count, 'all of it comes along in the file');
    assert.deepEqual(page.problems, []);
    await context.close();
  });
}

/** Puts a text under every name, as often as there is room for it. */
const plantTexts = (page, area, text) =>
  page.evaluate(
    ([into, names, given]) => {
      globalThis[into].clear();
      try {
        for (const name of names) globalThis[into].setItem(`lieflat.${name}`, given);
      } catch (error) {
        if (globalThis[into].length === 0) throw error;
      }
    },
    [area, NAMES, text],
  );

for (const [what, text] of Object.entries(TEXTS)) {
  test(`the page opens on ${what} in the small storages`, async () => {
    const context = await profile(site);
    const seed = await field(context);
    await plantTexts(seed, 'localStorage', text);
    await seed.close();
    const { page } = await survives(context);
    // The same in the storage of the tab, where it goes before what another page left.
    await page.goto(`${site.url}favicon.svg`);
    await plantTexts(page, 'sessionStorage', text);
    await page.goto(site.url);
    await isReady(page);
    await plans(page, '158');
    assert.deepEqual(page.problems, []);
    await context.close();
  });
}

test('a row that cannot be read says so, is saved, deleted and brought back, and harms no other', async () => {
  const context = await profile(site);
  const seed = await field(context);
  await plantEntries(seed, [...spoiled, sound]);
  const { page, panel } = await survives(context);
  await panel.getByRole('heading', { name: 'What cannot be read' }).waitFor();
  const list = panel.locator('li', { hasText: 'that this version cannot read' });
  assert.equal(await list.count(), 4);
  assert.match(await panel.locator('.trouble').innerText(), /4 kept entries cannot be read/);
  await assertAccessible(page, '#keep-panel');

  const [download] = await Promise.all([
    page.waitForEvent('download'),
    panel.getByRole('button', { name: 'Save as a file: Object title' }).click(),
  ]);
  const file = JSON.parse(await readFile(await download.path(), 'utf8'));
  assert.deepEqual(file.unread, [{ kind: 'briefs', entry: spoiled[0][1] }]);

  await panel.getByRole('button', { name: 'Delete Object size' }).click();
  await panel.getByText('“Object size” is deleted.').waitFor();
  await page.waitForFunction(
    () =>
      document.querySelectorAll('#keep-panel .trouble p').length === 1 &&
      document.querySelector('#keep-panel .trouble').textContent.startsWith('3 '),
  );
  await page.keyboard.press('Enter');
  await panel.getByText('“Object size” is back.').waitFor();
  assert.equal(await list.count(), 4);
  for (const name of ['Object title', 'Object size', 'Object knit']) {
    await panel.getByRole('button', { name: `Delete ${name}` }).click();
    await panel.getByText(`“${name}” is deleted.`).waitFor();
  }
  await page.reload();
  await isReady(page);
  const again = await unfold(page, 'keep-panel');
  await again.getByRole('button', { name: 'Open Good one' }).waitFor();
  assert.equal(await again.locator('li', { hasText: 'that this version cannot read' }).count(), 1, 'the draft that was left');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a file with spoiled entries is taken in without them, and said', async () => {
  const context = await profile(site);
  const { page, panel } = await survives(context);
  const lists = { briefs: [], knits: [], drafts: [] };
  for (const [kind, one] of [...spoiled, sound]) lists[kind].push(one);
  const text = exportText({ ...lists, unread: [] }, 'now');
  await panel.getByLabel('Read a file back').setInputFiles({ name: 'kept.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await panel.getByText('4 entries could not be read', { exact: false }).waitFor();
  await panel.getByRole('button', { name: 'Open Good one' }).waitFor();
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('no more edges are begun than a brief may hold, and the page says how many that is', async () => {
  const context = await profile(site);
  const page = await opens(context);
  // 12 is the core's: core/REFERENCE.md, stays.edges.
  await page.evaluate(() => {
    for (let i = 0; i < 15; i += 1) [...document.querySelectorAll('.edges > button')].at(-1).click();
  });
  assert.equal(await page.locator('.edges > fieldset').count(), 12);
  await page.locator('.edges > .error').filter({ hasText: '0 to 12' }).waitFor();
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a database without its stores, or one that never answers, stops nothing', async () => {
  for (const fault of [
    () => {
      const { open } = IDBFactory.prototype;
      IDBFactory.prototype.open = function (name) {
        return open.call(this, name, 1);
      };
    },
    () => {
      IDBFactory.prototype.open = () => new EventTarget();
    },
    () => {
      IDBObjectStore.prototype.getAll = () => {
        throw new DOMException('no', 'DataError');
      };
    },
    () =>
      Object.defineProperty(globalThis, 'localStorage', {
        get() {
          throw new DOMException('no', 'SecurityError');
        },
      }),
    () => Object.defineProperty(globalThis, 'indexedDB', { value: undefined }),
    () => {
      delete globalThis.BroadcastChannel;
      Object.defineProperty(navigator, 'locks', { value: undefined });
    },
  ]) {
    const context = await profile(site);
    const seed = await field(context);
    if (String(fault).includes('open.call'))
      await seed.evaluate(
        () =>
          new Promise((resolve) => {
            indexedDB.open('lieflat', 1).onsuccess = ({ target }) => {
              target.result.close();
              resolve();
            };
          }),
      );
    await context.addInitScript(fault);
    const { page } = await survives(context);
    assert.deepEqual(page.problems, []);
    await context.close();
  }
});
