// What a first visit does without comes when it is wanted: parts of the page and the words that only they say. Where it does
// not come, the page says so and is asked again; no key stands where words should. And what the build put into the page of
// the example's plan looks like the core's own. Run after `bash web/build.sh`.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { importModule } from '../page/modules.mjs';
import { quiet, settled, start } from './harness.mjs';
import { isReady, profile, type, unfold } from './keep-site.mjs';

const { encodeBrief } = await importModule('web/page/share/codec.js');

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

/** A page, its steps folded, on which files of some names do not come until `come` is called. */
async function without(names) {
  const context = await profile(site, { isFolded: true });
  let isDown = true;
  await context.route(names, (route) => (isDown ? route.abort() : route.continue()));
  const page = await context.newPage();
  page.thrown = [];
  page.on('pageerror', (error) => page.thrown.push(String(error.stack ?? error)));
  await page.goto(site.url);
  await isReady(page);
  await settled(page);
  return {
    page,
    context,
    come: () => {
      isDown = false;
    },
  };
}

const again = (page, place) => page.locator(`${place} .missing`).getByRole('button', { name: 'Try again' });

/** Opens every step of what is asked. */
const openAll = (page) =>
  page.locator('.step').evaluateAll((steps) => {
    for (const step of steps) step.open = true;
  });

for (const [what, names] of Object.entries({ 'their words': /\/page\/en-later-/, 'they themselves': /\/page\/(?:later-parts|form)-/ })) {
  test(`parts that are wanted and ${what} do not come are asked for again`, async () => {
    const { page, context, come } = await without(names);
    await page.click('#pin');
    await again(page, '#compare').waitFor();
    await page.locator('#step-knit > summary').click();
    await again(page, '#brief').waitFor();
    assert.match(await page.locator('#step-knit .told').textContent(), /100 stretches to 160/, 'what was told stands there all the same');
    await page.locator('#working > summary').click();
    await page.locator('#working-lines', { hasText: 'could not be fetched' }).waitFor();
    await page.locator('#working > summary').click();
    await page.click('#open-class-view');
    await again(page, '#tools').waitFor();
    assert.equal(await page.locator('html.class-view').count(), 0, 'all stays as it is');
    come();
    await again(page, '#brief').click();
    await page.locator('#garment-crosswise-stretched').waitFor();
    await again(page, '#tools').click();
    await page.locator('.class-working .line h3').waitFor();
    await page.keyboard.press('Escape');
    await again(page, '#compare').click();
    await page.getByRole('heading', { name: 'Pinned and now' }).waitFor();
    await page.click('[data-ruler=garment]');
    await page.locator('dialog.ruler .primary').waitFor();
    await page.keyboard.press('Escape');
    await page.locator('#working > summary').click();
    await page.locator('#working-lines .formula').first().waitFor();
    assert.equal(await page.locator('.missing').count(), 0);
    assert.deepEqual(page.thrown, []);
    await context.close();
  });
}

test('a ruler that is wanted and does not come is asked for again', async () => {
  const { page, context, come } = await without(/\/page\/later-parts-/);
  await page.locator('#step-knit > summary').click();
  await page.click('[data-ruler=garment]');
  await again(page, '#step-knit .stretch').waitFor();
  come();
  await again(page, '#step-knit .stretch').click();
  await page.locator('dialog.ruler .primary').waitFor();
  assert.equal(await page.locator('.missing').count(), 0);
  assert.deepEqual(page.thrown, []);
  await context.close();
});

/** Unfolds where the title is asked. */
const openTitle = (page) =>
  page.locator('details:has(#title)').evaluateAll((folds) =>
    folds.forEach((fold) => {
      fold.open = true;
    }),
  );

/** Drawings that need a part which the example does without: how a person asks for one, what is drawn only then, and a brief of it. */
const DRAWN = {
  'points of a drawn half': [(page) => page.check('#front-way-drawn', { force: true }), '#drawing .draw-point', 'band-sweetheart'],
  'pieces of a facing': [(page) => page.check('#finish-facing', { force: true }), '.draw-canvas path.draw-facing', 'facing-scoop'],
};

for (const [what, [ask, shape, name]] of Object.entries(DRAWN)) {
  test(`${what} that do not come are asked for again, and the rest is drawn meanwhile`, async () => {
    const { page, context, come } = await without(/\/page\/later-parts-/);
    await openAll(page);
    await ask(page);
    await again(page, '#drawing').waitFor();
    await settled(page);
    assert.equal(await page.locator(shape).count(), 0);
    assert.ok((await page.locator('#drawing path.draw-cut').count()) > 0, 'the neckline');
    assert.equal(await page.locator('.draw[data-stale]').count(), 0, 'as it is now');
    come();
    await again(page, '#drawing').click();
    await page.locator(shape).first().waitFor({ state: 'attached' });
    assert.equal(await page.locator('#drawing .missing').count(), 0);
    assert.deepEqual(page.thrown, []);
    await context.close();
  });

  test(`${what} come with the brief of a link, and are there at once when that is opened anew`, async () => {
    const context = await profile(site);
    const page = await context.newPage();
    const brief = JSON.parse(await readFile(new URL(`../briefs/${name}.json`, import.meta.url), 'utf8'));
    await page.goto(`${site.url}#brief=${encodeBrief(brief)}`);
    await page.locator(shape).first().waitFor({ state: 'attached' });
    await page.locator('#notices').getByRole('button', { name: 'Make it mine' }).click();
    await openTitle(page);
    await type(page, 'Invented title', '#title');
    await page.reload();
    // The first that is drawn has them.
    const shown = await page.waitForFunction((wanted) => {
      const isDrawn = document.querySelector('#drawing path.draw-cut');
      return isDrawn && { has: document.querySelector(wanted) !== null };
    }, shape);
    assert.deepEqual(await shown.jsonValue(), { has: true });
    await context.close();
  });
}

test('panels whose words do not come say so, and are asked for again', async () => {
  const { page, context, come } = await without(/\/page\/en-later-/);
  const panels = ['sizes', 'keep', 'share', 'outcome'];
  for (const panel of panels) {
    await page.locator(`#${panel}-panel > details > summary`).click();
    await again(page, `#${panel}-panel`).waitFor();
  }
  come();
  for (const panel of panels) await again(page, `#${panel}-panel`).click();
  await page.getByRole('button', { name: 'Keep this brief' }).waitFor();
  await page.locator('#sizes-panel tbody tr').first().waitFor();
  for (const panel of panels) await page.locator(`#${panel}-panel .missing`).waitFor({ state: 'detached' });
  assert.deepEqual(page.thrown, []);
  await context.close();
});

test('what a strip does that its words have not come for is told once they have, and asked for again where they do not', async () => {
  const { page, context, come } = await without(/\/page\/en-later-/);
  const wide = JSON.parse(await readFile(new URL('../briefs/band-round.json', import.meta.url), 'utf8'));
  wide.finish.band.width_mm = 45;
  await page.evaluate(
    (hash) => {
      location.hash = hash;
    },
    `brief=${encodeBrief(wide)}`,
  );
  await again(page, '#stage').waitFor();
  const verdict = page.locator('#ticket .verdict').first();
  assert.match(await verdict.textContent(), /^[▲◆◐… ]+$/, 'no key and nothing made up');
  assert.equal(await page.getAttribute('#answers', 'aria-busy'), '', 'not all is told yet');
  come();
  await again(page, '#stage').click();
  await settled(page);
  assert.match(await verdict.textContent(), /[a-z]{4}/);
  assert.deepEqual(page.thrown, []);
  await context.close();
});

test('a form whose words do not come waits for them, and tells of an entry in words', async () => {
  const { page, context, come } = await without(/\/page\/en-later-/);
  await page.locator('#step-pieces > summary').click();
  await again(page, '#brief').waitFor();
  assert.equal(await page.locator('#front-half-length').count(), 0, 'no field without its name');
  come();
  await again(page, '#brief').click();
  await page.fill('#front-half-length', 'long');
  await page.locator('#front-half-length').press('Tab');
  await settled(page);
  assert.match(await page.textContent('#front-half-length-error'), /^This is not a number/);
  assert.match(await page.textContent('#problems'), /One entry needs a look/);
  assert.match(await page.locator('#step-pieces .told').textContent(), /one entry to look at/);
  assert.deepEqual(page.thrown, []);
  await context.close();
});

test('a page that has been put in another language and back says again what its markup said', async () => {
  const { page, context } = await without(/nothing of this name/);
  const said = () =>
    page.evaluate(() => [document.title, document.querySelector('.about').textContent, document.querySelector('.brand').textContent]);
  const first = await said();
  for (const language of ['es', 'en']) {
    await page.selectOption('#language', language);
    await page.waitForSelector(`html[lang=${language}]`, { state: 'attached' });
    if (language === 'es') for (const [i, text] of (await said()).entries()) assert.notEqual(text, first[i]);
  }
  assert.deepEqual(await said(), first);
  await context.close();
});

test('of two languages chosen in quick turn the last one is spoken, whichever words come first', async () => {
  const { page, context } = await without(/nothing of this name/);
  let release = () => {};
  const held = new Promise((resolve) => {
    release = resolve;
  });
  await context.route(/\/page\/es-/, async (route) => {
    await held;
    await route.continue();
  });
  const asked = page.waitForRequest(/\/page\/es-/);
  await page.selectOption('#language', 'es');
  await asked;
  await page.selectOption('#language', 'en');
  const come = page.waitForEvent('requestfinished', (request) => /\/page\/es-/.test(request.url()));
  release();
  await come;
  await quiet(page, 300);
  assert.equal(await page.getAttribute('html', 'lang'), 'en');
  assert.equal(await page.inputValue('#language'), 'en');
  assert.notEqual(await page.evaluate(() => localStorage.getItem('lieflat.language')), 'es');
  assert.deepEqual(page.thrown, []);
  await context.close();
});

test('parts that are open go on in another language once all its words are there', async () => {
  const { page, context, come } = await without(/\/page\/es-later-/);
  await unfold(page, 'keep-panel');
  await page.click('#pin');
  await page.locator('#compare h2').waitFor();
  await page.locator('#working > summary').click();
  await page.locator('#working-lines .formula').first().waitFor();
  await page.selectOption('#language', 'es');
  await again(page, '#tools').waitFor();
  assert.equal(await page.getAttribute('html', 'lang'), 'en', 'all stays in the language that is there');
  come();
  await again(page, '#tools').click();
  await page.waitForSelector('html[lang=es]', { state: 'attached' });
  await settled(page);
  await page.locator('#working-lines h3', { hasText: 'costura' }).first().waitFor();
  await page.getByRole('button', { name: 'Guardar esta ficha' }).waitFor();
  const text = await page.locator('main').innerText();
  assert.deepEqual(text.match(/\b(?:keep|share|sizes|outcome|compare|ruler|codes|sheets)\.[a-z_]+/g), null);
  assert.deepEqual(page.thrown, []);
  await context.close();
});

/** What is written and drawn of a plan: texts but for the title, by the part they stand in, and lines by the numbers in them. */
const painted = (page) =>
  page.evaluate(() => {
    const texts = Object.fromEntries(
      ['ticket', 'drawing', 'cards', 'bar'].map((id) => {
        const part = document.getElementById(id).cloneNode(true);
        part.querySelector('.title')?.remove();
        return [id, part.textContent];
      }),
    );
    const shapes = [...document.querySelectorAll('#drawing svg *')].map((node) =>
      [...node.attributes]
        .filter(({ name }) => /^(?:d|points|x|y|x1|x2|y1|y2|cx|cy|r|width|height|transform)$/.test(name))
        .map(({ name, value }) => `${name}=${value}`)
        .join(' '),
    );
    return { texts, shapes: shapes.filter(Boolean) };
  });

/** Whether the drawing is described, which comes last of it. */
const described = () => document.querySelector('#drawing .unseen[id]')?.textContent.length > 0;

/** The example as the page first shows it, its core still on the way. */
async function shownFirst(options, unit) {
  // Folded, so that none of the words come that are fetched when a person begins.
  const context = await profile(site, { ...options, isFolded: true });
  await context.addInitScript((name) => localStorage.setItem('lieflat.unit', name), unit);
  await context.route(/lieflat_web_bg-/, () => {});
  const page = await context.newPage();
  await page.goto(site.url);
  await page.waitForFunction(described);
  const seen = await painted(page);
  await context.close();
  return seen;
}

/**
 * The example on a page that is ready, as it stands there, and as the core's own plan: the core plans what the person has
 * when the page is opened anew, here the example under another title.
 */
async function shownThen(options, unit) {
  const context = await profile(site, options);
  await context.addInitScript((name) => localStorage.setItem('lieflat.unit', name), unit);
  const page = await context.newPage();
  const seen = async () => {
    await isReady(page);
    await settled(page);
    await page.waitForFunction(described);
    return painted(page);
  };
  await page.goto(site.url);
  const untouched = await seen();
  await openTitle(page);
  await type(page, 'Invented title', '#title');
  await page.reload();
  const planned = await seen();
  assert.equal(await page.inputValue('#title'), 'Invented title');
  await context.close();
  return { untouched, planned };
}

const NUMBER = /-?\d+(?:\.\d+)?(?:e-?\d+)?/g;
/** What the eye cannot tell apart, px or mm. */
const UNSEEN = 0.02;

/** A line without points that repeat the one before, as where a piece of it ends in a point of it: nothing is seen of them. */
const once = (shape) => shape.replace(/(L[-\d.]+ [-\d.]+)\1+(?![\d.])/g, '$1');

function assertAlike(built, own, parts, when) {
  for (const part of parts) assert.equal(built.texts[part], own.texts[part], `${part}, ${when}`);
  assert.equal(built.shapes.length, own.shapes.length, when);
  const numbers = (shape) => (shape.match(NUMBER) ?? []).map(Number);
  built.shapes.map(once).forEach((shape, i) => {
    const wanted = once(own.shapes[i]);
    assert.equal(shape.replace(NUMBER, '#'), wanted.replace(NUMBER, '#'), when);
    const apart = numbers(shape).map((value, at) => Math.abs(value - numbers(wanted)[at]));
    assert.ok(Math.max(0, ...apart) <= UNSEEN, `${when}: ${shape} and ${wanted}`);
  });
}

for (const locale of ['en-GB', 'es-ES']) {
  for (const unit of ['mm', 'cm', 'in']) {
    test(`the example’s plan of the build is written and drawn as the core’s own (${locale}, ${unit})`, async () => {
      const { untouched, planned } = await shownThen({ locale }, unit);
      assert.ok(planned.shapes.length > 100, `${planned.shapes.length} shapes`);
      assert.match(planned.texts.cards, /\d/);
      assertAlike(untouched, planned, ['ticket', 'drawing', 'cards', 'bar'], 'once the core is there');
      assertAlike(await shownFirst({ locale }, unit), planned, ['ticket', 'drawing'], 'while it is on its way');
    });
  }
}
