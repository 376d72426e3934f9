// How a strip lies, as the page shows it: what passes with a quiet mark, what gapes with its cures, sections by their degrees.
// Invented garments. Run after `bash web/build.sh`.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { linked, settled, start } from './harness.mjs';
import { assertAccessible } from './keep-site.mjs';
import { importModule } from '../page/modules.mjs';
import { buildPlanner, planOf, root } from '../page/planner.mjs';

const { encodeBrief } = await importModule('web/page/share/codec.js');
const STANDS = '03-crew-girl-rib-band';
const GAPES = '01-crew-women-jersey-band';
const RIPPLES = '04-crew-boy-sweater-band';
const SIZES = [
  { width: 390, height: 844 },
  { width: 1280, height: 800 },
];

let site;
before(async () => {
  await buildPlanner();
  site = await start();
});
after(() => site?.close());

const garment = async (name) => JSON.parse(await readFile(`${root}tests/garments/${name}.json`, 'utf8'));

/** Opens the page on a brief somebody shared. */
async function opened(brief, options = {}) {
  const visit = await site.open(`#brief=${encodeBrief(brief)}`, options);
  const { page } = visit;
  await linked(page);
  return visit;
}

/** A check's own end: nothing went wrong unseen. */
function clean(visit) {
  assert.deepEqual(visit.pageErrors.concat(visit.consoleErrors), []);
  return visit.close();
}

/** What the ticket says of the strip: how it is marked, and the sentence. */
const verdicts = (page) =>
  page.locator('#ticket .verdict').evaluateAll((all) => all.map(({ className, textContent }) => [className.split(' ')[1], textContent]));

/** How far each section's strip leans off the flat, degrees, by where it is drawn. */
const leans = (page) =>
  page.locator('.draw-section-strip').evaluateAll((all) =>
    all.map((path) => {
      const [from, to] = [0, path.getTotalLength()].map((at) => path.getPointAtLength(at));
      return (Math.atan2(from.y - to.y, to.x - from.x) * 180) / Math.PI;
    }),
  );

for (const viewport of SIZES) {
  test(`a crew that stands along the neck passes, and is shown so at ${viewport.width} px`, async () => {
    const brief = await garment(STANDS);
    const { strip } = await planOf(brief);
    const lean = Math.max(...strip.spans.map(({ leans_deg: deg = 0 }) => deg));
    const visit = await opened(brief, { viewport });
    const { page } = visit;
    const [[tone, text]] = await verdicts(page);
    assert.equal(tone, 'calm', 'a quiet mark');
    assert.match(text, /^◐It lies flat on the chest and stands along the neck .*, as a crew does\.$/);
    assert.ok(text.includes(`${Math.round(lean)}°`), text);
    assert.equal(await page.locator('#cures').isVisible(), false, 'what passes needs no cure');
    const drawn = await leans(page);
    assert.equal(drawn.length, 3);
    assert.ok(Math.abs(Math.max(...drawn) - lean) < 0.5, `${drawn} for ${lean}`);
    assert.ok(Math.abs(drawn[0]) < 0.5, 'the front lies flat');
    const told = await page.locator('.draw-sections li').allTextContents();
    assert.match(told[0], /^in front lies flat$/);
    assert.match(told[1], /^at the neck points stands \d+° off the flat, its free edge [\d.]+\smm up$/);
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), 'nothing runs over');
    assert.match(await page.locator('#answers').textContent(), /the edge is drawn in by the band’s pull: in front by about \d+\s%/);
    await assertAccessible(page, '.draw-sections');
    await clean(visit);
  });
}

test('a crew that gapes says where and by how much, beside what would cure it, on the screen and in the class view', async () => {
  const brief = await garment(GAPES);
  const visit = await opened(brief, { viewport: SIZES[1] });
  const { page } = visit;
  const [[tone, text]] = await verdicts(page);
  assert.equal(tone, 'warn');
  assert.match(text, /^▲It gapes in front: it stands \d+° off the flat, its free edge [\d.]+\smm up\.$/);
  assert.ok(await page.locator('#cures').isVisible());
  await page.locator('#card-spans summary').click();
  const { strip } = await planOf(brief);
  const rows = await page.locator('#card-spans tbody tr').allTextContents();
  assert.equal(rows.length, strip.spans.length);
  for (const [i, { outcome }] of strip.spans.entries())
    assert.match(rows[i], { lies_flat: /lies flat/, stands: /stands \d+°/, gapes: /gapes: / }[outcome]);
  assert.match(await page.locator('#card-marks').innerText(), /Spread evenly by quarters it would /);
  await page.click('#open-class-view');
  assert.ok(await page.locator('.draw-sections').isVisible(), 'for the back row too');
  await clean(visit);
});

test('where the cut figure stands beneath the drawing the sections wait in the key, and come out of it again', async () => {
  const visit = await opened(await garment(STANDS), { viewport: { width: 1100, height: 800 } });
  const { page } = visit;
  assert.equal(await page.locator('.draw-key .draw-sections').count(), 1);
  await page.locator('.draw-key > summary').click();
  assert.ok(await page.locator('.draw-sections svg').first().isVisible());
  await page.setViewportSize(SIZES[0]);
  await page.locator('.draw > .draw-sections').waitFor();
  await clean(visit);
});

test('a free edge that ripples is drawn with its crest and its trough, as high as told', async () => {
  const brief = await garment(RIPPLES);
  const { strip, finish } = await planOf(brief);
  assert.ok(
    strip.spans.some(({ stands_off_mm: off, leans_deg: deg }) => off > 5 && deg === undefined),
    'it ripples',
  );
  const visit = await opened(brief, { viewport: SIZES[0] });
  const { page } = visit;
  assert.match((await verdicts(page))[0][1], /^▲It gapes .*: its free edge ripples by [\d.]+\smm\./);
  const drawn = await page.locator('.draw-sections svg').evaluateAll((all) =>
    all.map((svg) =>
      ['strip', 'trough'].map((name) => {
        const { y, width, height } = svg.querySelector(`.draw-section-${name}`).getBBox();
        return { y, width, height };
      }),
    ),
  );
  const [crest, trough] = drawn.reduce((a, b) => (a[0].height > b[0].height ? a : b));
  const told = Math.max(...strip.spans.map(({ stands_off_mm: off }) => off));
  assert.ok(Math.abs(crest.height - told) < 0.05 && Math.abs(crest.width - finish.width_mm) < 0.05, `${crest.width} × ${crest.height}`);
  assert.ok(Math.abs(trough.height - told) < 0.05 && crest.y < -1 && trough.y > -0.1, 'as far below the flat as above it');
  await clean(visit);
});

test('what passes is the brief’s to change: a lean that is too much gapes, and travels in the link', async () => {
  const brief = await garment(STANDS);
  const visit = await opened({ ...brief, rules: { ...brief.rules, passing_lean_deg: 5 } }, { viewport: SIZES[1] });
  const { page } = visit;
  assert.equal((await verdicts(page))[0][0], 'warn');
  assert.equal(await page.inputValue('#rules-passing-lean'), '5');
  assert.equal(await page.inputValue('#rules-passing-rise'), '2');
  await page.fill('#rules-passing-lean', '60');
  await page.locator('#rules-passing-lean').blur();
  await settled(page);
  assert.equal((await verdicts(page))[0][0], 'calm');
  await clean(visit);
});

test('the same is told in Spanish, and a facing, which has no strip, has no sections', async () => {
  const visit = await opened(await garment(STANDS), { viewport: SIZES[1], locale: 'es-ES' });
  const { page } = visit;
  assert.match(
    (await verdicts(page))[0][1],
    /^◐Queda plana en el pecho y se alza junto al cuello .* \d+° sobre el plano, como en un cuello redondo\.$/,
  );
  assert.match(await page.locator('.draw-sections').innerText(), /En el delantero|en el delantero/);
  await page.check('#finish-facing', { force: true });
  await settled(page);
  await page.locator('.draw-sections').waitFor({ state: 'hidden' });
  await clean(visit);
});
