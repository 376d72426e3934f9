// Pictures of the built page.
//   node tests/browser/screenshots.mjs            each size, language, scheme and state, into target/screenshots
//   node tests/browser/screenshots.mjs --readme   the README's two pictures

import { mkdir, readFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { byPhoto, onScreen, openRoom, photo } from './bring-site.mjs';
import { quiet, settled, start } from './harness.mjs';
import { importModule } from '../page/modules.mjs';

const root = fileURLToPath(new URL('../../', import.meta.url));

/** @typedef {import('playwright-core').BrowserContextOptions} Options */
/** @typedef {Awaited<ReturnType<typeof start>>} Site */
/** @typedef {(page: import('playwright-core').Page) => Promise<void>} Reach */

/** Kept files of tools from outside the project (tests/brought), one of each kind. */
const BROUGHT = [
  ['five-sizes.svg', 'An SVG with sizes in groups'],
  ['five-sizes.dxf', 'A DXF with sizes in blocks'],
  ['layers.pdf', 'A PDF with sizes in layers'],
];

const phone = { viewport: { width: 390, height: 844 } };
const desk = { viewport: { width: 1280, height: 800 } };

const spanish = { locale: 'es-ES' };
/** @type {Options} */
const dark = { colorScheme: 'dark' };

/** A finish, with its step unfolded. @param {string} name @returns {Reach} */
const finish = (name) => async (page) => {
  await unfold(page, '#finish-band');
  await page.check(`#finish-${name}`, { force: true });
};

/** States a person comes to, and how. @type {Record<string, Reach>} */
const states = {
  own: async (page) => {
    await page.click('#start-own');
    await unfold(page, '#front-half-length');
    await page.fill('#front-half-length', '152');
    await page.fill('#front-depth', '104');
    await page.fill('#back-half-length', '96');
  },
  errors: async (page) => {
    await unfold(page, '#front-half-length');
    await page.fill('#front-half-length', 'abc');
    await page.fill('#back-half-length', '-5');
    await page.locator('#back-half-length').blur();
  },
  bound: finish('bound'),
  tape: finish('tape'),
  facing: finish('facing'),
  drawn: async (page) => {
    await unfold(page, '#front-way-drawn');
    await page.check('#front-way-drawn', { force: true });
  },
  'text-200': (page) => page.evaluate(() => void document.documentElement.style.setProperty('font-size', '200%')),
  stands: (page) => showGarment(page, '03-crew-girl-rib-band'),
  gapes: (page) => showGarment(page, '01-crew-women-jersey-band'),
  'class-view': async (page) => {
    await page.click('#open-class-view');
    await page.waitForSelector('.class-working .line h3');
  },
};

/** Opens the step that a control stands in, where steps fold. @param {import('playwright-core').Page} page @param {string} control */
async function unfold(page, control) {
  await page.waitForSelector('html.is-ready');
  await page.evaluate((selector) => {
    // A folded step may have nothing in it yet.
    const at = document.querySelector(selector)?.closest('details');
    /** @type {NodeListOf<HTMLDetailsElement>} */
    const all = document.querySelectorAll('details.step');
    for (const step of at ? [at] : all) step.open = true;
  }, control);
  await page.waitForSelector(control, { state: 'attached' });
}

/** Follows a link to an invented garment. @param {import('playwright-core').Page} page @param {string} name */
async function showGarment(page, name) {
  const { encodeBrief } = await importModule('web/page/share/codec.js');
  const brief = JSON.parse(await readFile(`${root}tests/garments/${name}.json`, 'utf8'));
  await page.evaluate((text) => {
    location.hash = `brief=${text}`;
  }, encodeBrief(brief));
  await page.waitForSelector('[data-notice=shared]');
}

/**
 * A still picture: no half-done movement, no blinking caret.
 * @param {Site} site @param {string} path @param {Options} options @param {boolean} fullPage @param {Reach} [reach]
 */
async function shoot(site, path, options, fullPage, reach = async () => {}) {
  const visit = await site.open('', { reducedMotion: 'reduce', isFolded: true, ...options });
  await reach(visit.page);
  // What follows a pause has followed.
  await settled(visit.page);
  await quiet(visit.page, 600);
  await mkdir(dirname(path), { recursive: true });
  await visit.page.screenshot({ path, fullPage, animations: 'disabled', caret: 'hide' });
  await visit.close();
  console.log(path);
}

/** Each size twice: what is seen on arrival, and the whole length of the page. @param {Site} site */
async function shootAll(site) {
  for (const options of [phone, desk]) {
    const { width, height } = options.viewport;
    const stem = `${root}target/screenshots/page-${width}x${height}`;
    await shoot(site, `${stem}.png`, options, false);
    await shoot(site, `${stem}-full.png`, options, true);
    await shoot(site, `${stem}-es.png`, { ...options, ...spanish }, true);
    await shoot(site, `${stem}-dark.png`, { ...options, ...dark }, true);
    for (const [name, reach] of Object.entries(states)) await shoot(site, `${stem}-${name}.png`, options, name !== 'class-view', reach);
  }
}

/** Small enough to live in the repository and to be read in a README's column. @param {Site} site */
async function shootReadme(site) {
  /** @type {Options} */
  const options = { viewport: { width: 1280, height: 800 }, colorScheme: 'light' };
  await shoot(site, `${root}tests/screenshots/page.png`, options, false);
}

/** Each way that a pattern is brought, at the edge that the room offers: by photo, SVG, DXF and PDF, in one picture. @param {Site} site */
async function shootBrought(site) {
  const viewport = { width: 760, height: 560 };
  const kept = JSON.parse(await readFile(`${root}tests/brought/values.json`, 'utf8')).edges;
  /** @type {[label: string, reach: Reach][]} */
  const ways = [['A photo beside an A4 sheet', async (page) => byPhoto(page, await photo(site.browser))]];
  for (const [file, label] of BROUGHT)
    ways.push([
      label,
      async (page) => {
        await page.setInputFiles('#bring-file', `${root}tests/brought/files/${file}`);
        await page.locator('#bring-lines').waitFor();
        const { x, y } = await onScreen(page, kept.filter((/** @type {{ file: string }} */ one) => one.file === file)[2].ends[0]);
        await page.mouse.click(x, y);
        await page.locator('#bring-take').waitFor();
      },
    ]);
  const pictures = [];
  for (const [label, reach] of ways) {
    const { page, close } = await site.open('', { reducedMotion: 'reduce', colorScheme: 'light', viewport });
    await page.waitForSelector('html.is-ready');
    await openRoom(page);
    await reach(page);
    await quiet(page, 600);
    const bytes = await page.screenshot({ animations: 'disabled', caret: 'hide' });
    pictures.push(`<figure><img src="data:image/png;base64,${bytes.toString('base64')}"><figcaption>${label}</figcaption></figure>`);
    await close();
  }
  const context = await site.browser.newContext({ viewport: { width: 1240, height: 1000 }, deviceScaleFactor: 1 });
  const page = await context.newPage();
  await page.setContent(`<style>body { margin: 0; padding: 8px; display: grid; grid-template-columns: 1fr 1fr; gap: 8px; font: 16px system-ui; background: #fff }
    figure { margin: 0 } img { width: 100%; border: 1px solid #bbb }</style>${pictures.join('')}`);
  const path = `${root}tests/screenshots/brought.png`;
  await page.locator('body').screenshot({ path });
  await context.close();
  console.log(path);
}

const site = await start();
try {
  if (process.argv.includes('--readme')) {
    await shootReadme(site);
    await shootBrought(site);
  } else await shootAll(site);
} finally {
  await site.close();
}
