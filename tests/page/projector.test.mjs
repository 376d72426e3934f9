// What a projector's screen is worth in millimetres: worked out by hand from the lengths that were tapped.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { importModule } from './modules.mjs';

Object.assign(globalThis, { screen: { width: 1280, height: 800 }, devicePixelRatio: 1, visualViewport: null });
const { differsBy, readAgain, scaleOf, written } = await importModule('web/page/sheets/projector-scale.js');

const close = (found, wanted) => {
  assert.ok('scale' in found, JSON.stringify(found));
  for (const [i, value] of wanted.entries()) assert.ok(Math.abs(found.scale[i] - value) < 1e-12, `${found.scale} for ${wanted}`);
};

test('one length sets both ways', () => {
  close(scaleOf({ across: { dx: 400, dy: 0, mm: 500 } }), [0.8, 0.8]);
  // Askew: a triangle of 3, 4 and 5.
  close(scaleOf({ down: { dx: 300, dy: -400, mm: 250 } }), [2, 2]);
});

test('two lengths set each way by itself, however they run', () => {
  close(scaleOf({ across: { dx: 400, dy: 0, mm: 500 }, down: { dx: 0, dy: -300, mm: 400 } }), [0.8, 0.75]);
  // At 2 px to a mm across and 4 down: 300 by 400 px are 150 by 100 mm, and 400 by 300 px are 200 by 75 mm.
  const [a, b] = [Math.hypot(150, 100), Math.hypot(200, 75)];
  assert.deepEqual(
    scaleOf({ across: { dx: 400, dy: 300, mm: b }, down: { dx: 300, dy: 400, mm: a } }),
    { problem: 'alike' },
    'too much alike',
  );
  const c = Math.hypot(50, 100);
  close(scaleOf({ across: { dx: 400, dy: 300, mm: b }, down: { dx: -100, dy: 400, mm: c } }), [2, 4]);
});

test('what says nothing is said to', () => {
  assert.deepEqual(scaleOf({}), { problem: 'none' });
  const level = { dx: 400, dy: 0, mm: 500 };
  assert.deepEqual(scaleOf({ across: level, down: level }), { problem: 'alike' });
  // No two scales make both of these true: the second is far too short beside the first.
  assert.deepEqual(scaleOf({ across: { dx: 400, dy: 400, mm: 500 }, down: { dx: 0, dy: 400, mm: 501 } }), { problem: 'alike' });
});

test('how much the ways differ', () => {
  assert.ok(Math.abs(differsBy([0.8, 0.75]) - 100 / 15) < 1e-12);
  assert.equal(differsBy([2, 2]), 0);
});

test('what is kept holds for its screen and zoom alone, and nonsense for none', () => {
  const knowns = { across: { dx: 400, dy: 0, mm: 500 } };
  const kept = written(knowns);
  assert.deepEqual(readAgain(kept), { knowns, changed: false });
  for (const [name, value] of [
    ['devicePixelRatio', 1.1],
    ['screen', { width: 1920, height: 1080 }],
  ]) {
    const before = globalThis[name];
    globalThis[name] = value;
    assert.deepEqual(readAgain(kept), { knowns: {}, changed: true }, name);
    globalThis[name] = before;
  }
  assert.deepEqual(readAgain(null), { knowns: {}, changed: false });
  for (const text of ['', 'null', '{', '[]', '5']) assert.deepEqual(readAgain(text).knowns, {}, text);
  for (const one of [null, 5, {}, { dx: 1, dy: 1, mm: 0 }, { dx: 0, dy: 0, mm: 5 }, { dx: 'a', dy: 1, mm: 5 }]) {
    const { screen } = JSON.parse(kept);
    assert.deepEqual(readAgain(JSON.stringify({ screen, across: one })).knowns, {}, JSON.stringify(one));
  }
});
