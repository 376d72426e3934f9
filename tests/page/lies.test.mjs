// What a strip does, in words: each thing that it does is told, where and by how much, in both languages.

import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { before, test } from 'node:test';
import { importModule } from './modules.mjs';
import { buildPlanner, planOf, root } from './planner.mjs';

const { quarteredTold, spanDoes, stripTold, untrusted } = await importModule('web/page/plan/lies.js');
const { Words } = await importModule('web/page/common/words.js');
const said = {};
for (const language of ['en', 'es'])
  said[language] = new Words(language, JSON.parse(await readFile(`${root}www/words/${language}.json`, 'utf8')));

/** A span between marks, invented. */
const span = (outcome, more = {}) => ({
  ...{ outcome, stands_off_mm: 0, trusted: true, bend: 0.2 },
  ...{ seam_edge_percent: 20, free_edge_least_percent: 1, free_edge_most_percent: 8, ...more },
});
/** A part of a half round, invented. */
const part = (name, outcome, more = {}) => ({ part: name, outcome, stands_off_mm: 0, trusted: true, ...more });
const quartered = { outcome: 'gapes', stands_off_mm: 14, leans_deg: 44, error_mm: 3, free_edge_least_percent: -20 };
/** By what it does in front, at the neck points and at the back. */
const strip = (outcome, front, neck, back, spans = [span(outcome)]) => ({
  ...{ outcome, spans, comfort_percent: 30, quartered },
  parts: [part('front', ...front), part('neck_points', ...neck), part('back', ...back)],
});
const told = (one, language = 'en') => stripTold(one, said[language], 'mm').map(({ text }) => text.replaceAll('\u00a0', ' '));

const FLAT = ['lies_flat'];
const crew = strip('stands', FLAT, ['stands', { stands_off_mm: 5.04, leans_deg: 18.2 }], FLAT);

test('a crew that stands along the neck is told as makers know it', () => {
  const en = 'It lies flat on the chest and stands along the neck at the neck points, up to 18° off the flat, as a crew does.';
  assert.deepEqual(told(crew), [en]);
  assert.match(told(crew, 'es')[0], /plana en el pecho .* en los puntos de cuello, hasta 18°/);
  assert.deepEqual(stripTold(crew, said.en, 'mm')[0].outcome, 'stands');
});

test('a crew that stands along neck and back is told so too', () => {
  const stands = ['stands', { stands_off_mm: 3, leans_deg: 12 }];
  const both = strip('stands', FLAT, ['stands', { stands_off_mm: 5, leans_deg: 20 }], stands);
  assert.match(told(both)[0], /flat on the chest and stands along the neck at the neck points and at the back, up to 20°/);
  assert.match(told(strip('stands', stands, FLAT, FLAT))[0], /^It stands up in front, by 3 mm: .* Elsewhere it lies flat\.$/);
});

test('each thing that a strip does is told, worst first, with where and how much', () => {
  const gapes = ['gapes', { stands_off_mm: 10.8, leans_deg: 33.4 }];
  const pulls = [span('gapes'), span('pulls_in', { seam_edge_percent: 36.4 })];
  const bad = strip('gapes', gapes, ['gapes', { stands_off_mm: 5.25 }], ['pulls_in'], pulls);
  assert.deepEqual(told(bad), [
    'It gapes in front: it stands 33° off the flat, its free edge 10.8 mm up.',
    'It gapes at the neck points: its free edge ripples by 5.3 mm.',
    'It drags at the back: an edge is stretched by 36.4 %, more than the 30 % that stays comfortable, and draws in or cups.',
  ]);
  assert.deepEqual(
    stripTold(bad, said.en, 'mm').map(({ outcome }) => outcome),
    ['gapes', 'gapes', 'pulls_in'],
  );
  const mild = strip('ripples', FLAT, ['stands', { stands_off_mm: 4, leans_deg: 20 }], ['ripples', { stands_off_mm: 1.5 }]);
  assert.deepEqual(told(mild), [
    'Its free edge ripples at the back, by 1.5 mm: pressing takes that up.',
    'It stands along the neck at the neck points, up to 20° off the flat, as a crew does. Elsewhere it lies flat.',
  ]);
});

test('a strip that is flat all round says so and no more', () => {
  const flat = strip('lies_flat', FLAT, FLAT, FLAT);
  assert.deepEqual(told(flat), ['It lies flat all round.']);
  assert.equal(untrusted(flat, said.en), undefined);
});

test('a bend that is too sharp to be reckoned says so, and what would not be', () => {
  const spans = [span('lies_flat'), span('lies_flat', { bend: 0.324, trusted: false })];
  const sharp = strip('lies_flat', ['lies_flat', { trusted: false }], FLAT, FLAT, spans);
  assert.match(untrusted(sharp, said.en), /^Not sure in front: .* 32\s% of the curve’s radius .* narrower strip or another finish/);
  assert.match(untrusted(sharp, said.es), /^No es seguro en el delantero: .* 32\s% .* tira más estrecha u otro acabado/);
  assert.match(spanDoes(spans[1], said.en, 'mm'), /^lies flat \(not sure/);
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

test('of every garment what its strip does is told part by part, with no figure left out', () => {
  assert.ok(garments.length > 25, `${garments.length} garments`);
  const met = new Set();
  for (const { name, plan } of garments) {
    const own = new Set(plan.strip.parts.map(({ outcome }) => outcome));
    for (const outcome of own) met.add(outcome);
    const wanted = own.size === 1 && own.has('lies_flat') ? own : new Set([...own].filter((one) => one !== 'lies_flat'));
    for (const words of Object.values(said)) {
      const sentences = stripTold(plan.strip, words, 'mm');
      assert.deepEqual(new Set(sentences.map(({ outcome }) => outcome)), wanted, name);
      assert.ok(wanted.has(plan.strip.outcome), `${name}: ${plan.strip.outcome} of the whole is a part's`);
      const texts = [...sentences.map(({ text }) => text), quarteredTold(plan.strip, words, 'mm')];
      texts.push(...plan.strip.spans.map((one) => spanDoes(one, words, 'mm')), untrusted(plan.strip, words) ?? '');
      for (const text of texts) assert.doesNotMatch(text, /[{}]|NaN|undefined|—|^[a-z_]+\./, `${name}: ${text}`);
    }
  }
  for (const outcome of ['lies_flat', 'stands', 'gapes', 'pulls_in']) assert.ok(met.has(outcome), `${outcome} is met`);
});
