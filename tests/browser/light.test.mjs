// A reading shows itself: while its field has the focus the drawing lights the line it measures, with its name and figure.
// What a line's length should be is what stands in its field; what a swatch's should be, the readings of the stretch test themselves.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { FIELDS } from '../../web/page/form/fields.js';
import { settled, start } from './harness.mjs';

const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
const SIZES = { 'a desk': { viewport: { width: 1280, height: 800 } }, 'a phone': phone };

/** The fields of pieces, knit and finish, by key. */
const WALKED = new Set(
  FIELDS.filter(
    ({ key, half, knit }) => half || knit || /^(asks|band|bound|tape|facing)\.|^(readings_at|neckline_allowance|finish|strip)/.test(key),
  ).map(({ key }) => key),
);
/** Lengths that the drawing has as they are told: on the neckline, and on the strip, whose scale may be its own. */
const ON_NECKLINE =
  /^(neckline_allowance|(front|back)\.(half_length|depth|half_width|corner_radius|centre_allowance|shoulder_allowance)|(band|bound|tape|facing)\.(width|understitch|topstitch|edge_allowance))$/;
const ON_STRIP = /^(bound|tape)\.turn_under$|\.join_allowance$/;

/** What is chosen, and what is then typed. @type {Record<string, { pick: string[], choose?: Record<string, string>, type?: Record<string, string> }>} */
const STATES = {
  'measured round halves and a band': { pick: [], type: { 'garment-crosswise-released': '102', 'band-ratio': '85' } },
  'a V and a band': { pick: ['front-way-drafted', 'front-shape-v'] },
  'a drafted square and a V with centre seams, percents, and a facing strip': {
    pick: ['front-way-drafted', 'front-shape-square', 'back-way-drafted', 'back-shape-v', 'finish-tape', 'garment-crosswise-how-percent'],
    type: {
      'front-corner-radius': '30',
      'back-leg-hollow': '4',
      'garment-crosswise-stretch': '60',
      'garment-crosswise-recovery': '90',
      'tape-turn-under': '6',
    },
  },
  'drawn halves and a bound edge of another knit': {
    pick: ['front-way-drawn', 'back-way-drawn', 'finish-bound'],
    choose: { 'strip-lengthwise-how': 'percent', 'strip-diagonal-how': 'readings' },
    type: {
      'bound-turn-under': '5',
      'strip-lengthwise-stretch': '30',
      'strip-diagonal-rest': '100',
      'strip-diagonal-stretched': '140',
    },
  },
  'a facing of another knit, a V and a square': {
    pick: ['front-way-drafted', 'front-shape-v', 'back-way-drafted', 'back-shape-square', 'strip-crosswise-how-percent', 'finish-facing'],
    choose: {
      'back-centre': 'seam',
      'garment-lengthwise-how': 'percent',
      'garment-diagonal-how': 'readings',
      'strip-lengthwise-how': 'readings',
      'strip-diagonal-how': 'percent',
    },
    type: {
      'back-centre-allowance': '8',
      'garment-lengthwise-stretch': '30',
      'garment-diagonal-rest': '100',
      'garment-diagonal-stretched': '140',
      'strip-crosswise-stretch': '70',
      'strip-lengthwise-rest': '100',
      'strip-lengthwise-stretched': '120',
      'strip-diagonal-stretch': '40',
      'facing-topstitch': '25',
      'facing-edge-allowance': '7',
    },
  },
};

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

async function opened(options, { pick, choose = {}, type = {} }) {
  const visit = await site.open('', options);
  const { page } = visit;
  await page.waitForSelector('html.is-ready');
  await page.waitForSelector('#brief [data-key="finish"]', { state: 'attached' });
  const choices = {
    'strip-other': 'other',
    'front-centre': 'seam',
    'garment-lengthwise-how': 'readings',
    'garment-diagonal-how': 'percent',
    ...choose,
  };
  for (const [id, value] of Object.entries(choices))
    await page.evaluate(
      ([name, to]) => {
        const list = document.getElementById(name);
        list.value = to;
        list.dispatchEvent(new Event('change', { bubbles: true }));
      },
      [id, value],
    );
  for (const id of pick) await page.evaluate((one) => document.getElementById(one).click(), id);
  const all = {
    'front-centre-allowance': '12',
    'garment-lengthwise-rest': '100',
    'garment-lengthwise-stretched': '130',
    'garment-diagonal-stretch': '50',
    'strip-crosswise-rest': '100',
    'strip-crosswise-stretched': '170',
    'garment-crosswise-swatch-rest': '80',
    'garment-crosswise-swatch-stretched': '64',
    'garment-thickness': '1.1',
    ...type,
  };
  for (const [id, value] of Object.entries(all))
    await page.evaluate(
      ([name, text]) => {
        const field = document.getElementById(name);
        field.value = text;
        field.dispatchEvent(new Event('input', { bubbles: true }));
        field.dispatchEvent(new Event('change', { bubbles: true }));
      },
      [id, value],
    );
  await page.locator('#brief details').evaluateAll((folds) => {
    for (const fold of folds) fold.open = true;
  });
  await settled(page);
  assert.equal(await page.locator('#problems').isHidden(), true, await page.locator('#problems').innerText());
  return visit;
}

/** What a field says by itself: its name, what stands in it, and what counts it. */
const told = (page, key) =>
  page.evaluate((name) => {
    const field = document.querySelector(`[data-key="${name}"]`);
    const control = field.querySelector('input:checked, select, input[type=text]');
    const label = field.querySelector('legend, label .name') ?? field.querySelector('label');
    const text =
      control.tagName === 'SELECT'
        ? control.selectedOptions[0].text
        : control.type === 'radio'
          ? control.closest('label').innerText
          : control.value;
    return { label: label.textContent, text, unit: field.querySelector('.suffix')?.textContent ?? '' };
  }, key);

/** What is lit. */
const lit = (page) =>
  page.evaluate(() => {
    const [line] = document.querySelectorAll('.draw-stage path.draw-lit');
    const isOnSwatch = Boolean(line?.closest('.draw-aside'));
    return {
      caption: document.querySelector('.draw-caption')?.innerText,
      length: line?.getTotalLength(),
      isSeen: line ? line.getBoundingClientRect().width + line.getBoundingClientRect().height > 1 : false,
      isOnSwatch,
      figures: [...document.querySelectorAll('.draw-overlay .draw-lit-text')].map((one) => one.textContent),
      k: document.querySelector('.draw-world').transform.baseVal[0].matrix.a,
    };
  });

/** The strip's scale over the neckline's, as the whole drawing says it. */
const stripScale = (page) =>
  page.evaluate(() => {
    const said = [...document.querySelectorAll('.draw-overlay text')].map((one) => /^drawn at (\d+) %/.exec(one.textContent)).find(Boolean);
    return said ? Number(said[1]) / 100 : 1;
  });

const plain = (text) => text.replaceAll(/[\u00a0\u2068\u2069\s]+/g, ' ').trim();

/** Focuses a field as a person does, and waits until the drawing speaks of it. */
async function focusOn(page, key) {
  const { label } = await told(page, key);
  await page.evaluate((name) => {
    document.activeElement?.blur();
    document.querySelector(`[data-key="${name}"]`).querySelector('input:checked, select, input[type=text]').focus();
  }, key);
  await page
    .waitForFunction((name) => document.querySelector('.draw-caption')?.textContent.includes(name), label)
    .catch((error) => {
      throw new Error(`${key}: nothing is lit. ${error.message}`);
    });
}

const asked = (page) =>
  page.evaluate(() => [...document.querySelectorAll('#brief [data-key]')].filter((one) => one.offsetParent).map((one) => one.dataset.key));

const walked = new Set();
for (const [size, options] of Object.entries(SIZES)) {
  for (const [name, state] of Object.entries(STATES)) {
    test(`every reading lights its line with its name and figure: ${name}, on ${size}`, async () => {
      const visit = await opened(options, state);
      const { page } = visit;
      const scale = await stripScale(page);
      await page.keyboard.press('Shift');
      for (const key of (await asked(page)).filter((one) => WALKED.has(one))) {
        walked.add(key);
        await focusOn(page, key);
        const [field, light] = [await told(page, key), await lit(page)];
        const figure = key.endsWith('.path') ? 'as drawn' : field.text ? `${field.text} ${field.unit}` : 'not told';
        const caption = plain(light.caption);
        assert.ok(
          caption.endsWith(plain(`${field.label}: ${figure}`).replace(' °', '°')),
          `${key}: “${caption}” for ${field.label}: ${figure}`,
        );
        const isEmptied = ON_STRIP.test(key) && Number(field.text) === 0;
        assert.ok(light.isSeen || isEmptied, `${key}: a line is seen`);
        const { knit } = FIELDS.find((one) => one.key === key);
        assert.equal(light.isOnSwatch, knit !== undefined || key.startsWith('asks.'), `${key}: where it is lit`);
        const isLength = ON_NECKLINE.test(key) || ON_STRIP.test(key);
        if (!isLength || !field.text) continue;
        const wanted = Number(field.text) * (ON_STRIP.test(key) ? scale : 1);
        const off = Math.abs(light.length - wanted) * light.k;
        assert.ok(off <= 1, `${key}: ${light.length} mm drawn for ${wanted}, ${off} px off`);
        assert.ok(
          light.figures.some((text) => plain(text) === `${field.text} mm`),
          `${key}: its figure stands at the line, ${light.figures}`,
        );
      }
      assert.deepEqual([visit.pageErrors, visit.consoleErrors], [[], []]);
      await visit.close();
    });
  }
}

test('no reading is left out of the walk', () => {
  assert.deepEqual(
    [...WALKED].filter((key) => !walked.has(key)),
    [],
  );
});

test('a swatch’s lit lines are to each other as its readings are', async () => {
  const visit = await opened(SIZES['a desk'], STATES['measured round halves and a band']);
  const { page } = visit;
  await page.keyboard.press('Shift');
  const drawn = {};
  for (const name of ['rest', 'stretched', 'released']) {
    await focusOn(page, `garment.crosswise.${name}`);
    drawn[name] = { px: (await lit(page)).length, mm: Number((await told(page, `garment.crosswise.${name}`)).text) };
  }
  const { rest } = drawn;
  for (const [name, { px, mm }] of Object.entries(drawn))
    assert.ok(Math.abs(px / rest.px - mm / rest.mm) < 0.01, `${name}: ${px} px for ${mm} mm, ${rest.px} for ${rest.mm}`);
  await visit.close();
});

test('on a phone the drawing stands above the field while it is filled in, and goes back to its place', async () => {
  const visit = await opened(phone, STATES['measured round halves and a band']);
  const { page } = visit;
  const before = await page.evaluate(() => document.documentElement.scrollHeight);
  for (const key of ['front.half_length', 'back.half_width', 'garment.crosswise.stretched', 'band.width']) {
    await page.evaluate((name) => document.querySelector(`[data-key="${name}"]`).scrollIntoView({ block: 'end' }), key);
    await page.locator(`[data-key="${key}"] input[type=text]`).tap();
    await page.waitForSelector('html.is-raised .draw-stage path.draw-lit', { state: 'attached' });
    const places = await page.evaluate((name) => {
      const of = (node) => node.getBoundingClientRect().toJSON();
      const field = document.querySelector(`[data-key="${name}"]`);
      const [line] = document.querySelectorAll('.draw-stage path.draw-lit');
      return {
        stage: of(document.querySelector('.draw-stage')),
        line: of(line),
        field: of(field),
        control: of(field.querySelector('input')),
        window: innerHeight,
        tall: document.documentElement.scrollHeight,
        isFocused: field.contains(document.activeElement),
      };
    }, key);
    const { stage, line, field, control } = places;
    assert.ok(places.isFocused, `${key}: keeps the focus`);
    assert.ok(Math.abs(stage.top) < 1 && stage.height >= 140 && stage.height < places.window / 2, `${key}: ${JSON.stringify(stage)}`);
    assert.ok(
      line.top >= stage.top && line.bottom <= stage.bottom && line.left >= 0 && line.right <= stage.right,
      `${key}: its line in sight`,
    );
    assert.ok(
      field.top >= stage.bottom - 1 && control.bottom <= places.window,
      `${key}: the field beneath it, ${field.top} ${stage.bottom}`,
    );
    assert.ok(Math.abs(places.tall - before) < 2, `${key}: nothing else moves`);
  }
  await page.evaluate(() => document.activeElement.blur());
  await page.waitForSelector('html:not(.is-raised)', { state: 'attached' });
  assert.equal(await page.locator('.draw-caption').count(), 0);
  assert.equal(await page.locator('.draw[data-lit]').count(), 0);
  await visit.close();
});
