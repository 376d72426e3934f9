// What the page says of a V: its steps are whole, a seam is called a seam and a fold a fold, and its marks say along which line they are
// measured. The order itself is checked in tests/checks/order.rs, screen and paper against each other in order.test.mjs.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { linked, start } from './harness.mjs';
import { importModule } from '../page/modules.mjs';
import { root } from '../page/planner.mjs';

const { encodeBrief } = await importModule('web/page/share/codec.js');
const words = {};
for (const language of ['en', 'es']) words[language] = JSON.parse(await readFile(`${root}www/words/${language}.json`, 'utf8'));

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

const [HALF, DEEP] = [85, 190];
/** Half the angle of the point by hand, from the draft: its tangent is 85 over 190. */
const ALPHA = Math.atan(HALF / DEEP);

/** An invented V, its centre front on the fold or a seam. */
const brief = (finish, isSeam) => ({
  schema: 'lieflat.brief',
  version: 1,
  title: 'Invented V',
  finish,
  neckline: {
    readings_at: 'seam_line',
    neckline_allowance_mm: 10,
    front: {
      outline: { drafted: { half_width_mm: HALF, depth_mm: DEEP, shape: { kind: 'v' } } },
      shoulder_allowance_mm: 10,
      centre: isSeam ? { seam: { allowance_mm: 12 } } : 'fold',
    },
    back: {
      outline: { drafted: { half_width_mm: HALF, depth_mm: 35, shape: { kind: 'round' } } },
      shoulder_allowance_mm: 10,
      centre: 'fold',
    },
  },
  garment_knit: { crosswise: { percent: { stretch_percent: 60, recovery_percent: 92 } }, lengthwise: { percent: { stretch_percent: 40 } } },
  head: { girth: { own_mm: 560 } },
});

/** The page of a brief: its steps, and the texts of its cards and of its drawing. */
async function told(given, locale) {
  const visit = await site.open(`#brief=${encodeBrief(given)}`, { locale, serviceWorkers: 'block' });
  const { page } = visit;
  await linked(page);
  const text = async (selector) =>
    (await page.locator(selector).evaluateAll((all) => all.map((one) => one.textContent ?? ''))).join('\n').replaceAll('\u00a0', ' ');
  const all = {
    steps: await page
      .locator('#card-order .order > li')
      .evaluateAll((items) => items.map((one) => (one.textContent ?? '').replaceAll('\u00a0', ' '))),
    marks: await text('#card-marks'),
    heads: await page.locator('#card-marks thead th').allTextContents(),
    stays: await text('#card-stays'),
    cards: await text('#cards'),
    drawing: await text('.draw-overlay text, .draw-legend'),
  };
  await visit.close();
  return all;
}

/** A step's words with anything for its figures and places, by which it is known. @param {string} language @param {string} code */
function pattern(language, code) {
  const { step } = words[language].order;
  const texts = [step[code]].flatMap((text) => (typeof text === 'string' ? [text] : Object.values(text)));
  const plain = texts.map((text) =>
    text
      .split(/\{\w+\}/)
      .map((part) => part.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&'))
      .join('.+'),
  );
  return new RegExp(`^(?:${plain.join('|')})`);
}
/** Which of the steps one is; -1 where none is. */
const at = (steps, language, code) => steps.findIndex((text) => pattern(language, code).test(text));
const number = (value, language) => value.toLocaleString(language, { maximumFractionDigits: 1, useGrouping: false });

/** What only a fold has, in words: on the fold, folded into a mitre, ends that are crossed and stitched down. */
const OF_A_FOLD = {
  en: /on the fold|centre front, fold|fold it into a mitre|ends cross/i,
  es: /al doblez|centro delantero, doblez|inglete en el pico\b.*dóbla|se cruzan/i,
};

for (const [language, locale] of [
  ['en', 'en-GB'],
  ['es', 'es-ES'],
]) {
  test(`a V with a mitre: the mitre is cut, sewn, trimmed and pressed, at its angle (${language})`, async () => {
    for (const isSeam of [false, true]) {
      const { steps, marks } = await told(brief({ band: { width_mm: 15, layers: 'folded', point: 'mitre' } }, isSeam), locale);
      const mitre = at(steps, language, 'mitre');
      assert.ok(mitre >= 0, steps.join('\n'));
      // By hand: the mitre's seam runs at half the point's angle, and a folded band 15 mm wide is w / tan(alpha) shorter at its free edge.
      for (const figure of [`${number((ALPHA * 180) / Math.PI, language)}°`, `${number(15 / Math.tan(ALPHA), language)} mm`])
        assert.ok(steps[mitre].includes(figure), `${figure} in ${steps[mitre]}`);
      const sewn = {
        en: [/\bSew it\b/, /\btrim it\b/, /\bpress it open\b/],
        es: [/Cósela/, /recórtala/, /plánchala abierta/],
      }[language];
      for (const said of sewn) assert.match(steps[mitre], said);
      assert.ok(at(steps, language, 'cut_strip') >= 0 && at(steps, language, 'cut_strip') < mitre, 'of a strip that is cut');
      assert.ok(mitre < at(steps, language, 'fold'), 'before the strip is folded, which it is sewn through');
      assert.ok(mitre < at(steps, language, 'sew_band'), 'and before it is sewn on');
      assert.match(marks, { en: /Mitred at the point, and sewn/, es: /inglete/ }[language]);
      // With a seam, that is sewn too, before anything goes on its line; with a fold there is none to sew.
      const seam = at(steps, language, 'centre_seam');
      if (isSeam) assert.ok(seam >= 0 && seam < at(steps, language, 'sew_band'), steps.join('\n'));
      else assert.equal(seam, -1, 'a fold is no seam');
    }
  });

  test(`a strip turned inside on a V with a centre seam: left open, then sewn with the strip's ends in it (${language})`, async () => {
    const { steps, stays, cards, drawing } = await told(brief({ tape: { width_mm: 12 } }, true), locale);
    const place = words[language].place.centre_front;
    const [open, sew, caught] = ['leave_centre_open', 'sew_tape', 'catch_ends'].map((code) => at(steps, language, code));
    assert.ok(open >= 0 && open < sew && sew < caught, steps.join('\n'));
    for (const step of [open, caught]) assert.ok(steps[step].includes(place), steps[step]);
    // By hand: w / tan(alpha) + c / sin(alpha), the seam's allowance for c.
    const past = 12 / Math.tan(ALPHA) + 12 / Math.sin(ALPHA);
    assert.ok(steps[caught].includes(`${number(past, language)} mm`), `${past} in ${steps[caught]}`);
    assert.equal(at(steps, language, 'cross_ends'), -1);
    assert.match(stays, { en: /ends at the centre seam/, es: /acaba en la costura del centro/ }[language]);
    for (const text of [steps.join('\n'), stays, cards, drawing.replaceAll(words[language].drawing.centre_back_fold, '')])
      assert.doesNotMatch(text, OF_A_FOLD[language], 'no word of a fold where there is a seam');
    assert.ok(drawing.includes(words[language].drawing.centre_front_seam) || !drawing.includes(words[language].drawing.centre_front_fold));
  });

  test(`the same on the fold: the ends are crossed and stitched down, and nothing is sewn there (${language})`, async () => {
    const { steps, stays, cards } = await told(brief({ tape: { width_mm: 12 } }, false), locale);
    const crossed = at(steps, language, 'cross_ends');
    assert.ok(crossed > at(steps, language, 'sew_tape'), steps.join('\n'));
    for (const code of ['leave_centre_open', 'catch_ends']) assert.equal(at(steps, language, code), -1, code);
    assert.match(stays, { en: /fold it into a mitre at the point/, es: /dóblalo en inglete en el pico/ }[language]);
    assert.ok(!cards.includes(words[language].stays.at_centre.ends_at_seam), 'no seam where there is a fold');
  });

  test(`marks say along which line they are measured (${language})`, async () => {
    const { marks: say } = words[language];
    for (const [finish, line] of [
      [{ band: { width_mm: 15 } }, say.on_seam],
      [{ tape: { width_mm: 12 } }, say.on_seam],
      [{ bound: { width_mm: 8 } }, say.on_stitch],
    ]) {
      const { steps, heads, marks } = await told(brief(finish, false), locale);
      assert.deepEqual(heads, [say.place, say.on_strip, line, say.ratio]);
      assert.ok(marks.includes(say.caption), 'and from where');
      const [strip, neckline] = ['mark_strip', 'mark_neckline'].map((code) => steps[at(steps, language, code)]);
      assert.match(strip, { en: /Mark the strip along its length/, es: /largo/ }[language]);
      assert.match(neckline, { en: /along the line the strip is sewn on/, es: /línea .*cose/ }[language]);
    }
  });
}
