// What WCAG 2.2 asks that axe cannot see: room for a thumb, focus that is never hidden, the whole job by keyboard,
// a live region that does not chatter, forced colours, and no motion for those who want none.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { quiet, settled, start, unfoldAll } from './harness.mjs';

const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
const desk = { viewport: { width: 1280, height: 800 } };
/** WCAG 2.2, 2.5.5 Target Size (Enhanced): 44 by 44 CSS px. */
const THUMB = 44;
/** Longer than the quiet that must follow a change before it is spoken (`web/page/plan/live.js`), ms. */
const SILENCE = 1100;

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

async function opened(options = desk) {
  const visit = await site.open('', options);
  await visit.page.waitForSelector('html.is-ready');
  await visit.page.waitForFunction(() => !document.getElementById('share-panel').hidden);
  await settled(visit.page);
  return visit;
}

// What a finger meets: the control, or the label that acts for it. Links in running text are excepted, as in 2.5.5.
function smallTargets(least) {
  const controls = 'button, select, input:not([type=hidden]), textarea, summary, [role=slider], [role=button], a[href]';
  const isInText = (node) =>
    node.matches('a') &&
    /\S/.test(
      [...node.parentElement.childNodes]
        .filter((one) => one.nodeType === 3)
        .map((one) => one.data)
        .join(''),
    );
  return [...document.querySelectorAll(controls)]
    .filter((node) => node.checkVisibility({ visibilityProperty: true }) && !node.matches('.skip') && !isInText(node))
    .map((node) => ({
      node,
      box: (node.labels?.[0] && node.matches('[type=radio], [type=checkbox]') ? node.labels[0] : node).getBoundingClientRect(),
    }))
    .filter(({ box }) => box.width > 0 && (box.width < least - 0.5 || box.height < least - 0.5))
    .map(
      ({ node, box }) =>
        `${node.tagName} ${node.id || node.className} ${node.textContent.slice(0, 30)}: ${box.width.toFixed(0)} × ${box.height.toFixed(0)}`,
    );
}

test('on a touch screen every target has room for a thumb', async () => {
  const visit = await opened(phone);
  const { page } = visit;
  const look = async (state) => assert.deepEqual(await page.evaluate(smallTargets, THUMB), [], state);
  await look('start');
  await unfoldAll(page);
  await look('every fold open');
  await page.check('#front-way-drawn', { force: true });
  await settled(page);
  await look('a drawn outline');
  await page.click('[data-ruler=garment]');
  await page.locator('dialog.ruler .primary').waitFor();
  await look('the ruler');
  await visit.close();
});

/** Where the keyboard is: what it is on, and whether any of it can be seen there. */
function whereFocusIs() {
  const node = document.activeElement;
  if (!node || node === document.body) return null;
  // A radio or a checkbox fills its label without being seen: its label shows the focus.
  const shown = node.matches('[type=radio], [type=checkbox]') ? node.labels[0] : node;
  const box = shown.getBoundingClientRect();
  const at = (x, y) => document.elementFromPoint(Math.min(innerWidth - 1, Math.max(0, x)), Math.min(innerHeight - 1, Math.max(0, y)));
  const points = [0.1, 0.5, 0.9].flatMap((x) => [0.1, 0.5, 0.9].map((y) => [box.left + x * box.width, box.top + y * box.height]));
  const over = points.filter(([x, y]) => x >= 0 && y >= 0 && x < innerWidth && y < innerHeight).map(([x, y]) => at(x, y));
  const seen = over.filter((one) => one && (shown.contains(one) || one.contains(shown)) && (shown.closest('#bar') || !one.closest('#bar')));
  return {
    name: `${node.tagName}#${node.id}.${node.className?.baseVal ?? node.className} ${(node.textContent ?? '').slice(0, 30)}`,
    isSeen: seen.length > 0,
  };
}

for (const [name, options] of Object.entries({ phone, desk })) {
  test(`Tab reaches everything once, and what it is on is never hidden (${name})`, async () => {
    const visit = await opened(options);
    const { page } = visit;
    const hidden = [];
    let steps = 0;
    await page.evaluate(() => document.activeElement.blur());
    for (; steps < 400; steps += 1) {
      await page.keyboard.press('Tab');
      const at = await page.evaluate(whereFocusIs);
      if (!at) break;
      if (!at.isSeen) hidden.push(at.name);
    }
    assert.ok(steps > 40 && steps < 400, `${steps} stops, and Tab leaves the page at the end`);
    assert.deepEqual(hidden, [], 'WCAG 2.2, 2.4.11 Focus Not Obscured');
    await visit.close();
  });
}

test('a band is planned from a cold page by keyboard alone', async () => {
  const visit = await opened();
  const { page } = visit;
  const focused = () => page.evaluate(() => document.activeElement.id);
  const tabTo = async (id) => {
    for (let i = 0; i < 200 && (await focused()) !== id; i += 1) await page.keyboard.press('Tab');
    assert.equal(await focused(), id, `Tab comes to ${id}`);
  };
  await page.evaluate(() => document.activeElement.blur());
  await tabTo('start-own');
  await page.keyboard.press('Enter');
  assert.equal(await focused(), 'front-half-length', 'the caret stands in the first reading');
  const readings = {
    'front-half-length': '160',
    'front-depth': '118',
    'back-half-length': '110',
    'back-half-width': '90',
    'garment-crosswise-stretched': '155',
    'garment-crosswise-released': '103',
    'head-own': '570',
  };
  for (const [id, text] of Object.entries(readings)) {
    await tabTo(id);
    await page.keyboard.type(text);
  }
  await page.keyboard.press('Tab');
  await page.waitForSelector('#ticket:visible');
  assert.match(await page.locator('#cut-figure').innerText(), /^\d+\smm × \d+\smm$/);
  await page.keyboard.press('Control+z');
  await visit.close();
});

test('the live region says a result once the person pauses, and never what it has said already', async () => {
  const visit = await opened();
  const { page } = visit;
  await page.evaluate(() => {
    globalThis.spoken = [];
    new MutationObserver(() => globalThis.spoken.push(document.getElementById('live').textContent)).observe(
      document.getElementById('live'),
      { childList: true, characterData: true, subtree: true },
    );
  });
  // In the page itself, so that a slow machine makes no pause between two of them.
  const enter = (...texts) =>
    page.evaluate((all) => {
      const field = document.getElementById('front-half-length');
      for (const text of all) {
        field.value = text;
        field.dispatchEvent(new Event('change', { bubbles: true }));
      }
    }, texts);
  await enter('155', '156', '157', '158', '159');
  await page.waitForFunction(() => globalThis.spoken.length > 0);
  await settled(page);
  await quiet(page, SILENCE);
  const spoken = await page.evaluate(() => globalThis.spoken);
  assert.equal(spoken.length, 1, spoken.join(' | '));
  assert.ok(spoken[0].startsWith(await page.locator('#cut-figure').innerText()), spoken[0]);
  await enter('159.0');
  await settled(page);
  await quiet(page, SILENCE);
  assert.equal((await page.evaluate(() => globalThis.spoken)).length, 1, 'the same result is not said again');
  await visit.close();
});

test('in forced colours what is chosen, focused and wrong can still be told', async () => {
  const visit = await opened({ ...desk, forcedColors: 'active' });
  const { page } = visit;
  const look = (selector) =>
    page
      .locator(selector)
      .first()
      .evaluate((node) => {
        const { outlineStyle, outlineWidth, borderTopWidth, borderTopStyle, backgroundColor, borderTopColor } = getComputedStyle(node);
        return {
          outline: outlineStyle !== 'none' && parseFloat(outlineWidth) > 0,
          border: borderTopStyle !== 'none' && parseFloat(borderTopWidth) > 0,
          backgroundColor,
          borderTopColor,
        };
      });
  const [chosen, other] = [await look('.pick:has(#finish-band)'), await look('.pick:has(#finish-tape)')];
  assert.ok(chosen.border && other.border, 'a choice has a border');
  assert.notDeepEqual(chosen, other, 'the chosen one looks different');
  await page.focus('#front-half-length');
  assert.ok((await look('#front-half-length')).outline, 'the focus has an outline');
  await page.fill('#front-half-length', 'abc');
  await page.locator('#front-half-length').blur();
  await page.waitForSelector('#front-half-length-error:visible');
  await visit.close();
});

test('nothing moves by itself for those who want no motion', async () => {
  const visit = await opened({ ...desk, reducedMotion: 'reduce' });
  const moving = () => visit.page.evaluate(() => document.getAnimations().filter((one) => one.playState === 'running').length);
  assert.equal(await moving(), 0);
  await visit.page.fill('#band-width', '17');
  await visit.page.locator('#band-width').blur();
  assert.equal(await moving(), 0, 'after a change');
  const smooth = await visit.page.evaluate(
    () => [...document.querySelectorAll('*')].filter((node) => getComputedStyle(node).scrollBehavior === 'smooth').length,
  );
  assert.equal(smooth, 0, 'and nothing scrolls smoothly');
  await visit.close();
});
