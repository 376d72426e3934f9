// Parts of the drawing that need no browser: rulers, looks, handles, the view, and the words it asks for.

import assert from 'node:assert/strict';
import { readdir, readFile } from 'node:fs/promises';
import { before, test } from 'node:test';
import { briefOf, buildPlanner, planOf, root } from './planner.mjs';
import { ROUNDNESS } from '../../web/page/generated/defaults.js';
import { handlesOf, stepped, travelOf, valueAfter, valueAt, withValue } from '../../web/page/drawing/handles.js';
import { letter } from '../../web/page/drawing/looks.js';
import { UNIT_MM } from '../../web/page/generated/lengths.js';
import { barLength, steps, ticks } from '../../web/page/drawing/ticks.js';
import { buildScene } from '../../web/page/drawing/scene.js';
import { between, halfRound, placeAt, wayOf } from '../../web/page/drawing/frame.js';
import { fitted, toMm, toScreen, zoomed } from '../../web/page/drawing/view.js';

before(buildPlanner);

test('ruler ticks lie where their figures say, at every zoom and in every unit', () => {
  for (const unit of ['mm', 'cm', 'in']) {
    for (let k = 0.1; k <= 40; k *= 1.3) {
      const list = ticks(unit, k, 217, 22, 1200);
      assert.ok(list.length > 3, `${unit} at ${k}`);
      for (const { px, value } of list) assert.ok(Math.abs(Math.abs(px - 217) - value * UNIT_MM[unit] * k) < 1e-6);
      const figures = list.filter(({ rank }) => rank === 0).map(({ px }) => px);
      for (let i = 1; i < figures.length; i += 1) assert.ok(figures[i] - figures[i - 1] >= 40, `${unit} at ${k}: room for figures`);
    }
  }
});

test('inches are divided into halves, quarters, eighths and sixteenths only', () => {
  for (let k = 0.5; k <= 12; k *= 1.2) {
    const { figure, parts } = steps('in', k);
    const part = figure / parts;
    if (part < 1) assert.ok([2, 4, 8, 16].includes(1 / part), `${part} of an inch at ${k}`);
  }
});

test('the scale bar is a round length that fits', () => {
  for (let k = 0.2; k <= 40; k *= 1.3) assert.ok(barLength('mm', k) * k <= 120);
});

test('letters go on after Z', () => {
  assert.deepEqual([0, 25, 26, 51, 52].map(letter), ['A', 'Z', 'AA', 'AZ', 'BA']);
});

test('zooming keeps the place under the finger', () => {
  let view = { k: 1, x: 30, y: 40 };
  const at = [311, 87];
  const before = toMm(view, at);
  for (const factor of [2, 0.3, 5, 1e6, 1e-9]) view = zoomed(view, factor, at);
  const after = toScreen(view, before);
  assert.ok(Math.abs(after[0] - at[0]) < 1e-6 && Math.abs(after[1] - at[1]) < 1e-6);
});

test('a fitted view holds the whole box', () => {
  const box = { x0: -220, y0: -60, x1: 230, y1: 300 };
  const size = { width: 390, height: 500 };
  const view = fitted(box, size, { left: 30, right: 40, top: 30, bottom: 40 });
  const [x0, y0] = toScreen(view, [box.x0, box.y0]);
  const [x1, y1] = toScreen(view, [box.x1, box.y1]);
  assert.ok(x0 >= 30 && y0 >= 30 && x1 <= 350.001 && y1 <= 460.001);
});

test('marks are placed along the seam line by the plan', async () => {
  const plan = await planOf(await briefOf('band-round'));
  const ways = { front: wayOf(plan.seam_line.front, 'front'), back: wayOf(plan.seam_line.back, 'back') };
  const run = halfRound(plan, ways);
  assert.ok(Math.abs(run.at[run.at.length - 1] - plan.seam_line.whole_length_mm / 2) < 1e-6);
  const neck = placeAt(run, plan.seam_line.back.length_mm);
  assert.ok(Math.abs(neck.point[1]) < 1e-6, 'the neck point is at nought');
  const spans = plan.strip.marks.slice(1).map((mark, i) => between(run, plan.strip.marks[i].on_seam_line_mm, mark.on_seam_line_mm));
  spans.slice(1).forEach((span, i) => {
    const end = spans[i][spans[i].length - 1];
    assert.ok(Math.hypot(span[0][0] - end[0], span[0][1] - end[1]) < 0.5, 'spans join');
  });
});

test('a folded binding has its fold along the middle of the strip, a single one where it is turned under', async () => {
  const words = { t: (key) => key, number: String, length: String };
  const foldOf = async (bound) => {
    const brief = withValue(await briefOf('bound-scoop'), ['finish', 'bound'], bound);
    const plan = await planOf(brief);
    const { shapes } = buildScene({ brief, plan, whole: true, words, unit: 'mm', prefix: 'test', room: 600, textScale: 1 });
    const top = (key) => Number(/^M\S+ (\S+?)[LH]/.exec(shapes.strip.find((shape) => shape.key === key).d)[1]);
    return { down: top('strip-folds') - top('strip'), width: plan.strip.cut_width.cut_mm };
  };
  const folded = await foldOf({ width_mm: 8, layers: 'folded' });
  assert.ok(Math.abs(folded.down - folded.width / 2) < 0.01, `${folded.down} of ${folded.width}`);
  const single = await foldOf({ width_mm: 8, layers: 'single', turn_under_mm: 6 });
  assert.ok(Math.abs(single.down - (single.width - 6)) < 0.01, `${single.down} of ${single.width}`);
});

test("the usual roundness is the core's own", async () => {
  for (const [kind, roundness_percent] of Object.entries(ROUNDNESS)) {
    const brief = await briefOf('facing-scoop');
    const path = ['neckline', 'front', 'outline', 'drafted', 'shape'];
    const [without, within] = [{ kind }, { kind, roundness_percent }].map((shape) => planOf(withValue(brief, path, shape)));
    const [a, b] = [await without, await within].map((plan) => plan.seam_line.front.length_mm);
    assert.ok(Math.abs(a - b) < 0.02, `${kind}: ${a} and ${b}`);
  }
});

const drafted = async (shape) => withValue(await briefOf('facing-scoop'), ['neckline', 'front', 'outline', 'drafted', 'shape'], shape);
const handle = (brief, plan, kind) => handlesOf(brief, plan).find(({ id }) => id === `front.${kind}`);

test('a handle dropped where it stands changes nothing', async () => {
  for (const shape of [
    { kind: 'scoop' },
    { kind: 'v', leg_hollow_percent: 3 },
    { kind: 'square', corner_radius_mm: 30 },
    { kind: 'round', roundness_percent: 61 },
  ]) {
    const brief = await drafted(shape);
    const plan = await planOf(brief);
    for (const one of handlesOf(brief, plan)) {
      assert.ok(Math.abs(valueAt(one, one.at, brief, 0.001) - one.value) < 0.01, one.id);
    }
  }
});

test('a reading that a brief says is none has no handle', async () => {
  const brief = await briefOf('facing-scoop');
  const measured = { half_length_mm: 160, half_width_mm: null, depth_mm: 120, shape: { kind: 'round' } };
  const changed = withValue(brief, ['neckline', 'front', 'outline'], { measured });
  const plan = await planOf(changed);
  assert.deepEqual(
    handlesOf(changed, plan)
      .filter(({ half }) => half === 'front')
      .map(({ kind }) => kind),
    ['depth'],
  );
});

test('the roundness handle stands on the line, whatever the roundness', async () => {
  for (const roundness_percent of [25, 55, 90]) {
    const brief = await drafted({ kind: 'scoop', roundness_percent });
    const plan = await planOf(brief);
    assert.ok(offLine(plan.seam_line.front.cut_edge, handle(brief, plan, 'roundness').at) < 1e-9);
  }
});

test('roundness goes by travel, two px to the point, within its bounds', async () => {
  const brief = await drafted({ kind: 'scoop', roundness_percent: 60 });
  const one = handle(brief, await planOf(brief), 'roundness');
  assert.deepEqual(
    [0, 2, 20, -20, 500, -500].map((px) => valueAfter(one, px, 1)),
    [60, 61, 70, 50, 90, 20],
  );
  assert.equal(travelOf(one, 70), 20);
});

test('the hollow and the corner stand where the core draws them', async () => {
  for (const [shape, kind] of [
    [{ kind: 'v', leg_hollow_percent: 5 }, 'hollow'],
    [{ kind: 'square', corner_radius_mm: 40 }, 'corner'],
  ]) {
    const brief = await drafted(shape);
    const plan = await planOf(brief);
    const { at } = handle(brief, plan, kind);
    const line = plan.seam_line.front.cut_edge;
    const near = Math.min(...line.map(([x, y]) => Math.hypot(x - at[0], y - at[1])));
    assert.ok(near < 8, `${kind}: ${near} mm from a point of the line`);
    assert.ok(offLine(line, at) < 0.3, `${kind}: ${offLine(line, at)} mm off the line`);
  }
});

function offLine(line, [x, y]) {
  let least = Infinity;
  for (let i = 1; i < line.length; i += 1) {
    const [[ax, ay], [bx, by]] = [line[i - 1], line[i]];
    const size = (bx - ax) ** 2 + (by - ay) ** 2 || 1;
    const t = Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / size));
    least = Math.min(least, Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)));
  }
  return least;
}

test('steps are a millimetre and ten, a sixteenth of an inch and a half', async () => {
  const brief = await drafted({ kind: 'scoop' });
  const one = handle(brief, await planOf(brief), 'depth');
  assert.equal(stepped(one, 1, false, 'mm'), one.value + 1);
  assert.equal(stepped(one, -1, true, 'cm'), one.value - 10);
  const inch = { ...one, value: 25.4 * 5 };
  assert.ok(Math.abs(stepped(inch, 1, false, 'in') - 25.4 * 5.0625) < 1e-3);
  assert.ok(Math.abs(stepped(inch, 1, true, 'in') - 25.4 * 5.5) < 1e-3);
});

test('a value is changed in a copy', async () => {
  const brief = await drafted({ kind: 'scoop' });
  const kept = JSON.stringify(brief);
  const path = ['neckline', 'front', 'outline', 'drafted', 'depth_mm'];
  const after = withValue(brief, path, 77);
  assert.equal(after.neckline.front.outline.drafted.depth_mm, 77);
  assert.equal(after.neckline.back, brief.neckline.back, 'what is not on the way is shared');
  assert.equal(JSON.stringify(brief), kept);
});

const catalogue = async (language) => JSON.parse(await readFile(`${root}www/words/${language}.json`, 'utf8')).drawing;

function keys(tree, path = '') {
  return Object.entries(tree).flatMap(([key, value]) => (typeof value === 'string' ? [path + key] : keys(value, `${path}${key}.`)));
}

const at = (tree, path) => path.split('.').reduce((node, key) => node[key], tree);

test('both languages say the same things with the same values', async () => {
  const [en, es] = [await catalogue('en'), await catalogue('es')];
  assert.deepEqual(keys(es).sort(), keys(en).sort());
  for (const key of keys(en)) {
    const values = (text) => (text.match(/\{\w+\}/g) ?? []).sort();
    assert.deepEqual(values(at(es, key)), values(at(en, key)), key);
  }
});

test('no module of the drawing makes markup of text', async () => {
  const folder = `${root}web/page/drawing/`;
  for (const name of await readdir(folder)) {
    const text = await readFile(folder + name, 'utf8');
    assert.doesNotMatch(text, /innerHTML|outerHTML|insertAdjacentHTML|document\.write|setAttribute\('style'|\beval\b/, name);
  }
});
