// The calculator in other people's pages: an element and a frame, from another
// origin, under a strict policy of the host's own.

import assert from 'node:assert/strict';
import { createServer } from 'node:http';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { dist, start } from './harness.mjs';
import { checkInches, numbersIn } from './inches.mjs';
import { assertAccessible, profile } from './keep-site.mjs';
import { importModule } from '../page/modules.mjs';

const { encodeBrief } = await importModule('web/page/share/codec.js');
const brief = JSON.parse(await readFile(new URL('../briefs/band-round.json', import.meta.url), 'utf8'));

let site;
let host;

before(async () => {
  site = await start();
  host = await hostOf(site.url);
});

after(async () => {
  host?.close();
  await site?.close();
});

/** The example blog on a port of its own, naming the site by its whole address. */
async function hostOf(url) {
  const origin = new URL(url).origin;
  const page = (await readFile(`${dist}examples/blog.html`, 'utf8')).replaceAll('"../', `"${url}`);
  const css = await readFile(new URL('../../www/examples/blog.css', import.meta.url), 'utf8');
  const policy = `default-src 'none'; script-src ${origin} 'wasm-unsafe-eval'; connect-src ${origin}; frame-src ${origin}; img-src ${origin}; style-src 'self' ${origin}; base-uri 'none'`;
  const server = createServer((request, response) => {
    const isCss = request.url.endsWith('.css');
    response.writeHead(200, { 'Content-Type': isCss ? 'text/css' : 'text/html; charset=utf-8', 'Content-Security-Policy': policy });
    response.end(isCss ? css : page);
  });
  await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
  return { url: `http://127.0.0.1:${server.address().port}/`, close: () => server.close() };
}

async function blog() {
  const context = await profile(site);
  const page = await context.newPage();
  page.problems = [];
  page.requested = [];
  page.on('pageerror', (error) => page.problems.push(String(error)));
  page.on('console', (message) => message.type() === 'error' && page.problems.push(message.text()));
  page.on('request', (request) => page.requested.push(request.url()));
  await page.goto(host.url);
  await page.locator('#second .cut').waitFor();
  await page.locator('#first .cut').waitFor();
  return { page, context };
}

const wordsOf = async (language) => JSON.parse(await readFile(new URL(`../../www/words/${language}.json`, import.meta.url), 'utf8'));
const [en, es] = await Promise.all(['en', 'es'].map(wordsOf));

test('several calculators in another origin’s page share one wasm, each with its own brief and unit', async () => {
  const { page, context } = await blog();
  assert.match(await page.locator('#first .cut').innerText(), /^Cut \d+\smm × \d+\smm$/);
  assert.match(await page.locator('#second .cut').innerText(), /in × /);
  const inPage = page.requested.filter((address) => /lieflat_web_bg.*\.wasm$/.test(address));
  const frame = page.frames().length - 1;
  assert.ok(inPage.length <= 1 + frame, `${inPage.length} times the wasm, with ${frame} frame`);
  assert.deepEqual(page.problems, []);
  // Last: axe itself sets styles that this host's policy stops.
  await assertAccessible(page, '#first');
  await context.close();
});

test('every figure in inches in an embed is one of the plan’s, or is marked as about', async () => {
  const { page, context } = await blog();
  const folder = new URL('../../target/pkg/', import.meta.url);
  const core = await import(new URL('lieflat_web.js', folder).href);
  core.initSync({ module: await readFile(new URL('lieflat_web_bg.wasm', folder)) });
  let about = 0;
  for (const name of ['band-round', 'tape-v']) {
    const given = JSON.parse(await readFile(new URL(`../briefs/${name}.json`, import.meta.url), 'utf8'));
    const { plan } = JSON.parse(core.plan(JSON.stringify(given)));
    await page.evaluate((text) => {
      const element = document.querySelector('#second');
      for (const one of ['finish', 'unit', 'brief']) element.removeAttribute(one);
      element.setAttribute('unit', 'in');
      element.setAttribute('brief', text);
    }, encodeBrief(given));
    await page.waitForFunction(
      (title) => document.querySelector('#second').shadowRoot.querySelector('h2')?.textContent === title,
      given.title,
    );
    // What is told, and not what stands beside the fields: their readings are checked field by field.
    const told = await page.evaluate(() =>
      [...document.querySelector('#second').shadowRoot.querySelectorAll('h2 ~ *')].map((one) => one.innerText).join(' '),
    );
    const counted = checkInches(told.replaceAll('\n', ' '), [...numbersIn(plan), ...numbersIn(given)], { what: `embed of ${name}` });
    about += counted.about;
  }
  assert.ok(about >= 8, `${about} figures about`);
  await context.close();
});

test('a reading typed in changes the plan, tells the host, and is refused in words where it makes no sense', async () => {
  const { page, context } = await blog();
  await page.evaluate(() => {
    globalThis.told = [];
    for (const name of ['lieflat-plan', 'lieflat-errors']) {
      document.addEventListener(name, ({ detail, target }) =>
        globalThis.told.push({ name, id: target.id, cut: detail.plan?.strip?.cut_length.cut_mm, errors: detail.errors?.length }),
      );
    }
  });
  const first = page.locator('#first');
  const before = await first.locator('.cut').innerText();
  const field = first.getByLabel('Half length of the front, mm');
  await field.fill('170');
  await page.waitForFunction((text) => document.querySelector('#first').shadowRoot.querySelector('.cut').textContent !== text, before);
  const told = await page.evaluate(() => globalThis.told);
  assert.equal(told.at(-1).name, 'lieflat-plan');
  assert.equal(told.at(-1).id, 'first');
  assert.ok(told.at(-1).cut > 400);

  await field.fill('5');
  await first.locator('.error:not([hidden])').first().waitFor();
  assert.match(await first.locator('.error:not([hidden])').first().innerText(), /Accepted: 20\smm to 1500\smm/);
  assert.equal(await field.getAttribute('aria-invalid'), 'true');
  assert.equal((await page.evaluate(() => globalThis.told)).at(-1).name, 'lieflat-errors');
  await field.fill('154');
  await first.locator('.older').waitFor({ state: 'detached' });
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('attributes choose brief, finish, unit and language; custom properties the colours; the keyboard does all', async () => {
  const { page, context } = await blog();
  const text = encodeBrief({ ...brief, title: 'Invented <b>neckline</b>' });
  await page.evaluate((given) => {
    const element = document.querySelector('#first');
    element.setAttribute('brief', given);
    element.setAttribute('lang', 'es');
    element.setAttribute('unit', 'cm');
    element.setAttribute('finish', 'bound');
  }, text);
  const first = page.locator('#first');
  await first.getByText('Corta', { exact: false }).waitFor();
  assert.equal(await first.locator('h2').innerText(), 'Invented <b>neckline</b>', 'a title is text');
  assert.match(await first.locator('.cut').innerText(), /cm/);
  assert.match(await first.locator('a').getAttribute('href'), /#brief=1/);
  const colour = await page.locator('#second').evaluate((element) => getComputedStyle(element).backgroundColor);
  assert.equal(colour, 'rgb(255, 246, 229)');
  await page.evaluate(() => document.querySelector('#first').setAttribute('brief', '1broken'));
  await first.getByRole('alert').waitFor();
  await page.locator('#second input').first().focus();
  await page.keyboard.press('Tab');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'second', 'from field to field');
  await context.close();
});

test('the frame works in another origin’s page, tells its height, and hears no stranger', async () => {
  const { page, context } = await blog();
  const frame = page.frameLocator('#framed');
  await page.locator('#framed').scrollIntoViewIfNeeded();
  await frame.locator('lieflat-neckline .cut').waitFor();
  assert.match(await frame.locator('lieflat-neckline .cut').innerText(), /^Corta .*\scm$/);
  await page.waitForFunction(() => document.querySelector('#framed').height !== '640');
  const height = Number(await page.locator('#framed').getAttribute('height'));
  assert.ok(height > 200 && height < 4000, `${height} px`);
  // A message from the page itself, or of another shape, changes nothing. Messages come in the order in which they are sent.
  await page.evaluate(
    () =>
      new Promise((resolve) => {
        addEventListener('message', ({ data }) => data === 'the last' && resolve());
        for (const data of [{ type: 'lieflat:height', height: 7 }, 'lieflat:height', 'the last']) postMessage(data, '*');
      }),
  );
  assert.equal(Number(await page.locator('#framed').getAttribute('height')), height);
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a drawn neckline says what cannot be changed here, and shows what can', async () => {
  const { page, context } = await blog();
  const drawn = JSON.parse(await readFile(new URL('../briefs/band-sweetheart.json', import.meta.url), 'utf8'));
  await page.evaluate((given) => document.querySelector('#first').setAttribute('brief', given), encodeBrief(drawn));
  const first = page.locator('#first');
  await first.getByText('This outline is drawn: it is changed in Lieflat itself.', { exact: false }).waitFor();
  const before = await first.locator('.cut').innerText();
  await first.getByLabel('Finished width, mm').fill('20');
  await page.waitForFunction((text) => document.querySelector('#first').shadowRoot.querySelector('.cut').textContent !== text, before);
  await page.evaluate(() => document.querySelector('#first').setAttribute('brief', ''));
  await first.getByLabel('Half length of the front, mm').waitFor();
  assert.equal(await first.locator('.hint').count(), 0);
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('neither page disturbs the other: the host’s styles stay out, the element’s stay in', async () => {
  const { page, context } = await blog();
  const look = () =>
    page.evaluate(() =>
      ['input', '.cut', 'label'].map((name) => {
        const { fontSize, display, borderTopWidth, textTransform } = getComputedStyle(
          document.querySelector('#first').shadowRoot.querySelector(name),
        );
        return `${name} ${fontSize} ${display} ${borderTopWidth} ${textTransform}`;
      }),
    );
  const before = await look();
  await page.evaluate(() => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(
      'body, body * { font-size: 40px; letter-spacing: 3px; display: inline; border: 9px solid; } input, .cut, label, p { text-transform: uppercase; display: none; }',
    );
    document.adoptedStyleSheets = [sheet];
  });
  assert.deepEqual(await look(), before);
  assert.equal(await page.evaluate(() => document.querySelectorAll('input, select').length), 0, 'no field leaks into the host');
  assert.equal(await page.evaluate(() => document.getElementById('finish')), null, 'nor any id');
  await context.close();
});

test('an element that could not load says so and may be asked again', async () => {
  const context = await profile(site);
  const page = await context.newPage();
  let isDown = true;
  await context.route(/lieflat_web_bg-\w+\.wasm/, (route) => (isDown ? route.abort() : route.continue()));
  await page.goto(host.url);
  const first = page.locator('#first');
  await first.getByRole('alert').waitFor();
  for (const [lang, words] of [
    ['es-MX', es],
    ['en', en],
  ]) {
    await first.evaluate((element, tag) => element.setAttribute('lang', tag), lang);
    await first.getByText(words.embed.not_loaded, { exact: true }).waitFor();
    assert.equal(await first.getByRole('button').innerText(), words.offline.again, lang);
  }
  isDown = false;
  await first.getByRole('button', { name: 'Try again' }).click();
  await first.locator('.cut').waitFor();
  await context.close();
});

test('a frame names the language it is written in', async () => {
  const context = await profile(site);
  const page = await context.newPage();
  for (const [asked, lang] of [
    ['es-MX', 'es'],
    ['xx', 'en'],
    ['', 'en'],
  ]) {
    await page.goto(`${site.url}embed/frame.html#lang=${asked}`);
    await page.locator('.cut').waitFor();
    assert.equal(await page.evaluate(() => document.documentElement.lang), lang, asked);
    await page.goto('about:blank');
  }
  await context.close();
});

test('moved or taken out and put back, an element keeps what was typed', async () => {
  const { page, context } = await blog();
  await page.locator('#first').getByLabel('Half length of the front, mm').fill('171');
  await page.waitForFunction(() => document.querySelector('#first').brief.neckline.front.outline.measured.half_length_mm === 171);
  await page.evaluate(() => {
    const element = document.querySelector('#first');
    element.remove();
    document.querySelector('main').append(element);
  });
  await page.locator('#first .cut').waitFor();
  assert.equal(await page.locator('#first').getByLabel('Half length of the front, mm').inputValue(), '171');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('what is typed stays where the finish or the unit becomes another, and is the same length', async () => {
  const { page, context } = await blog();
  const first = page.locator('#first');
  const length = first.locator('[id$=half_length_mm]').first();
  const width = first.locator('[id$=width_mm][id^=finish]');
  await width.fill('1x5');
  await length.fill('16x2');
  await first.locator('#finish').selectOption('tape');
  await first.locator('[id=finish-tape-width_mm]').waitFor();
  assert.deepEqual([await width.inputValue(), await length.inputValue()], ['1x5', '16x2']);
  assert.equal(await length.getAttribute('aria-invalid'), 'true');
  await width.fill('12');
  await length.selectText();
  // Both within a moment: the host's page asks for another unit while something is typed.
  await page.keyboard.type('171');
  await page.$eval('#first', (element) => element.setAttribute('unit', 'cm'));
  await first.getByText(/Cut .*cm × .*cm/).waitFor();
  assert.equal(await length.inputValue(), '17.1');
  assert.ok(await length.evaluate((input) => input.matches(':focus')));
  assert.equal(await page.$eval('#first', ({ brief }) => brief.neckline.front.outline.measured.half_length_mm), 171);
  assert.deepEqual(page.problems, []);
  await context.close();
});
