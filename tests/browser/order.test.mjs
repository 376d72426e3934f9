// The order of work is told alike on screen and on paper: for every finish and in every language the same steps, one
// after the other, with the same figures. What the right order is, tests/checks/order.rs holds the core to.
// Needs `pdftotext` (poppler), which tests/setup.sh installs.

import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { mkdtemp, readFile, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { promisify } from 'node:util';
import { buildPlanner, planOf, root } from '../page/planner.mjs';
import { importModule } from '../page/modules.mjs';

const run = promisify(execFile);
const target = process.env.CARGO_TARGET_DIR ?? `${root}target`;

const FINISHES = {
  'folded band, mitred': { band: { width_mm: 15, layers: 'folded', point: 'mitre' } },
  'folded band, lapped': { band: { width_mm: 15, layers: 'folded', point: 'lap' } },
  'single band': { band: { width_mm: 15, layers: 'single' } },
  'strip turned inside': { tape: { width_mm: 12 } },
  'strip turned inside and under': { tape: { width_mm: 12, turn_under_mm: 6 } },
  'single bound edge': { bound: { width_mm: 8 } },
  'bound edge turned under': { bound: { width_mm: 8, turn_under_mm: 5 } },
  'folded bound edge': { bound: { width_mm: 8, layers: 'folded' } },
  facing: { facing: { width_mm: 50 } },
  'facing turned under and topstitched': { facing: { width_mm: 50, edge_allowance_mm: 6, topstitch_mm: 25 } },
};
const NECKLINES = {
  round: [{ kind: 'round' }, 110, 'round'],
  V: [{ kind: 'v' }, 170, 'round'],
  'V before and behind': [{ kind: 'v' }, 170, 'v'],
  square: [{ kind: 'square' }, 100, 'round'],
};

/** An invented brief. */
function brief([name, finish], [shape, depth, back], seam, rest) {
  const centre = seam ? { seam: { allowance_mm: 10 } } : 'fold';
  const half = (kind, deep) => ({
    outline: { drafted: { half_width_mm: 88, depth_mm: deep, shape: kind } },
    shoulder_allowance_mm: 10,
    centre,
  });
  return {
    name: `${name}, ${shape.kind}/${back}, ${seam ? 'seam' : 'fold'}, ${rest.name}`,
    brief: {
      schema: 'lieflat.brief',
      version: 1,
      title: 'Invented',
      finish,
      neckline: {
        readings_at: 'seam_line',
        neckline_allowance_mm: rest.allowance,
        front: half(shape, depth),
        back: half({ kind: back }, back === 'v' ? 70 : 28),
      },
      garment_knit: {
        crosswise: { percent: { stretch_percent: 60, recovery_percent: 92 } },
        lengthwise: { percent: { stretch_percent: 40 } },
      },
      head: { girth: { child: { group: 'girls', age_months: 30 } } },
      stays: {
        shoulders: rest.stays,
        edges: rest.stays ? [{ name: 'Invented pocket', part: 'other', length_mm: 120, direction: 'crosswise', allowance_mm: 10 }] : [],
      },
    },
  };
}

const CASES = Object.entries(FINISHES).flatMap((finish) =>
  Object.values(NECKLINES).flatMap((neckline) =>
    [false, true].map((seam, i) =>
      brief(
        finish,
        neckline,
        seam,
        [
          { name: 'stayed, 16 mm', allowance: 16, stays: true },
          { name: 'unstayed, 6 mm', allowance: 6, stays: false },
        ][(i + neckline[1]) % 2],
      ),
    ),
  ),
);

let folder;
let page;
before(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'lieflat-order-'));
  page = { ...(await importModule('web/page/common/words.js')), ...(await importModule('web/page/plan/steps.js')) };
  await buildPlanner();
  await run('cargo', ['build', '-q', '-p', 'lieflat-sheets', '--example', 'sheets'], { cwd: root });
});
after(() => rm(folder, { recursive: true, force: true }));

/** Where a page's foot begins, points from its top: 22 mm above its end, a margin and the foot's room. */
const FOOT_PT = Math.round(842 - (22 * 72) / 25.4);

const flat = (text) => text.split(/\s+/).filter(Boolean).join(' ');

/** What is printed on the card under its order of work and under its cautions, column by column above the foot with its scale. */
async function printed(name, given, catalogue, options) {
  const file = path.join(folder, name);
  await writeFile(`${file}.json`, JSON.stringify(given));
  await writeFile(`${file}.options.json`, JSON.stringify({ sheets: ['card'], ...options }));
  await run(`${target}/debug/examples/sheets`, [`${file}.json`, file, `${file}.options.json`], { cwd: root });
  // A4 in points, down to the foot; -raw reads in the order in which it is written.
  const { stdout } = await run('pdftotext', ['-raw', '-x', '0', '-y', '0', '-W', '596', '-H', String(FOOT_PT), `${file}.pdf`, '-']);
  const text = flat(stdout);
  const { care: cautions } = catalogue.about;
  const { brief } = catalogue.sheets.pdf.card;
  const [from, to, end] = [catalogue.order.heading, cautions, brief].map((heading) => text.indexOf(` ${heading} `));
  assert.ok(from > 0 && to > from && end > to, `${name}: an order of work, then the cautions, then the brief`);
  return { order: text.slice(from + catalogue.order.heading.length + 2, to), cautions: text.slice(to + cautions.length + 2, end) };
}

const languages = (await readdir(`${root}www/words`)).filter((file) => file.endsWith('.json')).map((file) => file.slice(0, -5));

for (const language of languages) {
  test(`screen and paper tell the same steps and cautions with the same figures in ${language}`, { timeout: 300_000 }, async () => {
    const catalogue = JSON.parse(await readFile(`${root}www/words/${language}.json`, 'utf8'));
    const words = new page.Words(language, catalogue);
    const seen = new Set();
    for (const [i, { name, brief: given }] of CASES.entries()) {
      const unit = i % 2 ? 'cm' : 'mm';
      const plan = await planOf(given);
      assert.ok(plan.order, `${name}: ${JSON.stringify(plan.errors)}`);
      const told = page.steps({ plan, words, unit });
      for (const { step } of plan.order) seen.add(step);
      const screen = told.map(({ text }, index) => `${index + 1}. ${flat(text)}`).join(' ');
      assert.doesNotMatch(screen, /[{}]|undefined|NaN|order\./, name);
      const paper = await printed(`${language}-${i}`, given, catalogue, { language, unit });
      assert.equal(paper.order, screen, name);
      const cautions = [...told.flatMap((step) => step.cautions), catalogue.about.rules_first];
      assert.equal(paper.cautions, cautions.map((caution) => `! ${flat(caution)}`).join(' '), `${name}: the same cautions`);
    }
    const idle = Object.keys(catalogue.order.step).filter((code) => !seen.has(code));
    assert.deepEqual(idle, [], 'each step that has words comes up');
  });
}

test('one is said as one', () => {
  const catalogue = { order: { join: '; ', step: { clip: { one: 'a clip', other: '{count} clips' }, wash: 'Wash.' } } };
  const words = new page.Words('en', catalogue);
  const plan = { order: [{ step: 'clip', count: 1 }, { step: 'clip', count: 2 }, { step: 'wash' }] };
  assert.deepEqual(
    page.steps({ plan, words, unit: 'mm' }).map(({ text }) => text),
    ['a clip', '2 clips', 'Wash.'],
  );
});
