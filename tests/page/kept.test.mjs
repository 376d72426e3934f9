// What is kept: the file it is handed out in, how such a file is taken in, and what of an entry is looked at.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { brief, entry, knit, draft, nothing, file } from './kept-entries.mjs';
import { Brief } from '../../web/page/generated/fields.js';
import { Knit, Stays } from '../../web/page/generated/limits.js';
import { importModule } from './modules.mjs';

const { ImportError, MOST_BYTES, MOST_ENTRIES, exportText, mergePlan, readExport, unionOfRecords } =
  await importModule('web/page/keep/merge.js');
const { Names, canonical, isReadable } = await importModule('web/page/keep/entry.js');
const { toCsv } = await importModule('web/page/sizes/csv.js');

function ids() {
  let count = 0;
  return () => `new-${++count}`;
}

/** What is kept after a file was taken in. */
function merged(kept, file) {
  const { add } = mergePlan(kept, readExport(file), ids());
  return Object.fromEntries(Object.keys(kept).map((kind) => [kind, [...kept[kind], ...add[kind]]]));
}

test('a file taken in where nothing is kept brings everything', () => {
  const kept = { briefs: [entry('a', 'Tarn'), entry('b', 'Fell')], knits: [knit('k', 'Rib')], drafts: [draft('d', 'half done')] };
  const got = merged(nothing, file(kept));
  assert.deepEqual(
    got.briefs.map(({ id, name, brief: content }) => [id, name, content]),
    kept.briefs.map(({ id, name, brief: content }) => [id, name, content]),
  );
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
  assert.deepEqual(renamed, [
    { from: 'Tarn', to: 'Tarn (2)' },
    { from: 'Rib', to: 'Rib (2)' },
  ]);
});

test('whatever two places kept, nothing of either is lost by merging', () => {
  let state = 7;
  const roll = (n) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state % n;
  };
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
      assert.equal(
        new Set(got[kind].map(({ id }) => id)).size,
        new Set(mine[kind].map(({ id }) => id)).size + got[kind].length - mine[kind].length,
        'each id once',
      );
      const added = got[kind].slice(mine[kind].length);
      if (kind !== 'drafts')
        for (const { name } of added) assert.equal(got[kind].filter((one) => one.name === name).length, 1, `${name} once`);
    }
  }
});

test('taken in again after entries were renamed here, or came in under another name, it adds nothing', () => {
  const given = { briefs: [entry('a', 'Tarn'), entry('b', 'Fell')], knits: [knit('k', 'Rib')], drafts: [draft('d', 'x')] };
  const text = file(given);
  const renamed = {
    ...given,
    briefs: [entry('a', 'Beck', brief('Tarn')), given.briefs[1]],
    knits: [{ ...knit('k', 'Rib'), name: 'Ribbed' }],
  };
  assert.equal(mergePlan(renamed, readExport(text), ids()).skipped, 4, 'renamed here');

  // Changed here, the file's own comes in beside it, once; also after it was renamed in its turn.
  const changed = { ...given, briefs: [entry('a', 'Tarn', brief('changed')), given.briefs[1]] };
  const once = merged(changed, text);
  assert.deepEqual(
    once.briefs.map(({ name }) => name),
    ['Tarn', 'Fell', 'Tarn (2)'],
  );
  assert.equal(merged(once, text).briefs.length, 3, 'twice');
  once.briefs[2].name = 'Tarn from the file';
  assert.equal(merged(once, text).briefs.length, 3, 'twice, renamed');
  // And from there to a third place and back.
  assert.equal(merged(given, file(once)).briefs.length, 3);
  assert.equal(merged(once, file(merged(given, file(once)))).briefs.length, 3);
});

test('two entries of one file that differ in name alone both come in', () => {
  const text = file({ briefs: [entry('a', 'Tarn', brief('t')), entry('b', 'Beck', brief('t'))], knits: [], drafts: [] });
  assert.deepEqual(
    merged(nothing, text).briefs.map(({ name }) => name),
    ['Tarn', 'Beck'],
  );
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
  assert.equal(code(' '.repeat(MOST_BYTES + 1)), 'too_large');
  assert.equal(
    code(
      JSON.stringify({ format: 'lieflat.kept', version: 1, drafts: Array.from({ length: MOST_ENTRIES + 1 }, (_, i) => ({ id: `${i}` })) }),
    ),
    'too_large',
  );
  const deep = `${'['.repeat(200_000)}${']'.repeat(200_000)}`;
  assert.equal(code(deep), 'not_ours');
  assert.equal(code(`{"format":"lieflat.kept","version":1,"briefs":${deep}}`), 'not_ours');
});

test('entries that cannot be read are counted and left', () => {
  const odd = [null, 5, {}, { id: 'x' }, { id: 'x', name: 'n', brief: { schema: 'other' } }, { id: '', name: 'n', brief: brief('t') }];
  const { add, unread } = mergePlan(
    nothing,
    readExport(
      JSON.stringify({ format: 'lieflat.kept', version: 1, briefs: [...odd, entry('a', 'Tarn')], knits: 'none', drafts: [{ id: 1 }] }),
    ),
    ids(),
  );
  assert.equal(unread, odd.length + 1);
  assert.deepEqual(
    add.briefs.map(({ name }) => name),
    ['Tarn'],
  );
});

test('names get the least number that is free', () => {
  assert.equal(new Names().free('Tarn'), 'Tarn');
  const names = new Names(['Tarn', 'Tarn (3)']);
  assert.equal(names.free('Tarn'), 'Tarn (2)');
  for (const next of ['Tarn (2)', 'Tarn (4)', 'Tarn (5)']) {
    assert.equal(names.free('Tarn'), next);
    names.add(next);
  }
  names.remove('Tarn (3)');
  assert.equal(names.free('Tarn'), 'Tarn (3)', 'one that came free again');
  names.add('Tarn');
  names.remove('Tarn');
  assert.equal(names.free('Tarn'), 'Tarn (3)', 'two had it, one still has');
  assert.equal(new Names().free('x'.repeat(500)).length, 200);
});

test('thousands that are kept go out as a file that is taken in again', async () => {
  const given = JSON.parse(await readFile(new URL('../briefs/band-round.json', import.meta.url), 'utf8'));
  const kept = { briefs: Array.from({ length: 6000 }, (_, i) => entry(`b${i}`, `Tarn ${i}`, given)), knits: [], drafts: [] };
  const text = file(kept);
  assert.ok(text.length < MOST_BYTES, `${text.length} bytes`);
  assert.equal(merged(nothing, text).briefs.length, 6000);
});

test('an odd id of a file is made anew, and the entry is known by it when it comes again', () => {
  const odd = ['a/b', '__proto__', 'constructor ', 'two words', '../x', 'é', 'x'.repeat(65)];
  const text = file({ briefs: odd.map((id, i) => entry(id, `n${i}`)), knits: [], drafts: [draft('d/1', 'x')] });
  const got = merged(nothing, text);
  assert.equal(got.briefs.length, odd.length);
  for (const { id } of [...got.briefs, ...got.drafts]) assert.match(id, /^new-\d+$/);
  const renamed = { ...got, briefs: got.briefs.map((one) => ({ ...one, name: `${one.name} renamed` })) };
  assert.equal(mergePlan(renamed, readExport(text), ids()).skipped, odd.length + 1);
});

test('a file that is cut short anywhere is named as such, and one that is edited by hand is taken in as far as it is sound', async () => {
  const given = JSON.parse(await readFile(new URL('../briefs/tape-v.json', import.meta.url), 'utf8'));
  const table = { mode: 'growth', smaller: 1, larger: 1, names: { 0: 'M' }, backs: {}, growth: { front: {}, back: {} }, readings: {} };
  const text = file({
    briefs: [{ ...entry('a', 'Tarn', given), sizes: table }],
    knits: [knit('k', 'Rib')],
    drafts: [{ ...draft('d', 'x'), brief: given, unplanned: { fresh: true, sheet: { title: 'x' }, texts: {} } }],
  });
  let state = 11;
  const roll = (n) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state % n;
  };
  for (let at = 0; at < text.length - 2; at += 1 + roll(9))
    assert.throws(
      () => readExport(text.slice(0, at)),
      ({ code }) => code === 'not_json',
      `cut at ${at}`,
    );

  const hands = ['null', '{}', '[]', '-1', '1e999', '"x"', 'true', '', ',', '"', '{', ']', '\u0000', '{"__proto__":{"name":1}}'];
  const outcomes = { taken: 0, left: 0, refused: 0 };
  for (let round = 0; round < 4000; round++) {
    const values = [...text.matchAll(/: ("[^"]*"|-?[\d.]+|null|true)/g)];
    const one = values[roll(values.length)];
    const edited = text.slice(0, one.index + 2) + hands[roll(hands.length)] + text.slice(one.index + one[0].length);
    try {
      const { add, unread } = mergePlan(nothing, readExport(edited), ids());
      for (const kind of Object.keys(add)) for (const taken of add[kind]) assert.ok(isReadable(kind, taken), edited);
      outcomes[unread ? 'left' : 'taken'] += 1;
    } catch (error) {
      assert.ok(error instanceof ImportError, `${error.stack}`);
      outcomes.refused += 1;
    }
  }
  assert.ok(
    Object.values(outcomes).every((count) => count > 100),
    JSON.stringify(outcomes),
  );
});

test('what cannot be read is written as near as a file can tell it, and the file is read back', () => {
  const self = { name: 'x' };
  self.self = self;
  let deep = { core: 1 };
  for (let i = 0; i < 3000; i += 1) deep = [deep];
  let tangle = [1];
  for (let i = 0; i < 50; i += 1) tangle = [tangle, tangle];
  const odd = [
    5,
    null,
    self,
    { deep },
    {
      bytes: new Uint8Array([1, 2]),
      when: new Date(0),
      never: new Date(NaN),
      map: new Map([[1, 2]]),
      big: 10n,
      view: new DataView(new ArrayBuffer(2)),
      holes: Object.assign([], { 7: 1 }),
    },
  ];
  const text = exportText({ ...nothing, unread: odd.map((one) => ({ kind: 'briefs', entry: one })) }, 'now');
  const got = readExport(text).unread.map((one) => one.entry);
  assert.deepEqual(got.slice(0, 3), [5, null, { name: 'x', self: '…' }]);
  assert.ok(JSON.stringify(got[3]).includes('core'), 'nothing of it is left out');
  assert.deepEqual(got[4], {
    bytes: '0102',
    when: '1970-01-01T00:00:00.000Z',
    never: 'no date',
    map: [[1, 2]],
    big: '10',
    view: '0000',
    holes: { 7: 1 },
  });
  assert.ok(exportText({ ...nothing, unread: [{ kind: 'briefs', entry: { tangle } }] }, 'now').length < 10_000);
});

test('a time that is still to come does not go before what is done now', async () => {
  const { Shelf } = await importModule('web/page/keep/shelf.js');
  const shelf = new Shelf();
  const at = (id, changed) => shelf.set({ ...entry(id, id), changed });
  at('old', '2020-01-01T00:00:00Z');
  at('ahead', '2999-01-01T00:00:00Z');
  at('further ahead', '2999-02-01T00:00:00Z');
  at('no time', 'yesterday');
  at('now', new Date().toISOString());
  assert.deepEqual(
    shelf.list().map(({ id }) => id),
    ['now', 'old', 'no time', 'further ahead', 'ahead'],
  );
  shelf.delete('now');
  assert.equal(shelf.list()[0].id, 'old');
  assert.equal(shelf.freeName('old'), 'old (2)');
  assert.equal(shelf.freeName('old', 'old'), 'old', 'its own name is free to it');
});

test('the lists of a brief that may be too long are those that no field could mend', async () => {
  const { UNFIT } = await importModule('web/page/form/fit.js');
  const lists = [];
  const walk = (known, path) => {
    if (Array.isArray(known)) lists.push(path);
    else if (typeof known === 'object') for (const [name, one] of Object.entries(known)) walk(one, path ? `${path}.${name}` : name);
  };
  walk(Brief, '');
  assert.deepEqual(UNFIT.filter((field) => field.includes('.')).sort(), lists.sort());
});

test('the largest work that a brief may hold is read', async () => {
  // As many edges and records of each knit as the core takes, and as many segments: core/REFERENCE.md.
  const record = { finish: 'band', held_line_mm: 512.25, strip_mm: 430.5, outcome: 'stood_away', by_mm: 12.75, recorded: '2026-01-02' };
  const records = Array.from({ length: Knit.learned[1] }, () => record);
  const edges = Array.from({ length: Stays.edges[1] }, (_, i) => ({
    name: `edge ${i}`.repeat(20),
    part: 'gathered',
    length_mm: 100.5,
    gathered_from_mm: 200.5,
    direction: 'crosswise',
    allowance_mm: 10,
    pieces: 2,
  }));
  const given = JSON.parse(await readFile(new URL('../briefs/band-round.json', import.meta.url), 'utf8'));
  for (const half of ['front', 'back'])
    given.neckline[half].outline = { drawn: { path_mm: `M 0 95${' C 10.1234 95.1234 20.1234 90.1234 30.1234 80.1234'.repeat(200)}` } };
  given.garment_knit.learned = records;
  given.strip_knit = { ...given.garment_knit };
  given.stays = { ...given.stays, edges };
  const sheet = Object.fromEntries([...Array(12 * 7 + 150).keys()].map((i) => [`field${i}`, 'x'.repeat(100)]));
  const unplanned = { fresh: false, sheet: { ...sheet, 'garment.learned': records, 'strip.learned': records }, texts: sheet };
  assert.ok(isReadable('drafts', { ...draft('d', 'x'), brief: given, unplanned }));
});

test('records come together once each, in whatever order their fields stand', () => {
  const one = { finish: 'band', strip_mm: 430, outcome: 'lay_flat' };
  const same = { outcome: 'lay_flat', strip_mm: 430, finish: 'band' };
  assert.deepEqual(unionOfRecords([one], [same, { ...one, strip_mm: 431 }]), [one, { ...one, strip_mm: 431 }]);
  assert.deepEqual(unionOfRecords(undefined, undefined), []);
});

test('a table never runs in a spreadsheet', () => {
  const rows = [['=1+1', '+1', '-1', '@x', '\t=x', ' =x', '|cmd', '%x', 'plain', 'a,b', 'a"b', 'two\nlines', -12.5, 3]];
  const safe = ["'=1+1", '1', '-1', "'@x", "'\t=x", "' =x", "'|cmd", "'%x", 'plain', '"a,b"', '"a""b"', '"two\nlines"', '-12.5', '3'];
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
    if (quoted && c === '"' && csv[i + 1] === '"') {
      cell += '"';
      i += 1;
    } else if (c === '"' && (quoted || cell === '')) quoted = !quoted;
    else if (!quoted && (c === separator || c === '\n' || c === '\r')) {
      cells.push(cell);
      cell = '';
    } else cell += c;
  }
  return [...cells, cell];
}

// OWASP, "CSV Injection": = + - @, tab and carriage return begin a formula, and so do the full-width signs where
// a spreadsheet folds them; | and % begin commands of older ones.
test('no cell begins a formula behind signs that are folded, marks that show as nothing, or another country’s separator', () => {
  const signs = [...'=+-@|%＝＋－＠﹦﹢﹣﹫⁼⁺⁻'];
  const before = [
    '',
    ' ',
    '\u00a0',
    '\u200b',
    '\ufeff',
    '\u200e',
    '\u202e',
    '\u2066',
    '\u00ad',
    '\u0000',
    '\u034f',
    '\u3164',
    '\ufe0f',
    '\u180e',
    '\u0301',
    '"',
    '\u2003\u200d ',
  ];
  const parts = ['', 'M;', 'M,', 'M\t', 'M\n', 'M;"', 'M; \u200b'];
  let tried = 0;
  for (const sign of signs) {
    for (const unseen of before) {
      for (const part of parts) {
        const text = `${part}${unseen}${sign}1+1;N,O`;
        for (const language of ['en', 'es']) {
          const csv = toCsv(
            [
              ['first', text, -12.5],
              [text, 'last', 3],
            ],
            language,
          );
          for (const separator of [',', ';', '\t']) {
            for (const cell of cellsOf(csv, separator)) {
              const first = [...cell.normalize('NFKC').replaceAll('"', '')].find(
                (c) => !/[\s\p{C}\p{Z}\p{M}\p{Default_Ignorable_Code_Point}]/u.test(c),
              );
              assert.ok(
                !'=+-@|%'.includes(first ?? 'x') || /^-12[.,]?5?([,;]|$)/.test(cell),
                JSON.stringify([text, language, separator, cell]),
              );
              tried += 1;
            }
          }
        }
      }
    }
  }
  assert.ok(tried > 50_000, `${tried} cells`);
  assert.equal(
    toCsv([[-12.5, -0, 0.001, -1e-7 * 1e7, 'x-1', 'a = b', '10-12', '−1']], 'en'),
    '-12.5,0,0.001,-1,x-1,a = b,10-12,-1\r\n',
    'numbers stay numbers, with one minus sign, and other text stays as it is',
  );
  assert.equal(toCsv([[-12.5]], 'es'), '-12,5\r\n');
  // By hand: sizes named by their steps are numbers, and what only begins as one is none.
  const names = ['−1', '+2', '-1.5', '+1-1', '-1+cmd|x', '−1 M', '--1', '+', '-1e5'];
  assert.equal(toCsv([names], 'en'), "-1,2,-1.5,'+1-1,'-1+cmd|x,−1 M,'--1,'+,'-1e5\r\n");
  assert.equal(toCsv([['−1.5']], 'es'), '-1,5\r\n');
});
