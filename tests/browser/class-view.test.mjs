// The class view in a room: letters for the back row on the pictures that projectors give, nothing out of sight, and led by keys, a
// clicker and a finger. The order of its ideas is checked in tests/page/lesson.test.mjs, its formulas in formulas.test.mjs.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { linked, start, until } from './harness.mjs';
import { importModule } from '../page/modules.mjs';
import { root } from '../page/planner.mjs';

const { encodeBrief } = await importModule('web/page/share/codec.js');

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

/** The pictures of common projectors. */
const PICTURES = [
  { width: 1024, height: 768 },
  { width: 1280, height: 720 },
  { width: 1920, height: 1080 },
];

/** The class view of a brief of the tests. */
async function inClass(name, options = {}) {
  const brief = JSON.parse(await readFile(`${root}tests/${name}.json`, 'utf8'));
  const visit = await site.open(`#brief=${encodeBrief(brief)}`, {
    viewport: PICTURES[1],
    locale: 'en-GB',
    serviceWorkers: 'block',
    ...options,
  });
  const { page } = visit;
  await linked(page);
  await page.click('#open-class-view');
  await page.locator('.class-working .line h3').waitFor();
  return { ...visit, page };
}

const idea = (page) => page.locator('.class-working .line h3').innerText();
const count = (page) => page.locator('.class-working .count').innerText();
const isLast = (page) => page.locator('.class-working .next').isDisabled();

/** What is to be read of an idea, each with the height of its capitals as a share of the picture's. */
const capitals = (page) =>
  page.evaluate(() => {
    const pen = document.createElement('canvas').getContext('2d');
    const of = (element) => {
      const { fontSize, fontFamily, fontWeight } = getComputedStyle(element);
      pen.font = `${fontWeight} ${fontSize} ${fontFamily}`;
      return pen.measureText('H').actualBoundingBoxAscent / innerHeight;
    };
    // What is raised is smaller by the rules of setting mathematics, and read with what it stands on.
    const said = [...document.querySelectorAll('.class-working :is(h2, h3, .rule, .formula mi, .formula mn, .result)')];
    return said.filter((one) => !one.closest('msup > :last-child')).map((one) => ({ text: one.textContent, share: of(one) }));
  });

/**
 * A back row sits at most six times the picture's height away (the rule of four, six and eight for what is read), and what it is to
 * read is at least 1/200 of that distance high (AVIXA V202.01:2016, from summaries): 3 percent of the picture. Counted are capitals: our judgement.
 */
const SHARE = 0.03;
/** Few sums are longer than there is room for: they may be set smaller, for a row at four times the height, as for drawings. */
const SHARE_OF_LONG = 0.02;
const LONG = 0.12;

for (const viewport of PICTURES)
  for (const locale of ['en-GB', 'es-ES'])
    test(`every idea is in sight and can be read from the back at ${viewport.width} × ${viewport.height} (${locale})`, async () => {
      let [ideas, long] = [0, 0];
      for (const name of ['briefs/band-round', 'briefs/facing-scoop', 'garments/10-v-women-jersey-mitred-band']) {
        const visit = await inClass(name, { viewport, locale });
        const { page } = visit;
        for (;;) {
          const what = `${name}: ${await idea(page)}`;
          const sizes = await capitals(page);
          const least = sizes.reduce((one, other) => (other.share < one.share ? other : one));
          assert.ok(least.share >= SHARE_OF_LONG, `${what}: “${least.text}” is ${least.share} of the picture`);
          ideas += 1;
          if (least.share < 0.97 * SHARE) long += 1;
          const over = await page.evaluate(() => {
            const line = document.querySelector('.class-working .line');
            const { scrollWidth, scrollHeight } = document.documentElement;
            const formulas = [...line.querySelectorAll('.formula')].map((one) => one.scrollWidth - one.clientWidth);
            return [scrollWidth - innerWidth, scrollHeight - innerHeight, line.scrollHeight - line.clientHeight, ...formulas];
          });
          assert.ok(Math.max(...over) <= 1, `${what}: out of sight: ${over}`);
          const boxes = await page.evaluate(() =>
            ['.draw-stage', '.class-working', '.class-working .next', '.class-working .close'].map((one) => {
              const { top, bottom, left, right, width } = document.querySelector(one).getBoundingClientRect();
              return { one, isIn: top >= 0 && left >= 0 && bottom <= innerHeight && right <= innerWidth, width };
            }),
          );
          for (const { one, isIn, width } of boxes) assert.ok(isIn && width > 20, `${what}: ${one} is in sight`);
          if (await isLast(page)) break;
          await page.keyboard.press('ArrowRight');
        }
        await visit.close();
      }
      assert.ok(ideas > 80, `${ideas} ideas`);
      assert.ok(long <= LONG * ideas || viewport.width / viewport.height < 1.5, `${long} of ${ideas} are set smaller`);
      assert.ok(long <= 0.5 * ideas, `${long} of ${ideas} are set smaller`);
    });

test('keys and a clicker lead on and back, to the ends, to black and out', async () => {
  const visit = await inClass('briefs/band-round');
  const { page } = visit;
  const press = (key) => page.keyboard.press(key);
  const first = await idea(page);
  assert.equal(await count(page), '', 'it begins with what is made');
  await page.evaluate(() => document.activeElement.blur());
  const seen = [first];
  for (const key of ['ArrowRight', 'PageDown', 'ArrowDown', ' ']) {
    await press(key);
    assert.ok(!seen.includes(await idea(page)), `${key} leads on`);
    seen.push(await idea(page));
  }
  assert.match(await count(page), /^4 of \d+$/);
  for (const key of ['ArrowLeft', 'PageUp', 'ArrowUp']) {
    await press(key);
    seen.pop();
    assert.equal(await idea(page), seen[seen.length - 1], `${key} leads back`);
  }
  await press('End');
  assert.ok(await isLast(page));
  await press('ArrowRight');
  assert.match(await count(page), /^(\d+) of \1$/, 'no further than the end');
  await press('Home');
  assert.equal(await idea(page), first);
  await press('Control+ArrowRight');
  assert.equal(await idea(page), first, 'what the browser means is the browser’s');
  for (const key of ['b', '.', 'B']) {
    await press(key);
    const black = page.locator('.blackness');
    await black.waitFor();
    const { width, height } = await black.boundingBox();
    assert.deepEqual([width, height], [1280, 720], 'all of the picture');
    assert.equal(await black.evaluate((one) => getComputedStyle(one).backgroundColor), 'rgb(0, 0, 0)');
    await press('PageDown');
    await black.waitFor({ state: 'detached' });
    assert.equal(await idea(page), first, 'the key that brings it back does no more');
  }
  await page.evaluate(() => {
    globalThis.wasHere = true;
  });
  await press('F5');
  assert.ok(await page.evaluate(() => globalThis.wasHere), 'a clicker’s key for a start loads nothing anew');
  await press('Escape');
  if (await page.evaluate(() => document.documentElement.classList.contains('class-view'))) await press('Escape');
  assert.equal(await page.locator('#class-working').isVisible(), false);
  assert.deepEqual(await page.evaluate(() => ({ ...document.documentElement.dataset })), {}, 'nothing of it is left');
  await press('ArrowRight');
  assert.deepEqual(visit.pageErrors, []);
  await visit.close();
});

test('a button with the focus takes the keys that press it, and what is said changes alone', async () => {
  const visit = await inClass('briefs/band-round');
  const { page } = visit;
  const line = await page.locator('.class-working .line').elementHandle();
  await page.focus('.class-working .next');
  await page.keyboard.press('Space');
  assert.match(await count(page), /^1 of/);
  await page.keyboard.press('Enter');
  assert.match(await count(page), /^2 of/);
  assert.equal(await page.evaluate(() => document.activeElement.className), 'next primary', 'the focus stays');
  assert.ok(
    await line.evaluate((one) => one.isConnected && one.getAttribute('aria-live') === 'polite'),
    'what is read out is the one place',
  );
  await visit.close();
});

test('every line can be led through, and the main ones again', async () => {
  const visit = await inClass('briefs/tape-v');
  const { page } = visit;
  const all = async () => Number((await count(page)).split(' of ')[1]);
  for (let i = 0; i < 6; i += 1) await page.keyboard.press('ArrowRight');
  const [here, main] = [await idea(page), await all()];
  const whole = page.getByRole('button', { name: 'Every line' });
  await whole.click();
  assert.equal(await idea(page), here, 'at the same idea');
  assert.ok((await all()) > 2 * main, `${await all()} lines, ${main} of them main`);
  assert.equal(await whole.getAttribute('aria-pressed'), 'true');
  await whole.click();
  assert.equal(await idea(page), here);
  assert.equal(await all(), main);
  await visit.close();
});

for (const colorScheme of ['light', 'dark'])
  test(`dark lines on light, or light on dark: as the system has it at first (${colorScheme}), and by a button`, async () => {
    const visit = await inClass('briefs/band-round', { colorScheme });
    const { page } = visit;
    /** How light a colour is, 0 to 1: the luma of its channels. */
    const light = (selector, name) =>
      page
        .locator(selector)
        .first()
        .evaluate((one, property) => {
          const [r, g, b] = getComputedStyle(one)
            [property].match(/[\d.]+/g)
            .map(Number);
          return (0.299 * r + 0.587 * g + 0.114 * b) / 255;
        }, name);
    const look = async () => [
      await light('.class-working', 'backgroundColor'),
      await light('.class-working h3', 'color'),
      await light('.draw-stage', 'backgroundColor'),
      await light('.draw .draw-mark', 'stroke'),
    ];
    const isDark = ([paper, ink, stage, mark]) => paper < 0.05 && ink > 0.95 && stage < 0.05 && mark > 0.95;
    const isLight = ([paper, ink, stage, mark]) => paper > 0.95 && ink < 0.05 && stage > 0.95 && mark < 0.05;
    const tone = page.getByRole('button', { name: 'Light on dark' });
    const [before, after] = colorScheme === 'dark' ? [isDark, isLight] : [isLight, isDark];
    assert.ok(before(await look()), `${await look()}`);
    await tone.click();
    assert.ok(after(await look()), `${await look()}`);
    await tone.click();
    assert.ok(before(await look()));
    await page.keyboard.press('Escape');
    assert.equal(await page.evaluate(() => document.documentElement.dataset.tone), undefined, 'the page itself is as the system has it');
    await visit.close();
  });

test('a finger turns over by a stroke to the side, and by no other', async () => {
  const visit = await inClass('briefs/band-round', { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  const { page } = visit;
  const stroke = async (dx, dy) => {
    const { x, y } = await page.locator('.class-working .line').boundingBox();
    const session = await page.context().newCDPSession(page);
    const at = (to) => [{ x: x + 150 + to[0], y: Math.min(y + 60, 760) + to[1] }];
    await session.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: at([0, 0]) });
    for (const part of [0.3, 0.6, 1])
      await session.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: at([dx * part, dy * part]) });
    await session.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    await session.detach();
  };
  await stroke(-120, 5);
  await until('the next idea', async () => /^1 of/.test(await count(page)));
  await stroke(-120, -5);
  await until('the one after', async () => /^2 of/.test(await count(page)));
  await stroke(20, 0);
  await stroke(0, -60);
  assert.match(await count(page), /^2 of/);
  await stroke(120, 0);
  await until('back', async () => /^1 of/.test(await count(page)));
  assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= 390);
  await visit.close();
});

test('the whole screen is asked for where the browser gives it, and a refusal changes nothing', async () => {
  const visit = await inClass('briefs/band-round');
  const { page } = visit;
  await page.evaluate(() => {
    globalThis.asked = 0;
    document.documentElement.requestFullscreen = () => {
      globalThis.asked += 1;
      return Promise.reject(new TypeError('not now'));
    };
  });
  const button = page.getByRole('button', { name: 'Full screen' });
  if (await page.evaluate(() => document.fullscreenEnabled)) {
    await button.click();
    await page.keyboard.press('f');
    assert.equal(await page.evaluate(() => globalThis.asked), 2);
  } else assert.equal(await button.isVisible(), false);
  assert.deepEqual(visit.pageErrors, []);
  await visit.close();
});

test('the drawing lights what the idea is of: the seam line, the strip, the marks, the stays; the rest goes back', async () => {
  const visit = await inClass('briefs/tape-v');
  const { page } = visit;
  /** How strong a part is drawn: its own opacity and its layers', and the width of its line, px. */
  const drawn = (selector) =>
    page.evaluate((one) => {
      const node = document.querySelector(`.draw-world ${one}`);
      let opacity = 1;
      for (let at = node; at && !at.classList.contains('draw-world'); at = at.parentElement)
        opacity *= Number(getComputedStyle(at).opacity);
      return { opacity, width: Number.parseFloat(getComputedStyle(node).strokeWidth) };
    }, selector);
  const parts = {
    seam: '.draw-layer-lines .draw-seam',
    strip: '.draw-layer-strip .draw-strip',
    marks: '.draw-layer-marks .draw-mark',
    stays: '.draw-layer-stays path',
    cut: '.draw-layer-lines .draw-cut',
  };
  const look = async () =>
    Object.fromEntries(await Promise.all(Object.entries(parts).map(async ([name, one]) => [name, await drawn(one)])));
  const before = await look();
  for (const [name, { opacity }] of Object.entries(before)) assert.equal(opacity, 1, `${name}, before any idea`);
  const met = new Map();
  for (;;) {
    await page.keyboard.press('ArrowRight');
    const [topic, now] = [await page.locator('.class-working h2').innerText(), await look()];
    if (!met.has(topic)) met.set(topic, now);
    if (await isLast(page)) break;
  }
  for (const [topic, name, back] of [
    ['The seam line', 'seam', 'strip'],
    ['The strip’s length', 'strip', 'stays'],
    ['The marks', 'marks', 'stays'],
    ['The stays', 'stays', 'strip'],
  ]) {
    const now = met.get(topic);
    assert.equal(now[name].opacity, 1, `${topic}: ${name}`);
    assert.ok(
      now[name].width > before[name].width,
      `${topic}: ${name} is drawn stronger: ${now[name].width} px, not ${before[name].width}`,
    );
    assert.ok(now[back].opacity < 0.5 && now.cut.opacity < 0.5, `${topic}: ${back} and the cut edge go back`);
  }
  const knit = met.get('The knit');
  for (const [name, { opacity }] of Object.entries(knit)) assert.equal(opacity, 1, `the knit is of no one part: ${name}`);
  await page.keyboard.press('Escape');
  assert.deepEqual(await look().then((now) => Object.values(now).map(({ opacity }) => opacity)), [1, 1, 1, 1, 1], 'as it was');
  await visit.close();
});
