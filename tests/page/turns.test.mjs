// Work in turns: what follows a change is done whatever one of its jobs does.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { importModule } from './modules.mjs';

const { createTurns } = await importModule('web/page/common/turns.js');

/** Frames and timers that come when they are asked to; what a browser would report of a job at fault. */
function clock(t, areFrames = true) {
  const due = [];
  const reported = [];
  const late = new Map();
  t.mock.method(globalThis, 'setTimeout', (act, ms) => {
    if (!ms) return due.push(act);
    late.set(act, act);
    return act;
  });
  t.mock.method(globalThis, 'clearTimeout', (act) => late.delete(act));
  globalThis.requestAnimationFrame = (act) => areFrames && due.push(act);
  t.after(() => delete globalThis.requestAnimationFrame);
  const pass = () => {
    while (due.length) {
      try {
        due.shift()();
      } catch (error) {
        reported.push(error.message);
      }
    }
  };
  const passLong = () => {
    for (const act of [...late.values()]) act();
    pass();
  };
  return { pass, passLong, reported };
}

test('a job at fault keeps none of the others from being done, and the page is not left busy', (t) => {
  const { pass, reported } = clock(t);
  const done = [];
  const told = [];
  const turns = createTurns((isBusy) => told.push(isBusy));
  const fault = () => {
    throw new Error('at fault');
  };
  turns.set([() => done.push('first'), fault, () => done.push('last')]);
  pass();
  assert.deepEqual([done, reported, told.at(-1)], [['first', 'last'], ['at fault'], false]);
  turns.set([fault]);
  assert.equal(told.at(-1), true);
  pass();
  assert.equal(told.at(-1), false, 'nor by one that comes last');
});

test('a later change takes the place of what is left of the one before', (t) => {
  const { pass } = clock(t);
  const done = [];
  const turns = createTurns(() => {});
  turns.set([() => done.push('old')]);
  turns.set([() => done.push('new')]);
  pass();
  assert.deepEqual(done, ['new']);
});

test('where no frame comes, as to a page that is out of sight, the work is done all the same', (t) => {
  const { pass, passLong } = clock(t, false);
  const done = [];
  const told = [];
  const turns = createTurns((isBusy) => told.push(isBusy));
  turns.set([() => done.push('first'), () => done.push('last')]);
  pass();
  assert.deepEqual([done, told], [[], [true]]);
  passLong();
  assert.deepEqual([done, told.at(-1)], [['first', 'last'], false]);
});

test('a frame that comes late does nothing twice', (t) => {
  const { pass, passLong } = clock(t);
  const done = [];
  const turns = createTurns(() => {});
  turns.set([() => done.push('one')]);
  passLong();
  pass();
  assert.deepEqual(done, ['one']);
});
