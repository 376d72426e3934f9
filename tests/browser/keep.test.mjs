// What is kept: the file it is handed out in, and how such a file is taken in.
// Then the panel, in a browser.

import assert from 'node:assert/strict';
import { test } from 'node:test';
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
function after(kept, file) {
  const { add } = mergePlan(kept, readExport(file), ids());
  return Object.fromEntries(Object.keys(kept).map((kind) => [kind, [...kept[kind], ...add[kind]]]));
}

const file = (kept) => exportText({ unread: [], ...kept }, '2026-02-01T00:00:00Z');

test('a file taken in where nothing is kept brings everything', () => {
  const kept = { briefs: [entry('a', 'Tarn'), entry('b', 'Fell')], knits: [knit('k', 'Rib')], drafts: [draft('d', 'half done')] };
  const got = after(nothing, file(kept));
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
    const got = after(mine, file(theirs));
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
