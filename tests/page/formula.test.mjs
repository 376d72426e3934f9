// The working's formulas as mathematics: each formula of the core is read whole, comes to its figure with its numbers in, in any unit
// of length, and is set as a balanced tree with every name in words of both languages.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { before, test } from 'node:test';
import { importModule } from './modules.mjs';
import { keptPlans, planOf, root } from './planner.mjs';

/** As much of an element as the formulas are set in. */
class Fake {
  nodes = [];
  attributes = {};
  constructor(tag) {
    this.tag = tag;
    this.localName = tag;
  }
  get children() {
    return this.nodes.filter((node) => typeof node !== 'string');
  }
  setAttribute(name, value) {
    this.attributes[name] = value;
  }
  append(...children) {
    this.nodes.push(...children);
  }
  get text() {
    return this.nodes.map((node) => node.text ?? node).join(' ');
  }
}
globalThis.Element = Fake;
globalThis.document = { createElementNS: (_, tag) => new Fake(tag) };

const { isInAnyUnit, parsed, reckoned, symbolsIn, withNumbers } = await importModule('web/page/plan/formula.js');
const { math, readable } = await importModule('web/page/plan/mathml.js');
const { saidOf } = await importModule('web/page/plan/working.js');
const { figureName } = await importModule('web/page/plan/figures.js');
const { formulas } = await importModule('web/page/generated/formulas.js');
const { Words } = await importModule('web/page/common/words.js');

globalThis.lieflatStrictWords = true;
const all = {};
for (const language of ['en', 'es'])
  all[language] = new Words(language, JSON.parse(await readFile(`${root}www/words/${language}.json`, 'utf8')));

/** Plans of the invented garments and of the worked briefs, and some more. @type {Map<string, any>} */
let plans;

before(async () => {
  plans = await keptPlans();
  // What none of them has: points at both centres, a lap, records of strips, a swatch's width, a gathered edge, a point that is bound.
  const example = JSON.parse(await readFile(`${root}tests/briefs/band-round.json`, 'utf8'));
  const v = (depth_mm) => ({ outline: { drafted: { half_width_mm: 85, depth_mm, shape: { kind: 'v' } } } });
  const { front, back } = example.neckline;
  const record = (outcome, by_mm) => ({ finish: 'band', held_line_mm: 460, strip_mm: 436, outcome, by_mm });
  const changed = {
    'points at both centres': { neckline: { ...example.neckline, front: { ...front, ...v(190) }, back: { ...back, ...v(90) } } },
    'a lapped V': { neckline: { ...example.neckline, front: { ...front, ...v(190) } }, finish: { band: { width_mm: 20, point: 'lap' } } },
    'learned from two bands': {
      garment_knit: { ...example.garment_knit, learned: [record('lay_flat'), record('stood_away', 8)] },
    },
    'a swatch’s width': {
      garment_knit: { ...example.garment_knit, swatch_width: { crosswise: { rest_mm: 50, stretched_mm: 42 } } },
    },
    'its own ratio': { finish: { band: { width_mm: 15, ratio_percent: 96 } } },
    'edges of its own': {
      finish: { tape: { width_mm: 14 } },
      stays: {
        edges: [
          {
            name: 'Invented panel',
            part: 'gathered',
            length_mm: 120,
            gathered_from_mm: 180,
            direction: 'crosswise',
            allowance_mm: 10,
            pieces: 2,
          },
        ],
      },
    },
  };
  for (const [name, change] of Object.entries(changed)) plans.set(name, await planOf({ ...example, ...change }));
});

/** Every step of every plan. */
const steps = () => [...plans].flatMap(([name, plan]) => plan.working.map((step) => ({ name, plan, step })));

test('every formula of the core is read whole', () => {
  assert.equal(Object.keys(formulas).length, 99);
  for (const [rule, text] of Object.entries(formulas)) {
    const tree = parsed(text);
    assert.deepEqual([...new Set(symbolsIn(tree))].sort(), namesIn(text), rule);
  }
  // By hand: of what stands side by side one stroke divides what is before it, and two make one fraction.
  assert.deepEqual(shape(parsed('(age - from) / (to - from) (b - a)')), '(((age-from)/(to-from))*(b-a))');
  assert.deepEqual(shape(parsed('shorter / L (e + 2 f) / 6')), '((shorter*(e+(2*f)))/(L*6))');
  assert.deepEqual(shape(parsed('-ln(x) / k^(2/3)')), '(-(ln(x)/(k^(2/3))))');
  for (const wrong of ['a +', '(a', 'a) b', 'a & b', 'min(a', '', '|a', 'a ^']) assert.throws(() => parsed(wrong), Error, wrong);
});

/** The names that stand in a formula, read apart from the parser: words that no bracket follows. */
const namesIn = (text) => [...new Set(text.match(/\b[a-z]\w*\b(?!\()/gi) ?? [])].sort();

function shape(tree) {
  switch (tree.kind) {
    case 'number':
      return tree.text;
    case 'name':
      return tree.symbol;
    case 'sum':
      return `(${tree.terms.map(({ isLess, of }, i) => (isLess ? '-' : i ? '+' : '') + shape(of)).join('')})`;
    case 'product':
      return `(${tree.factors.map(shape).join('*')})`;
    case 'quotient':
      return `(${shape(tree.over)}/${shape(tree.under)})`;
    case 'power':
      return `(${shape(tree.base)}^${shape(tree.exponent)})`;
    default:
      return `${tree.name}(${tree.of.map(shape).join(',')})`;
  }
}

test('with its numbers in, each formula comes to its figure, in millimetres, centimetres and inches', () => {
  const used = new Set();
  for (const { name, step } of steps()) {
    const tree = withNumbers(parsed(formulas[step.rule]), step.inputs);
    used.add(step.rule);
    for (const [unit, per] of Object.entries({ mm: 1, cm: 10, in: 25.4 })) {
      const turned = ({ value, unit: of }) => (of === 'mm' ? value / per : value);
      const result = turned({ value: step.result, unit: step.unit });
      const off = Math.abs(reckoned(tree, turned) - result);
      if (unit !== 'mm' && !isInAnyUnit(step.rule)) assert.ok(off > 1e-6, `${step.rule} holds in ${unit} too`);
      // A snip more is wanted from the billionth part of one on.
      else assert.ok(off < 1e-6, `${name}, ${step.figure}, ${unit}: ${formulas[step.rule]} is off by ${off}`);
    }
  }
  const idle = Object.keys(formulas).filter((rule) => !used.has(rule));
  assert.ok(idle.length <= 8, `tried by no plan here: ${idle.join(', ')}`);
});

/** Elements by how many children they have in the standard (MathML Core 3.3 and 3.4). */
const CHILDREN = { mfrac: 2, msup: 2 };
const LEAVES = ['mi', 'mn', 'mo', 'mtext'];
const KNOWN = ['math', 'mrow', 'msqrt', 'mtable', 'mtr', 'mtd', ...Object.keys(CHILDREN), ...LEAVES];

/** What no reader should see: paths, underscores, Greek by name, English functions left in the notation. */
const RAW = /_|[a-z]\.[a-z]|theta|alpha|lambda|\bphi\b|\bnu\b|sqrt|undefined|\{/i;

function checkTree(node, where) {
  assert.ok(KNOWN.includes(node.tag), `${where}: ${node.tag}`);
  if (LEAVES.includes(node.tag)) {
    assert.ok(node.nodes.length === 1 && typeof node.nodes[0] === 'string' && node.nodes[0].trim(), `${where}: ${node.tag} has text`);
    return;
  }
  assert.equal(node.children.length, node.nodes.length, `${where}: no text loose in ${node.tag}`);
  const wanted = CHILDREN[node.tag];
  if (wanted) assert.equal(node.children.length, wanted, `${where}: ${node.tag}`);
  else assert.ok(node.children.length > 0, `${where}: ${node.tag} is empty`);
  const only = { mtable: 'mtr', mtr: 'mtd' }[node.tag];
  if (only)
    assert.ok(
      node.children.every((child) => child.tag === only),
      `${where}: ${node.tag}`,
    );
  for (const child of node.children) checkTree(child, where);
}

/** How often a sign stands in a text. */
const times = (text, sign) => text.split(sign).length - 1;

for (const language of ['en', 'es']) {
  test(`every formula is a balanced tree of names in words, drawn and read out (${language})`, () => {
    const words = all[language];
    for (const [rule, text] of Object.entries(formulas)) {
      const said = saidOf({ rule }, { words, unit: 'mm' });
      const tree = parsed(text);
      for (const room of [200, 40, 16]) {
        const set = math(tree, said, room);
        checkTree(set, rule);
        assert.equal(times(set.text, '('), times(set.text, ')'), `${rule}: ${set.text}`);
        assert.doesNotMatch(set.text, RAW, rule);
        // A long name may stand on two lines.
        const text = set.text.replaceAll(/\s+/g, ' ');
        for (const symbol of symbolsIn(tree)) assert.ok(text.includes(said.name(symbol)), `${rule}: ${symbol} in ${text}`);
      }
      assert.doesNotMatch(readable(tree, said), RAW, rule);
      assert.ok((text.match(/sqrt/g) ?? []).length === count(math(tree, said, 40), 'msqrt'), `${rule}: each root is drawn`);
      assert.ok(!text.includes('/') || count(math(tree, said, 40), 'mfrac') > 0, `${rule}: its fraction is drawn as one`);
    }
  });

  test(`every step of every plan has its figure’s name and its numbers in words (${language})`, () => {
    const words = all[language];
    for (const { name, plan, step } of steps()) {
      const where = `${name}, ${step.figure}`;
      const figure = figureName(step.figure, plan, words);
      assert.doesNotMatch(figure, RAW, where);
      assert.ok(figure.length > 3 && figure[0] === figure[0].toUpperCase(), `${where}: ${figure}`);
      for (const unit of ['mm', 'in']) {
        const said = saidOf(step, { words, unit });
        const tree = withNumbers(parsed(formulas[step.rule]), step.inputs);
        assert.deepEqual(symbolsIn(tree), [], `${where}: every number is put in`);
        const set = math(tree, said, 40);
        checkTree(set, where);
        assert.doesNotMatch(set.text, /NaN|—/, where);
        assert.doesNotMatch(`${set.text} ${readable(tree, said)}`, RAW, where);
      }
    }
    // Nothing is named twice the same in one plan: whoever looks a figure up finds it.
    for (const [name, plan] of plans) {
      const names = plan.working.map((step) => figureName(step.figure, plan, words));
      assert.deepEqual(
        names.filter((one, i) => names.indexOf(one) < i),
        [],
        name,
      );
    }
  });
}

const count = (node, tag) => (node.tag === tag ? 1 : 0) + node.children.reduce((sum, child) => sum + count(child, tag), 0);

test('a formula reads as a teacher would say it', () => {
  const said = saidOf({ rule: 'seam_line_half' }, { words: all.en, unit: 'mm' });
  assert.equal(readable(parsed(formulas.seam_line_half), said), 'known line plus allowance times turning minus trims');
  assert.equal(math(parsed(formulas.seam_line_half), said, 200).text, '= known line + allowance × turning − trims');
  const mitre = saidOf({ rule: 'end_mitre' }, { words: all.es, unit: 'mm' });
  assert.match(
    readable(parsed(formulas.end_mitre), mitre),
    /^margen de unión dividido entre sen medio ángulo del pico más margen dividido entre tan /,
  );
  // Six of a reading moved by 2 and 3: brackets stand where what is less than nothing is squared.
  const below = [
    { symbol: 'exact', value: 10, unit: 'mm' },
    { symbol: 'finish.band.width_mm', value: -2, unit: 'mm' },
    { symbol: 'neckline.neckline_allowance_mm', value: 3, unit: 'mm' },
  ];
  const range = saidOf({ rule: 'range_low' }, { words: all.en, unit: 'mm' });
  assert.equal(math(withNumbers(parsed(formulas.range_low), below), range, 200).text.replaceAll(/\s+/g, ' '), '= 10 − ( −2 ) 2 + 3 2');
});
