// The drawn outline's editing, as pure functions: a thousand random outlines each.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import {
  cornered,
  deleted,
  handleMoved,
  handleOf,
  inserted,
  isSmooth,
  moved,
  nearest,
  parsePath,
  pathOf,
  reversed,
  smoothed,
  spotOn,
} from '../../web/page/drawing/path-editor.js';

// A small generator with a fixed seed: the same outlines on every run.
function random(seed) {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

function someOutline(next) {
  const count = 2 + Math.floor(next() * 6);
  const points = Array.from({ length: count }, (_, i) => ({ x: i ? next() * 200 + 5 : 0, y: next() * 250 }));
  const pieces = points.slice(1).map(() => ({
    c1: { x: next() * 200, y: next() * 250 },
    c2: { x: next() * 200, y: next() * 250 },
    straight: false,
  }));
  return { points, pieces };
}

function each(times, check) {
  const next = random(7);
  for (let i = 0; i < times; i += 1) check(someOutline(next), next, i);
}

const apart = (a, b) => Math.hypot(a.x - b.x, a.y - b.y);

test('a point put in leaves the shape as it was', () => {
  each(1000, (outline, next) => {
    const i = Math.floor(next() * outline.pieces.length);
    const t = 0.05 + next() * 0.9;
    const after = inserted(outline, i, t);
    assert.equal(after.points.length, outline.points.length + 1);
    for (let k = 0; k <= 20; k += 1) {
      const u = k / 20;
      const there = u <= t ? spotOn(after, i, u / t) : spotOn(after, i + 1, (u - t) / (1 - t));
      assert.ok(apart(spotOn(outline, i, u), there) < 1e-9, `at ${u} of a piece split at ${t}`);
    }
  });
});

test('a path written and read again is the same within 0.01 mm, and written the same', () => {
  each(1000, (outline) => {
    const text = pathOf(outline);
    const read = parsePath(text);
    assert.equal(pathOf(read), text);
    for (const [i, point] of outline.points.entries()) assert.ok(apart(point, read.points[i]) <= 0.0072, `point ${i}`);
    assert.ok(!/\d\.\d{3}/.test(text), text);
  });
});

test('a point that is moved takes its handles along and moves nothing else', () => {
  each(1000, (outline, next) => {
    const i = Math.floor(next() * outline.points.length);
    const [x, y] = [next() * 300, next() * 300];
    const after = moved(outline, i, x, y);
    assert.equal(after.points[i].x, i === 0 ? 0 : x, 'the first point stays on the centre line');
    for (const which of ['in', 'out']) {
      const [was, is] = [handleOf(outline, i, which), handleOf(after, i, which)];
      if (!was) continue;
      const kept = { x: is.x - after.points[i].x, y: is.y - after.points[i].y };
      assert.ok(apart(kept, { x: was.x - outline.points[i].x, y: was.y - outline.points[i].y }) < 1e-9);
    }
    after.points.forEach((point, j) => {
      if (j !== i) assert.deepEqual(point, outline.points[j]);
    });
  });
});

test('smooth makes smooth, corner unmakes it, and the ends stay as they are', () => {
  each(1000, (outline) => {
    outline.points.forEach((_, i) => {
      const round = smoothed(outline, i);
      const inner = i > 0 && i < outline.points.length - 1;
      if (!inner) {
        assert.equal(round, outline);
        return;
      }
      assert.ok(isSmooth(round, i), `point ${i} is smooth`);
      assert.ok(isSmooth(parsePath(pathOf(round)), i), 'and still is, once written and read');
      assert.deepEqual(round.points, outline.points);
      const [a, b, c] = outline.points.slice(i - 1, i + 2);
      const bend = Math.abs((b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x)) / (apart(a, b) * apart(b, c));
      if (bend > 0.1) assert.ok(!isSmooth(cornered(round, i), i), `point ${i} is a corner`);
    });
  });
});

test('a smooth point stays smooth when a handle is moved; the other handle keeps its length', () => {
  each(1000, (outline, next) => {
    if (outline.points.length < 3) return;
    const round = smoothed(outline, 1);
    const before = apart(handleOf(round, 1, 'out'), round.points[1]);
    const after = handleMoved(round, 1, 'in', next() * 200, next() * 250);
    assert.ok(isSmooth(after, 1));
    assert.ok(Math.abs(apart(handleOf(after, 1, 'out'), after.points[1]) - before) < 1e-9);
  });
});

test('a point can be deleted, but not an end', () => {
  each(300, (outline) => {
    const last = outline.points.length - 1;
    assert.equal(deleted(outline, 0), outline);
    assert.equal(deleted(outline, last), outline);
    if (last < 2) return;
    const after = deleted(outline, 1);
    assert.equal(after.points.length, last);
    assert.equal(after.pieces.length, last - 1);
    assert.deepEqual([after.points[0], after.points[last - 1]], [outline.points[0], outline.points[last]]);
  });
});

test('the nearest place on the line is as near as a fine search finds', () => {
  each(200, (outline, next) => {
    const [x, y] = [next() * 200, next() * 250];
    let least = Infinity;
    outline.pieces.forEach((_, i) => {
      for (let k = 0; k <= 2000; k += 1) least = Math.min(least, apart(spotOn(outline, i, k / 2000), { x, y }));
    });
    assert.ok(nearest(outline, x, y).distance <= least + 0.5);
  });
});

test('reads every command of SVG, relative ones too', () => {
  const cases = {
    'M0 95 C 50 95 88 60 88 0': 'M 0 95 C 50 95 88 60 88 0',
    'm0,95c50,0,88-35,88-95': 'M 0 95 C 50 95 88 60 88 0',
    'M0 100 80 100 80 0': 'M 0 100 L 80 100 L 80 0',
    'M0 100H80V0': 'M 0 100 L 80 100 L 80 0',
    'M0 100h80v-100': 'M 0 100 L 80 100 L 80 0',
    'M0 90Q60 90 90 0': 'M 0 90 C 40 90 70 60 90 0',
    'M0 100C10 100 20 90 30 80S50 60 90 0': 'M 0 100 C 10 100 20 90 30 80 C 40 70 50 60 90 0',
    'M0,115 C1,2 3,4 5,6 7,8 9,10 11,12': 'M 0 115 C 1 2 3 4 5 6 C 7 8 9 10 11 12',
    'M88 0C88 60 50 95 0 95': 'M 0 95 C 50 95 88 60 88 0',
    'M0 50 Q 10 50 20 40 T 60 0': 'M 0 50 C 6.67 50 13.33 46.67 20 40 C 26.67 33.33 40 20 60 0',
  };
  for (const [text, expected] of Object.entries(cases)) assert.equal(pathOf(parsePath(text)), expected, text);
});

test('typeset paths have their handles: spaces, minus signs, digits and marks of direction', () => {
  const plain = 'M 0 95.5 C 50 95 88 60 88 -10';
  const typeset = [
    plain.replaceAll(' ', '\u00a0'),
    plain.replaceAll(' ', '\u2009\u200e'),
    plain.replaceAll(' ', '\u200b'),
    plain.replaceAll(' ', '\u0085'),
    plain.replace('-', '−'),
    plain.replace('-', '–'),
    plain.replace(/[!-~]/g, (c) => String.fromCharCode(c.charCodeAt(0) + 0xfee0)),
    plain.replace(/\d/g, (c) => String.fromCharCode(0x660 + Number(c))).replace('.', '٫'),
    plain.replace(/\d/g, (c) => String.fromCharCode(0x6f0 + Number(c))),
    [...plain].join('\u2060'),
  ];
  for (const text of typeset) assert.equal(pathOf(parsePath(text)), plain, JSON.stringify(text));
});

test('an arc keeps to its circle', () => {
  // A quarter round of 80 mm about (0, 0), both ways of writing its flags.
  for (const text of ['M0 80A80 80 0 0 0 80 0', 'M0 80 A 80,80 0 00 80,0']) {
    const outline = parsePath(text);
    assert.equal(outline.pieces.length, 1);
    // A cubic quarter circle is within 2.8e-4 of its radius.
    for (let t = 0; t <= 1; t += 0.05) assert.ok(Math.abs(Math.hypot(spotOn(outline, 0, t).x, spotOn(outline, 0, t).y) - 80) < 80 * 2.8e-4);
  }
  const large = parsePath('M0 0A50 50 0 1 1 0.001 0.001');
  assert.ok(large.pieces.length >= 4, 'a nearly whole circle takes four cubics');
});

test('turned round twice is the same', () => {
  each(100, (outline) => assert.deepEqual(reversed(reversed(outline)), outline));
});

test('what is not one open run is refused', () => {
  for (const text of [
    '',
    'M',
    'M0 0',
    'L 1 1',
    'M0 0 L1',
    'M0 0L1 1Z',
    'M0 0L1 1M2 2L3 3',
    '<script>',
    'M0 0 L1e999 1',
    'M0 0 X 1 1',
    'M0 0;L1 1',
    'M0 0L1 1 (neck)',
    'M0 0L1 1#',
    'M0 0\0L1 1',
    'M0 0—L1 1',
    'M0 0\u202eL1 1',
    'M0 0L1 1 🧵',
  ]) {
    assert.equal(parsePath(text), null, JSON.stringify(text));
  }
});
