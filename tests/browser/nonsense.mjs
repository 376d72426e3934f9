// Nonsense of many kinds, as a fault, a hand or another version may leave it in a browser. `plant` runs in a page of the site.

import { readFileSync } from 'node:fs';

/** A brief that can be planned, for the entry that must stay usable and for those that are spoiled. */
export const GOOD = JSON.parse(readFileSync(new URL('../briefs/band-round.json', import.meta.url), 'utf8'));

export const STORES = ['briefs', 'knits', 'drafts'];

/** What is planted in the database: each kind gives the entries of one store. */
export const KINDS = [
  'wrong types',
  'huge strings',
  'deep nesting',
  'values that hold themselves',
  'bytes',
  'dates',
  'numbers that are none',
  'unknown versions',
  'collections',
  'too many',
  'odd ids',
];

/** Plants entries of some kinds in some stores, beside one good brief; tells how many. @param {[string[], string[], object]} what */
export async function plant([stores, kinds, good]) {
  const copy = () => structuredClone(good);
  /** @param {number} levels @param {boolean} [list] */
  const deep = (levels, list) => {
    /** @type {unknown} */
    let value = 'core';
    for (let i = 0; i < levels; i += 1) value = list ? [value] : { a: value };
    return value;
  };
  const own = { changed: '2026-01-02T00:00:00.000Z', created: '2026-01-01T00:00:00.000Z', revision: 1 };
  /** @param {string} store @param {object} [changes] @returns {any} an entry, some of it of the wrong kind */
  const entry = (store, changes = {}) => ({
    ...own,
    name: 'Spoiled',
    ...(store === 'knits' ? { knit: { name: 'Knit', crosswise: { percent: { stretch_percent: 50 } } } } : { brief: copy() }),
    ...changes,
  });
  /** @param {string} store */
  const content = (store) => (store === 'knits' ? 'knit' : 'brief');
  /** An entry whose content is changed. @param {string} store @param {(inner: any, whole: any) => void} change */
  const inside = (store, change) => {
    const made = entry(store);
    change(made[content(store)], made);
    return made;
  };
  const tangle = () => {
    /** @type {unknown[]} */
    let value = ['x'];
    for (let i = 0; i < 60; i += 1) value = [value, value];
    return value;
  };
  /** @template Made @param {readonly any[]} values @param {(value: any) => Made} make */
  const each = (values, make) => values.map(make);
  /** @type {Record<string, (store: string) => any[]>} */
  const makers = {
    'wrong types': (store) => {
      /** @type {unknown[]} */
      const wrong = [null, true, 5, [], {}, ['x'], { toString: 1 }];
      const fields = ['name', 'changed', 'created', 'revision', 'from', 'kept', 'sizes', 'unplanned', 'source', content(store)];
      const made = fields.flatMap((field) => each(wrong, (value) => entry(store, { [field]: value })));
      const parts =
        store === 'knits'
          ? ['name', 'crosswise', 'learned', 'thickness_mm']
          : ['title', 'schema', 'version', 'garment_knit', 'strip_knit', 'neckline', 'finish', 'stays', 'head'];
      made.push(
        ...parts.flatMap((part) =>
          each(wrong, (value) =>
            inside(store, (inner) => {
              inner[part] = value;
            }),
          ),
        ),
      );
      const sizes = { mode: 'growth', smaller: 1, larger: 1, names: {}, backs: {}, growth: { front: {}, back: {} }, readings: {} };
      made.push(
        entry(store, { sizes: { ...sizes, names: { 0: {} } } }),
        entry(store, { sizes: { ...sizes, larger: 1e9 } }),
        entry(store, { sizes: { ...sizes, readings: { 0: 7 } } }),
      );
      made.push(
        entry(store, { unplanned: { fresh: 1, sheet: { edges: 1e9, title: {} }, texts: { title: {} } } }),
        entry(store, { unplanned: { sheet: [], texts: 5 } }),
      );
      return made;
    },
    'huge strings': (store) => {
      const huge = 'ab '.repeat(1_500_000);
      return [
        entry(store, { name: huge }),
        entry(store, { changed: huge }),
        entry(store, { [huge]: 1 }),
        inside(store, (inner) => {
          inner.title = huge;
          inner.name = huge;
        }),
      ];
    },
    'deep nesting': (store) =>
      each([deep(2000, false), deep(2000, true), deep(40, true)], (value) =>
        inside(store, (inner) => {
          inner.more = value;
        }),
      ),
    'values that hold themselves': (store) => [
      inside(store, (inner) => {
        inner.self = inner;
      }),
      inside(store, (_, whole) => {
        whole.self = whole;
      }),
      inside(store, (inner) => {
        inner.more = tangle();
      }),
    ],
    bytes: (store) =>
      [new Uint8Array(1e6), new Float64Array([NaN]), new ArrayBuffer(9), new DataView(new ArrayBuffer(3))].flatMap((bytes) => [
        entry(store, { name: bytes }),
        entry(store, { [content(store)]: bytes }),
        inside(store, (inner) => {
          inner.more = bytes;
        }),
      ]),
    dates: (store) =>
      [new Date(0), new Date(NaN)].flatMap((date) => [
        entry(store, { changed: date }),
        entry(store, { name: date }),
        inside(store, (inner) => {
          inner.title = date;
          inner.name = date;
        }),
      ]),
    'numbers that are none': (store) =>
      [NaN, Infinity, -1, -0.5, 1e308].flatMap((number) => [
        entry(store, { revision: number }),
        inside(store, (inner) => {
          inner.version = number;
          inner.thickness_mm = number;
        }),
        entry(store, {
          sizes: { mode: 'growth', smaller: number, larger: number, names: {}, backs: {}, growth: { front: {}, back: {} }, readings: {} },
        }),
      ]),
    'unknown versions': (store) =>
      [0, 2, 999, -1, 'one', null].map((version) =>
        inside(store, (inner) => {
          inner.version = version;
          inner.unheard_of = { of: [version] };
        }),
      ),
    collections: (store) => {
      /** @type {unknown[]} */
      const sparse = [];
      sparse.length = 5e6; // WebKit takes a step for each place when it stores one
      return [new Map([[1, new Map()]]), new Set([1]), /x/g, new Error('no'), 10n, Object(true), sparse].flatMap((value) => [
        entry(store, { name: value }),
        inside(store, (inner) => {
          inner.more = value;
        }),
      ]);
    },
    'too many': (store) => {
      const edges = (/** @type {number} */ count) =>
        Array.from({ length: count }, (_, i) => ({
          name: `edge ${i}`,
          part: 'shoulder',
          length_mm: 100,
          direction: 'crosswise',
          allowance_mm: 10,
          pieces: 1,
        }));
      const sheet = Object.fromEntries(Array.from({ length: 2000 }, (_, i) => [`edge${i}.length`, 100]));
      return [13, 2000, 60_000]
        .map((/** @type {number} */ count) =>
          inside(store, (inner) => {
            inner.stays = { edges: edges(count) };
          }),
        )
        .concat(
          inside(store, (inner) => {
            (inner.garment_knit ?? inner).learned = Array.from({ length: 50_000 }, () => ({
              finish: 'band',
              held_line_mm: 500,
              strip_mm: 430,
              outcome: 'lay_flat',
            }));
          }),
        )
        .concat(entry(store, { unplanned: { fresh: true, sheet: { ...sheet, edges: 2000 }, texts: {} } }));
    },
    'odd ids': (store) =>
      ['a/b', '__proto__', 'constructor', ' ', 'x'.repeat(100_000), 5, new Date(5), [1, 'a'], new Uint8Array([1, 2]), -Infinity].map((id) =>
        entry(store, { id }),
      ),
  };
  const asked = indexedDB.open('lieflat', 1);
  asked.onupgradeneeded = () => {
    for (const kind of ['briefs', 'knits', 'drafts']) asked.result.createObjectStore(kind, { keyPath: 'id' });
  };
  const database = await new Promise((resolve, reject) => {
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
  let count = 0;
  // Drafts are planted as if they had been written last: those are the ones a page goes on with.
  for (const store of stores) {
    for (const kind of kinds) {
      const transaction = database.transaction(store, 'readwrite');
      for (const made of makers[kind](store)) {
        transaction.objectStore(store).put({ id: `spoiled-${count}`, ...made });
        count += 1;
      }
      await new Promise((resolve, reject) => {
        transaction.oncomplete = resolve;
        transaction.onabort = () => reject(transaction.error);
      });
    }
  }
  const transaction = database.transaction('briefs', 'readwrite');
  transaction.objectStore('briefs').put({ ...own, id: 'good', name: 'Good one', brief: copy() });
  await new Promise((resolve) => {
    transaction.oncomplete = resolve;
  });
  database.close();
  return count;
}

/** Texts for the small storages: what stands under every name the page asks for. */
export const TEXTS = {
  'nothing at all': '',
  'no JSON': '{"id":',
  null: 'null',
  'a number': '-1e999',
  'a word': '"constructor"',
  'a list': '[[],{},null]',
  'empty objects': '{"id":"x","brief":{},"unplanned":{},"sheet":{},"texts":{}}',
  'deep lists': '['.repeat(50_000) + ']'.repeat(50_000),
  'deep objects in a draft': `{"id":"x","brief":${'{"a":'.repeat(20_000)}1${'}'.repeat(20_000)}}`,
  'a long text': JSON.stringify({ id: 'x'.repeat(100_000), brief: { ...GOOD, title: 'ab '.repeat(250_000) } }),
  'a title as long as any that is taken up': JSON.stringify({ id: 'x', brief: { ...GOOD, title: 'ab '.repeat(150_000) } }),
  'a good brief and wrong rest': JSON.stringify({
    id: 'x',
    changed: 5,
    brief: GOOD,
    unplanned: { fresh: 1, sheet: { edges: 1e9, title: { a: 1 }, finish: 'cape' }, texts: { title: {} } },
    kept: 'no',
    sizes: { names: 3 },
    text: 'x',
  }),
  'a title that is none': JSON.stringify({ id: 'x', brief: { ...GOOD, title: 5 }, unplanned: 'no' }),
  'parts that nobody knows, deep': JSON.stringify({
    id: 'x',
    brief: { ...GOOD, more: JSON.parse(`${'['.repeat(1000)}${']'.repeat(1000)}`) },
  }),
  'too many edges': JSON.stringify({
    id: 'x',
    brief: {
      ...GOOD,
      stays: {
        edges: Array.from({ length: 20_000 }, (_, i) => ({
          name: `${i}`,
          part: 'shoulder',
          length_mm: 100,
          direction: 'crosswise',
          allowance_mm: 10,
        })),
      },
    },
  }),
  'too many edges in the form': JSON.stringify({
    id: 'x',
    brief: GOOD,
    unplanned: {
      fresh: false,
      sheet: { edges: 3000, ...Object.fromEntries(Array.from({ length: 3000 }, (_, i) => [`edge${i}.length`, 100])) },
      texts: {},
    },
  }),
};

/** The names of the page's in the small storages. */
export const NAMES = [
  'work',
  'draft',
  'shared',
  'unit',
  'language',
  'screen',
  'open.keep',
  'open.sizes',
  'open.asks',
  'last.x',
  'last.',
  'last.a/b',
];
