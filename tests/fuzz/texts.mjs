// Feeds the page's readers of foreign text, links and saved files, with seeded noise:
//   node tests/fuzz/texts.mjs [--seconds N] [--seed N]
// Each must give a value or throw the error it is documented to throw, and soon.

import { readFile, readdir } from 'node:fs/promises';
import { ok, strictEqual } from 'node:assert';
import { parseArgs } from 'node:util';
import { importModule } from '../page/modules.mjs';

const { values } = parseArgs({ options: { seconds: { type: 'string', default: '60' }, seed: { type: 'string' } } });
const seconds = Number(values.seconds);
const seed = Number(values.seed ?? Date.now() % 1_000_000);
/** A single answer may take this long, ms. */
const MOST_MS = 2000;

const { LinkError, briefLink, decodeBrief, encodeBrief } = await importModule('web/page/share/codec.js');
const { PackError, pack, unpack } = await importModule('web/page/share/pack.js');
const { canonical } = await importModule('web/page/keep/entry.js');
const { ImportError, exportText, mergePlan, readExport } = await importModule('web/page/keep/merge.js');

const folder = new URL('../briefs/', import.meta.url);
const names = (await readdir(folder)).filter((name) => name.endsWith('.json'));
const briefs = await Promise.all(names.map(async (name) => JSON.parse(await readFile(new URL(name, folder), 'utf8'))));

// Mulberry32: small, and the same on every machine for a seed.
let state = seed;
function random() {
  state = (state + 0x6d2b79f5) | 0;
  let t = Math.imul(state ^ (state >>> 15), 1 | state);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
}
const below = (n) => Math.floor(random() * n);
const pick = (list) => list[below(list.length)];

const KINDS = ['briefs', 'knits', 'drafts'];
const ODD = [
  '',
  '<img src=x onerror=alert(1)>',
  '\u202egnp.exe',
  '\u0000',
  '\ud800',
  '__proto__',
  'constructor',
  'ünïcødé',
  '𝒳'.repeat(50),
  'M 0 95 C 50 95 88 60 88 0',
  'M0,95 C50,95 88,60 88,0',
  'M-0 1',
  'M 00 95',
  'toString',
];
const oddNumber = () =>
  pick([
    0,
    -0,
    1,
    -1,
    0.1,
    1e-7,
    223,
    224,
    1e15,
    2 ** 53,
    1e300,
    Number.MIN_VALUE,
    -12.3456,
    random() * 1000,
    below(70_000) / 100,
    -below(900) / 8,
  ]);

/** Any value of JSON, mostly shallow. */
function anything(depth = 0) {
  switch (below(depth > 4 ? 4 : 6)) {
    case 0:
      return pick([null, true, false]);
    case 1:
      return oddNumber();
    case 2:
      return pick(ODD);
    case 3:
      return oddNumber();
    case 4:
      return Array.from({ length: below(5) }, () => anything(depth + 1));
    default:
      return Object.fromEntries(
        Array.from({ length: below(5) }, () => [pick([...ODD, 'schema', 'neckline', 'title', 'x']), anything(depth + 1)]),
      );
  }
}

/** A copy with one place in it changed, removed or added to. */
function changed(value) {
  const copy = structuredClone(value);
  let at = copy;
  for (;;) {
    const keys = Object.keys(at);
    const key = pick(keys.length ? keys : ['x']);
    if (at[key] !== null && typeof at[key] === 'object' && random() < 0.8) {
      at = at[key];
      continue;
    }
    if (random() < 0.2) delete at[key];
    else at[key] = anything();
    return copy;
  }
}

function noisy(bytes) {
  const copy = Uint8Array.from(bytes);
  for (let i = below(6) + 1; i > 0 && copy.length; i--) copy[below(copy.length)] = below(256);
  const cut = random();
  if (cut < 0.15) return copy.subarray(0, below(copy.length));
  if (cut < 0.3) return Uint8Array.from([...copy, ...copy.subarray(below(copy.length))]);
  return copy;
}

const noisyText = (text) => new TextDecoder().decode(noisy(new TextEncoder().encode(text)));

/** What `work` gives, or undefined where it throws one of the errors it may throw. */
function attempt(work, ...allowed) {
  const began = performance.now();
  try {
    return work();
  } catch (error) {
    if (!allowed.some((kind) => error instanceof kind)) throw error;
    return undefined;
  } finally {
    const took = performance.now() - began;
    ok(took < MOST_MS, `an answer took ${took} ms`);
  }
}

// What has been read must be plain: nothing of it is inherited from anywhere else.
function checkPlain(value) {
  if (value === null || typeof value !== 'object') return;
  ok([Object.prototype, Array.prototype].includes(Object.getPrototypeOf(value)), 'a value is a plain object or list');
  Object.values(value).forEach(checkPlain);
}

// JSON has no minus zero, and a lone surrogate has no UTF-8.
const comparable = (value) => JSON.stringify(value).replaceAll(/\\ud[89a-f]../g, '\ufffd');

const targets = {
  'a changed brief in a link'() {
    const brief = changed(pick(briefs));
    const text = attempt(() => encodeBrief(brief), PackError);
    if (text === undefined) return;
    const back = attempt(() => decodeBrief(text), LinkError);
    if (back !== undefined) strictEqual(comparable(back), comparable(brief), 'a link gives back what was put in');
  },
  'noise in a link'() {
    const text = encodeBrief(pick(briefs));
    checkPlain(attempt(() => decodeBrief(random() < 0.5 ? noisyText(text) : `1${noisyText(text.slice(1))}`), LinkError));
  },
  'noise in what a link packs'() {
    checkPlain(attempt(() => unpack(noisy(pack(changed(pick(briefs))))), PackError));
  },
  'any bytes as what a link packs'() {
    checkPlain(attempt(() => unpack(Uint8Array.from({ length: below(60) }, () => below(256))), PackError));
  },
  'a link to any page'() {
    const link = briefLink(pick(briefs), pick(['http://localhost/', 'https://a.example/x/y?z#w', 'file:///tmp/index.html']));
    strictEqual(new URL(link).search, '', 'a link carries nothing in its query');
  },
  'noise in a saved file'() {
    const file = attempt(() => readExport(noisyText(saved())), ImportError);
    if (file) checkMerge(file);
  },
  'a changed saved file'() {
    const file = attempt(() => readExport(JSON.stringify(changed(JSON.parse(saved())))), ImportError);
    if (file) checkMerge(file);
  },
};

const entry = (kind) => {
  const content = random() < 0.7 ? pick(briefs) : changed(pick(briefs));
  const held = kind === 'knits' ? { knit: content.garment_knit } : { brief: content };
  return { id: pick(['a', 'b', 'c', 'd']), name: pick([...ODD, 'Tarn', 'Tarn (2)']), revision: below(4), changed: '2026-01-01', ...held };
};

/** What is kept, with ids of its own: as the store holds it. */
function kept() {
  const list = (kind) => [...new Map(Array.from({ length: below(4) }, () => entry(kind)).map((one) => [one.id, one])).values()];
  return { briefs: list('briefs'), knits: list('knits'), drafts: list('drafts'), unread: [] };
}

const saved = () => exportText(kept(), '2026-01-01T00:00:00Z');

let ids = 0;
function checkMerge(file) {
  const before = kept();
  const frozen = canonical(before);
  const merged = mergePlan(before, file, () => `new-${ids++}`);
  strictEqual(canonical(before), frozen, 'nothing that is there is changed');
  for (const kind of KINDS) {
    const all = [...before[kind], ...merged.add[kind]];
    strictEqual(new Set(all.map(({ id }) => id)).size, all.length, 'every entry has an id of its own');
  }
  const after = Object.fromEntries(Object.entries(merged.add).map(([kind, list]) => [kind, [...before[kind], ...list]]));
  const again = mergePlan(after, { ...file, unread: [] }, () => `again-${ids++}`);
  const added = KINDS.reduce((sum, kind) => sum + again.add[kind].length, 0);
  if (merged.renamed.length === 0) strictEqual(added, 0, 'a file taken in twice adds nothing the second time');
}

const counts = Object.fromEntries(Object.keys(targets).map((name) => [name, 0]));
const end = performance.now() + 1000 * seconds;
let run = 0;
while (performance.now() < end) {
  const name = pick(Object.keys(targets));
  const from = state;
  try {
    targets[name]();
  } catch (error) {
    console.error(`found in '${name}', run ${run}, seed ${seed}, state ${from}`);
    throw error;
  }
  counts[name]++;
  run++;
}
console.log(`seed ${seed}: ${run} runs, nothing found`);
for (const [name, count] of Object.entries(counts)) console.log(`${String(count).padStart(9)}  ${name}`);
