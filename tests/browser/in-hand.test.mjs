// A field that a person is in: nothing that the page does by itself puts another text there, or takes selection and caret
// away; and what was typed is not lost, however the page, the database and the person overlap. The order is forced each time.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { after, before, test } from 'node:test';
import { importModule } from '../page/modules.mjs';
import { start, until } from './harness.mjs';
import { frontLength, isReady, openPage, profile, type, unfold, written } from './keep-site.mjs';

const { briefLink } = await importModule('web/page/share/codec.js');

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

/** Holds back what a page asks for, until it is let through. */
async function heldBack(page, what) {
  const waiting = [];
  let isHeld = true;
  await page.route(what, (route) => (isHeld ? waiting.push(route) : route.continue()));
  return {
    asked: () => until(`${what} is asked for`, () => waiting.length > 0),
    letThrough() {
      isHeld = false;
      for (const route of waiting.splice(0)) void route.continue();
    },
  };
}

const KEEPING = /\/page\/at-rest-/;

/** In the page: keeps the drafts of the database busy for as long as the page is there, so that what is written waits behind. */
const keepBusy = () =>
  new Promise((resolve) => {
    indexedDB.open('lieflat').onsuccess = ({ target }) => {
      const drafts = target.result.transaction('drafts', 'readwrite').objectStore('drafts');
      const again = () => {
        drafts.get('none').onsuccess = again;
        resolve();
      };
      again();
    };
  });

/** In the page: it goes without hearing that it goes, as one that is killed. */
const goUnheard = () => {
  for (const name of ['pagehide', 'visibilitychange']) addEventListener(name, (event) => event.stopImmediatePropagation(), true);
};

/** Waits until the page has begun to write a text: it lies at hand, and the database has been asked. */
const begunToWrite = (page, text) => page.waitForFunction((one) => sessionStorage.getItem('lieflat.work')?.includes(one), text);

const leave = async (page, text) => {
  await page.fill(frontLength, text);
  await page.locator(frontLength).press('Tab');
};

/** What a field holds, and where the person is in it. */
const inHand = (page, selector = frontLength) =>
  page.$eval(selector, (input) => ({
    text: input.value,
    isIn: document.activeElement === input,
    selected: input.value.slice(input.selectionStart, input.selectionEnd),
  }));

const GOING = { goes: () => {}, 'is killed': goUnheard };
const TYPED = { 'what can be read': '163', 'what cannot be read': '16x2' };

for (const [how, going] of Object.entries(GOING)) {
  for (const [what, typed] of Object.entries(TYPED)) {
    test(`${what} is there when a page comes again that ${how} while it is being written, and stays as it is in hand`, async () => {
      const context = await profile(site);
      const page = await openPage(context, site.url);
      await type(page, '158');
      await page.evaluate(keepBusy);
      await leave(page, typed);
      await begunToWrite(page, typed);
      await page.evaluate(going);
      const keeping = await heldBack(page, KEEPING);
      await page.reload();
      await page.waitForSelector('html.is-ready', { state: 'attached' });
      await keeping.asked();
      assert.equal(await page.inputValue(frontLength), typed, 'before what keeps it has come');
      await page.locator(frontLength).selectText();
      keeping.letThrough();
      await isReady(page);
      assert.deepEqual(await inHand(page), { text: typed, isIn: true, selected: typed });
      await page.keyboard.type('162');
      await page.keyboard.press('Tab');
      await page.reload();
      await isReady(page);
      assert.equal(await page.inputValue(frontLength), '162');
      const panel = await unfold(page, 'keep-panel');
      assert.ok(await panel.getByRole('heading', { name: 'Unfinished work' }).isHidden(), 'it is one work, not two');
      assert.deepEqual(page.problems, []);
      await context.close();
    });
  }
}

test('what is typed while the last is still being written is not taken for older than that', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '158');
  // The database takes 163, but the page does not hear of it; of 164 it gets to hear nothing.
  await page.evaluate(() => Object.defineProperty(IDBTransaction.prototype, 'oncomplete', { set() {} }));
  await type(page, '163');
  await page.evaluate(() => Object.defineProperty(IDBRequest.prototype, 'onsuccess', { set() {} }));
  await leave(page, '164');
  await begunToWrite(page, '164');
  await page.reload();
  await isReady(page);
  assert.equal(await page.inputValue(frontLength), '164');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('earlier work that the database alone remembers comes into a field in hand, which stays selected', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '158');
  await leave(page, '15x4');
  await until('the draft is written', () =>
    page.evaluate(
      () =>
        new Promise((resolve) => {
          indexedDB.open('lieflat').onsuccess = ({ target }) => {
            const all = target.result.transaction('drafts').objectStore('drafts').getAll();
            all.onsuccess = () => resolve(JSON.stringify(all.result).includes('15x4'));
            target.result.close();
          };
        }),
    ),
  );
  await page.close();
  await context.addInitScript(() => {
    if (!sessionStorage.getItem('lieflat.draft')) {
      localStorage.clear();
      localStorage.setItem('lieflat.unit', 'mm');
    }
  });
  const next = await context.newPage();
  next.problems = [];
  const keeping = await heldBack(next, KEEPING);
  await next.goto(site.url);
  await keeping.asked();
  const example = await next.inputValue(frontLength);
  assert.notEqual(example, '15x4');
  await next.locator(frontLength).selectText();
  keeping.letThrough();
  await isReady(next);
  assert.deepEqual(await inHand(next), { text: '15x4', isIn: true, selected: '15x4' });
  await next.keyboard.type('162');
  await next.keyboard.press('Tab');
  assert.equal(await next.inputValue(frontLength), '162');
  await context.close();
});

/** Where the person's earlier work is, and what becomes of it where they are quicker than what keeps it. */
const EARLIER = {
  'on the page from the first': { setUp: () => {}, before: '158', isBeside: false },
  'in the database alone': {
    setUp: () => {
      if (sessionStorage.getItem('lieflat.draft')) return;
      localStorage.clear();
      localStorage.setItem('lieflat.unit', 'mm');
    },
    before: null,
    isBeside: true,
  },
};

for (const [where, { setUp, before: earlier, isBeside }] of Object.entries(EARLIER)) {
  test(`what keeps the work comes in the middle of typing, earlier work ${where}: one text, one step, one work`, async () => {
    const context = await profile(site);
    const page = await openPage(context, site.url);
    await type(page, '158');
    await page.close();
    await context.addInitScript(setUp);
    const next = await context.newPage();
    const keeping = await heldBack(next, KEEPING);
    await next.goto(site.url);
    await keeping.asked();
    const shown = await next.inputValue(frontLength);
    if (earlier !== null) assert.equal(shown, earlier);
    await next.locator(frontLength).selectText();
    // By the page's own clock the next key comes before the pause is over, however slow the machine.
    await next.evaluate(() => {
      globalThis.setTimeout = (
        (wait) =>
        (act, ms, ...given) =>
          ms === 1200 ? 0 : wait(act, ms, ...given)
      )(setTimeout);
    });
    await next.keyboard.type('16');
    keeping.letThrough();
    await isReady(next);
    assert.deepEqual(await inHand(next), { text: '16', isIn: true, selected: '' });
    await next.keyboard.type('3');
    await next.keyboard.press('Tab');
    await written(next, '163');
    await next.click('#undo');
    assert.equal(await next.inputValue(frontLength), shown, 'half a figure is no step');
    const panel = await unfold(next, 'keep-panel');
    assert.equal(await panel.getByRole('heading', { name: 'Unfinished work' }).isVisible(), isBeside);
    await context.close();
  });
}

test('words of another language that come while something is typed leave it as it stands', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const words = await heldBack(page, /\/es-(?!later)[^/]*\.json/);
  await page.selectOption('#language', 'es');
  await words.asked();
  await page.locator(frontLength).selectText();
  await page.keyboard.type('164.5');
  for (let i = 0; i < 2; i += 1) await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('Backspace');
  words.letThrough();
  await page.waitForFunction(() => document.documentElement.lang === 'es');
  await page.waitForFunction(() => document.querySelector('label[for=front-half-length]').textContent.includes('Largo siguiendo el borde'));
  assert.deepEqual(await inHand(page), { text: '16.5', isIn: true, selected: '' });
  await page.keyboard.type('3');
  assert.equal((await inHand(page)).text, '163.5', 'where the caret was');
  // Without leaving the field: the pause is for what stands there now.
  await until('the plan is of it', () => page.evaluate(() => sessionStorage.getItem('lieflat.work')?.includes('163.5')));
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('what is typed in the panels stays in another language, and is the same length in another unit', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const outcome = await unfold(page, 'outcome-panel');
  await outcome.getByLabel('stood away: too long').check();
  const fields = outcome.locator('input[inputmode=decimal]');
  await fields.nth(0).fill('8');
  await fields.nth(1).fill('47x');
  await page.locator('label[for=unit-cm]').click();
  await page.waitForFunction(() => document.querySelector('#outcome-panel .suffix').textContent === 'cm');
  assert.deepEqual(await fields.evaluateAll((all) => all.map(({ value }) => value)), ['0.8', '47x', '']);
  assert.ok(await fields.nth(0).isVisible());

  await unfold(page, 'sizes-panel');
  const growth = page.locator('#sizes-panel input[inputmode=decimal]').first();
  const words = await heldBack(page, /\/es-(?!later)[^/]*\.json/);
  await page.selectOption('#language', 'es');
  await words.asked();
  await growth.selectText();
  await page.keyboard.type('1.35');
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('Backspace');
  words.letThrough();
  await page.waitForFunction(
    () => document.querySelector('#outcome-panel summary').textContent !== 'How it came out' && document.documentElement.lang === 'es',
  );
  const place = '#sizes-panel input[inputmode=decimal]';
  assert.deepEqual(await inHand(page, place), { text: '1.5', isIn: true, selected: '' });
  await page.keyboard.type('2');
  assert.equal((await inHand(page, place)).text, '1.25', 'where the caret was');
  await page.keyboard.press('Tab');
  await page.waitForFunction(() => document.querySelector('#sizes-panel .sizes-result table'));
  assert.equal((await inHand(page, place)).text, '1.25');
  assert.deepEqual(await fields.evaluateAll((all) => all.map(({ value }) => value)), ['0.8', '47x', '']);
  await context.close();
});

test('a link that comes while something is typed takes nothing of it, and what was typed is there on the way back', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '158');
  const brief = JSON.parse(readFileSync(new URL('../briefs/band-round.json', import.meta.url), 'utf8'));
  brief.neckline.front.outline.measured.half_length_mm = 158;
  const codec = await heldBack(page, /\/page\/codec-/);
  await page.evaluate(
    (hash) => {
      location.hash = hash;
    },
    new URL(briefLink(brief, site.url)).hash,
  );
  await codec.asked();
  await page.locator(frontLength).selectText();
  await page.keyboard.type('16');
  codec.letThrough();
  await page.waitForSelector('[data-notice=shared]');
  assert.equal(await page.inputValue(frontLength), '158', 'the link’s own');
  await page.keyboard.type('2');
  await page.locator('[data-notice=shared]').getByRole('button', { name: 'Back to my own' }).click();
  await page.waitForFunction((field) => document.querySelector(field).value === '16', frontLength);
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('what cannot be read stays where another choice is made', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await leave(page, '16x2');
  await page.locator('label.pick[for=finish-tape]').click();
  assert.equal(await page.inputValue(frontLength), '16x2');
  await page.locator('#problems a').first().waitFor();
  assert.ok(await page.locator('#finish-tape').isChecked());
  await context.close();
});

test('what was typed a moment ago counts for a button that leaves the field where it is', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '158');
  await page.locator(frontLength).selectText();
  await page.keyboard.type('163');
  // As on a phone, where a button that is tapped takes no focus.
  await page.$eval('#undo', (undo) => undo.click());
  assert.equal(await page.inputValue(frontLength), '158', 'the way back is from what was typed');
  // The toolbar follows in its turn.
  await page.waitForSelector('#redo:enabled');
  await page.$eval('#redo', (redo) => redo.click());
  assert.equal(await page.inputValue(frontLength), '163');
  await context.close();
});
