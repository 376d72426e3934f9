// What the checks of the room share where a pattern is brought: pictures and drawings of one invented piece, drawn by the browser or
// by hand to closed forms, and the acts of a person in the room.

import { until } from './harness.mjs';

/** @import { Browser, Page } from 'playwright-core' */

/** The piece's neckline is a quarter of a circle of this radius, mm: half a pi of it long. Invented. */
export const RADIUS = 90;
export const LENGTH = (RADIUS * Math.PI) / 2;
/** The radii of the nested sizes, mm. */
export const RADII = { 'Size S': 84, 'Size M': RADIUS, 'Size L': 96 };
const PX_PER_MM = 4.5;
/** Where the quarter circle's middle lies in the photo, px: the fold runs down from there, the shoulder begins to its right. */
const MIDDLE = [1100, 150];
const R = RADIUS * PX_PER_MM;

/** Where the three points of the piece lie in the photo, px. */
export const PLACES = { neck: [MIDDLE[0] + R, MIDDLE[1]], centre: [MIDDLE[0], MIDDLE[1] + R], down: [MIDDLE[0], 1380] };

/**
 * A photo from straight above: a sheet of A4 beside the piece, on dark ground, a little out of focus.
 * @param {Browser} browser @param {{ ground?: string, paper?: string }} [colours]
 */
export async function photo(browser, { ground = '#3c4650', paper = '#efe6d2' } = {}) {
  const context = await browser.newContext({ viewport: { width: 2000, height: 1500 }, deviceScaleFactor: 1 });
  const page = await context.newPage();
  const [x, y] = MIDDLE;
  await page.setContent(`<body style="margin:0;background:${ground}"><svg width="2000" height="1500" style="filter:blur(0.8px)">
    <rect x="60" y="80" width="${210 * PX_PER_MM}" height="${297 * PX_PER_MM}" fill="#fafaf7"/>
    <path fill="${paper}" d="M${x} ${y + R} A${R} ${R} 0 0 0 ${x + R} ${y} L1850 270 V1400 H${x} Z"/></svg>`);
  const buffer = await page.screenshot({ type: 'png' });
  await context.close();
  return { name: 'invented.png', mimeType: 'image/png', buffer };
}

/**
 * Half a front in nested sizes, each on a layer of its own, its neckline a quarter circle; written by hand.
 * @param {{ radii?: Record<string, number>, unit?: string }} [how] radii by the sizes' names, mm
 */
export function drawing({ radii = RADII, unit = 'mm' } = {}) {
  const piece = (/** @type {number} */ r) => {
    const deep = 300 + 2 * r;
    return `M20 ${20 + r} A${r} ${r} 0 0 0 ${20 + r} 20 L${60 + 1.6 * r} ${40 + 0.1 * r} V${deep} H20 Z`;
  };
  const layers = Object.entries(radii).map(
    ([name, r], i) =>
      `<g id="layer${i}"><title>${name}</title><path fill="none" stroke="${['#8a2b3c', '#1f4f7a', '#1d6136'][i]}" stroke-width="0.5" d="${piece(r)}"/></g>`,
  );
  const size = unit ? `width="260${unit}" height="520${unit}" ` : '';
  const text = `<svg xmlns="http://www.w3.org/2000/svg" ${size}viewBox="0 0 260 520">${layers.join('')}</svg>`;
  return { name: 'invented.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(text) };
}

/** Where a place of the picture is on the screen. @param {Page} page @param {number[]} place @returns {Promise<{ x: number, y: number }>} */
export const onScreen = (page, place) =>
  page.locator('.bring-view').evaluate((view, [x, y]) => {
    const { left, top, width } = view.getBoundingClientRect();
    const box = /** @type {SVGSVGElement} */ (view).viewBox.baseVal;
    const scale = width / box.width;
    return { x: left + (x - box.x) * scale, y: top + (y - box.y) * scale };
  }, place);

/** Opens the room of a half. @param {Page} page @param {string} [half] */
export async function openRoom(page, half = 'front') {
  await page.locator('#step-pieces').evaluate((/** @type {HTMLDetailsElement} */ step) => {
    step.open = true;
  });
  await page.locator(`[data-bring=${half}]`).click();
  await page.locator('#bring-file').waitFor({ state: 'attached' });
}

/** Waits until the room is no longer at work. @param {Page} page */
export const atRest = (page) => page.locator('dialog.bring:not([aria-busy])').waitFor();

/** Sets a place by the mouse, and waits until it is there. @param {Page} page @param {string} point @param {number[]} place */
export async function point(page, point, place) {
  const { x, y } = await onScreen(page, place);
  await page.mouse.click(x, y);
  await page.locator(`[data-point=${point}]`).waitFor();
  await atRest(page);
}

/** From the room as it opens to an edge that is offered, by a photo. @param {Page} page @param {object} file */
export async function byPhoto(page, file) {
  await page.setInputFiles('#bring-file', /** @type {any} */ (file));
  await page.locator('#bring-corners-right').waitFor();
  await page.locator('#bring-sheet').selectOption('a4');
  await page.locator('#bring-corners-right').click();
  await page.locator('#bring-put').waitFor();
  for (const [name, place] of Object.entries(PLACES)) await point(page, name, place);
  await page.locator('#bring-take').waitFor();
}

/** The length that the room tells, mm. @param {Page} page */
export async function toldLength(page) {
  const text = await page.locator('.bring-length').innerText();
  return Number.parseFloat(text.replace(/[^\d.]*/, ''));
}

/** The brief as the page now has it, from where it is kept. @param {Page} page */
export const drawnPath = (page, half = 'front') => page.inputValue(`#${half}-path`);

/** Waits until a Worker of the room is there, or none is. @param {Page} page @param {number} count */
export const workers = (page, count) => until(`${count} workers`, () => page.workers().length === count);
