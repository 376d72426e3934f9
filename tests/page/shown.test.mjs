// What is shown is what is used: in every unit a text reads back as the length it stands for, or is marked.

import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { test } from 'node:test';
import { inches, metric } from '../../web/page/generated/example.js';
import { importModule } from './modules.mjs';
import { root } from './planner.mjs';

const { Words } = await importModule('web/page/common/words.js');
const { usualPaper, usualUnit } = await importModule('web/page/common/region.js');
const { HABITS, briefOf, ownValues, startingValues, usualInstead, valuesOf } = await importModule('web/page/form/values.js');
const { FIELDS, isAsked } = await importModule('web/page/form/fields.js');
const catalogue = async (language) => JSON.parse(await readFile(`${root}www/words/${language}.json`, 'utf8'));
const words = new Words('en', await catalogue('en'));
const spanish = new Words('es', await catalogue('es'));

const UNITS = { mm: 1, cm: 10, in: 25.4 };
// Half the last digit of a double of this size, many times over.
const SAME = 1e-6;

/** mm of a text as a person reads it: whole numbers, decimals, fractions; a unit of its own wins. */
function readBack(text, unit) {
  const [, number, own] = /^(.*?)\s*(mm|cm|in)?$/u.exec(text.replaceAll('\u00a0', ' ').replace(',', '.'));
  const negative = number.startsWith('-') ? -1 : 1;
  const sum = number
    .replace('-', '')
    .split(' ')
    .map((part) => part.split('/').map(Number))
    .reduce((all, [n, d = 1]) => all + n / d, 0);
  return negative * sum * UNITS[own ?? unit];
}

/** Every length of a brief. */
function* lengthsOf(value) {
  if (typeof value !== 'object' || value === null) return;
  for (const [name, inner] of Object.entries(value)) {
    if (name.endsWith('_mm') && typeof inner === 'number') yield inner;
    else yield* lengthsOf(inner);
  }
}

async function worked() {
  const folders = ['tests/briefs/', 'tests/garments/'];
  const names = await Promise.all(folders.map(async (folder) => (await readdir(root + folder)).map((name) => root + folder + name)));
  const files = names.flat().filter((name) => name.endsWith('.json') && !name.endsWith('.plan.json'));
  return Promise.all(files.map(async (name) => JSON.parse(await readFile(name, 'utf8'))));
}

test('the page shows a length as the core does', async () => {
  const samples = JSON.parse(await readFile(`${root}tests/generated/shown.json`, 'utf8'));
  assert.ok(samples.length > 4000, `${samples.length} samples`);
  for (const [unit, mm, text] of samples) assert.equal(words.length(mm, unit, { suffix: false }), text, `${mm} mm in ${unit}`);
});

test('what a field shows is the length to the last digit, or it says what the length is', async () => {
  const lengths = new Set([...(await worked()), metric, inches].flatMap((brief) => [...lengthsOf(brief)]));
  for (let i = 0; i < 3000; i += 1)
    lengths
      .add(i * 0.0371)
      .add(i * 1.5875)
      .add(i / 10);
  const marked = { mm: 0, cm: 0, in: 0 };
  for (const unit of Object.keys(UNITS)) {
    for (const mm of lengths) {
      const { text, exactly } = words.told(mm, unit);
      const off = Math.abs(readBack(text, unit) - mm);
      if (!exactly) assert.ok(off < SAME, `${mm} mm is shown as ${text} ${unit}`);
      else {
        marked[unit] += 1;
        assert.ok(off >= SAME, `${mm} mm is ${text} ${unit}, and marked`);
        assert.match(exactly, /^(?:about|under) .*: exactly .*\smm$/u, exactly);
        assert.ok(Math.abs(readBack(exactly.split('exactly ')[1], 'mm') - mm) < SAME, exactly);
        assert.match(spanish.told(mm, unit).exactly, /^(?:aprox\.|menos de) .*: exactamente .*\smm$/u);
      }
      assert.ok(Math.abs(readBack(words.read(mm, unit), unit) - mm) < SAME, `${mm} mm, to be read in ${unit}`);
    }
  }
  assert.ok(marked.in > 1000 && marked.mm === 0, `${JSON.stringify(marked)}: 10 mm are no fraction of an inch`);
});

test('a number that a field cannot show to its last digit says what it is', () => {
  assert.deepEqual(words.toldNumber(62.5), { text: '62.5', exactly: '' });
  assert.deepEqual(words.toldNumber(100 * 0.07), { text: '7', exactly: '' }, 'the last digits of a product are rounding');
  const { text, exactly } = words.toldNumber(Math.PI / 2);
  assert.equal(text, '1.5708');
  assert.match(exactly, /about 1\.5708: exactly 1\.570796326795/u);
});

test('a brief begun in inches holds exactly what is shown', () => {
  // Common practice, no published source. mm by 25.4 to the inch.
  const wanted = {
    neckline_allowance: ['3/8', 9.525],
    'front.shoulder_allowance': ['3/8', 9.525],
    'garment.crosswise.rest': ['4', 101.6],
    'band.width': ['5/8', 15.875],
    'band.join_allowance': ['1/4', 6.35],
    'head.margin': ['3/4', 19.05],
    'facing.understitch': ['1/16', 1.5875],
  };
  const values = ownValues(inches, 'in');
  for (const [key, [text, mm]] of Object.entries(wanted)) {
    assert.equal(values[key], mm, key);
    assert.deepEqual(words.told(values[key], 'in'), { text, exactly: '' }, key);
  }
  assert.equal(values.rounding, 'eighth_inch');
  const metricValues = ownValues(metric, 'cm');
  assert.deepEqual(
    Object.keys(wanted).map((key) => metricValues[key]),
    [10, 10, 100, 15, 6, 20, 1.6],
  );
  assert.equal(metricValues.rounding, 'millimetre');
});

test('every length that a new brief begins with is one of its unit, whatever is chosen in it', () => {
  for (const unit of ['mm', 'cm', 'in']) {
    const values = ownValues(unit === 'in' ? inches : metric, unit);
    const lengths = FIELDS.filter(({ kind, unit: own, paths: [path] }) => kind === 'length' && !own && !/^(tolerances|rules)/.test(path));
    for (const { key } of lengths) {
      if (typeof values[key] !== 'number') continue;
      assert.ok(key in HABITS, `${key} begins with ${values[key]} mm in every unit`);
      assert.equal(words.told(values[key], unit).exactly, '', `${key} in ${unit}`);
    }
  }
});

test('a unit moves nothing that a brief holds, and tells what would be usual', () => {
  const values = valuesOf(metric, startingValues('mm'));
  const instead = usualInstead(values, 'in');
  assert.equal(instead.neckline_allowance, 9.525);
  assert.equal(instead.rounding, 'eighth_inch');
  assert.equal(instead['front.half_length'], undefined, 'a reading is nobody’s habit');
  assert.deepEqual(usualInstead(values, 'cm'), {}, 'millimetres and centimetres are one habit');
  // There and back again.
  const back = usualInstead({ ...values, ...instead }, 'mm');
  for (const key of Object.keys(instead)) assert.equal(back[key], values[key], key);
  assert.deepEqual(usualInstead({ ...values, neckline_allowance: 12 }, 'in').neckline_allowance, undefined, 'what was told stays');
});

test('a brief that leaves things unsaid means the same whatever unit it is opened in', async () => {
  const bare = structuredClone(metric);
  for (const name of ['stays', 'rounding', 'tolerances', 'rules', 'stitch']) delete bare[name];
  delete bare.head.margin_mm;
  for (const finish of [
    { band: { width_mm: 15 } },
    { bound: { width_mm: 10 } },
    { tape: { width_mm: 12 } },
    { facing: { width_mm: 55 } },
  ]) {
    const brief = { ...bare, finish };
    const [cm, inch] = ['cm', 'in'].map((unit) =>
      briefOf(valuesOf(brief, valuesOf(unit === 'in' ? inches : metric, startingValues(unit)))),
    );
    assert.deepEqual(inch, cm, JSON.stringify(finish));
    if ('bound' in finish) assert.equal(inch.finish.bound.turn_under_mm, 0, 'raw, as the core takes it');
  }
  const asked = FIELDS.filter((field) => isAsked(field, valuesOf(metric)));
  assert.ok(asked.length > 30, 'the form asks');
});

// Regions by Unicode CLDR 47, supplemental measurementData: measurementSystem US in LR and US; paperSize US-Letter in those below.
test('a first visit is met in what is in use where the browser is', () => {
  for (const [languages, unit, paper] of [
    [['en-US'], 'in', 'letter'],
    [['en-LR'], 'in', 'a4'],
    [['en-GB', 'en'], 'cm', 'a4'],
    [['es-MX'], 'cm', 'letter'],
    [['fr-CA'], 'cm', 'letter'],
    [['es-ES', 'en-US'], 'cm', 'a4'],
    [['de'], 'cm', 'a4'],
    [['es', 'en-US'], 'in', 'letter'],
    [['zh-Hans-CN'], 'cm', 'a4'],
    [['C'], 'cm', 'a4'],
    [[], 'cm', 'a4'],
  ]) {
    assert.equal(usualUnit(languages), unit, languages.join());
    assert.equal(usualPaper(languages), paper, languages.join());
  }
  const letter = 'BZ CA CL CO CR GT MX NI PA PH PR SV US VE'.split(' ');
  for (const region of letter) assert.equal(usualPaper([`es-${region}`]), 'letter', region);
  for (const region of ['DO', 'GB', 'AR', 'PE', 'JP']) assert.equal(usualPaper([`es-${region}`]), 'a4', region);
});

test('the ends of a range that is told are accepted, as they are written', async () => {
  const { sentence } = await importModule('web/page/form/errors.js');
  for (const lengths of Object.keys(UNITS)) {
    for (const [min, max] of [
      [128.13, 132.46],
      [2.06, 9.94],
      [150, 3000],
    ]) {
      const text = sentence({ field: '', problem: 'out_of_range', accepted: { min, max, unit: 'mm' } }, { words, lengths });
      const told = text
        .replaceAll('about ', '')
        .replaceAll(',', '')
        .replace(/^.*Accepted: (.*)\.$/, '$1');
      const [least, most] = told.split(' to ').map((end) => readBack(end, lengths));
      assert.ok(least >= min - SAME && most <= max + SAME && least < most, `${lengths}: ${text}`);
    }
  }
});
