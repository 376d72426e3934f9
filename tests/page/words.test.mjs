// The catalogues: both languages whole, alike in keys and placeholders, and every key the page uses is there, those of a
// first visit in the file that it loads.

import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import path from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { assets, build } from '../../web/assets.mjs';
import { AFTER, divided, isLater, keysIn } from '../../web/later-words.mjs';
import { importModule } from './modules.mjs';

const root = new URL('../../', import.meta.url);
const read = async (file) => JSON.parse(await readFile(new URL(`www/words/${file}`, root), 'utf8'));
const files = (await readdir(new URL('www/words/', root))).sort();
const catalogues = Object.fromEntries(await Promise.all(files.map(async (file) => [file, await read(file)])));
const en = catalogues['en.json'];
const others = Object.entries(catalogues).filter(([file]) => file !== 'en.json');

function flat(words, before = '') {
  return Object.entries(words).flatMap(([key, value]) =>
    typeof value === 'object' ? flat(value, `${before}${key}.`) : [[before + key, value]],
  );
}

const markup = () => readFile(new URL('www/index.html', root), 'utf8');

const placeholders = (text) =>
  [...text.matchAll(/\{\w+\}/g)]
    .map(([name]) => name)
    .sort()
    .join(' ');

test('there is English and Spanish, each under its own name', () => {
  assert.ok(files.includes('en.json') && files.includes('es.json'), files.join(' '));
  assert.equal(new Set(Object.values(catalogues).map(({ language_name: name }) => name)).size, files.length);
});

for (const [file, words] of others) {
  test(`${file} has the keys of the English and no empty words`, () => {
    const [a, b] = [en, words].map((one) => new Map(flat(one)));
    assert.deepEqual(
      [...a.keys()].filter((key) => !b.has(key)),
      [],
      `missing in ${file}`,
    );
    assert.deepEqual(
      [...b.keys()].filter((key) => !a.has(key)),
      [],
      'missing in English',
    );
    for (const [key, text] of [...a, ...b]) assert.notEqual(text.trim(), '', key);
  });

  test(`${file} fills in the placeholders of the English`, () => {
    const other = new Map(flat(words));
    const unlike = flat(en)
      .filter(([key, text]) => placeholders(text) !== placeholders(other.get(key) ?? ''))
      .map(([key]) => key);
    assert.deepEqual(unlike, []);
  });
}

test('every key written out in the page’s modules and markup is in the catalogue', async () => {
  const known = new Set(flat(en).flatMap(([key]) => key.split('.').map((_, i, parts) => parts.slice(0, i + 1).join('.'))));
  const folder = new URL('web/page/', root);
  const files = (await readdir(folder, { recursive: true })).filter((name) => name.endsWith('.js'));
  const used = new Map();
  for (const name of files) {
    const text = await readFile(new URL(name, folder), 'utf8');
    // These are handed the words of their own group, and name keys inside it.
    if (['form/ruler.js', 'keep/paged-list.js'].includes(name)) continue;
    // In the room words are of the room, but where they are asked of the page.
    const isRoom = name.startsWith('bring/');
    for (const [, whose, key] of text.matchAll(/(?<!this\.#?)\b(words(?:\(\))?\.)?(?:t|count|has)\('([a-z_]+(?:\.[a-z_]+)+)'/g))
      used.set(isRoom && !whose ? `bring.${key}` : key, name);
  }
  const html = await readFile(new URL('www/index.html', root), 'utf8');
  for (const [, key] of html.matchAll(/data-t(?:-label)?="([^"]+)"/g)) used.set(key, 'index.html');
  assert.ok(used.size > 100, `${used.size} keys were found in use`);
  assert.deepEqual(
    [...used].filter(([key]) => !known.has(key)),
    [],
  );
});

test('every field has a label and every choice its options', async () => {
  const { FIELDS, edgeFields } = await import(new URL('web/page/form/fields.js', root));
  const known = new Map(flat(en));
  for (const field of [...FIELDS, ...edgeFields(0)]) {
    assert.ok(known.has(`${field.words}.label`), field.words);
    for (const option of field.options ?? []) assert.ok(known.has(`${field.words}.options.${option}`), `${field.words} ${option}`);
  }
});

test('the page’s markup says in English what the catalogue says', async () => {
  const html = await markup();
  const known = new Map(flat(en));
  const said = [
    /data-t="([^"]+)"[^>]*>([^<]*)</g,
    /aria-label="([^"]+)" data-t-label="([^"]+)"/g,
    /data-t-content="([^"]+)" content="([^"]+)"/g,
  ];
  const [texts, labels, contents] = said.map((one) => [...html.matchAll(one)].map(([, ...found]) => found));
  const all = [...texts, ...labels.map(([text, key]) => [key, text]), ...contents];
  assert.ok(all.length > 20 && labels.length > 1 && contents.length === 1, `${all.length} were read`);
  for (const [key, text] of all) assert.equal(text, known.get(key), key);
  assert.deepEqual(
    keysIn(html).filter((key) => !all.some(([one]) => one === key)),
    [],
    'what a first visit reads in the markup alone was compared',
  );
});

/** The codes of one of the core's types, as the schemas have them. */
async function codes(type) {
  const read = async (name) => JSON.parse(await readFile(new URL(`www/schema/${name}-1.json`, root), 'utf8')).$defs;
  const { oneOf } = { ...(await read('brief')), ...(await read('plan')), ...(await read('errors')) }[type];
  return oneOf.flatMap((one) => one.const ?? one.enum ?? one.required);
}

/** The blocks of a catalogue that hold words by these names, two of them at least: each block's key and its names. */
function blocksBy(names, words, at = '') {
  const own = names.filter((name) => name in words);
  const within = Object.entries(words).filter(([, value]) => typeof value === 'object');
  return [
    ...(own.length > 1 ? [[at, own]] : []),
    ...within.flatMap(([name, value]) => blocksBy(names, value, at ? `${at}.${name}` : name)),
  ];
}

for (const [file, words] of Object.entries(catalogues)) {
  test(`where ${file} has words by finish, it has them for every finish`, async () => {
    const every = await codes('Finish');
    // What is said of a cut strip alone has no words for a finish without one.
    const sewn = await codes('SewnFinish');
    const strips = every.filter((finish) => sewn.includes(finish));
    assert.ok(every.length > strips.length && strips.length > 2, `${every} and ${strips} were read`);
    const blocks = blocksBy(every, words);
    assert.ok(blocks.length > 3, `${blocks.length} blocks were found`);
    for (const [at, own] of blocks) assert.deepEqual(own, at === 'sheets.pdf.strip' ? strips : every, at);
  });
}

for (const [file, words] of Object.entries(catalogues)) {
  test(`where ${file} tells what a strip does, it has words for every outcome`, async () => {
    const every = await codes('Outcome');
    assert.ok(every.length > 4, `${every} were read`);
    const blocks = blocksBy(every, words);
    const told = ['verdict', 'outcome', 'does', 'quartered', 'embed.outcome', 'sizes.outcome', 'sheets.pdf.outcome'];
    assert.deepEqual(blocks.map(([at]) => at).sort(), told.sort(), 'the blocks that tell it');
    for (const [at, own] of blocks) assert.deepEqual(own, every, at);
  });
}

test('every code of the core has words', async () => {
  const known = new Map(flat(en));
  for (const [type, section] of [
    ['Rule', 'codes.rule'],
    ['Source', 'codes.source'],
    ['Problem', 'codes.problem'],
    ['AcceptedCode', 'codes.accepted'],
    ['AssumptionCode', 'codes.assumption'],
    ['FibreNote', 'codes.fibre'],
    ['KnitClass', 'codes.class'],
    ['StepCode', 'order.step'],
    ['Caution', 'caution'],
    ['NarrowingFrom', 'narrowing.from'],
  ]) {
    const found = await codes(type);
    assert.ok(found.length > 3, `${type} was read`);
    const worded = (key) => known.has(key) || (known.has(`${key}.one`) && known.has(`${key}.other`));
    assert.deepEqual(
      found.filter((code) => !worded(`${section}.${code}`)),
      [],
      `${type} without words`,
    );
  }
});

for (const [file, words] of Object.entries(catalogues)) {
  test(`the two files made of ${file} have each of its words once, and together are as it is`, async () => {
    const { joined } = await importModule('web/page/common/languages.js');
    const { first, later } = divided(words, file === 'en.json' ? keysIn(await markup()) : []);
    assert.ok(Object.keys(later).length > 0);
    assert.deepEqual(joined(first, later), words);
    const keys = [first, later].flatMap((part) => flat(part).map(([key]) => key));
    assert.equal(new Set(keys).size, keys.length, 'none is in both');
  });
}

/** What an opening rests on, as the kept plans of invented garments have it: of all sources, a first visit names these alone. */
async function openingSources() {
  const folder = new URL('tests/garments/', root);
  const files = (await readdir(folder)).filter((name) => name.endsWith('.plan.json'));
  const plans = await Promise.all(files.map(async (name) => JSON.parse(await readFile(new URL(name, folder), 'utf8'))));
  const found = new Set(plans.flatMap(({ opening }) => [opening.head_source, opening.stitch_source]));
  assert.ok(found.size > 5, `heads and stitches of every kind: ${[...found]}`);
  return [...found];
}

/** The steps of what is asked, named while they are folded. */
const STEPS = ['pieces', 'knit', 'finish', 'head', 'rest'];

/** The modules that come with a first visit: what these import at once, and not what they fetch later. */
async function firstModules() {
  const later = {
    name: 'later',
    setup: ({ onResolve }) =>
      onResolve({ filter: /.*/ }, ({ kind, path: asked }) => (kind === 'dynamic-import' ? { path: asked, external: true } : undefined)),
  };
  const { metafile } = await build({
    entryPoints: ['main.js', 'early.js', 'sheets/sheets-panel.js', 'keep/start.js'].map((name) => `web/page/${name}`),
    outdir: 'unwritten',
    write: false,
    bundle: true,
    format: 'esm',
    target: 'es2022',
    metafile: true,
    logLevel: 'error',
    absWorkingDir: fileURLToPath(root),
    loader: { '.svg': 'file' },
    plugins: [later, assets],
  });
  const used = Object.values(metafile.outputs).flatMap(({ inputs }) =>
    Object.entries(inputs).filter(([, { bytesInOutput }]) => bytesInOutput > 0),
  );
  return [...new Set(used.map(([name]) => name))].filter((name) => name.startsWith('web/page/'));
}

test('a first visit writes no key of the words that are fetched later', async () => {
  const keys = flat(en).map(([key]) => key);
  assert.ok(keys.filter(isLater).length > 200, 'many words are fetched later');
  const modules = await firstModules();
  assert.ok(modules.includes('web/page/plan/answers.js') && modules.includes('web/page/keep/session.js'), modules.join(' '));
  for (const name of [
    'form/form.js',
    'form/layout.js',
    'form/entries.js',
    'form/values.js',
    'form/ruler.js',
    'plan/compare.js',
    'plan/working.js',
    'keep/keep-panel.js',
  ])
    assert.ok(!modules.includes(`web/page/${name}`), name);
  /** What may stand after a text that ends in a code. */
  const endings = { 'section.': STEPS, 'outcome.': await codes('Outcome'), 'codes.source.': await openingSources() };
  const early = new Map();
  /** What follows from what a person does: what stands in its place until it has come is checked in later-parts.test.mjs. */
  const follows = (key) => AFTER.some((group) => key === group || key.startsWith(`${group}.`));
  for (const name of [...modules, 'www/index.html']) {
    const text = await readFile(path.join(fileURLToPath(root), name), 'utf8');
    for (const [, start, end] of text.matchAll(/['"`]([a-z_]+(?:\.[a-z_]*)+)(['"`]|\$\{)/g)) {
      const texts = end === '${' && endings[start] ? endings[start].map((code) => start + code) : [start];
      const isMeant = (key) => texts.some((one) => key === one || key.startsWith(end === '${' ? one : `${one}.`));
      for (const key of keys.filter(isMeant)) early.set(key, name);
    }
  }
  for (const panel of ['sizes', 'keep', 'share', 'outcome']) early.set(`${panel}.heading`, 'web/page/common/fold.js');
  assert.ok(early.size > 300, `${early.size} keys were found`);
  assert.deepEqual(
    [...early].filter(([key]) => isLater(key) && !follows(key)),
    [],
  );
  const inMarkup = new Set(keysIn(await markup()));
  assert.ok(inMarkup.size > 12, [...inMarkup].join(' '));
  assert.deepEqual(
    [...early].filter(([key, name]) => inMarkup.has(key) && name !== 'www/index.html'),
    [],
    'of what only the markup says at first, no module says any',
  );
});

test('a formula’s names and functions are said in each language, and no others', async () => {
  const { formulas } = await import(new URL('web/page/generated/formulas.js', root));
  const texts = Object.entries(formulas);
  /** What no text says: drawn as a root, a power or bars, or as nothing. */
  const drawn = ['deg'];
  const functions = new Set(texts.flatMap(([, text]) => text.match(/[a-z]\w*(?=\()/gi) ?? []).filter((name) => !drawn.includes(name)));
  for (const [file, { codes }] of Object.entries(catalogues)) {
    const names = texts.map(([rule, text]) => [rule, text.match(/\b[a-z]\w*\b(?!\()/gi) ?? []]);
    const unsaid = names.flatMap(([rule, all]) => all.filter((name) => !(codes.name_in[rule]?.[name] ?? codes.name[name])));
    assert.deepEqual(unsaid, [], file);
    for (const [rule, own] of Object.entries(codes.name_in))
      for (const name of Object.keys(own))
        assert.ok(names.find(([one]) => one === rule)?.[1].includes(name), `${file}: ${name} in ${rule}`);
    for (const name of Object.keys(codes.name))
      assert.ok(
        names.some(([, all]) => all.includes(name)),
        `${file}: ${name} is in some formula`,
      );
    assert.deepEqual(
      Object.keys(codes.function)
        .filter((name) => name !== 'separator')
        .sort(),
      [...functions, 'abs'].sort(),
      file,
    );
  }
  const { name } = catalogues['es.json'].codes;
  const english = Object.entries(name).filter(([own, said]) => own === said);
  assert.deepEqual(english, [], 'none is left in English');
});
