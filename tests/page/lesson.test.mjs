// The class view's order of ideas: every line of a working has its place, and the lesson goes as a teacher would.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { before, test } from 'node:test';
import { importModule } from './modules.mjs';
import { keptPlans, root } from './planner.mjs';

const { ideasOf } = await importModule('web/page/plan/ideas.js');
const words = JSON.parse(await readFile(`${root}www/words/en.json`, 'utf8'));

/** @type {Map<string, any>} */
let plans;
before(async () => {
  plans = await keptPlans();
});

test('every line of every working is told once, in its topic', () => {
  for (const [name, plan] of plans) {
    const ideas = ideasOf(plan.working);
    const told = ideas.map(({ step }) => step.figure);
    assert.deepEqual([...told].sort(), plan.working.map((step) => step.figure).sort(), name);
    for (const { topic } of ideas) assert.ok(words.class_view.topic[topic], `${name}: ${topic} has a heading`);
    // Each topic stands together.
    const runs = ideas.map(({ topic }) => topic).filter((topic, i, all) => topic !== all[i - 1]);
    assert.equal(new Set(runs).size, runs.length, `${name}: ${runs.join(' ')}`);
  }
});

test('a lesson goes from the seam line to the strip and the head, and what is put in is told before what comes out', () => {
  // Common practice in teaching, no published source: first the line, then what is cut for it, last whether it goes on.
  for (const [name, { working }] of plans) {
    const main = ideasOf(working).filter(({ isMain }) => isMain);
    assert.ok(main.length >= 12 && main.length <= 60, `${name}: ${main.length} ideas`);
    const topics = [...new Set(main.map(({ topic }) => topic))];
    const order = ['line', 'knit', 'length', 'width', 'facing', 'marks', 'lies', 'stays', 'clips', 'head'];
    assert.deepEqual(
      topics,
      order.filter((topic) => topics.includes(topic)),
      name,
    );
    const at = (figure) => main.findIndex(({ step }) => step.figure === figure);
    for (const [earlier, later] of [
      ['seam_line.front.length_mm', 'seam_line.whole_length_mm'],
      ['strip.hold_percent', 'strip.relaxed_length_mm'],
      ['strip.relaxed_length_mm', 'strip.cut_length.exact_mm'],
      ['strip.cut_length.exact_mm', 'strip.cut_length.cut_mm'],
      ['strip.cut_width.exact_mm', 'strip.cut_width.cut_mm'],
      ['opening.smallest_girth_mm', 'opening.spare_mm'],
    ])
      if (at(later) >= 0) assert.ok(at(earlier) >= 0 && at(earlier) < at(later), `${name}: ${earlier} before ${later}`);
    // One stay is told whole before the next.
    const zones = main.filter(({ step }) => step.figure.startsWith('stays.zones.')).map(({ step }) => Number(step.figure.split('.')[2]));
    assert.deepEqual(
      zones,
      [...zones].sort((a, b) => a - b),
      name,
    );
  }
});
