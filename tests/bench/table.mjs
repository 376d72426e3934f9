// Puts what the run measured into one table: what was measured, by what, how long
// it took at best and at worst over its cases, how far off it was at most, and how
// near that is to what limits it.

import { readFile, writeFile } from 'node:fs/promises';

const out = new URL('../../target/bench/', import.meta.url);
const read = async (name) => JSON.parse(await readFile(new URL(`${name}.json`, out), 'utf8'));
const [native, npm, pypi, wasm, page, references] = await Promise.all(['native', 'npm', 'pypi', 'wasm', 'page', 'reference'].map(read));

// 25 digits do not fit a number: the whole millimetres are taken off first, as text.
const whole = BigInt(10) ** BigInt(18);
const scaled = (text) => {
  const [integer, fraction = ''] = text.split('.');
  return BigInt(integer) * whole + BigInt(fraction.padEnd(18, '0').slice(0, 18));
};
/** How far a number is from a reference of 25 digits. */
const off = (mm, reference) => Math.abs(Number(scaled(mm.toFixed(18)) - scaled(reference))) / 1e18;

const least = (list) => Math.min(...list);
const most = (list) => Math.max(...list);

/** Three digits that count. */
const short = (n) => (n >= 100 ? n.toFixed(0) : n >= 10 ? n.toFixed(1) : n >= 0.1 ? n.toFixed(2) : n.toExponential(0));
const span = (list, unit) =>
  short(least(list)) === short(most(list)) ? `${short(most(list))} ${unit}` : `${short(least(list))} to ${short(most(list))} ${unit}`;
const times = (a, b) => `${short(a / b)} times`;

const KINDS = {
  length: 'length of a line',
  offset_apart: 'length 10 mm aside, arcs one by one',
  offset_joined: 'length 10 mm aside, joined and trimmed',
};
const SAID = {
  lieflat: {
    length: 'Lieflat: told, two halves read, measured, written',
    offset_joined: 'Lieflat: plan without ranges, the whole neckline',
  },
  kurbo: { length: 'kurbo alone', offset_apart: 'kurbo alone' },
  scipy: { length: 'scipy quad', offset_apart: 'scipy quad of the moved speed' },
  shapely: { length: 'shapely on 200 chords an arc', offset_joined: 'shapely on 200 chords an arc' },
  'svg-path-properties': { length: 'svg-path-properties, reading the path' },
  svgpathtools: { length: 'svgpathtools, reading the path' },
};

const measured = [...native.rows, ...npm.rows, ...pypi.rows];

function geometryRows(kind) {
  const name = kind === 'length' ? 'length' : kind;
  const rows = measured.filter(({ what }) => what === kind);
  const quickest = least(rows.map(({ micros }) => micros));
  const peers = [...new Set(rows.map(({ peer }) => peer))];
  return peers.map((peer) => {
    const own = rows.filter((row) => row.peer === peer);
    const errors = own.map((row) => off(row.mm, references.find(({ name: n }) => n === row.outline)[name]));
    const micros = own.map((row) => row.micros);
    return {
      what: KINDS[kind],
      by: SAID[peer]?.[kind] ?? peer,
      took: span(micros, 'µs'),
      off: `${most(errors).toExponential(0)} mm`,
      limit: `double precision, 6e-14 mm; the quickest, ${short(quickest)} µs`,
      near: least(micros) === quickest ? 'the quickest' : times(least(micros), quickest),
    };
  });
}

/** A plan's rows: every place it runs in, against the bar and against the native run of the same brief. */
function planRows(what, title) {
  const places = [
    ['native', native.plans, 200],
    [`WebAssembly, ${page.browser}`, page.plans, 500],
    [`WebAssembly, Node ${process.versions.node}`, wasm.plans, 500],
  ];
  return places.map(([by, plans, bar]) => {
    const own = plans.filter((row) => row.what === what);
    const micros = own.map((row) => row.micros);
    const floor = own.map((row) => row.micros / native.plans.find((one) => one.what === what && one.brief === row.brief).micros);
    const beside = plans === native.plans ? '' : `; native arithmetic: ${span(floor, 'times')}`;
    return {
      what: title,
      by,
      took: span(micros, 'µs'),
      off: '',
      limit: `bar ${bar} µs`,
      near: `${short((100 * most(micros)) / bar)} % of the bar${beside}`,
    };
  });
}

/** Rows of the page come measured with their bar and floor. */
const pageRow = ({ what, by, value, unit, bar, floor, floorIs }) => ({
  what,
  by,
  took: `${short(value)} ${unit}`,
  off: '',
  limit: [bar && `bar ${short(bar)} ${unit}`, floor && `floor ${short(floor)} ${unit} (${floorIs})`].filter(Boolean).join('; '),
  near: [bar && `${short((100 * value) / bar)} % of the bar`, floor && `${times(value, floor)} the floor`].filter(Boolean).join('; '),
});

const rows = [
  ...Object.keys(KINDS).flatMap(geometryRows),
  ...planRows('plan', 'a whole plan, ranges and working'),
  ...planRows('plan_without_ranges', 'a plan without ranges, as a drag asks'),
  ...page.rows.map(pageRow),
];

const COLUMNS = { what: 'what', by: 'by', took: 'took', off: 'off by at most', limit: 'limit', near: 'how near' };
const names = Object.keys(COLUMNS);
const widths = names.map((name) => most([COLUMNS[name], ...rows.map((row) => row[name])].map((text) => text.length)));
const line = (cells) => `| ${cells.map((cell, i) => cell.padEnd(widths[i])).join(' | ')} |`;
const table = [
  line(names.map((name) => COLUMNS[name])),
  `| ${widths.map((width) => '-'.repeat(width)).join(' | ')} |`,
  ...rows.map((row) => line(names.map((name) => row[name]))),
].join('\n');

const note = `Times are the quickest batch; a span is over ${references.length} outlines or the worked briefs. Errors are against 25 digits by mpmath.`;
console.log(`${table}\n\n${note}`);
await writeFile(new URL('table.md', out), `${table}\n\n${note}\n`);
