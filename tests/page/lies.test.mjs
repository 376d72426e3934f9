// What a strip does, in words: each thing that it does is told, where and by how much, in both languages.

import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { before, test } from 'node:test';
import { importModule } from './modules.mjs';
import { buildPlanner, planOf, root } from './planner.mjs';

const { placed, quarteredTold, spanDoes, stripTold, untrusted } = await importModule('web/page/plan/lies.js');
const { Words } = await importModule('web/page/common/words.js');
const said = {};
for (const language of ['en', 'es'])
  said[language] = new Words(language, JSON.parse(await readFile(`${root}www/words/${language}.json`, 'utf8')));

/** A span, invented. */
const span = (from, to, outcome, more = {}) => ({
  ...{ from, to, outcome, stands_off_mm: 0, trusted: true, bend: 0.2 },
  ...{ seam_edge_percent: 20, free_edge_least_percent: 1, free_edge_most_percent: 8, ...more },
});
const quartered = { outcome: 'gapes', stands_off_mm: 14, leans_deg: 44, error_mm: 3, free_edge_least_percent: -20 };
const strip = (outcome, ...spans) => ({ outcome, spans, comfort_percent: 30, quartered });
const told = (one, language = 'en') => stripTold(one, said[language], 'mm').map(({ text }) => text.replaceAll('\u00a0', ' '));

const crew = strip(
  'stands',
  span('centre_back', 'between', 'lies_flat'),
  span('between', 'neck_point', 'stands', { stands_off_mm: 5.04, leans_deg: 18.2 }),
  span('neck_point', 'between', 'stands', { stands_off_mm: 3.9, leans_deg: 14 }),
  span('between', 'centre_front', 'lies_flat'),
);

test('a crew that stands along the neck is told as makers know it', () => {
  const en = 'It lies flat on the chest and stands along the neck at the neck points, up to 18° off the flat, as a crew does.';
  assert.deepEqual(told(crew), [en]);
  assert.match(told(crew, 'es')[0], /plana en el pecho .* en los puntos de cuello, hasta 18°/);
  assert.deepEqual(stripTold(crew, said.en, 'mm')[0].outcome, 'stands');
});

test('each thing that a strip does is told, worst first, with where and how much', () => {
  const bad = strip(
    'gapes',
    span('centre_back', 'between', 'ripples', { stands_off_mm: 1.5 }),
    span('between', 'neck_point', 'pulls_in', { seam_edge_percent: 36.4 }),
    span('neck_point', 'between', 'stands', { stands_off_mm: 4, leans_deg: 20 }),
    span('between', 'between', 'gapes', { stands_off_mm: 5.25 }),
    span('between', 'between', 'lies_flat'),
    span('between', 'centre_front', 'gapes', { stands_off_mm: 10.8, leans_deg: 33.4 }),
  );
  assert.deepEqual(told(bad), [
    'It gapes in front: it stands 33° off the flat, its free edge 10.8 mm up.',
    'It gapes in front: its free edge ripples by 5.3 mm.',
    'It drags at the neck points: an edge is stretched by 36.4 %, more than the 30 % that stays comfortable, and draws in or cups.',
    'Its free edge ripples at the back, by 1.5 mm: pressing takes that up.',
    'It stands along the neck at the neck points, up to 20° off the flat, as a crew does. Elsewhere it lies flat.',
  ]);
  const outcomes = stripTold(bad, said.en, 'mm').map(({ outcome }) => outcome);
  assert.deepEqual(outcomes, ['gapes', 'gapes', 'pulls_in', 'ripples', 'stands']);
});

test('a front without marks that stands and passes does so at the neck points, and a gaping one in front', () => {
  const back = span('centre_back', 'neck_point', 'lies_flat');
  const front = (outcome) => strip(outcome, back, span('neck_point', 'centre_front', outcome, { stands_off_mm: 4, leans_deg: 14 }));
  assert.deepEqual(told(front('stands')), [told(crew)[0].replace('18°', '14°')]);
  assert.match(told(front('gapes'))[0], /^It gapes in front: it stands 14°/);
});

test('a strip that is flat all round says so and no more', () => {
  const flat = strip('lies_flat', span('centre_back', 'neck_point', 'lies_flat'), span('neck_point', 'centre_front', 'lies_flat'));
  assert.deepEqual(told(flat), ['It lies flat all round.']);
  assert.equal(untrusted(flat, said.en), undefined);
});

test('a bend that is too sharp to be reckoned says so, and what would not be', () => {
  const sharp = strip('lies_flat', span('centre_back', 'neck_point', 'lies_flat'), {
    ...span('neck_point', 'centre_front', 'lies_flat', { bend: 0.324, trusted: false }),
  });
  assert.match(untrusted(sharp, said.en), /^Not sure in front: .* 32\s% of the curve’s radius .* narrower strip or another finish/);
  assert.match(untrusted(sharp, said.es), /^No es seguro en el delantero: .* 32\s% .* tira más estrecha u otro acabado/);
  assert.match(spanDoes(sharp.spans[1], said.en, 'mm'), /^lies flat \(not sure/);
});

test('quartering says what would come of it, and what the marks are for', () => {
  const words = (one) => quarteredTold(one, said.en, 'mm').replaceAll('\u00a0', ' ');
  const would =
    'Spread evenly by quarters it would gape: it would stand 44° off the flat, its free edge 14 mm up, up to 3 mm off these marks.';
  assert.equal(words({ ...crew, outcome: 'lies_flat' }), `${would} The marks keep it flat.`);
  assert.equal(words(crew), `${would} With the marks it gapes nowhere.`);
  assert.equal(words({ ...crew, outcome: 'gapes' }), would, 'marks that do not help are not praised');
});

/** Invented garments with a strip. */
let garments = [];
before(async () => {
  await buildPlanner();
  const names = (await readdir(`${root}tests/garments`)).filter((name) => /^\d.*(?<!\.plan)\.json$/.test(name));
  const plans = names.map(async (name) => ({
    name,
    plan: await planOf(JSON.parse(await readFile(`${root}tests/garments/${name}`, 'utf8'))),
  }));
  garments = (await Promise.all(plans)).filter(({ plan }) => plan.strip);
});

test('of every garment all that its spans do is told, with no figure left out', () => {
  assert.ok(garments.length > 25, `${garments.length} garments`);
  const met = new Set();
  for (const { name, plan } of garments) {
    const own = new Set(plan.strip.spans.map(({ outcome }) => outcome));
    for (const outcome of own) met.add(outcome);
    const wanted = own.size === 1 && own.has('lies_flat') ? own : new Set([...own].filter((one) => one !== 'lies_flat'));
    assert.equal(placed(plan.strip).length, plan.strip.spans.length);
    for (const words of Object.values(said)) {
      const sentences = stripTold(plan.strip, words, 'mm');
      assert.deepEqual(new Set(sentences.map(({ outcome }) => outcome)), wanted, name);
      assert.ok(wanted.has(plan.strip.outcome), `${name}: ${plan.strip.outcome} of the whole is a span's`);
      const texts = [...sentences.map(({ text }) => text), quarteredTold(plan.strip, words, 'mm')];
      texts.push(...plan.strip.spans.map((one) => spanDoes(one, words, 'mm')), untrusted(plan.strip, words) ?? '');
      for (const text of texts) assert.doesNotMatch(text, /[{}]|NaN|undefined|—|^[a-z_]+\./, `${name}: ${text}`);
    }
  }
  for (const outcome of ['lies_flat', 'stands', 'gapes', 'pulls_in']) assert.ok(met.has(outcome), `${outcome} is met`);
});
