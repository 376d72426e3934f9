// A link holds a brief: it comes back as it went in, short enough to be sent, and what is no link is named as what it is.

import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { deflateRawSync } from 'node:zlib';
import { build } from '../../web/assets.mjs';
import { forgedLink } from './forged-link.mjs';
import { importModule } from './modules.mjs';

const { LinkError, MOST_TEXT, briefLink, decodeBrief, encodeBrief } = await importModule('web/page/share/codec.js');
const { pack, unpack } = await importModule('web/page/share/pack.js');
const { WORDS } = await importModule('web/page/share/link-words.js');

const briefs = new URL('../briefs/', import.meta.url);

async function workedBriefs() {
  const names = (await readdir(briefs)).filter((name) => name.endsWith('.json'));
  return Promise.all(names.map(async (name) => [name, JSON.parse(await readFile(new URL(name, briefs), 'utf8'))]));
}

/** Numbers from 0 to 1, the same in every run. */
function dice(seed) {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** A path as the page's editor writes it: that many cubics, hundredths of a mm. */
function path(roll, cubics, { width = 90, depth = 120 } = {}) {
  const two = (value) => Math.round(value * 100) / 100;
  const at = (t) => [width * Math.sin(t), depth * Math.cos(t)];
  const wobble = () => roll() * 3;
  let text = `M 0 ${depth}`;
  for (let i = 0; i < cubics; i++) {
    const [t, u, v] = [0.33, 0.66, 1].map((part) => ((i + part) / cubics) * (Math.PI / 2));
    for (const [place, angle] of [t, u, v].entries()) {
      const [x, y] = at(angle);
      text += `${place === 0 ? ' C' : ''} ${two(x + wobble())} ${two(y + wobble())}`;
    }
  }
  return text;
}

/** The most that somebody would really put into a brief: everything told, both halves drawn, two knits, records. */
function fullBrief(roll) {
  const knit = (name, records) => ({
    name,
    crosswise: { readings: { rest_mm: 100, stretched_mm: 163.5, released_mm: 103.5 } },
    lengthwise: { readings: { rest_mm: 100, stretched_mm: 128.5, released_mm: 102 } },
    diagonal: { percent: { stretch_percent: 48, recovery_percent: 92 } },
    thickness_mm: 0.95,
    elastane_percent: 6,
    ...(records ? { learned: records } : {}),
  });
  const records = Array.from({ length: 6 }, (_, i) => ({
    finish: 'band',
    held_line_mm: Math.round(46000 + roll() * 2000) / 100,
    strip_mm: Math.round(43000 + roll() * 2000) / 100,
    outcome: i % 3 ? 'lay_flat' : 'stood_away',
    ...(i % 3 ? {} : { by_mm: Math.round(roll() * 90) / 10 + 1 }),
    recorded: `2026-0${i + 1}-1${i}`,
  }));
  const half = (text) => ({
    outline: { drawn: { path_mm: text } },
    centre: { seam: { allowance_mm: 12.7 } },
    shoulder_allowance_mm: 9.5,
    shoulder_slope_deg: 21.5,
  });
  return {
    schema: 'lieflat.brief',
    version: 1,
    title: 'Erfundenes Beispiel: das Tarn-Shirt, Größe 42, weiter Ausschnitt',
    neckline: { readings_at: 'cut_edge', neckline_allowance_mm: 9.5, front: half(path(roll, 8)), back: half(path(roll, 4, { depth: 28 })) },
    garment_knit: knit('Invented interlock, organic, undyed'),
    strip_knit: knit('Invented rib 2 by 2, from the same mill', records),
    strip_direction: 'lengthwise',
    finish: { band: { width_mm: 17.5, layers: 'single', point: 'lap', join_allowance_mm: 9.5, ratio_percent: 84.5 } },
    stitch: { zigzag: { width_mm: 2.4, advance_mm: 1.6 } },
    head: { girth: { own_mm: 563.5 }, margin_mm: 25 },
    stays: {
      tape_width_mm: 12.7,
      catch_mm: 1.5,
      shoulders: true,
      shoulder_length_mm: 118.5,
      edges: [
        {
          name: 'Invented side panel, notch to notch',
          part: 'gathered',
          length_mm: 121.5,
          gathered_from_mm: 182,
          direction: 'crosswise',
          allowance_mm: 9.5,
          pieces: 2,
        },
      ],
    },
    pattern_asks: { crosswise_percent: 50, lengthwise_percent: 35 },
    rounding: 'eighth_inch',
    tolerances: { reading_mm: 1.5, stretch_points: 4, recovery_points: 8, allowance_mm: 0.8, width_mm: 0.7, roundness_points: 6 },
    rules: {
      hold_share: 0.11,
      comfort_share: 0.55,
      tape_hold: 0.015,
      pull_share: 0.75,
      mark_tolerance_mm: 2.5,
      clip_opening_mm: 3.5,
      turn_per_thickness: 1.5708,
    },
  };
}

test('every worked brief comes back from its link as it went in', async () => {
  for (const [name, brief] of await workedBriefs()) {
    const text = encodeBrief(brief);
    assert.match(text, /^[A-Za-z0-9_-]+$/, `${name}: safe in an address`);
    assert.deepEqual(decodeBrief(text), brief, name);
  }
});

test('the longest realistic brief makes a link of at most 1200 characters', () => {
  for (let seed = 1; seed <= 20; seed++) {
    const brief = fullBrief(dice(seed));
    const link = briefLink(brief, 'https://lieflat.example/some/folder/index.html?utm=1#old');
    assert.deepEqual(decodeBrief(new URL(link).hash.slice('#brief='.length)), brief);
    assert.equal(new URL(link).search, '', 'the page alone, without its query');
    assert.ok(link.length <= 1200, `${link.length} characters`);
  }
});

test('random values of JSON come back', () => {
  for (let seed = 1; seed <= 300; seed++) {
    const roll = dice(seed);
    const value = randomValue(roll, 4);
    assert.deepEqual(unpack(pack(value)), value, `seed ${seed}`);
    const brief = { schema: 'lieflat.brief', version: 1, extra: value };
    assert.deepEqual(decodeBrief(encodeBrief(brief)), brief, `seed ${seed}`);
  }
});

function randomValue(roll, depth) {
  const pick = (list) => list[Math.floor(roll() * list.length)];
  const kind = pick(depth > 0 ? ['number', 'text', 'word', 'path', 'flag', 'list', 'object'] : ['number', 'text', 'word', 'flag']);
  switch (kind) {
    case 'number':
      return pick([0, 1, 223, 224, -1, 0.5, 12.75, -0.001, 1e-9, 1 / 3, 123456.789, 2 ** 53 - 1, -4e21, 0.1 + 0.2, 5e-324]);
    case 'text':
      return pick([
        '',
        'a',
        'M',
        'M 1',
        'Zwölf "Stiche"',
        '\u0000',
        '🧵'.repeat(5),
        '=cmd()',
        '<img src=x>',
        'M0 0h5',
        'M 0 -0 C 1 2 3 4 5 6',
      ]);
    case 'word':
      return pick(WORDS);
    case 'path':
      return pick([
        path(roll, 3),
        path(roll, 1).replaceAll(/(\S+) (\S+)(?= |$)/g, '$1 $2'),
        'M0,95 C50,95 88,60 88,0 88,-1 90,-2 91,-3',
        'M 0 1 L 2 3 Q 4 5 6 7 Z',
      ]);
    case 'flag':
      return pick([true, false, null]);
    case 'list':
      return Array.from({ length: Math.floor(roll() * 5) }, () => randomValue(roll, depth - 1));
    default:
      return Object.fromEntries(
        Array.from({ length: Math.floor(roll() * 5) }, () => [
          pick([pick(WORDS), `own${Math.floor(roll() * 99)}`, '']),
          randomValue(roll, depth - 1),
        ]),
      );
  }
}

const codeOf = (text) => {
  try {
    decodeBrief(text);
    return 'opened';
  } catch (error) {
    assert.ok(error instanceof LinkError, `${error}`);
    return error.code;
  }
};

test('a cut, mistyped or foreign text is named as what it is', async () => {
  const [[, brief]] = await workedBriefs();
  const text = encodeBrief(brief);
  for (let length = 0; length < text.length; length++) {
    const code = codeOf(text.slice(0, length));
    // The last bits of a deflated text only say that it ends: without them it is whole all the same.
    if (code === 'opened') assert.deepEqual(decodeBrief(text.slice(0, length)), brief);
    else assert.equal(code, 'damaged', `cut to ${length}`);
  }
  assert.equal(codeOf(text.slice(0, -4)), 'damaged');
  for (let at = 1; at < text.length; at++) {
    const typo = text.slice(0, at) + (text[at] === 'A' ? 'B' : 'A') + text.slice(at + 1);
    const code = codeOf(typo);
    // The last character may hold bits that stand for nothing.
    if (code === 'opened') assert.deepEqual(decodeBrief(typo), brief);
    else assert.equal(code, 'damaged', `a slip at ${at}`);
  }
  // A full stop or a word that stuck to the link.
  assert.equal(codeOf(`${text}.`), 'damaged', 'a letter that no link has');
  assert.equal(codeOf(`2${text.slice(1)}`), 'newer');
  assert.equal(codeOf('<script>alert(1)</script>'), 'damaged');
  assert.equal(codeOf(`1${'%'.repeat(40)}`), 'damaged');
  assert.equal(codeOf('1'.padEnd(MOST_TEXT + 1, 'A')), 'too_long');
  assert.equal(codeOf(forgedLink(0, pack({ schema: 'another' }))), 'not_a_brief');
  assert.equal(codeOf(forgedLink(0, pack([1, 2, 3]))), 'not_a_brief');
  assert.equal(codeOf(forgedLink(0, pack(null))), 'not_a_brief');
});

/** The longest run of bytes that is made while something is done by a copy of the links' reader of its own. */
async function longestMade(act) {
  const reader = fileURLToPath(new URL('../../web/page/share/codec.js', import.meta.url));
  const { outputFiles } = await build({ entryPoints: [reader], bundle: true, format: 'esm', write: false });
  const Plain = globalThis.Uint8Array;
  let longest = 0;
  globalThis.Uint8Array = class extends Plain {
    constructor(...given) {
      super(...given);
      longest = Math.max(longest, this.byteLength);
    }
  };
  try {
    const copy = await import(`data:text/javascript,${encodeURIComponent(outputFiles[0].text)}`);
    longest = 0;
    act(copy);
  } finally {
    globalThis.Uint8Array = Plain;
  }
  return longest;
}

test('a link that would swell is stopped', async () => {
  const bomb = deflateRawSync(Buffer.alloc(9_000_000, 7), { level: 9 });
  assert.ok(bomb.length < 12_000, 'it is short enough to be looked at');
  const text = forgedLink(1, new Uint8Array([0]), bomb);
  assert.equal(codeOf(text), 'too_long');
  const longest = await longestMade((reader) => assert.throws(() => reader.decodeBrief(text), { code: 'too_long' }));
  // 65,536 is the most that a link may hold unpacked: web/page/keep/README.md.
  assert.ok(longest > 10_000 && longest <= 65_537, `no more is unpacked than a link may hold: ${longest} bytes`);

  const deep = new Uint8Array(40_000).fill(6).map((byte, i) => (i % 2 ? 1 : byte));
  assert.equal(codeOf(forgedLink(1, deep, deflateRawSync(deep))), 'damaged', 'lists in lists');
  // A list that says it has more entries than there are bytes.
  assert.equal(codeOf(forgedLink(0, new Uint8Array([6, 255, 255, 255, 255, 15, 0]))), 'damaged');
  const name = WORDS.indexOf('schema') + 1;
  const schema = WORDS.indexOf('lieflat.brief');
  const proto = new Uint8Array([7, 2, name, 8, schema, 0, 9, ...Buffer.from('__proto__'), 7, 0]);
  assert.equal(codeOf(forgedLink(0, proto)), 'damaged', 'no name may change what kind of object it is');
  const twice = new Uint8Array([7, 2, name, 8, schema, name, 8, schema]);
  assert.equal(codeOf(forgedLink(0, twice)), 'damaged', 'no name twice');
});

test('random bytes never do more than fail', () => {
  const roll = dice(9);
  for (let i = 0; i < 3000; i++) {
    const bytes = Uint8Array.from({ length: 1 + Math.floor(roll() * 60) }, () => Math.floor(roll() * 256));
    assert.ok(['damaged', 'not_a_brief', 'too_long'].includes(codeOf(forgedLink(Math.floor(roll() * 2), bytes))));
    codeOf(forgedLink(1, bytes, deflateRawSync(bytes)));
  }
});

test('a link made with the first list of words opens for ever', async () => {
  assert.equal(new Set(WORDS).size, WORDS.length, 'each word once');
  const made =
    '1AUTcTc09T8JAHAfgXK_wO63B6NCAGrlCi6SiCQmDYfAlxcHFl8Y4ig39a4FyxXKK7iZ-Inc_id_DuBgdjPMzPCgxMTcczmsn6pGUpljSUzSZptSVOiF5lMaUyyupaDA2YRbEfdEHzAUwC7z0sPyxArYqtA1WBqv4a_56R_zj4JdzW9g_sgGzyt2_aJBpnSk5onxGz3I-1ImkNJrpSJEEq4N7L433rddtzwFzwZrBpqi2wHbB262u3Gvsi8MARg_sePHNPO2cgZ9b_QsnNCIRxShS7da78ytO20maQ2BksbFVTJeMiSVUPXOnhYNP5-uyt1O-htEPb8Jv';
  assert.deepEqual(decodeBrief(made), JSON.parse(await readFile(new URL('tape-v.json', briefs), 'utf8')));
});
