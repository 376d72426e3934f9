// Nothing scrolls sideways down to 256 CSS px: WCAG 2.2, 1.4.10 Reflow asks for 320 (1280 px enlarged four times); 256 is
// 1024 px enlarged four times, the narrowest window that a common desk is left with. A wide table scrolls in its own place.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { settled, start, unfoldAll } from './harness.mjs';
import { unfold } from './keep-site.mjs';
import { importModule } from '../page/modules.mjs';

const { encodeBrief } = await importModule('web/page/share/codec.js');
const brief = JSON.parse(await readFile(new URL('../briefs/tape-v.json', import.meta.url), 'utf8'));
const WIDTH = 256;
/** A word that breaks nowhere by itself. */
const LONG = 'Winterpulloverhalsausschnitt'.repeat(6);

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

/** What is wider than the window or than its own place, but for what scrolls there or is cut on purpose. */
function tooWide() {
  const apart = '.scroll, .scroll *, .draw-stage, .draw-stage *, svg, svg *, .unseen, input, textarea, select, option';
  const name = (node) => `${node.tagName}#${node.id}.${node.className} “${node.textContent.trim().slice(0, 30)}”`;
  const found = [];
  const wide = document.documentElement.scrollWidth;
  if (wide > innerWidth) found.push(`the page is ${wide} px wide in ${innerWidth}`);
  for (const node of document.querySelectorAll('body, body *')) {
    if (!node.checkVisibility() || node.matches(apart)) continue;
    if (node.getBoundingClientRect().right > innerWidth + 0.5 && !node.matches('.skip')) found.push(`${name(node)} ends beyond the window`);
    if (node.clientWidth > 0 && node.scrollWidth > node.clientWidth + 1)
      found.push(`${name(node)}: ${node.scrollWidth} px in ${node.clientWidth}`);
  }
  return found;
}

async function enter(page, values) {
  for (const [id, text] of Object.entries(values)) {
    await page.fill(`#${id}`, text);
    await page.locator(`#${id}`).blur();
  }
}

const pick = (page, id) => page.check(`#${id}`, { force: true });

/** Every part unfolded, and what it fetches there. */
async function everyFold(page) {
  for (const panel of ['sizes', 'keep', 'share', 'outcome']) await unfold(page, `${panel}-panel`);
  await page.locator('#sizes-panel tbody tr').first().waitFor();
  await unfoldAll(page);
}

async function longNames(page) {
  await enter(page, { title: LONG, 'garment-name': LONG });
  await page.locator('.edges > button').click();
  await page.fill('#edge0-name', LONG);
  await page.fill('#edge0-length', '10');
  await page.locator('#edge0-length').blur();
  await page.fill('#keep-panel input[type=text]', LONG);
  await page.locator('#keep-panel .buttons button').first().click();
  await page.locator('#keep-panel .entry-name').first().waitFor();
}

/** States of the page, one after the other: how a person gets there. */
const statesIn = (unit) => {
  const lengths =
    unit === 'in'
      ? { half: '6 1/16', rest: '3 15/16', wide: '1 9/16', less: '1 1/16', stretched: '6 1/4' }
      : { half: '154', rest: '100', wide: '40', less: '27', stretched: '160' };
  return {
    start: () => {},
    'every fold': everyFold,
    ...Object.fromEntries(['facing', 'bound', 'tape', 'band'].map((finish) => [finish, (page) => pick(page, `finish-${finish}`)])),
    ...Object.fromEntries(
      ['drafted', 'drawn', 'measured'].map((way) => [
        way,
        async (page) => {
          await pick(page, `front-way-${way}`);
          await pick(page, `back-way-${way}`);
        },
      ]),
    ),
    'a child’s head': (page) => page.selectOption('#head', 'girls'),
    'entries in error': (page) => enter(page, { 'front-half-length': 'abc', 'garment-crosswise-rest': '99999', 'band-width': '-' }),
    cures: (page) => enter(page, { 'front-half-length': lengths.half, 'garment-crosswise-rest': lengths.rest, 'band-width': lengths.wide }),
    compared: async (page) => {
      await page.click('#pin');
      await page.locator('#compare h2').waitFor();
      await enter(page, { 'band-width': lengths.less });
    },
    'the class view': async (page) => {
      await page.click('#open-class-view');
      await page.locator('.class-working .line h3').waitFor();
    },
    'the class view’s formulas': async (page) => {
      await page.locator('.class-working [aria-pressed]').first().click();
      await page.keyboard.press('ArrowRight');
      await page.locator('.class-working .formula').first().waitFor();
      for (let i = 0; i < 40; i += 1) {
        await page.keyboard.press('ArrowRight');
        assert.deepEqual(await page.evaluate(tooWide), [], await page.locator('.class-working h3').innerText());
      }
    },
    'the ruler': async (page) => {
      await page.keyboard.press('Escape');
      await page.click('[data-ruler=garment]');
      await page.locator('dialog.ruler .primary').waitFor();
    },
    'another knit for the strip': async (page) => {
      await page.keyboard.press('Escape');
      await page.selectOption('#strip-other', 'other');
      await enter(page, { 'strip-crosswise-stretched': lengths.stretched });
      await unfoldAll(page);
    },
    'long names': longNames,
    'sheets made': async (page) => {
      const files = /SVG/;
      await page.getByRole('button', { name: files }).click();
      await page.locator('#sheets-panel .files a').first().waitFor();
    },
    // The example's note is gone by now, its button still does the same.
    'a start of one’s own': (page) => page.evaluate(() => document.getElementById('start-own').click()),
  };
};

for (const locale of ['en-GB', 'es-ES']) {
  for (const unit of ['mm', 'in']) {
    test(`nothing scrolls sideways in ${WIDTH} px, in any state (${locale}, ${unit})`, async () => {
      const visit = await site.open('', { viewport: { width: WIDTH, height: 700 }, locale, serviceWorkers: 'block' });
      const { page } = visit;
      await page.waitForSelector('html.is-ready');
      await page.locator('#keep-panel > details').waitFor();
      await pick(page, `unit-${unit}`);
      for (const [name, reach] of Object.entries(statesIn(unit))) {
        await reach(page);
        await settled(page);
        assert.deepEqual(await page.evaluate(tooWide), [], name);
      }
      await visit.close();
    });
  }
}

test(`nor do messages above the page, the embedded calculator and its frame in ${WIDTH} px`, async () => {
  const options = { viewport: { width: WIDTH, height: 700 }, locale: 'es-ES', serviceWorkers: 'block' };
  const text = encodeBrief({ ...brief, title: LONG });
  const places = {
    [`#brief=${text}`]: '[data-notice=shared]',
    '#brief=1broken': '[data-notice=broken]',
    [`embed/frame.html#brief=${text}&lang=es&unit=in`]: 'lieflat-neckline .cut',
  };
  for (const [path, what] of Object.entries(places)) {
    const visit = await site.open(path, options);
    await visit.page.locator(what).waitFor();
    assert.deepEqual(await visit.page.evaluate(tooWide), [], path.slice(0, 20));
    await visit.close();
  }
});
