// What must work in every browser, held by one list: each browser's test gives a thin way of driving it.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { until } from './harness.mjs';
import { GOOD, KINDS, NAMES, STORES, TEXTS, plant } from './nonsense.mjs';

const FRONT = '#front-half-length';

/**
 * A browser's driver, its page freshly loaded for every check.
 * @typedef {object} Driver
 * @property {() => Promise<void>} load the page, as a first visit
 * @property {(act: Function, ...given: any[]) => Promise<any>} run a function in the page
 * @property {(selector: string, text: string) => Promise<void>} enter text in a field and leave it, by keys
 * @property {(selector: string) => Promise<void>} click
 * @property {(from: number[], to: number[]) => Promise<void>} drag the mouse, px of the viewport
 * @property {() => string[]} [wrong] what went wrong since the load: errors, violations of the policy
 */

/** @param {Driver} driver */
export const figure = (driver) => driver.run(() => document.getElementById('cut-figure')?.innerText);

/**
 * Waits until a function in the page gives something true.
 * @param {Driver} driver @param {string} what @param {Function} act @param {unknown[]} given
 */
export const inPage = (driver, what, act, ...given) => until(what, () => driver.run(act, ...given).catch(whileItLoads));

/** A page that is being loaded anew takes what runs in it along. @param {Error} error */
function whileItLoads(error) {
  if (!/context|navigat|detached|destroyed/i.test(error.message)) throw error;
}

/** @param {Driver} driver */
export const ready = (driver) =>
  inPage(driver, 'the page is ready', () => document.querySelector('html.is-ready #answers:not([aria-busy])') !== null);

/** @param {Driver} driver @param {string} before */
const changed = (driver, before) =>
  inPage(
    driver,
    `the cut figure is no longer ${before}`,
    (/** @type {string} */ was) => document.getElementById('cut-figure')?.innerText !== was,
    before,
  );

/** Loads the page anew in the same tab, with what is stored. @param {Driver} driver */
export async function reload(driver) {
  await driver.run(() => {
    Object.assign(globalThis, { isBefore: true });
    setTimeout(() => location.reload(), 0);
  });
  await inPage(driver, 'the page has come again', () => document.readyState === 'complete' && !('isBefore' in globalThis));
  await ready(driver);
}

/** Opens what is asked, as far as it is folded, and waits for its fields. @param {Driver} driver */
export async function unfoldAsks(driver) {
  await driver.run(() => {
    for (const step of /** @type {NodeListOf<HTMLDetailsElement>} */ (document.querySelectorAll('.step'))) step.open = true;
  });
  await inPage(driver, 'the fields are there', (/** @type {string} */ field) => document.querySelector(field) !== null, FRONT);
}

/** Where the parts of each fraction within an element are drawn, px: run in the page. @param {string} within */
export const fractionsIn = (within) =>
  [...document.querySelectorAll(`${within} mfrac`)].map((fraction) => {
    const [over, under] = [...fraction.children].map((part) => part.getBoundingClientRect());
    const plain = (/** @type {DOMRect} */ { left, top, width, height }) => ({ x: left + width / 2, y: top + height / 2, height });
    return { over: plain(over), under: plain(under) };
  });

/**
 * Holds that a fraction is drawn as one: its upper part above the lower, by all but the air that an engine counts as a letter's own,
 * middle above middle.
 * @param {{ over: { x: number, y: number, height: number }, under: { x: number, y: number, height: number } }} fraction
 */
export function stands({ over, under }) {
  const told = JSON.stringify({ over, under });
  assert.ok(over.height > 4 && under.height > 4, told);
  assert.ok(under.y - over.y > (0.7 * (over.height + under.height)) / 2, `above it: ${told}`);
  assert.ok(Math.abs(over.x - under.x) < 3, `in the middle: ${told}`);
}

/** @param {Driver} driver */
const isKeeping = (driver) => inPage(driver, 'what is kept is taken up', () => document.querySelector('#keep-panel > details') !== null);

/** Plants nonsense from the page itself; a driver may not wait for a promise, so the page tells when it is done. @param {Driver} driver */
async function fillStores(driver) {
  const start = new Function(
    'what',
    `globalThis.planted = 0; (${plant})(what).then((count) => { globalThis.planted = count; }, (error) => { globalThis.planted = String(error); });`,
  );
  await driver.run(start, [STORES, KINDS, GOOD]);
  return inPage(driver, 'the stores are full', () => Reflect.get(globalThis, 'planted'));
}

/**
 * A text under each of the page's names, another one from turn to turn, where there is room for it.
 * @param {Driver} driver @param {number} turn
 */
const fillAreas = (driver, turn) =>
  driver.run(
    (/** @type {string[]} */ names, /** @type {string[]} */ texts, /** @type {number} */ from) => {
      for (const area of [localStorage, sessionStorage]) {
        names.forEach((name, i) => {
          try {
            area.setItem(`lieflat.${name}`, texts[(i + from) % texts.length]);
          } catch {
            /* it is full, which is one more thing to open on */
          }
        });
      }
    },
    NAMES,
    Object.values(TEXTS),
    turn,
  );

/**
 * Draws a photo in the page and hands it to the room as a person's file: a sheet of A4 and a piece whose neckline is a quarter circle
 * of 90 mm, at 4.5 px to the mm. Invented.
 */
function bringPhoto() {
  const canvas = document.createElement('canvas');
  Object.assign(canvas, { width: 2000, height: 1500 });
  const draw = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
  draw.fillStyle = '#3c4650';
  draw.fillRect(0, 0, 2000, 1500);
  draw.fillStyle = '#fafaf7';
  draw.fillRect(60, 80, 945, 1336.5);
  draw.fillStyle = '#efe6d2';
  draw.fill(new Path2D('M1100 555 A405 405 0 0 0 1505 150 L1850 270 V1400 H1100 Z'));
  canvas.toBlob((blob) => {
    const data = new DataTransfer();
    data.items.add(new File([/** @type {Blob} */ (blob)], 'invented.png', { type: 'image/png' }));
    const field = /** @type {HTMLInputElement} */ (document.getElementById('bring-file'));
    field.files = data.files;
    field.dispatchEvent(new Event('change', { bubbles: true }));
  }, 'image/png');
}

/** Presses a button wherever on the page it is: one driver scrolls nothing into view. @param {Driver} driver @param {string} id */
const press = (driver, id) => driver.run((/** @type {string} */ which) => document.getElementById(which)?.click(), id);

/** Where a place of the photo is on the screen. @param {number[]} place */
function onBoard([x, y]) {
  const view = /** @type {SVGSVGElement} */ (document.querySelector('.bring-view'));
  const { left, top, width } = view.getBoundingClientRect();
  const box = view.viewBox.baseVal;
  return [left + ((x - box.x) * width) / box.width, top + ((y - box.y) * width) / box.width];
}

/** Hands a kept file to the room as a person's. @param {string} name @param {string} text in base 64 */
function bringFile(name, text) {
  const bytes = Uint8Array.from(atob(text), (one) => one.charCodeAt(0));
  const data = new DataTransfer();
  data.items.add(new File([bytes], name));
  const field = /** @type {HTMLInputElement} */ (document.getElementById('bring-file'));
  field.files = data.files;
  field.dispatchEvent(new Event('change', { bubbles: true }));
}

/** The checks that need the room where a pattern is brought. */
const BY_PHOTO = 'a photo of a pattern comes to an edge, which is taken';
const BY_FILE = 'an SVG, a DXF and a PDF come to an edge, and the last is taken';
export const IN_ROOM = [BY_PHOTO, BY_FILE];

/** Kept files of one size of one piece; by mpmath its edge is so long, mm (tests/brought/values.json). */
const BROUGHT = ['five-sizes.svg', 'five-sizes.dxf', 'layers.pdf'];

/** @type {Record<string, (driver: Driver) => Promise<void>>} */
export const CHECKS = {
  [BY_PHOTO]: async (driver) => {
    const before = await figure(driver);
    await press(driver, 'bring');
    await inPage(driver, 'the room', () => document.getElementById('bring-file') !== null);
    await driver.run(bringPhoto);
    await inPage(driver, 'the corners', () => document.getElementById('bring-corners-right') !== null);
    await driver.run(() => {
      const sheet = /** @type {HTMLSelectElement} */ (document.getElementById('bring-sheet'));
      sheet.value = 'a4';
      sheet.dispatchEvent(new Event('change', { bubbles: true }));
    });
    await press(driver, 'bring-corners-right');
    await inPage(driver, 'the first place is asked for', () => document.getElementById('bring-put') !== null);
    for (const [name, place] of Object.entries({ neck: [1505, 150], centre: [1100, 555], down: [1100, 1380] })) {
      const at = await driver.run(onBoard, place);
      await driver.drag(at, at);
      await inPage(driver, name, (/** @type {string} */ id) => document.querySelector(`[data-point=${id}]`) !== null, name);
      await inPage(driver, 'it is settled', () => document.querySelector('dialog.bring:not([aria-busy])') !== null);
    }
    const told = await inPage(driver, 'the edge', () => document.querySelector('.bring-length')?.textContent);
    // Half a pi of 90 mm, as near as the room asks of a photo.
    assert.ok(Math.abs(Number.parseFloat(told) - 45 * Math.PI) < 1, told);
    await press(driver, 'bring-take');
    await inPage(driver, 'it is taken', () => document.getElementById('bring-done') !== null);
    await press(driver, 'bring-done');
    await changed(driver, before);
  },
  [BY_FILE]: async (driver) => {
    const before = await figure(driver);
    const { edges } = JSON.parse(await readFile(new URL('../brought/values.json', import.meta.url), 'utf8'));
    for (const file of BROUGHT) {
      await press(driver, 'bring');
      await inPage(driver, 'the room', () => document.getElementById('bring-file') !== null);
      const bytes = await readFile(new URL(`../brought/files/${file}`, import.meta.url));
      await driver.run(bringFile, file, bytes.toString('base64'));
      await inPage(driver, `the lines of ${file}`, () => document.querySelector('dialog.bring:not([aria-busy]) #bring-lines') !== null);
      const wanted = edges.filter((/** @type {{ file: string }} */ one) => one.file === file)[2];
      const at = await driver.run(onBoard, wanted.ends[0]);
      await driver.drag(at, at);
      const told = await inPage(driver, `the edge of ${file}`, () => document.querySelector('.bring-length')?.textContent);
      // It is shown to a tenth of a millimetre.
      assert.ok(Math.abs(Number.parseFloat(told) - wanted.length_mm) <= 0.06, `${file}: ${told} for ${wanted.length_mm}`);
      if (file === BROUGHT.at(-1)) break;
      await press(driver, 'bring-close');
      await inPage(driver, 'the page again', () => document.querySelector('dialog.bring') === null);
    }
    await press(driver, 'bring-take');
    await inPage(driver, 'it is taken', () => document.getElementById('bring-done') !== null);
    await press(driver, 'bring-done');
    await changed(driver, before);
  },
  'opens on the planned example under its policy, without an error': async (driver) => {
    assert.match(await figure(driver), /^\d+\smm × \d+\smm$/);
    assert.ok(await driver.run(() => document.querySelectorAll('#drawing svg path').length > 3), 'drawn');
    assert.equal(await driver.run(() => document.getElementById('failed')?.hidden), true);
    assert.equal(
      await driver.run(() => getComputedStyle(document.querySelector('.unseen') ?? document.body).position),
      'absolute',
      'styled',
    );
    const elsewhere = await driver.run(() =>
      performance
        .getEntriesByType('resource')
        .map(({ name }) => name)
        .filter((name) => new URL(name).origin !== location.origin && !/^(data|blob):/.test(name)),
    );
    assert.deepEqual(elsewhere, [], 'asks nobody else');
  },
  'a longer reading makes a longer strip': async (driver) => {
    const before = await figure(driver);
    await unfoldAsks(driver);
    await driver.enter(FRONT, '164');
    await changed(driver, before);
    const after = await figure(driver);
    assert.ok(parseInt(after, 10) > parseInt(before, 10), `${after} is longer than ${before}`);
  },
  'speaks Spanish when asked, and the figures stay': async (driver) => {
    const before = await figure(driver);
    await driver.run(() => {
      const choice = /** @type {HTMLSelectElement} */ (document.getElementById('language'));
      choice.value = 'es';
      choice.dispatchEvent(new Event('change', { bubbles: true }));
    });
    await inPage(driver, 'the page is Spanish', () => document.documentElement.lang === 'es');
    assert.match(await driver.run(() => document.getElementById('answers-title')?.innerText), /hacer/i);
    assert.equal(await figure(driver), before);
  },
  'a handle dragged by the mouse changes the strip, and undo takes it back': async (driver) => {
    const before = await figure(driver);
    const [x, y] = await driver.run(() => {
      const handle = /** @type {HTMLElement} */ (document.querySelector('.draw-handle'));
      handle.scrollIntoView({ block: 'center' });
      const { left, top, width, height } = handle.getBoundingClientRect();
      return [left + width / 2, top + height / 2];
    });
    // Down and outward: whichever way this handle goes, the line is another one.
    await driver.drag([x, y], [x + 12, y + 24]);
    await changed(driver, before);
    await inPage(driver, 'there is a step back', () => document.querySelector('#undo:enabled') !== null);
    await driver.run(() => scrollTo(0, 0));
    await driver.click('#undo');
    await inPage(
      driver,
      'the strip is as before',
      (/** @type {string} */ was) => document.getElementById('cut-figure')?.innerText === was,
      before,
    );
  },
  'opens and plans whatever its stores are full of': async (driver) => {
    await isKeeping(driver);
    const count = await fillStores(driver);
    assert.ok(count > 400, `${count} entries are planted`);
    for (let turn = 0; turn < 3; turn += 1) {
      await fillAreas(driver, 5 * turn);
      await reload(driver);
      await isKeeping(driver);
      const before = await figure(driver);
      // The unit that was chosen is lost too, and which steps stood open.
      await unfoldAsks(driver);
      await driver.enter(FRONT, `${171 + turn} mm`);
      await changed(driver, before);
    }
    await driver.run(() =>
      /** @type {HTMLElement | null} */ (document.querySelector('#keep-panel > details:not([open]) > summary'))?.click(),
    );
    const good = () => [...document.querySelectorAll('#keep-panel .entry-name')].some((one) => one.textContent === 'Good one');
    await inPage(driver, 'the list is there', () => document.querySelector('#keep-panel input[type=search]') !== null);
    await driver.run(() => {
      const field = /** @type {HTMLInputElement} */ (document.querySelector('#keep-panel input[type=search]'));
      field.value = 'Good one';
      field.dispatchEvent(new Event('input', { bubbles: true }));
    });
    await inPage(driver, 'the good one is in the list', good);
  },
  'the working opens, with its sums': async (driver) => {
    await driver.click('#working > summary');
    const lines = await inPage(driver, 'the working', () => document.querySelectorAll('.working-lines .formula').length);
    assert.ok(lines > 10, `${lines} lines`);
    assert.ok(await driver.run(() => [...document.querySelectorAll('.working-lines .result')].every((one) => /\d/.test(one.textContent))));
    // Mathematics, and drawn as such: what is above the stroke stands above what is beneath it.
    const fractions = await driver.run(fractionsIn, '.working-lines');
    assert.ok(fractions.length > 15, `${fractions.length} fractions`);
    fractions.forEach(stands);
  },
};

/**
 * Registers checks, by their names.
 * @param {() => Driver} driver of the browser that the test started @param {typeof CHECKS} [checks] @param {string} [of] added to each name
 */
export function checkEngine(driver, checks = CHECKS, of = '') {
  for (const [name, check] of Object.entries(checks)) {
    test(name + of, async () => {
      await driver().load();
      await ready(driver());
      await check(driver());
      assert.deepEqual(driver().wrong?.() ?? [], [], 'nothing went wrong unseen');
    });
  }
}
