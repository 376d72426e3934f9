// The panel that records how a sewn strip came out.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { settled, start, until } from './harness.mjs';
import { assertAccessible, isReady, openPage, profile, type, unfold } from './keep-site.mjs';
import { importModule } from '../page/modules.mjs';

const { decodeBrief } = await importModule('web/page/share/codec.js');

let site;

before(async () => {
  site = await start();
});

after(() => site?.close());

async function cutMm(page) {
  await settled(page);
  const [, length] = /(\d+)\smm × /.exec(await page.locator('#ticket').innerText());
  return Number(length);
}

test('a strip that stood away makes the next one shorter, and undo takes it back', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'outcome-panel');
  const before = await cutMm(page);
  await panel.getByLabel('stood away: too long').check();
  await panel.getByRole('button', { name: 'Record it' }).click();
  await panel.locator('.error:not([hidden])').waitFor();
  await panel.getByLabel('By how much, all round').fill('400');
  await panel.getByRole('button', { name: 'Record it' }).click();
  // The core says what it takes.
  await panel.locator('.error:not([hidden])').filter({ hasText: 'Accepted' }).waitFor();
  await panel.getByLabel('By how much, all round').fill('18');
  await panel.getByRole('button', { name: 'Record it' }).click();
  await panel.getByText(/^From 1 record: a hold of/).waitFor();
  // Which knit, which record, and why 18 mm too long are not 18 mm less.
  assert.match(
    await panel.locator('.status').innerText(),
    /^Recorded for .+, Band\. .*strip \d+(\.\d)?\smm, stood away, 18\smm too long\.$/,
  );
  assert.match(await panel.locator('h3').innerText(), /^Records of .+, Band$/);
  assert.match(await panel.innerText(), /Your sewing alone says [\s\S]*The rule counts as two records/);
  assert.ok((await cutMm(page)) < before, 'shorter');
  assert.equal(await panel.locator('.entries li').count(), 1);
  await assertAccessible(page, '#outcome-panel');
  await page.click('#undo');
  await panel.getByText('No records yet: the plan uses the rule.').waitFor();
  assert.equal(await cutMm(page), before);
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a strip’s width as sewn is recorded with what was planned, and the next plan is cut by it', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'outcome-panel');
  const cutWidth = async () => {
    await settled(page);
    return Number(/× (\d+)\smm/.exec(await page.locator('#ticket').innerText())[1]);
  };
  const narrows = page.locator('#card-knit p').filter({ hasText: 'Poisson’s ratio' });
  assert.match(await narrows.innerText(), /taken by the kind of knit/);
  const before = await cutWidth();
  await panel.getByLabel('Its finished width as sewn').fill('900');
  await panel.getByRole('button', { name: 'Record it' }).click();
  await panel.locator('.error:not([hidden])').filter({ hasText: 'Accepted' }).waitFor();
  await panel.getByLabel('Its finished width as sewn').fill('11');
  await panel.getByLabel('Strip as you sewed it, all round').fill('440');
  await panel.getByRole('button', { name: 'Record it' }).click();
  await panel.locator('.error:not([hidden])').filter({ hasText: 'as long as planned' }).waitFor();
  await panel.getByLabel('Strip as you sewed it, all round').fill('');
  await panel.getByRole('button', { name: 'Record it' }).click();
  await panel.locator('.entries li').filter({ hasText: '11\u00a0mm wide' }).waitFor();
  await settled(page);
  assert.match(await narrows.innerText(), /learned from your sewn strips/);
  assert.ok((await cutWidth()) > before, 'a knit that narrows more is cut wider');
  await assertAccessible(page, '#outcome-panel');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a record goes with the kept knit and comes along where the knit is used', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const keep = await unfold(page, 'keep-panel');
  await keep.getByRole('button', { name: 'Keep the garment’s knit' }).click();
  await page.waitForFunction(() => /Kept/.test(document.querySelector('#keep-panel .knit-keeper .status').textContent));
  const panel = await unfold(page, 'outcome-panel');
  await panel.getByRole('button', { name: 'Record it' }).click();
  await page.waitForFunction(() => document.querySelector('#outcome-panel .status').textContent.includes('kept knit'));
  await keep.getByText('1 record of what worked', { exact: false }).waitFor();
  await page.reload();
  await isReady(page);
  await unfold(page, 'outcome-panel');
  await page.locator('#outcome-panel .entries li').waitFor();
  await context.close();
});

test('records stay with the knit while the form is used, go with a link, and not with somebody’s own start', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'outcome-panel');
  await panel.getByRole('button', { name: 'Record it' }).click();
  await panel.getByText(/^From 1 record: a hold of/).waitFor();
  await page.getByText('The hold was learned from how your own strips came out.').waitFor();
  await type(page, '160');
  assert.equal(await panel.locator('.entries li').count(), 1, 'an edit of the form keeps it');
  await type(page, '158', '#garment-crosswise-stretched');
  assert.equal(await panel.locator('.entries li').count(), 1, 'an edit of the knit too');
  const share = await unfold(page, 'share-panel');
  const link = await until('the link has the knit as it now is', async () => {
    const text = await share.getByLabel('Link to this brief').inputValue();
    const knit = text && decodeBrief(new URL(text).hash.slice('#brief='.length)).garment_knit;
    return knit?.learned?.length === 1 && knit.crosswise.readings.stretched_mm === 158 && text;
  });
  const other = await profile(site);
  const there = await openPage(other, link);
  await unfold(there, 'outcome-panel');
  await there.locator('#outcome-panel .entries li').waitFor();
  await other.close();
  await page.reload();
  await isReady(page);
  await page.locator('#outcome-panel .entries li').waitFor();
  assert.deepEqual(page.problems, []);
  await context.close();
});
