// The printed card's code, read as a phone's camera would: by a decoder of its own, from the PDF that the page saves. It opens the page on
// the brief; of a page that is a file of one's own it is the text that is pasted. Needs `zbarimg` (zbar) and `pdftoppm` (poppler).

import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { mkdtemp, readFile, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { settled, start } from './harness.mjs';
import { importModule } from '../page/modules.mjs';
import { briefOf, root } from '../page/planner.mjs';

const run = promisify(execFile);
const { decodeBrief, encodeBrief } = await importModule('web/page/share/codec.js');
const words = JSON.parse(await readFile(`${root}www/words/en.json`, 'utf8'));

/** As sharp as a phone sees a card it is held over: coarser than a print, by far. */
const DPI = '150';

let site;
let folder;
before(async () => {
  site = await start();
  folder = await mkdtemp(path.join(tmpdir(), 'lieflat-code-'));
});
after(async () => {
  await site?.close();
  if (folder) await rm(folder, { recursive: true, force: true });
});

/** What the codes on the pages of the PDF say that a page saves. */
async function codesSaved(page, name) {
  const file = path.join(folder, `${name}.pdf`);
  const make = page.locator('#sheets-panel').getByRole('button', { name: words.sheets.panel.make_pdf });
  await make.waitFor();
  const [download] = await Promise.all([page.waitForEvent('download'), make.click()]);
  await download.saveAs(file);
  await run('pdftoppm', ['-r', DPI, '-gray', '-png', file, path.join(folder, name)]);
  const read = [];
  for (const picture of (await readdir(folder)).filter((one) => one.startsWith(`${name}-`) && one.endsWith('.png'))) {
    // It ends with 4 where there is no code on a page.
    const { stdout } = await run('zbarimg', ['-q', '--raw', '-Sdisable', '-Sqrcode.enable', path.join(folder, picture)]).catch((error) => {
      if (error.code !== 4) throw error;
      return error;
    });
    read.push(...stdout.split('\n').filter(Boolean));
  }
  return read;
}

for (const name of ['band-round', 'tape-v', 'facing-scoop'])
  test(`the code on the card of ${name} opens a phone's page on the brief`, async () => {
    const brief = { ...(await briefOf(name)), title: 'Invented: from the bag' };
    const desk = await site.open(`#brief=${encodeBrief(brief)}`, { locale: 'en-GB', serviceWorkers: 'block' });
    await desk.page.waitForSelector('[data-notice=shared]');
    await settled(desk.page);
    const figure = await desk.page.locator('#cut-figure').innerText();
    const codes = await codesSaved(desk.page, name);
    assert.equal(codes.length, 1, `one code: ${codes}`);
    const [link] = codes;
    assert.ok(link.startsWith(`${site.url}#brief=`), link);
    await desk.close();
    // Scanned: a phone that has never been here.
    const context = await site.browser.newContext({
      viewport: { width: 390, height: 844 },
      isMobile: true,
      hasTouch: true,
      locale: 'en-GB',
      isFirst: true,
    });
    const phone = await context.newPage();
    await phone.goto(link);
    await phone.waitForSelector('[data-notice=shared]');
    await settled(phone);
    assert.match(await phone.locator('[data-notice=shared]').innerText(), /Invented: from the bag/);
    assert.equal(await phone.locator('#cut-figure').innerText(), figure, 'the figure of the card, in the unit it was made in');
    await context.close();
  });

test('of a page that is one file the code is the text of the brief, which is pasted and opens it', async () => {
  const file = path.join(folder, 'lieflat.html');
  await run('node', [`${root}web/one-file.mjs`], { env: { ...process.env, LIEFLAT_ONE_FILE: file } });
  const context = await site.browser.newContext({ locale: 'en-GB', acceptDownloads: true });
  const page = await context.newPage();
  await page.goto(pathToFileURL(file).href);
  await page.waitForSelector('html.is-ready');
  await settled(page);
  const [text, ...more] = await codesSaved(page, 'one-file');
  assert.deepEqual(more, []);
  assert.match(text, /^1[\w-]+$/, 'no address of a file, which leads nowhere on a phone');
  const example = decodeBrief(text);
  assert.ok(example.neckline.front, 'a whole brief');
  const other = encodeBrief({ ...(await briefOf('tape-v')), title: 'Invented: pasted' });
  await page.locator('#share-panel > details > summary').click();
  const field = page.getByLabel(words.share.given);
  for (const given of [other, text]) {
    await field.fill(given);
    await page.getByRole('button', { name: words.share.open_given }).click();
    const title = given === text ? example.title : 'Invented: pasted';
    await page.locator('[data-notice=shared]', { hasText: title }).waitFor();
  }
  await context.close();
});
