// Long use of one page: edits by form, handle, undo, unit and language; saves; PDFs. Started by tests/soak.sh.

import { quiet, settled, start } from './harness.mjs';
import { unfold } from './keep-site.mjs';

const EDITS = Number(process.argv[2] ?? 10_000);
const SAVES = Math.round(EDITS / 50);
const PDFS = Math.round(EDITS / 200);
const SAMPLES = 20;
/** Edits made in the page in one go, between which it may paint. */
const BATCH = 10;

/** What may be gained between the first and the last third, as a share, and what is not looked at. */
const LIMITS = { heap: [0.1, 500_000], nodes: [0.05, 100], listeners: [0.05, 50], wasm: [0, 0] };

/** Counts WebAssembly's memories as they come. */
function watchMemories() {
  globalThis.wasmMemories = new Set();
  for (const name of ['instantiate', 'instantiateStreaming']) {
    const given = WebAssembly[name];
    WebAssembly[name] = async (...parts) => {
      const made = await given.apply(WebAssembly, parts);
      const { exports } = made.instance ?? made;
      for (const one of Object.values(exports)) if (one instanceof WebAssembly.Memory) globalThis.wasmMemories.add(one);
      return made;
    };
  }
}

/** Edits as a person's: fields filled in and left, a choice made, a handle moved by key, a step back and forward. Runs in the page. */
async function editSome({ from, count }) {
  const frame = () => new Promise(requestAnimationFrame);
  const put = (id, value) => {
    const control = document.getElementById(id);
    if (!control) throw new Error(`no field ${id}`);
    control.value = value;
    control.dispatchEvent(new Event('input', { bubbles: true }));
    control.dispatchEvent(new Event('change', { bubbles: true }));
  };
  const pick = (id) => document.getElementById(id).click();
  const key = (name) => {
    const handle = [...document.querySelectorAll('.draw-handle[tabindex], .draw-handle')][0];
    handle?.dispatchEvent(new KeyboardEvent('keydown', { key: name, bubbles: true, cancelable: true }));
    handle?.dispatchEvent(new KeyboardEvent('keyup', { key: name, bubbles: true, cancelable: true }));
  };
  const kinds = [
    (i) => put('front-half-length', String(150 + (i % 37))),
    (i) => put('back-half-length', String(104 + (i % 23))),
    (i) => put('garment-crosswise-stretched', String(150 + (i % 29))),
    (i) => put('front-depth', i % 90 === 33 ? 'eleven' : String(110 + (i % 17))),
    (i) => pick(`finish-${['band', 'bound', 'tape', 'facing'][i % 4]}`),
    (i) => key(i % 2 ? 'ArrowDown' : 'ArrowUp'),
    () => document.querySelector('#undo:enabled')?.click(),
    () => document.querySelector('#redo:enabled')?.click(),
    (i) => put('head-own', String(540 + (i % 31))),
    (i) => put('front-depth', String(112 + (i % 11))),
  ];
  for (let i = from; i < from + count; i++) {
    kinds[i % kinds.length](i);
    if (i % 5 === 0) await frame();
  }
  await frame();
}

async function save(page) {
  const panel = page.locator('#keep-panel');
  const again = panel.locator('.keep-work .buttons button').first();
  await page.evaluate(() => {
    document.querySelector('#keep-panel .status').textContent = '';
  });
  await again.click();
  await page.waitForFunction(() => document.querySelector('#keep-panel .status').textContent !== '');
}

async function makePdf(page) {
  const waiting = page.waitForEvent('download', { timeout: 30_000 });
  await page.locator('#sheets-panel .actions button').first().click();
  try {
    await (await waiting).delete();
  } catch (error) {
    throw new Error(`no PDF: ${await page.locator('#sheets-panel').innerText()}`, { cause: error });
  }
}

/** The other language, and every unit once: edits are meant in mm. */
async function otherLanguageAndUnits(page, turn) {
  await page.selectOption('#language', turn % 2 ? 'es' : 'en');
  await page.waitForFunction((language) => document.documentElement.lang === language, turn % 2 ? 'es' : 'en');
  for (const unit of ['cm', 'in', 'mm']) await page.evaluate((name) => document.getElementById(`unit-${name}`).click(), unit);
}

async function measure(page, cdp) {
  // Twice: what the first leaves to be ended is gone after the second.
  for (let i = 0; i < 2; i++) {
    await cdp.send('HeapProfiler.collectGarbage');
    await page.waitForTimeout(200);
  }
  const { usedSize } = await cdp.send('Runtime.getHeapUsage');
  const { metrics } = await cdp.send('Performance.getMetrics');
  const metric = (name) => metrics.find((one) => one.name === name).value;
  const wasm = await page.evaluate(() => [...globalThis.wasmMemories].reduce((sum, { buffer }) => sum + buffer.byteLength, 0));
  return { heap: usedSize, nodes: metric('Nodes'), listeners: metric('JSEventListeners'), wasm };
}

const middle = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

/** What grew from the first third of the samples to the last by more than it may. The very first are left out: undo fills up. */
function growth(samples) {
  const settled = samples.slice(2);
  const third = Math.max(1, Math.floor(settled.length / 3));
  return Object.entries(LIMITS).flatMap(([name, [share, slack]]) => {
    const first = middle(settled.slice(0, third).map((one) => one[name]));
    const last = middle(settled.slice(-third).map((one) => one[name]));
    return last > first * (1 + share) + slack ? [`${name} grew from ${first} to ${last}`] : [];
  });
}

/** The figures as the page says them. */
const said = (page) =>
  page.evaluate(() => ['ticket', 'cards'].map((id) => document.getElementById(id).innerText.replaceAll(/\s+/g, ' ')).join('\n'));

async function figuresDiffer(site, page) {
  await page.selectOption('#language', 'en');
  await page.evaluate(() => document.getElementById('unit-mm').click());
  await page.evaluate(() => document.getElementById('finish-band').click());
  await page.fill('#front-depth', '115');
  await page.press('#front-depth', 'Tab');
  await page.waitForFunction(() => document.getElementById('problems').hidden);
  await settled(page);
  await quiet(page, 1500); // longer than any pause of the page
  const link = await page.locator('#share-panel input[readonly]').inputValue();
  const fresh = await site.open(link.slice(site.url.length), { locale: 'en-GB' });
  await fresh.page.locator('[data-notice=shared]').waitFor();
  await settled(fresh.page);
  const [used, unused] = [await said(page), await said(fresh.page)];
  await fresh.close();
  return used === unused ? [] : [`figures differ from a fresh page's:\n${used}\nfresh:\n${unused}`];
}

function row(edits, { heap, nodes, listeners, wasm }) {
  const pad = (text, width) => String(text).padStart(width);
  console.log(
    `${pad(edits, 7)} ${pad((heap / 1e6).toFixed(2), 9)} ${pad(nodes, 8)} ${pad(listeners, 10)} ${pad((wasm / 1e6).toFixed(2), 9)}`,
  );
}

async function main() {
  const site = await start();
  const wrong = [];
  try {
    const context = await site.browser.newContext({ locale: 'en-GB', viewport: { width: 1280, height: 900 } });
    await context.addInitScript(watchMemories);
    const page = await context.newPage();
    page.on('console', (message) => message.type() === 'error' && wrong.push(message.text()));
    page.on('pageerror', (error) => wrong.push(String(error.stack ?? error)));
    await page.goto(site.url);
    for (const id of ['keep-panel', 'share-panel', 'sizes-panel', 'outcome-panel']) await unfold(page, id);
    await page.locator('#working > summary').click();
    const cdp = await context.newCDPSession(page);
    await cdp.send('Performance.enable');
    console.log('  edits  heap, MB    nodes  listeners  wasm, MB');
    const samples = [];
    let [saves, pdfs] = [0, 0];
    for (let edits = 0; edits < EDITS; edits += BATCH) {
      await page.evaluate(editSome, { from: edits, count: Math.min(BATCH, EDITS - edits) });
      if (saves * EDITS < (edits + BATCH) * SAVES) {
        await save(page);
        saves++;
      }
      if (pdfs * EDITS < (edits + BATCH) * PDFS) {
        await makePdf(page);
        pdfs++;
      }
      const turn = Math.floor(((edits + BATCH) * SAMPLES) / EDITS);
      if (turn > samples.length) {
        await otherLanguageAndUnits(page, turn);
        samples.push(await measure(page, cdp));
        row(edits + BATCH, samples.at(-1));
      }
    }
    console.log(`${EDITS} edits, ${saves} saves, ${pdfs} PDFs`);
    wrong.push(...growth(samples), ...(await figuresDiffer(site, page)));
  } finally {
    await site.close();
  }
  for (const one of wrong) console.error(one);
  if (wrong.length) process.exitCode = 1;
  else console.log('nothing grew without end, nothing was logged as an error, the figures are a fresh page’s');
}

await main();
