// A link on the page: what it shows, what it leaves alone, how it is handed on.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { deflateRawSync } from 'node:zlib';
import { forgedLink } from '../page/forged-link.mjs';
import { importModule } from '../page/modules.mjs';
import { briefOf } from '../page/planner.mjs';
import { quiet, settled, start, until } from './harness.mjs';
import { assertAccessible, frontLength, isReady, openPage, profile, type, unfold } from './keep-site.mjs';

const { briefLink, decodeBrief, encodeBrief } = await importModule('web/page/share/codec.js');

let site;

before(async () => {
  site = await start();
});

after(() => site?.close());

const shared = async (title) => ({ ...(await briefOf('band-round')), title });

test('a link shows somebody else’s brief and leaves one’s own as it was', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '165');
  const brief = await shared('A friend’s neckline <i>');
  brief.neckline.front.outline.measured.half_length_mm = 171;
  await page.goto(briefLink(brief, site.url));
  await page.reload();
  await isReady(page);
  const notice = page.locator('[data-notice=shared]');
  await notice.waitFor();
  assert.match(await notice.innerText(), /A friend’s neckline <i>.*Your own work is kept/s);
  await page.waitForFunction((field) => document.querySelector(field).value === '171', frontLength);
  await assertAccessible(page, '#notices');

  await notice.getByRole('button', { name: 'Back to my own' }).click();
  await page.waitForFunction((field) => document.querySelector(field).value === '165', frontLength);
  assert.equal(new URL(page.url()).hash, '');

  // The same link in the open page, then made one's own: what was there before is still to be had.
  await page.evaluate(
    (link) => {
      location.href = link;
    },
    briefLink(brief, site.url),
  );
  await notice.waitFor();
  await notice.getByRole('button', { name: 'Make it mine' }).click();
  await notice.waitFor({ state: 'detached' });
  await page.reload();
  await isReady(page);
  await page.waitForFunction((field) => document.querySelector(field).value === '171', frontLength);
  const panel = await unfold(page, 'keep-panel');
  await panel.getByRole('heading', { name: 'Unfinished work' }).waitFor();
  await panel
    .getByRole('button', { name: /^Go on with/ })
    .first()
    .click();
  await page.waitForFunction((field) => document.querySelector(field).value === '165', frontLength);
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('changes to a shared brief outlive a reload and still leave one’s own alone', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '165');
  await page.goto(briefLink(await shared('Shared'), site.url));
  await page.reload();
  await isReady(page);
  await page.locator('[data-notice=shared]').waitFor();
  await type(page, '149');
  await page.reload();
  await isReady(page);
  await page.waitForFunction((field) => document.querySelector(field).value === '149', frontLength);
  await page.locator('[data-notice=shared]').getByRole('button', { name: 'Back to my own' }).click();
  await page.waitForFunction((field) => document.querySelector(field).value === '165', frontLength);
  await context.close();
});

test('a broken or hostile link says so and leaves a page that works', async () => {
  const context = await profile(site);
  const deep = new Uint8Array(4000).fill(6).map((byte, i) => (i % 2 ? 1 : byte));
  const bomb = deflateRawSync(Buffer.alloc(9_000_000, 7), { level: 9 });
  const unplannable = await shared('x');
  unplannable.finish = { band: { width_mm: -5 } };
  const otherKind = await shared('x');
  otherKind.garment_knit = 'jersey';
  const links = {
    'cut short': ['1AeDX', /cut short or mistyped/],
    'from a newer version': ['2AAAA', /newer version/],
    'a bomb': [forgedLink(1, new Uint8Array([0]), bomb), /far more than a brief/],
    'nested deep': [forgedLink(0, deep), /cut short or mistyped/],
    'out of range': [encodeBrief(unplannable), /no brief that this page can plan/],
    'of another kind of value': [encodeBrief(otherKind), /no brief that this page can plan/],
  };
  for (const [name, [text, said]] of Object.entries(links)) {
    const page = await openPage(context, `${site.url}#brief=${text}`);
    const notice = page.locator('[data-notice=broken]');
    await notice.waitFor();
    assert.match(await notice.innerText(), said, name);
    await type(page, '156');
    assert.ok(await page.locator('#ticket').isVisible(), `${name}: the page works`);
    await notice.getByRole('button').click();
    await notice.waitFor({ state: 'detached' });
    assert.deepEqual(page.problems, [], name);
    await page.close();
  }
  await context.close();
});

/** The share panel's link once it has the front's half length as it now is, mm. */
const linkWith = (panel, length) =>
  until(`the link has ${length} mm`, async () => {
    const link = await panel.getByLabel('Link to this brief').inputValue();
    return (
      link && decodeBrief(new URL(link).hash.slice('#brief='.length)).neckline.front.outline.measured.half_length_mm === length && link
    );
  });

test('the share panel gives the link of the brief as it stands, and snippets for others’ pages', async () => {
  const context = await profile(site, { permissions: ['clipboard-read', 'clipboard-write'] });
  const page = await openPage(context, site.url);
  await type(page, '162');
  const panel = await unfold(page, 'share-panel');
  const link = await linkWith(panel, 162);
  await panel.getByRole('button', { name: 'Copy the link' }).click();
  await page.waitForFunction(() => document.querySelector('#share-panel .status').textContent === 'Copied.');
  assert.equal(await page.evaluate(() => navigator.clipboard.readText()), link);
  const snippet = panel.getByLabel('What to paste');
  assert.match(
    await snippet.inputValue(),
    /^<script type="module" src="http:[^"]+embed\.js"><\/script>\n<lieflat-neckline brief="1[\w-]+" unit="mm" lang="en"><\/lieflat-neckline>$/,
  );
  await panel.getByLabel('Frames only').check();
  assert.match(await snippet.inputValue(), /^<iframe src="http:[^"]+embed\/frame\.html#brief=1[\w-]+&amp;unit=mm&amp;lang=en"/);
  await assertAccessible(page, '#share-panel');
  await type(page, '5');
  await quiet(page, 400); // longer than the panel's pause
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('where the device can share, it is handed the link; what goes wrong is said, and a closed list is not', async () => {
  const context = await profile(site);
  await context.addInitScript(() => {
    globalThis.handed = [];
    navigator.share = async (what) => {
      globalThis.handed.push(what);
      if (globalThis.refusal) throw new DOMException('no', globalThis.refusal);
    };
  });
  const page = await openPage(context, site.url);
  await type(page, '163');
  const panel = await unfold(page, 'share-panel');
  await linkWith(panel, 163);
  const button = panel.getByRole('button', { name: 'Share…' });
  await button.click();
  const [what] = await page.evaluate(() => globalThis.handed);
  assert.equal(what.title, 'Invented example: the Tarn tee');
  assert.equal(decodeBrief(new URL(what.url).hash.slice('#brief='.length)).neckline.front.outline.measured.half_length_mm, 163);
  await page.evaluate(() => {
    globalThis.refusal = 'AbortError';
  });
  await button.click();
  assert.equal(await panel.locator('.status').innerText(), '');
  await page.evaluate(() => {
    globalThis.refusal = 'NotAllowedError';
  });
  await button.click();
  await panel.getByText('Sharing did not work here. Copy the link instead.').waitFor();
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('where the browser neither shares nor copies, the link is selected to be copied by hand', async () => {
  const context = await profile(site);
  await context.addInitScript(() => {
    Object.defineProperty(navigator, 'share', { value: undefined });
    Object.defineProperty(navigator, 'clipboard', { value: undefined });
  });
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'share-panel');
  assert.equal(await panel.getByRole('button', { name: 'Share…' }).count(), 0, 'nothing is offered that is not there');
  await panel.getByRole('button', { name: 'Copy the link' }).click();
  await panel.getByText('The browser does not let the page copy.', { exact: false }).waitFor();
  const field = panel.getByLabel('Link to this brief');
  assert.equal(await field.evaluate(({ selectionStart, selectionEnd, value }) => selectionEnd - selectionStart === value.length), true);
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a link with parts that this version does not know opens, and says which', async () => {
  const context = await profile(site);
  const brief = await shared('Piped');
  brief.finish.band.piping_mm = 3;
  brief.trim = { lace: true };
  const page = await openPage(context, briefLink(brief, site.url));
  const notice = page.locator('[data-notice=unknown]');
  await notice.waitFor();
  assert.match(await notice.innerText(), /finish\.band\.piping_mm; trim/);
  await settled(page);
  assert.match(await page.locator('#ticket').innerText(), /Piped/);
  await notice.getByRole('button').click();
  await notice.waitFor({ state: 'detached' });
  // A brief of a version to come is said to be one.
  await page.evaluate(
    (text) => {
      location.hash = `brief=${text}`;
    },
    encodeBrief({ ...(await shared('Later')), version: 2 }),
  );
  await page.locator('[data-notice=broken]').getByText('newer version', { exact: false }).waitFor();
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a link whose reader cannot be fetched may be tried again', async () => {
  const context = await profile(site);
  let isDown = true;
  const { files } = JSON.parse(await readFile(new URL('../../target/dist.files.json', import.meta.url), 'utf8'));
  assert.ok(files.some(({ name }) => /^page\/codec-/.test(name)));
  await context.route(/\/page\/codec-/, (route) => (isDown ? route.abort() : route.continue()));
  const page = await openPage(context, briefLink(await shared('Late'), site.url));
  const notice = page.locator('[data-notice=broken]');
  await notice.getByText('The link itself may be good.', { exact: false }).waitFor();
  isDown = false;
  await notice.getByRole('button', { name: 'Try again' }).click();
  await page.locator('[data-notice=shared]').waitFor();
  await notice.waitFor({ state: 'detached' });
  await settled(page);
  assert.match(await page.locator('#ticket').innerText(), /Late/);
  await context.close();
});
