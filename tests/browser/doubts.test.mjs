// What may be mistaken is asked back and told where it stands: fractions run together, readings that cannot belong together, figures
// that are older than the entries. Run after `bash web/build.sh`.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { settled, start } from './harness.mjs';
import { assertAccessible, isReady, openPage, profile, type, unfold } from './keep-site.mjs';

const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

/** The page in inches. */
async function inInches(options = {}) {
  const context = await profile(site, options);
  await context.addInitScript(() => localStorage.setItem('lieflat.unit', 'in'));
  const page = await openPage(context, site.url);
  await settled(page);
  return { page, context };
}

/** Types and leaves the field, as a person does. */
async function enter(page, given, selector = '#front-half-length') {
  await page.fill(selector, given);
  await page.locator(selector).press('Tab');
  await settled(page);
}

const text = (page, selector) => page.locator(selector).innerText();

test('a whole number and a fraction run together are asked back, with both that they may be', async () => {
  const { page, context } = await inInches();
  const before = await text(page, '#cut-figure');
  await enter(page, '61/4');
  assert.match(await text(page, '#front-half-length-error'), /Is this 6\s1\/4\sin or 15\s1\/4\sin\?/);
  assert.equal(await text(page, '#cut-figure'), before, 'nothing is planned with either');
  await page.selectOption('#language', 'es');
  await page.waitForSelector('html[lang=es]', { state: 'attached' });
  await settled(page);
  assert.match(await text(page, '#front-half-length-error'), /¿Es 6\s1\/4\sin o 15\s1\/4\sin\?/);
  await page.selectOption('#language', 'en');
  await page.waitForSelector('html[lang=en]', { state: 'attached' });
  await enter(page, '6 1/4');
  assert.equal(await page.locator('#front-half-length-error').isVisible(), false);
  // A percentage is no length.
  await page.check('#garment-crosswise-how-percent', { force: true });
  await enter(page, '121/2', '#garment-crosswise-stretch');
  assert.match(await text(page, '#garment-crosswise-stretch-error'), /Is this 12\.5 or 60\.5\?/);
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a range that is accepted is accepted as it is written, in inches too', async () => {
  const { page, context } = await inInches();
  for (const [field, wrong] of [
    ['#front-half-length', '90'],
    ['#neckline-allowance', '9'],
    ['#head-own', '1'],
  ]) {
    await enter(page, wrong, field);
    const [, least, most] = /Accepted: (.*)\sin to (.*)\sin\./.exec(await text(page, `${field}-error`));
    for (const end of [least, most]) {
      await enter(page, end, field);
      const said = (await page.locator(`${field}-error`).textContent()) ?? '';
      assert.doesNotMatch(said, /outside what makes sense/, `${field}: ${end}`);
    }
    await enter(page, { '#front-half-length': '6 1/16', '#neckline-allowance': '3/8', '#head-own': '22 1/4' }[field], field);
  }
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('readings that cannot belong together are told beside them and on the ticket, and nothing is called good', async () => {
  const { page, context } = await inInches(phone);
  assert.equal(await page.locator('.doubt').count(), 0, 'the example is not doubted');
  assert.ok((await page.locator('#ticket .good').count()) > 0);
  // By hand: a front of 22 1/2 in along a half that is 4 1/2 in deep is some 20 in wide, a back half 3 1/2.
  await enter(page, '22½');
  assert.match(await text(page, '#ticket .doubt'), /Front and back cannot be sewn together like this.*the front half is about \d\d\s/);
  assert.equal(await page.locator('#ticket .good').count(), 0);
  assert.equal(
    await page
      .locator('#ticket .range')
      .first()
      .evaluate((line) => getComputedStyle(line).fontWeight),
    '400',
    'as quiet as ever',
  );
  for (const field of ['#front-half-length', '#back-half-width']) {
    assert.match(await text(page, `${field}-doubt`), /cannot be sewn together/, field);
    assert.ok((await page.getAttribute(field, 'aria-describedby')).includes(`${field.slice(1)}-doubt`), field);
  }
  assert.match(await page.locator('#bar').textContent(), /look at front and back/);
  await assertAccessible(page, '#brief');
  await assertAccessible(page, '#ticket');
  // Without its first digit it would not do either: a line of 2 1/2 in is shorter than its depth.
  assert.doesNotMatch(await text(page, '#front-half-length-doubt'), /rather than/);
  await enter(page, '26 1/16');
  assert.match(await text(page, '#front-half-length-doubt'), /Is it 6\s1\/16\sin rather than 26\u00a01\/16\?/);
  await enter(page, '6 1/16');
  assert.equal(await page.locator('.doubt').count(), 0);
  assert.ok((await page.locator('#ticket .good').count()) > 0);
  await context.close();
});

test('a strip or a head that does not pass is told beside its own reading', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '40', '#band-width');
  assert.match(await text(page, '#band-width-doubt'), /gapes|drags/);
  await type(page, '15', '#band-width');
  assert.equal(await page.locator('#band-width-doubt').count(), 0);
  await type(page, '640', '#head-own');
  assert.match(await text(page, '#head-own-doubt'), /The head does not pass: \d+\smm short\./);
  await type(page, '565', '#head-own');
  await page.locator('#band-ratio').evaluate((field) => {
    for (let fold = field.closest('details'); fold; fold = fold.parentElement.closest('details')) fold.open = true;
  });
  await type(page, '100', '#band-ratio');
  assert.match(await text(page, '#band-ratio-doubt'), /the rule, which follows the curve, does better/);
  // What is older is doubted no more.
  await type(page, 'abc');
  assert.equal(await page.locator('.doubt:visible').count(), 0);
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('older figures say so everywhere that they stand', async () => {
  const context = await profile(site, phone);
  const page = await openPage(context, site.url);
  await unfold(page, 'sizes-panel');
  await page.click('#pin');
  await page.locator('#compare h2').waitFor();
  const places = ['.ticket-place', '#answers', '#compare', '#sizes-panel'];
  const told = async () => Promise.all(places.map((place) => page.locator(`${place} .older`).isVisible()));
  assert.deepEqual(await told(), [false, false, false, false]);
  await type(page, 'long');
  assert.deepEqual(await told(), [true, true, true, true]);
  assert.match(await text(page, '#answers .older'), /These figures are older/);
  assert.match(await page.locator('#bar').textContent(), /^\d+.*older figures$/);
  await type(page, '155');
  assert.deepEqual(await told(), [false, false, false, false]);
  assert.match(await page.locator('#bar').textContent(), /lies flat|stands/);
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a whole number and its fraction stay on one line, and tape in pieces is no size', async () => {
  const { page, context } = await inInches(phone);
  await page.check('#finish-tape', { force: true });
  await page.check('#front-shape-v', { force: true });
  await enter(page, '18', '#head-own');
  await settled(page);
  const said = await page.evaluate(() => ['ticket', 'answers', 'bar'].map((id) => document.getElementById(id).textContent).join(' '));
  assert.match(said, /\d\u00a0\d+\/\d+/, 'there are mixed numbers');
  assert.doesNotMatch(said, /\d \d+\/\d/, 'and none of them can break');
  await page.locator('#card-stays > summary').click();
  assert.match(await text(page, '#card-stays'), /\d pieces, each about \d/);
  assert.doesNotMatch(await text(page, '#card-stays'), /×/);
  await isReady(page);
  await context.close();
});
