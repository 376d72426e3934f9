// What nobody meant well: the policy that every page is under, hostile names, links, files, paths and messages.

import assert from 'node:assert/strict';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { deflateRawSync } from 'node:zlib';
import { quiet, settled, start, until } from './harness.mjs';
import { isReady, openPage, profile, type, unfold } from './keep-site.mjs';
import { importModule } from '../page/modules.mjs';

const { briefLink, encodeBrief } = await importModule('web/page/share/codec.js');
const worked = async (name) => JSON.parse(await readFile(new URL(`../briefs/${name}.json`, import.meta.url), 'utf8'));
const words = JSON.parse(await readFile(new URL('../../www/words/en.json', import.meta.url), 'utf8'));

let site;

before(async () => {
  site = await start();
});

after(() => site?.close());

/** Counts what the policy stops, in each document of a context. */
const watchPolicy = () => {
  globalThis.violations = [];
  addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI, sourceFile }) =>
    globalThis.violations.push(`${violatedDirective} ${blockedURI} ${sourceFile}`),
  );
};
const violations = (page) => page.evaluate(() => globalThis.violations);

async function watched(options) {
  const context = await profile(site, options);
  await context.addInitScript(watchPolicy);
  return context;
}

test('in all that the page does, its policy stops nothing', async () => {
  const context = await watched({ permissions: ['clipboard-read', 'clipboard-write'], serviceWorkers: 'allow' });
  const page = await openPage(context, site.url);
  await type(page, '161');
  await page.selectOption('#language', 'es');
  await page.selectOption('#language', 'en');
  await page.locator('label[for=unit-in]').click();
  await page.locator('label[for=unit-mm]').click();
  await page.click('#working > summary');
  await page.locator('.working-lines .formula').first().waitFor();
  const keep = await unfold(page, 'keep-panel');
  await keep.getByLabel('Name of this brief').fill('Tarn');
  await keep.getByRole('button', { name: 'Keep this brief' }).click();
  await keep.getByText('Kept as “Tarn”.').first().waitFor();
  await Promise.all([page.waitForEvent('download'), keep.getByRole('button', { name: 'Save everything as a file' }).click()]);
  const share = await unfold(page, 'share-panel');
  await share.getByRole('button', { name: 'Copy the link' }).click();
  const sizes = await unfold(page, 'sizes-panel');
  await sizes.locator('tbody tr').first().waitFor();
  await Promise.all([page.waitForEvent('download'), sizes.getByRole('button', { name: 'Save the table as a file' }).click()]);
  const outcome = await unfold(page, 'outcome-panel');
  await outcome.getByRole('button', { name: 'Record it' }).click();
  await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: words.sheets.panel.make_pdf }).click()]);
  await page.getByRole('button', { name: words.sheets.panel.make_svg }).click();
  await page.locator('#sheets-panel .files a').first().waitFor();
  await page.click('#open-class-view');
  await page.keyboard.press('Escape');
  await page.click('#start-own');
  await settled(page);
  assert.deepEqual(await violations(page), []);
  assert.deepEqual(page.problems, []);
  for (const name of ['embed/frame.html', 'examples/blog.html']) {
    const other = await context.newPage();
    await other.goto(site.url + name);
    await other.locator('lieflat-neckline .cut').first().waitFor();
    const cut = other.locator('lieflat-neckline .cut').first();
    const before = await cut.innerText();
    await other.locator('lieflat-neckline input').first().fill('150');
    await until('it is planned anew', async () => (await cut.innerText()) !== before);
    assert.deepEqual(await violations(other), [], name);
  }
  await context.close();
});

test('a script, a style or an eval put into any page of the site does nothing', async () => {
  for (const name of ['', 'embed/frame.html', 'examples/blog.html']) {
    const context = await watched();
    const page = await context.newPage();
    await page.goto(site.url + name);
    await page.waitForLoadState('networkidle');
    const before = await page.evaluate(() => getComputedStyle(document.body).outlineWidth);
    // As an injection would: markup that the parser or the page puts in, run by the page itself and not by the test's own means.
    await page.evaluate(() => {
      const script = document.createElement('script');
      script.textContent = 'globalThis.got = "script"';
      document.body.append(script);
      const style = document.createElement('style');
      style.textContent = 'body { outline: 7px solid }';
      document.head.append(style);
      const box = document.createElement('div');
      box.innerHTML =
        '<img src="x:" onerror="globalThis.got = 1"><a href="javascript:globalThis.got = 2">x</a><iframe srcdoc="<script>parent.got = 3</script>"></iframe><form action="https://elsewhere.invalid/"><button>x</button></form>';
      document.body.append(box);
      box.querySelector('a').click();
      box.querySelector('button').click();
      const far = document.createElement('script');
      far.src = 'https://elsewhere.invalid/x.js';
      document.body.append(far);
      const link = document.createElement('link');
      link.rel = 'stylesheet';
      link.href = 'data:text/css,body{outline:9px solid}';
      document.head.append(link);
      fetch('https://elsewhere.invalid/').catch(() => {});
      new Image().src = 'https://elsewhere.invalid/x.png';
    });
    // A text of script is refused where the page's own script would run it.
    const evaluated = await page.evaluate(
      () =>
        new Promise((resolve) => {
          // What the test's own tools run directly is past the policy; a task of the page is not.
          setTimeout(() => {
            const found = [];
            // biome-ignore lint/security/noGlobalEval: the policy must refuse it
            for (const work of [() => globalThis.eval('1'), () => new Function('return 1')()]) {
              try {
                found.push(work());
              } catch (error) {
                found.push(error.name);
              }
            }
            resolve(found);
          });
        }),
    );
    const directives = ['script-src-elem', 'script-src-attr', 'style-src-elem', 'form-action', 'connect-src', 'img-src'];
    await until(`${name}: ${directives} are stopped`, async () => {
      const stopped = new Set((await violations(page)).map((one) => one.split(' ')[0]));
      return directives.every((one) => stopped.has(one));
    });
    // What got past it would by now have run.
    await quiet(page, 500);
    assert.equal(await page.evaluate(() => globalThis.got), undefined, name);
    assert.equal(await page.evaluate(() => getComputedStyle(document.body).outlineWidth), before, name);
    assert.deepEqual(evaluated, ['EvalError', 'EvalError'], name);
    await context.close();
  }
});

const OVERRIDE = '\u202e';
const NASTY = [
  '<img src=x onerror="globalThis.got=1"><script>globalThis.got=2</script>',
  `"><svg onload=globalThis.got=3> '&amp; {title} {name}`,
  `${OVERRIDE}desrever\u2066 \u2069\u2069\u200f end`,
  'שלום (12) עולם',
  'W'.repeat(3000),
  'a\u0000b\u0008c\u001b[31m',
];

/** A brief with a text in every place that takes one. */
async function named(text) {
  const brief = await worked('tape-v');
  brief.title = text;
  brief.garment_knit.name = text;
  brief.strip_knit = {
    ...brief.garment_knit,
    name: text,
    learned: [{ finish: 'tape', held_line_mm: 600, strip_mm: 600, outcome: 'lay_flat', recorded: text }],
  };
  brief.stays = { ...brief.stays, edges: [{ name: text, part: 'other', length_mm: 150, direction: 'crosswise', allowance_mm: 10 }] };
  return brief;
}

/** Every text the page shows that holds a mark turning the direction of what follows; fields hold what was typed. */
const turning = () => {
  const found = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode())
    if (/[\u202a-\u202e\u2066\u2067]/.test(node.data))
      found.push(`${node.parentElement.tagName}.${node.parentElement.className}: ${node.data.slice(0, 60)}`);
  for (const element of document.querySelectorAll('[aria-label], [title]')) {
    const said = `${element.getAttribute('aria-label')} ${element.getAttribute('title')}`;
    if (/[\u202a-\u202e\u2066\u2067]/.test(said)) found.push(`${element.tagName} said: ${said.slice(0, 60)}`);
  }
  return found;
};

for (const [place, text] of NASTY.entries()) {
  test(`a name of kind ${place + 1} is only ever a text, and leaves what stands around it as it is`, async () => {
    const context = await watched();
    const brief = await named(text);
    const page = await openPage(context, briefLink(brief, site.url));
    await page.locator('[data-notice=shared]').waitFor();
    await page.locator('[data-notice=shared]').getByRole('button', { name: 'Make it mine' }).click();
    const keep = await unfold(page, 'keep-panel');
    await keep.getByLabel('Name of this brief').fill(text);
    await keep.getByRole('button', { name: 'Keep this brief' }).click();
    await keep.locator('.kept-list').first().locator('li').first().waitFor();
    await keep.getByRole('button', { name: 'Keep the knit of the finish' }).click();
    await keep.locator('.kept-list').nth(1).locator('li').first().waitFor();
    for (const id of ['share-panel', 'outcome-panel', 'sizes-panel']) await unfold(page, id);
    await page.locator('#sizes-panel tbody tr').first().waitFor();
    await settled(page);
    await quiet(page, 400); // the drawing is told in words after a pause
    assert.equal(await page.evaluate(() => globalThis.got), undefined);
    assert.equal(await page.evaluate(() => document.querySelectorAll('main script, main img[src=x], main svg[onload]').length), 0);
    assert.deepEqual(await page.evaluate(turning), []);
    // The text stands in the page, as it is but for what shows as nothing.
    const shown = await page.locator('#ticket .title').innerText();
    // biome-ignore lint/suspicious/noControlCharactersInRegex: none may be left
    assert.ok(shown.length >= Math.min(text.length, 3) && !/[\u202e\u0000\u001b]/.test(shown), shown.slice(0, 80));
    const overflow = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    assert.ok(overflow <= 0, `the page scrolls sideways by ${overflow} px`);
    const tall = await page.locator('#ticket').evaluate((element) => element.getBoundingClientRect().height);
    assert.ok(tall < 6000, `the ticket is ${tall} px high`);
    assert.deepEqual(await violations(page), []);
    assert.deepEqual(page.problems, []);

    const frame = await context.newPage();
    await frame.goto(`${site.url}embed/frame.html#brief=${encodeBrief(brief)}`);
    await frame.locator('lieflat-neckline .cut').waitFor();
    assert.equal(await frame.evaluate(() => globalThis.got), undefined);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: none may be left
    assert.doesNotMatch(await frame.locator('lieflat-neckline h2').innerText(), /[\u202e\u0000]/);
    assert.ok(
      await frame.evaluate(() => document.documentElement.scrollWidth <= document.documentElement.clientWidth),
      'the frame does not scroll sideways',
    );
    await context.close();
  });
}

test('huge, deep and swelling input is refused soon, in words, and the page goes on', async (t) => {
  const context = await watched();
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'keep-panel');
  const status = panel.locator('.status').first();
  // How long the page's own thread has worked: a machine that is busy with other things is not the page's doing.
  const cdp = await context.newCDPSession(page);
  await cdp.send('Performance.enable');
  const workedS = async () => (await cdp.send('Performance.getMetrics')).metrics.find(({ name }) => name === 'ThreadTime').value;
  const folder = await mkdtemp(path.join(tmpdir(), 'lieflat-files-'));
  t.after(() => rm(folder, { recursive: true, force: true }));
  const give = async (buffer, said) => {
    const file = path.join(folder, 'kept.json');
    await writeFile(file, buffer);
    await page.evaluate(() => {
      document.querySelector('#keep-panel .status').textContent = '';
    });
    const began = await workedS();
    await panel.getByLabel('Read a file back').setInputFiles(file);
    await page.waitForFunction(() => document.querySelector('#keep-panel .status').textContent !== '');
    assert.match(await status.innerText(), said);
    const took = (await workedS()) - began;
    assert.ok(took < 5, `${buffer.length} bytes took ${took} s`);
  };
  const deep = `${'['.repeat(500_000)}${']'.repeat(500_000)}`;
  await give(Buffer.alloc(60_000_000, 0x20), /too large/);
  await give(Buffer.from(deep), /not saved by this page/);
  await give(
    Buffer.from(`{"format":"lieflat.kept","version":1,"briefs":[{"id":"a","name":"b","brief":{"schema":"lieflat.brief","x":${deep}}}]}`),
    /not saved by this page/,
  );
  await give(Buffer.from([0xff, 0xfe, 0x00, 0x80]), /could not be read/);
  await give(Buffer.from('{"format":"lieflat.kept","version":1,"briefs":[{"__proto__":{"id":"a","name":"b"}}],"toString":1}'), /0 new/);
  assert.equal(await page.evaluate(() => ({}).id), undefined);

  // A path of many thousand pieces, pasted and by a link.
  const many = `M 0 95 ${'L 1 90 L 2 91 '.repeat(20_000)}L 88 0`;
  await page.locator('label[for=front-way-drawn]').click();
  const began = await workedS();
  await page.fill('#front-path', many);
  await page.press('#front-path', 'Tab');
  await page.locator('#front-path-error:not([hidden])').waitFor();
  const took = (await workedS()) - began;
  assert.ok(took < 5, `a pasted path took ${took} s`);
  await page.locator('label[for=front-way-measured]').click();
  await type(page, '155');
  assert.ok(await page.locator('#ticket').isVisible());
  assert.deepEqual(page.problems, []);

  // Links that are short and swell: one long repetition, and a packed path of many steps.
  const bomb = deflateRawSync(Buffer.alloc(9_000_000, 7), { level: 9 });
  const link = `1${Buffer.from([1, 0, 0, ...bomb]).toString('base64url')}`;
  const other = await openPage(context, `${site.url}#brief=${link}`);
  await other.locator('[data-notice=broken]').getByText('far more than a brief', { exact: false }).waitFor();
  await type(other, '156');
  assert.match(await other.locator('#ticket').innerText(), /\d+\smm × \d+\smm/);
  const drawn = await worked('band-sweetheart');
  drawn.neckline.front.outline.drawn.path_mm = `M 0 95 ${Array.from({ length: 5000 }, (_, i) => `L ${i % 9} ${90 - (i % 7)}`).join(' ')} L 88 0`;
  const text = encodeBrief(drawn);
  const third = await openPage(context, `${site.url}#brief=${text}`);
  await third.locator('[data-notice=broken]').waitFor();
  await type(third, '157');
  assert.match(await third.locator('#ticket').innerText(), /\d+\smm × \d+\smm/);
  assert.deepEqual([...other.problems, ...third.problems], []);
  await context.close();
});

/** A page of another origin that shows the frame and notes every message it gets. */
async function stranger(t) {
  const html = `<!doctype html><title>Another page</title><iframe id="f" src="${site.url}embed/frame.html#unit=mm" width="600" height="400"></iframe><script>
    globalThis.heard = [];
    addEventListener('message', ({ data, origin }) => heard.push({ data, origin }));
  </script>`;
  const server = createServer((_, response) => response.writeHead(200, { 'Content-Type': 'text/html; charset=utf-8' }).end(html));
  await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
  t.after(() => server.close());
  return `http://127.0.0.1:${server.address().port}/`;
}

test('a frame tells its height and nothing else, and hears one question and nothing else', async (t) => {
  const address = await stranger(t);
  const context = await watched();
  const page = await context.newPage();
  const problems = [];
  page.on('pageerror', (error) => problems.push(String(error)));
  await page.goto(address);
  const frame = page.frameLocator('#f');
  await frame.locator('.cut').waitFor();
  const cut = await frame.locator('.cut').innerText();
  const fields = await frame.locator('input').evaluateAll((all) => all.map(({ value }) => value));
  await page.waitForFunction(() => globalThis.heard.length > 0);
  const heard = () => page.evaluate(() => globalThis.heard.length);
  const askHeight = () =>
    page.evaluate(() => document.getElementById('f').contentWindow.postMessage({ type: 'lieflat:ask-height', more: 'x' }, '*'));
  // One question, one answer, and nothing the frame still had to say by itself.
  const before = await until('the frame has told its height', async () => {
    const was = await heard();
    await askHeight();
    await page.waitForFunction((n) => globalThis.heard.length > n, was);
    return (await heard()) === was + 1 && was + 1;
  });
  await page.evaluate(() => {
    const { contentWindow } = document.getElementById('f');
    const odd = [
      null,
      undefined,
      0,
      '',
      'lieflat:ask-height',
      [],
      ['lieflat:ask-height'],
      { type: 'lieflat:height', height: 1 },
      { type: { toString: 'x' } },
      { type: 'lieflat:set-brief', brief: 'x' },
      { brief: { title: 'x' } },
      new Map([['type', 'lieflat:ask-height']]),
      new Blob(['x']),
      { type: 'lieflat:ask-height '.repeat(9) },
    ];
    for (const data of odd) contentWindow.postMessage(data, '*');
    contentWindow.postMessage('x'.repeat(5_000_000), '*');
  });
  // Another window than the parent asks the one good question: it is no business of its own.
  await page.evaluate(
    () =>
      new Promise((resolve) => {
        const other = document.createElement('iframe');
        other.addEventListener('load', resolve);
        other.srcdoc = `<script>parent.document.getElementById('f').contentWindow.postMessage({ type: 'lieflat:ask-height' }, '*')</script>`;
        document.body.append(other);
      }),
  );
  // Messages come in the order in which they are sent: an answer to any of these would come before this one's.
  await askHeight();
  await page.waitForFunction((n) => globalThis.heard.length > n, before);
  assert.equal(await heard(), before + 1, 'nothing else is answered');
  assert.equal(await frame.locator('.cut').innerText(), cut);
  assert.deepEqual(await frame.locator('input').evaluateAll((all) => all.map(({ value }) => value)), fields);
  await frame.locator('input').first().fill('140');
  await until('the frame has planned anew', async () => (await frame.locator('.cut').innerText()) !== cut);
  await askHeight();
  await page.waitForFunction((n) => globalThis.heard.length > n, before + 1);
  for (const { data, origin } of await page.evaluate(() => globalThis.heard)) {
    assert.deepEqual(Object.keys(data).sort(), ['height', 'type']);
    assert.equal(data.type, 'lieflat:height');
    assert.ok(Number.isInteger(data.height) && data.height >= 0 && data.height < 5000);
    assert.equal(origin, new URL(site.url).origin);
  }
  // The host cannot look in.
  assert.equal(
    await page.evaluate(() => {
      try {
        return document.getElementById('f').contentWindow.document.title;
      } catch (error) {
        return error.name;
      }
    }),
    'SecurityError',
  );
  assert.deepEqual(problems, []);
  await context.close();
});

test('the page itself hears no message at all', async () => {
  const context = await watched();
  const page = await openPage(context, site.url);
  const before = await page.locator('#ticket').innerText();
  await page.evaluate(
    () =>
      new Promise((resolve) => {
        addEventListener('message', ({ data }) => data === 'the last' && resolve());
        for (const data of [{ type: 'lieflat:ask-height' }, { brief: {} }, 'take-over', 'the last']) postMessage(data, '*');
      }),
  );
  await settled(page);
  assert.equal(await page.locator('#ticket').innerText(), before);
  await page.reload();
  await isReady(page);
  assert.deepEqual(page.problems, []);
  await context.close();
});
