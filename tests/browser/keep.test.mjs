// What is kept: the file it is handed out in, and how such a file is taken in.
// Then the panel, in a browser.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { quiet, start } from './harness.mjs';
import { assertAccessible, frontLength, isReady, openPage, profile, type, unfold, written } from './keep-site.mjs';
import { importModule } from './modules.mjs';

const { ImportError, canonical, exportText, freeName, mergePlan, readExport, unionOfRecords } = await importModule('web/page/keep/merge.js');
const { toCsv } = await importModule('web/page/keep/csv.js');

const brief = (title) => ({ schema: 'lieflat.brief', version: 1, title });
const entry = (id, name, content = brief(name)) => ({ id, name, created: '2026-01-01T00:00:00Z', changed: '2026-01-02T00:00:00Z', revision: 3, brief: content });
const knit = (id, name, stretch = 50) => ({ id, name, revision: 1, knit: { name, crosswise: { percent: { stretch_percent: stretch } } } });
const draft = (id, title) => ({ id, changed: '2026-01-02T00:00:00Z', brief: brief(title) });
const nothing = { briefs: [], knits: [], drafts: [] };

function ids() {
  let count = 0;
  return () => `new-${++count}`;
}

/** What is kept after a file was taken in. */
function merged(kept, file) {
  const { add } = mergePlan(kept, readExport(file), ids());
  return Object.fromEntries(Object.keys(kept).map((kind) => [kind, [...kept[kind], ...add[kind]]]));
}

const file = (kept) => exportText({ unread: [], ...kept }, '2026-02-01T00:00:00Z');

test('a file taken in where nothing is kept brings everything', () => {
  const kept = { briefs: [entry('a', 'Tarn'), entry('b', 'Fell')], knits: [knit('k', 'Rib')], drafts: [draft('d', 'half done')] };
  const got = merged(nothing, file(kept));
  assert.deepEqual(got.briefs.map(({ id, name, brief: content }) => [id, name, content]), kept.briefs.map(({ id, name, brief: content }) => [id, name, content]));
  assert.equal(got.knits.length, 1);
  assert.equal(got.drafts.length, 1);
});

test('taken in twice, it adds nothing the second time', () => {
  const kept = { briefs: [entry('a', 'Tarn')], knits: [knit('k', 'Rib')], drafts: [draft('d', 'x')] };
  const { add, skipped, renamed } = mergePlan(kept, readExport(file(kept)), ids());
  assert.deepEqual([add.briefs, add.knits, add.drafts], [[], [], []]);
  assert.equal(skipped, 3);
  assert.deepEqual(renamed, []);
});

test('a clash is kept beside under a new name, and nothing that was there changes', () => {
  const mine = { briefs: [entry('a', 'Tarn', brief('mine'))], knits: [knit('k', 'Rib', 40)], drafts: [] };
  const before = canonical(mine);
  const theirs = { briefs: [entry('a', 'Tarn', brief('theirs'))], knits: [knit('q', 'Rib', 70)], drafts: [] };
  const { add, renamed } = mergePlan(mine, readExport(file(theirs)), ids());
  assert.equal(canonical(mine), before);
  assert.equal(add.briefs[0].name, 'Tarn (2)');
  assert.notEqual(add.briefs[0].id, 'a', 'an id that is taken is not used again');
  assert.equal(add.briefs[0].brief.title, 'theirs');
  assert.equal(add.knits[0].name, 'Rib (2)');
  assert.deepEqual(renamed, [{ from: 'Tarn', to: 'Tarn (2)' }, { from: 'Rib', to: 'Rib (2)' }]);
});

test('whatever two places kept, nothing of either is lost by merging', () => {
  let state = 7;
  const roll = (n) => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) % n;
  for (let round = 0; round < 200; round++) {
    const some = () => ({
      briefs: Array.from({ length: roll(6) }, (_, i) => entry(`b${roll(4)}-${i}`, `name ${roll(3)}`, brief(`title ${roll(3)}`))),
      knits: Array.from({ length: roll(4) }, (_, i) => knit(`k${roll(3)}-${i}`, `knit ${roll(2)}`, 40 + roll(3))),
      drafts: Array.from({ length: roll(3) }, (_, i) => draft(`d${i}`, `draft ${roll(3)}`)),
    });
    const [mine, theirs] = [some(), some()];
    const got = merged(mine, file(theirs));
    for (const kind of ['briefs', 'knits', 'drafts']) {
      const content = (one) => canonical(one.brief ?? one.knit);
      const all = got[kind].map(content);
      for (const one of [...mine[kind], ...theirs[kind]]) assert.ok(all.includes(content(one)), `${kind}: ${canonical(one)}`);
      assert.equal(new Set(got[kind].map(({ id }) => id)).size, new Set(mine[kind].map(({ id }) => id)).size + got[kind].length - mine[kind].length, 'each id once');
      const added = got[kind].slice(mine[kind].length);
      if (kind !== 'drafts') for (const { name } of added) assert.equal(got[kind].filter((one) => one.name === name).length, 1, `${name} once`);
    }
  }
});

test('taken in again after entries were renamed here, or came in under another name, it adds nothing', () => {
  const given = { briefs: [entry('a', 'Tarn'), entry('b', 'Fell')], knits: [knit('k', 'Rib')], drafts: [draft('d', 'x')] };
  const text = file(given);
  const renamed = { ...given, briefs: [entry('a', 'Beck', brief('Tarn')), given.briefs[1]], knits: [{ ...knit('k', 'Rib'), name: 'Ribbed' }] };
  assert.equal(mergePlan(renamed, readExport(text), ids()).skipped, 4, 'renamed here');

  // Changed here, the file's own comes in beside it, once; also after it was renamed in its turn.
  const changed = { ...given, briefs: [entry('a', 'Tarn', brief('changed')), given.briefs[1]] };
  const once = merged(changed, text);
  assert.deepEqual(once.briefs.map(({ name }) => name), ['Tarn', 'Fell', 'Tarn (2)']);
  assert.equal(merged(once, text).briefs.length, 3, 'twice');
  once.briefs[2].name = 'Tarn from the file';
  assert.equal(merged(once, text).briefs.length, 3, 'twice, renamed');
  // And from there to a third place and back.
  assert.equal(merged(given, file(once)).briefs.length, 3);
  assert.equal(merged(once, file(merged(given, file(once)))).briefs.length, 3);
});

test('two entries of one file that differ in name alone both come in', () => {
  const text = file({ briefs: [entry('a', 'Tarn', brief('t')), entry('b', 'Beck', brief('t'))], knits: [], drafts: [] });
  assert.deepEqual(merged(nothing, text).briefs.map(({ name }) => name), ['Tarn', 'Beck']);
});

/** The fields of the core's structures as its source tells them: { Struct: [[field, type]] } and { Enum: [[variant, type or fields]] }. */
function structures(source) {
  const text = source.replaceAll(/\/\/.*$/gm, '').replaceAll(/#\[[^\]]*\]/g, '');
  const snake = (name) => name.replaceAll(/(?<!^)(?=[A-Z])/g, '_').toLowerCase();
  const found = new Map();
  const fieldsOf = (body) => [...body.matchAll(/(?:pub )?(\w+): ([^,{}]+),/g)].map(([, name, type]) => [name, type.trim()]);
  for (const [, kind, name, body] of text.matchAll(/pub (struct|enum) (\w+) \{\n([\s\S]*?)\n\}/g)) {
    if (kind === 'struct') found.set(name, fieldsOf(body));
    else {
      const variants = [...body.matchAll(/^ {4}(\w+)(?:\((\w+)\)| \{([\s\S]*?)\n {4}\})?,?$/gm)];
      found.set(name, variants.map(([, variant, of, inner]) => [snake(variant), inner ? fieldsOf(inner) : (of ?? '')]));
    }
  }
  return found;
}

test('the table of known fields is the core’s own', async () => {
  const { BRIEF } = await importModule('web/page/keep/known-fields.js');
  const sources = await Promise.all(['brief', 'learned'].map((name) => readFile(new URL(`../../core/src/${name}.rs`, import.meta.url), 'utf8')));
  const types = structures(sources.join('\n'));
  const tree = (of) => {
    if (Array.isArray(of)) return Object.fromEntries(of.map(([name, type]) => [name, tree(type)]));
    const many = /^Vec<(\w+)>$/.exec(of);
    if (many) return [tree(many[1])];
    const inside = /^Option<(\w+)>$/.exec(of)?.[1] ?? of;
    const parts = (types.get(inside) ?? []).filter(([, type]) => type !== '');
    // A choice without content is a plain text; its words are values, not fields.
    return parts.length ? tree(parts) : 'plain';
  };
  const sorted = (value) => canonical(value);
  assert.ok(types.size > 20, `${types.size} structures were read`);
  assert.equal(sorted(BRIEF), sorted(tree('Brief')));
});

test('what this version does not know of a brief is found wherever it stands', async () => {
  const { unknownFields } = await importModule('web/page/keep/known-fields.js');
  const folder = new URL('../briefs/', import.meta.url);
  for (const name of ['band-round', 'tape-v', 'facing-scoop', 'bound-scoop', 'band-sweetheart']) {
    const given = JSON.parse(await readFile(new URL(`${name}.json`, folder), 'utf8'));
    assert.deepEqual(unknownFields(given), [], name);
    const objects = [];
    const walk = (value, at) => {
      if (typeof value !== 'object' || value === null) return;
      if (!Array.isArray(value)) objects.push([value, at]);
      for (const [key, one] of Object.entries(value)) walk(one, Array.isArray(value) ? `${at}[${key}]` : at ? `${at}.${key}` : key);
    };
    walk(given, '');
    assert.ok(objects.length > 8);
    for (const [object, at] of objects) {
      object.own_idea = { deep: 1 };
      assert.deepEqual(unknownFields(given), [at ? `${at}.own_idea` : 'own_idea'], `${name} ${at}`);
      delete object.own_idea;
    }
  }
  assert.deepEqual(unknownFields(null), []);
  assert.deepEqual(unknownFields({ toString: 1 }), ['toString'], 'no name is known by accident');
});

test('files that are none are named as what they are', () => {
  const code = (text) => {
    try {
      readExport(text);
      return 'read';
    } catch (error) {
      assert.ok(error instanceof ImportError);
      return error.code;
    }
  };
  const good = file(nothing);
  assert.equal(code(good), 'read');
  assert.equal(code(good.slice(0, -5)), 'not_json');
  assert.equal(code(''), 'not_json');
  assert.equal(code('[]'), 'not_ours');
  assert.equal(code('{"format":"another"}'), 'not_ours');
  assert.equal(code(JSON.stringify({ format: 'lieflat.kept', version: 2 })), 'newer');
  assert.equal(code(JSON.stringify({ format: 'lieflat.kept', version: '1' })), 'not_ours');
  assert.equal(code(' '.repeat(20_000_001)), 'too_large');
  assert.equal(code(JSON.stringify({ format: 'lieflat.kept', version: 1, drafts: Array.from({ length: 5001 }, (_, i) => ({ id: `${i}` })) })), 'too_large');
  const deep = `${'['.repeat(200_000)}${']'.repeat(200_000)}`;
  assert.equal(code(deep), 'not_ours');
  assert.equal(code(`{"format":"lieflat.kept","version":1,"briefs":${deep}}`), 'not_ours');
});

test('entries that cannot be read are counted and left', () => {
  const odd = [null, 5, {}, { id: 'x' }, { id: 'x', name: 'n', brief: { schema: 'other' } }, { id: '', name: 'n', brief: brief('t') }];
  const { add, unread } = mergePlan(nothing, readExport(JSON.stringify({ format: 'lieflat.kept', version: 1, briefs: [...odd, entry('a', 'Tarn')], knits: 'none', drafts: [{ id: 1 }] })), ids());
  assert.equal(unread, odd.length + 1);
  assert.deepEqual(add.briefs.map(({ name }) => name), ['Tarn']);
});

test('names get the least number that is free', () => {
  assert.equal(freeName('Tarn', new Set()), 'Tarn');
  assert.equal(freeName('Tarn', new Set(['Tarn', 'Tarn (3)'])), 'Tarn (2)');
  assert.equal(freeName('x'.repeat(500), new Set()).length, 200);
});

test('records come together once each, in whatever order their fields stand', () => {
  const one = { finish: 'band', strip_mm: 430, outcome: 'lay_flat' };
  const same = { outcome: 'lay_flat', strip_mm: 430, finish: 'band' };
  assert.deepEqual(unionOfRecords([one], [same, { ...one, strip_mm: 431 }]), [one, { ...one, strip_mm: 431 }]);
  assert.deepEqual(unionOfRecords(undefined, undefined), []);
});

test('a table never runs in a spreadsheet', () => {
  const rows = [['=1+1', '+1', '-1', '@x', '\t=x', ' =x', '|cmd', '%x', 'plain', 'a,b', 'a"b', 'two\nlines', -12.5, 3]];
  const safe = ["'=1+1", "'+1", "'-1", "'@x", "'\t=x", "' =x", "'|cmd", "'%x", 'plain', '"a,b"', '"a""b"', '"two\nlines"', '-12.5', '3'];
  assert.equal(toCsv(rows, 'en'), `${safe.join(',')}\r\n`);
  assert.equal(toCsv([['a;b', 'a,b', 1.5]], 'es'), '"a;b";a,b;1,5\r\n');
});

/** The cells of a table as a spreadsheet takes them in (RFC 4180), which parts them by what its country does. */
function cellsOf(csv, separator) {
  const cells = [];
  let cell = '';
  let quoted = false;
  for (let i = 0; i < csv.length; i += 1) {
    const c = csv[i];
    if (quoted && c === '"' && csv[i + 1] === '"') { cell += '"'; i += 1; }
    else if (c === '"' && (quoted || cell === '')) quoted = !quoted;
    else if (!quoted && (c === separator || c === '\n' || c === '\r')) { cells.push(cell); cell = ''; }
    else cell += c;
  }
  return [...cells, cell];
}

// OWASP, "CSV Injection": = + - @, tab and carriage return begin a formula, and so do the full-width signs where
// a spreadsheet folds them; | and % begin commands of older ones.
test('no cell begins a formula behind signs that are folded, marks that show as nothing, or another country’s separator', () => {
  const signs = [...'=+-@|%＝＋－＠﹦﹢﹣﹫⁼⁺⁻'];
  const before = ['', ' ', '\u00a0', '\u200b', '\ufeff', '\u200e', '\u202e', '\u2066', '\u00ad', '\u0000', '\u034f', '\u3164', '\ufe0f', '\u180e', '\u0301', '"', '\u2003\u200d '];
  const parts = ['', 'M;', 'M,', 'M\t', 'M\n', 'M;"', 'M; \u200b'];
  let tried = 0;
  for (const sign of signs) {
    for (const unseen of before) {
      for (const part of parts) {
        const text = `${part}${unseen}${sign}1+1;N,O`;
        for (const language of ['en', 'es']) {
          const csv = toCsv([['first', text, -12.5], [text, 'last', 3]], language);
          for (const separator of [',', ';', '\t']) {
            for (const cell of cellsOf(csv, separator)) {
              const first = [...cell.normalize('NFKC').replaceAll('"', '')].find((c) => !/[\s\p{C}\p{Z}\p{M}\p{Default_Ignorable_Code_Point}]/u.test(c));
              assert.ok(!'=+-@|%'.includes(first ?? 'x') || /^-12[.,]?5?([,;]|$)/.test(cell), JSON.stringify([text, language, separator, cell]));
              tried += 1;
            }
          }
        }
      }
    }
  }
  assert.ok(tried > 50_000, `${tried} cells`);
  assert.equal(toCsv([[-12.5, -0, 0.001, -1e-7 * 1e7, 'x-1', 'a = b', '10-12', '−1']], 'en'), '-12.5,0,0.001,-1,x-1,a = b,10-12,−1\r\n', 'numbers stay numbers, and other text stays as it is');
  assert.equal(toCsv([[-12.5]], 'es'), '-12,5\r\n');
});

// ---- the panel, in a browser

let site;

before(async () => {
  site = await start();
});

after(() => site?.close());

async function keepAs(page, name) {
  const panel = await unfold(page, 'keep-panel');
  await panel.getByLabel('Name of this brief').fill(name);
  const before = (await names(page)).length;
  const asNew = panel.getByRole('button', { name: 'Keep as a new brief' });
  await ((await asNew.count()) ? asNew : panel.getByRole('button', { name: 'Keep this brief' })).click();
  await page.waitForFunction((n) => document.querySelectorAll('#keep-panel .kept-list')[0].querySelectorAll('li').length > n, before);
  return panel;
}

const names = (page) => page.locator('#keep-panel .kept-list').first().locator('.entry-name').allInnerTexts();

test('work in progress outlives a reload at once, and a tab that is gone', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await page.fill(frontLength, '161');
  await page.locator(frontLength).press('Tab');
  await page.reload();
  await isReady(page);
  await page.waitForFunction((field) => document.querySelector(field).value === '161', frontLength);

  await type(page, '163');
  await page.close({ runBeforeUnload: false });
  const next = await openPage(context, site.url);
  await next.waitForFunction((field) => document.querySelector(field).value === '163', frontLength);
  assert.deepEqual(next.problems, []);
  await context.close();
});

test('two tabs each keep their own work in progress', async () => {
  const context = await profile(site);
  const one = await openPage(context, site.url);
  await type(one, '158');
  const two = await openPage(context, site.url);
  assert.equal(await two.inputValue(frontLength), '154', 'a second tab starts afresh while the first is open');
  await type(two, '166');
  await Promise.all([one.reload(), two.reload()]);
  await Promise.all([isReady(one), isReady(two)]);
  await one.waitForFunction((field) => document.querySelector(field).value === '158', frontLength);
  await two.waitForFunction((field) => document.querySelector(field).value === '166', frontLength);
  await context.close();
});

test('briefs are kept, searched, renamed, duplicated, deleted and brought back', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await keepAs(page, 'Tarn');
  await type(page, '160');
  const panel = await keepAs(page, 'Tarn');
  assert.deepEqual((await names(page)).sort(), ['Tarn', 'Tarn (2)'], 'no name twice');
  await panel.getByRole('button', { name: 'Open Tarn', exact: true }).click();
  await page.waitForFunction((field) => document.querySelector(field).value === '154', frontLength);

  await panel.getByRole('button', { name: 'Rename Tarn (2)' }).click();
  await panel.getByLabel('New name').fill('Fell <b>');
  await page.keyboard.press('Enter');
  await panel.getByText('Fell <b>', { exact: true }).waitFor();
  await panel.getByRole('button', { name: 'Duplicate Tarn', exact: true }).click();
  await panel.getByText('Tarn (2)', { exact: true }).waitFor();

  await panel.getByRole('button', { name: 'Delete Fell <b>' }).click();
  await panel.getByText('“Fell <b>” is deleted.').waitFor();
  assert.ok(!(await names(page)).includes('Fell <b>'));
  const undo = panel.getByRole('button', { name: 'Undo: bring back Fell <b>' });
  assert.ok(await undo.evaluate((element) => element === document.activeElement), 'the way back has the focus');
  await page.keyboard.press('Enter');
  await panel.getByText('Fell <b>', { exact: true }).waitFor();

  // Two deletions in a row: each has its way back.
  for (const name of ['Fell <b>', 'Tarn (2)']) {
    await panel.getByRole('button', { name: `Delete ${name}`, exact: true }).click();
    await panel.getByText(`“${name}” is deleted.`).waitFor();
  }
  for (const name of ['Tarn (2)', 'Fell <b>']) {
    await panel.getByRole('button', { name: `Undo: bring back ${name}`, exact: true }).click();
    await panel.getByText(`“${name}” is back.`).waitFor();
  }
  assert.deepEqual((await names(page)).sort(), ['Fell <b>', 'Tarn', 'Tarn (2)']);

  for (let i = 0; i < 4; i++) {
    const before = (await names(page)).length;
    await panel.getByRole('button', { name: 'Duplicate Tarn', exact: true }).click();
    await page.waitForFunction((n) => document.querySelector('#keep-panel .kept-list .entries').children.length > n, before);
  }
  await panel.getByLabel('Search the kept briefs').fill('FÉLL');
  assert.deepEqual(await names(page), ['Fell <b>']);
  await assertAccessible(page, '#keep-panel');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('everything goes out as one file and comes back in another browser', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const panel = await keepAs(page, 'Tarn');
  await panel.getByRole('button', { name: 'Keep the garment’s knit' }).click();
  await page.waitForFunction(() => document.querySelectorAll('#keep-panel .entries li').length >= 2);
  const [download] = await Promise.all([page.waitForEvent('download'), panel.getByRole('button', { name: 'Save everything as a file' }).click()]);
  const path = await download.path();
  const text = await readFile(path, 'utf8');
  assert.equal(JSON.parse(text).format, 'lieflat.kept');

  const other = await profile(site);
  const there = await openPage(other, site.url);
  const inside = await unfold(there, 'keep-panel');
  const give = (content) => inside.getByLabel('Read a file back').setInputFiles({ name: 'kept.json', mimeType: 'application/json', buffer: Buffer.from(content) });
  await give(text);
  await there.waitForFunction(() => document.querySelector('#keep-panel .status').textContent.startsWith('From the file: '));
  assert.ok((await names(there)).includes('Tarn'));
  await give(text);
  await there.waitForFunction(() => document.querySelector('#keep-panel .status').textContent.includes('From the file: 0 new'));
  await give('{ not json');
  await there.waitForFunction(() => document.querySelector('#keep-panel .status').textContent.includes('could not be read'));
  await give(JSON.stringify({ format: 'lieflat.kept', version: 99 }));
  await there.waitForFunction(() => document.querySelector('#keep-panel .status').textContent.includes('newer version'));
  assert.ok((await names(there)).includes('Tarn'), 'nothing was changed by files that are none');
  await context.close();
  await other.close();
});

test('a brief that two tabs change is kept twice, not overwritten', async () => {
  const context = await profile(site);
  const one = await openPage(context, site.url);
  await keepAs(one, 'Tarn');
  const two = await openPage(context, site.url);
  const panel = await unfold(two, 'keep-panel');
  await panel.getByRole('button', { name: 'Open Tarn', exact: true }).click();
  await type(two, '170');
  await panel.getByRole('button', { name: 'Keep the changes' }).click();
  await two.waitForFunction(() => document.querySelector('#keep-panel .status').textContent.startsWith('Kept'));
  await type(one, '150');
  await one.locator('#keep-panel').getByRole('button', { name: 'Keep the changes' }).click();
  await one.waitForFunction(() => document.querySelector('#keep-panel .status').textContent.includes('Another tab'));
  assert.deepEqual((await names(one)).sort(), ['Tarn', 'Tarn (2)']);
  await context.close();
});

const faults = {
  'storage is refused': [() => Object.defineProperty(globalThis, 'indexedDB', { get() { throw new DOMException('no', 'SecurityError'); } }), /does not let the page store/],
  'the database is damaged': [() => { IDBFactory.prototype.open = () => { throw new DOMException('broken', 'UnknownError'); }; }, /storage has failed/],
  'the disk is full': [() => { IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError'); }; }, /storage is full/],
};

for (const [name, [fault, said]] of Object.entries(faults)) {
  test(`nothing is lost while the page is open when ${name}`, async () => {
    const context = await profile(site);
    await context.addInitScript(fault);
    const page = await openPage(context, site.url);
    await type(page, '159');
    const panel = await keepAs(page, 'Tarn');
    await page.waitForFunction((text) => new RegExp(text).test(document.querySelector('#keep-panel .trouble').textContent), said.source);
    assert.match(await page.locator('#notices').innerText(), said);
    assert.deepEqual(await names(page), ['Tarn']);
    const [download] = await Promise.all([page.waitForEvent('download'), panel.getByRole('button', { name: 'Save everything as a file' }).click()]);
    const kept = JSON.parse(await readFile(await download.path(), 'utf8'));
    assert.equal(kept.briefs[0].brief.neckline.front.outline.measured.half_length_mm, 159, 'the file has it');
    await assertAccessible(page, '#keep-panel');
    await context.close();
  });
}

test('what a newer version stored is left alone, and said', async () => {
  const context = await profile(site);
  const seed = await openPage(context, site.url);
  await keepAs(seed, 'Tarn');
  await seed.goto(`${site.url}favicon.svg`);
  await seed.evaluate(() => new Promise((resolve, reject) => {
    const asked = indexedDB.open('lieflat', 7);
    asked.onsuccess = () => resolve(asked.result.close());
    asked.onerror = () => reject(asked.error);
  }));
  const page = await openPage(context, site.url);
  await page.waitForFunction(() => document.querySelector('#notices').textContent.includes('newer version'));
  const count = await page.evaluate(() => new Promise((resolve) => {
    indexedDB.open('lieflat').onsuccess = ({ target }) => {
      target.result.transaction('briefs').objectStore('briefs').count().onsuccess = (event) => resolve(event.target.result);
    };
  }));
  assert.equal(count, 1, 'it is still there');
  await context.close();
});

test('an open page gives way to a newer version of the database and says so', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '157');
  const other = await openPage(context, `${site.url}favicon.svg`, { ready: false });
  await other.evaluate(() => new Promise((resolve, reject) => {
    const asked = indexedDB.open('lieflat', 8);
    asked.onsuccess = () => resolve(asked.result.close());
    asked.onerror = () => reject(asked.error);
    asked.onblocked = () => reject(new Error('the page does not let go'));
  }));
  await page.waitForFunction(() => document.querySelector('#notices').textContent.includes('another tab'));
  assert.equal(await page.inputValue(frontLength), '157');
  await context.close();
});

/** A page that comes to what keeps the work late. */
const late = () => {
  globalThis.requestIdleCallback = (work) => setTimeout(work, 2500);
};

test('a returning person sees their own work from the first moment, and goes on with it however quick they are', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '158');
  await page.close();
  await context.addInitScript(late);
  const next = await openPage(context, site.url, { ready: false });
  await next.waitForFunction(() => document.documentElement.classList.contains('is-ready'));
  assert.equal(await next.inputValue(frontLength), '158', 'before anything that keeps it has come');
  assert.equal(await next.locator('#keep-panel > details').count(), 0);
  await type(next, '169');
  await isReady(next);
  await written(next, '169');
  assert.equal(await next.inputValue(frontLength), '169', 'what was typed stays');
  await next.click('#undo');
  assert.equal(await next.inputValue(frontLength), '158', 'and the earlier work is a step back');
  const panel = await unfold(next, 'keep-panel');
  assert.ok(await panel.getByRole('heading', { name: 'Unfinished work' }).isHidden(), 'it is one work, not two');
  assert.deepEqual(next.problems, []);
  await context.close();
});

test('a person who is quicker than the store keeps what they began, and the earlier work too', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '158');
  await page.close();
  // Nothing but the database remembers, and it answers late: the person has typed by then.
  await context.addInitScript(() => localStorage.clear());
  await context.addInitScript(late);
  const next = await openPage(context, site.url, { ready: false });
  await next.locator(frontLength).waitFor();
  await type(next, '169');
  await isReady(next);
  await written(next, '169');
  assert.equal(await next.inputValue(frontLength), '169', 'what was typed stays');
  const panel = await unfold(next, 'keep-panel');
  await panel.getByRole('heading', { name: 'Unfinished work' }).waitFor();
  await panel.getByRole('button', { name: /^Go on with/ }).first().click();
  await next.waitForFunction((field) => document.querySelector(field).value === '158', frontLength);
  await next.close();

  // The same with a start of one's own, of which no plan is made yet.
  const third = await openPage(context, site.url, { ready: false });
  await third.waitForFunction(() => document.documentElement.classList.contains('is-ready'));
  await third.click('#start-own');
  await third.fill(frontLength, '147');
  await isReady(third);
  await written(third, '147');
  assert.equal(await third.inputValue(frontLength), '147');
  assert.equal(await third.inputValue('#front-depth'), '', 'what is not yet read stays empty');
  assert.deepEqual([...next.problems, ...third.problems], []);
  await context.close();
});

test('what cannot be read, and a start of one’s own that is half filled in, outlive a reload', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '15x4');
  await page.fill('#front-depth', '117');
  await page.reload();
  await isReady(page);
  assert.equal(await page.inputValue(frontLength), '15x4');
  assert.equal(await page.inputValue('#front-depth'), '117', 'what was typed a moment before');
  await page.locator('#problems a').first().waitFor();
  await type(page, '155');
  await page.waitForFunction(() => document.querySelector('#problems').hidden);

  await page.click('#start-own');
  await type(page, '149');
  await page.locator('label.pick[for=finish-tape]').click();
  await page.reload();
  await page.waitForFunction(() => document.documentElement.classList.contains('is-fresh'));
  await isReady(page);
  assert.equal(await page.inputValue(frontLength), '149');
  assert.equal(await page.inputValue('#front-depth'), '', 'nothing of the example comes back');
  assert.ok(await page.locator('#finish-tape').isChecked());
  assert.ok(await page.locator('#needed').isVisible());
  // The same from the database alone, in a tab of its own.
  await page.close();
  await context.addInitScript(() => { localStorage.clear(); });
  const next = await openPage(context, site.url);
  await next.waitForFunction((field) => document.querySelector(field).value === '149', frontLength);
  assert.equal(await next.inputValue('#front-depth'), '');
  assert.deepEqual([...page.problems, ...next.problems], []);
  await context.close();
});

test('a kept knit is used in a half filled form without a reading of the example', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'keep-panel');
  await page.fill('#garment-crosswise-stretched', '171');
  await panel.getByLabel('Name of the knit').fill('Beck rib');
  await type(page, '171', '#garment-crosswise-stretched');
  await panel.getByRole('button', { name: 'Keep the garment’s knit' }).click();
  await panel.getByRole('button', { name: 'Use Beck rib for the garment' }).waitFor();
  const use = await panel.getByRole('button', { name: 'Use Beck rib for the garment' }).elementHandle();
  await page.click('#start-own');
  await type(page, '149');
  assert.ok(await use.evaluate((button) => button.isConnected), 'a draft is written, and the list is not drawn anew under a finger');
  await panel.getByRole('button', { name: 'Use Beck rib for the garment' }).click();
  assert.equal(await page.inputValue('#garment-crosswise-stretched'), '171');
  assert.equal(await page.inputValue('#front-depth'), '', 'still to be read');
  assert.equal(await page.inputValue(frontLength), '149');
  await panel.getByRole('button', { name: 'Use Beck rib for the strip' }).click();
  assert.equal(await page.inputValue('#strip-crosswise-stretched'), '171');
  assert.deepEqual(page.problems, []);
  await context.close();
});

/** Puts entries straight into the database, as a damaged or another version's page would leave them. */
async function plant(page, entries) {
  await page.evaluate((all) => new Promise((resolve, reject) => {
    const asked = indexedDB.open('lieflat', 1);
    asked.onupgradeneeded = () => ['briefs', 'knits', 'drafts'].forEach((kind) => asked.result.createObjectStore(kind, { keyPath: 'id' }));
    asked.onsuccess = () => {
      const transaction = asked.result.transaction(['briefs', 'knits', 'drafts'], 'readwrite');
      for (const [kind, one] of all) transaction.objectStore(kind).put(one);
      transaction.oncomplete = () => { asked.result.close(); resolve(); };
      transaction.onerror = () => reject(transaction.error);
    };
  }), entries);
}

test('what is kept but is no brief of this version is left alone and said, and the page works', async () => {
  const context = await profile(site);
  const seed = await openPage(context, `${site.url}favicon.svg`, { ready: false });
  const stub = { schema: 'lieflat.brief', version: 1 };
  const later = { ...JSON.parse(await readFile(new URL('../briefs/band-round.json', import.meta.url), 'utf8')), version: 2 };
  await plant(seed, [
    ['briefs', { id: 'stub', name: 'Stub', changed: '2030-01-01T00:00:00Z', revision: 1, brief: stub }],
    ['briefs', { id: 'later', name: 'Later', changed: '2030-01-01T00:00:00Z', revision: 1, brief: later }],
    ['briefs', { id: 'none', odd: true }],
    ['knits', { id: 'knit', name: 'No knit', changed: '2030-01-01T00:00:00Z', revision: 1, knit: { crosswise: { readings: 'long' } } }],
    ['drafts', { id: 'draft', changed: '2030-01-01T00:00:00Z', brief: stub }],
    ['drafts', { id: 'wild', changed: '2029-01-01T00:00:00Z', brief: { ...later, version: 1 }, unplanned: { fresh: 1, sheet: { edges: 1e9, finish: 'cape' }, texts: { nowhere: 'x' } } }],
  ]);
  const page = await openPage(context, site.url);
  const panel = await unfold(page, 'keep-panel');
  assert.match(await panel.locator('.trouble').innerText(), /1 kept entry cannot be read/);
  for (const name of ['Open Stub', 'Open Later', 'Use No knit for the garment']) {
    await panel.getByRole('button', { name }).click();
    await panel.getByText('This version of the page cannot read it.', { exact: false }).waitFor();
    await panel.getByRole('button', { name: 'Keep this brief' }).focus();
  }
  await type(page, '156');
  assert.match(await page.locator('#ticket').innerText(), /\d+\smm × \d+\smm/);
  const [download] = await Promise.all([page.waitForEvent('download'), panel.getByRole('button', { name: 'Save everything as a file' }).click()]);
  const kept = JSON.parse(await readFile(await download.path(), 'utf8'));
  assert.deepEqual(kept.briefs.map(({ id }) => id).sort(), ['later', 'stub']);
  assert.equal(kept.unread[0].entry.id, 'none');
  assert.ok(kept.drafts.some(({ id }) => id === 'draft'));
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a file with parts that this version does not know is taken in whole, and said', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  const given = JSON.parse(await readFile(new URL('../briefs/band-round.json', import.meta.url), 'utf8'));
  given.finish.band.piping_mm = 3;
  const text = exportText({ ...nothing, unread: [], briefs: [entry('p', 'Piped', given)] }, '2026-02-01T00:00:00Z');
  const panel = await unfold(page, 'keep-panel');
  await panel.getByLabel('Read a file back').setInputFiles({ name: 'kept.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await panel.getByText('1 entry has parts that this version does not know', { exact: false }).waitFor();
  await panel.getByRole('button', { name: 'Open Piped' }).click();
  await page.locator('[data-notice=unknown]').getByText('finish.band.piping_mm', { exact: false }).waitFor();
  const [download] = await Promise.all([page.waitForEvent('download'), panel.getByRole('button', { name: 'Save everything as a file' }).click()]);
  assert.equal(JSON.parse(await readFile(await download.path(), 'utf8')).briefs[0].brief.finish.band.piping_mm, 3, 'nothing is dropped');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('the browser is asked to keep things for good once there is something to lose, and not before', async () => {
  const context = await profile(site);
  await context.addInitScript(() => {
    globalThis.asked = 0;
    navigator.storage.persisted = async () => false;
    navigator.storage.persist = async () => { globalThis.asked += 1; return true; };
  });
  const page = await openPage(context, site.url);
  await quiet(page, 600); // longer than the pause before a draft is written
  assert.equal(await page.evaluate(() => globalThis.asked), 0);
  await type(page, '161');
  await page.waitForFunction(() => globalThis.asked === 1);
  await type(page, '162');
  assert.equal(await page.evaluate(() => globalThis.asked), 1, 'once');
  await context.close();
});

test('a disk that has room again takes what was held back', async () => {
  const context = await profile(site);
  await context.addInitScript(() => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...given) {
      if (globalThis.isFull) throw new DOMException('full', 'QuotaExceededError');
      return put.apply(this, given);
    };
  });
  const page = await openPage(context, site.url);
  await page.evaluate(() => { globalThis.isFull = true; });
  await keepAs(page, 'Tarn');
  await page.locator('[data-notice=trouble]').waitFor();
  await page.evaluate(() => { globalThis.isFull = false; });
  await type(page, '163');
  await page.locator('[data-notice=trouble]').waitFor({ state: 'detached' });
  await page.close();
  const next = await openPage(context, site.url);
  await unfold(next, 'keep-panel');
  assert.deepEqual(await names(next), ['Tarn'], 'it was written after all');
  assert.deepEqual(page.problems, []);
  await context.close();
});

test('a tab that crashes loses nothing that was planned', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '164');
  const gone = page.waitForEvent('crash');
  page.goto('chrome://crash').catch(() => {});
  await gone;
  const next = await openPage(context, site.url);
  await next.waitForFunction((field) => document.querySelector(field).value === '164', frontLength);
  await context.close();
});

test('a part that does not come is told, and comes when it is asked for again', async () => {
  const context = await profile(site);
  const page = await context.newPage();
  let isDown = true;
  await context.route(/\/page\/(?:keep-panel|start|sheets-panel|lieflat_whole_bg)-/, (route) => (isDown ? route.abort() : route.continue()));
  await page.goto(site.url);
  const missing = page.locator('#keep-panel .missing');
  await missing.waitFor();
  assert.match(await missing.innerText(), /nothing is saved until it comes/);
  await page.locator('#sheets-panel .missing').waitFor();
  await page.fill(frontLength, '158');
  // A reload meanwhile keeps what was typed, though nothing that keeps it is there.
  await missing.getByRole('button', { name: 'Reload' }).click();
  await page.waitForFunction((field) => document.readyState === 'complete' && document.querySelector(field)?.value === '158', frontLength);
  await missing.waitFor();
  isDown = false;
  await missing.getByRole('button', { name: 'Try again' }).click();
  await isReady(page);
  assert.equal(await page.inputValue(frontLength), '158');
  isDown = true;
  for (const id of ['keep-panel', 'sizes-panel']) {
    await page.locator(`#${id} > details > summary`).click();
    await page.locator(`#${id} .missing`).getByRole('button', { name: 'Try again' }).waitFor();
  }
  isDown = false;
  await page.locator('#keep-panel .missing').getByRole('button', { name: 'Try again' }).click();
  await page.getByRole('button', { name: 'Keep this brief' }).waitFor();
  await page.locator('#sizes-panel .missing').getByRole('button', { name: 'Try again' }).click();
  await page.locator('#sizes-panel tbody tr').first().waitFor();
  assert.equal(await page.locator('#keep-panel .missing, #sizes-panel .missing').count(), 0);
  await context.close();
});

test('a clock that is set back loses nothing of what was typed last', async () => {
  const context = await profile(site);
  const page = await openPage(context, site.url);
  await type(page, '165');
  // A year earlier, the disk full: only what is written as the page goes holds the last reading.
  await page.evaluate(() => {
    const year = 365 * 24 * 3600 * 1000;
    const RealDate = Date;
    globalThis.Date = class extends RealDate {
      constructor(...given) { super(...(given.length ? given : [RealDate.now() - year])); }
      static now() { return RealDate.now() - year; }
    };
    IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError'); };
  });
  await page.fill(frontLength, '170');
  await page.reload();
  await isReady(page);
  await written(page, '170');
  assert.equal(await page.inputValue(frontLength), '170');
  await context.close();
});
