// Work in turns: what follows a change is done whatever one of its jobs does.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { importModule } from './modules.mjs';

const { createTurns } = await importModule('web/page/common/turns.js');

/** Frames and timers that come when they are asked to; what a browser would report of a job at fault. */
function clock(t) {
  const due = [];
  const reported = [];
  t.mock.method(globalThis, 'setTimeout', (act) => due.push(act));
  globalThis.requestAnimationFrame = (act) => due.push(act);
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
  return { pass, reported };
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
