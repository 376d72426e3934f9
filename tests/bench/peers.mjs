// Times the npm peers on the test outlines; prints JSON.

import { readFile } from 'node:fs/promises';
import { Bezier } from 'bezier-js';
import paper from 'paper/dist/paper-core.js';
import { svgPathProperties } from 'svg-path-properties';

const BATCHES = 11;
const BATCH_MS = 30;
const { outlines, offset_mm: distance } = JSON.parse(await readFile(new URL('outlines.json', import.meta.url), 'utf8'));

const batch = (call, calls) => {
  const began = performance.now();
  for (let i = 0; i < calls; i++) call();
  return performance.now() - began;
};

/** Microseconds of one call: the quickest of several batches, which a busy machine disturbs least. */
function micros(call) {
  let calls = 1;
  while (batch(call, calls) < BATCH_MS) calls *= 2;
  return Math.min(...Array.from({ length: BATCHES }, () => (1000 * batch(call, calls)) / calls));
}

/** The control points of a path of moves, lines and cubics; a line has its handles at the thirds. */
function cubics(path) {
  const found = [];
  let at;
  for (const [, letter, rest] of path.matchAll(/([MLC])([^MLC]*)/g)) {
    const points = [...rest.matchAll(/(-?[\d.]+)\s+(-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);
    if (letter === 'L') {
      const third = (share) => [0, 1].map((axis) => at[axis] + share * (points[0][axis] - at[axis]));
      points.unshift(third(1 / 3), third(2 / 3));
    }
    if (letter !== 'M') found.push([at, ...points].flat());
    at = points.at(-1);
  }
  return found;
}

const sum = (list, of) => list.reduce((total, one) => total + of(one), 0);

function peersOf({ path }) {
  const arcs = cubics(path);
  const beziers = arcs.map((numbers) => new Bezier(...numbers));
  // bezier-js counts to the other side: y runs down here.
  const moved = (bezier) => sum(bezier.offset(distance), (part) => part.length());
  return [
    ['bezier-js', 'length', () => sum(beziers, (bezier) => bezier.length())],
    ['bezier-js', 'offset_apart', () => sum(beziers, moved)],
    // A path keeps its length; its curves' own function reckons it each time. Handles are relative there.
    ['paper', 'length', () => sum(arcs, (numbers) => paper.Curve.getLength(numbers, 0, 1))],
    ['svg-path-properties', 'length', () => new svgPathProperties(path).getTotalLength()],
  ];
}

const rows = outlines.flatMap((outline) =>
  peersOf(outline).map(([peer, what, call]) => ({ outline: outline.name, peer, what, micros: micros(call), mm: call() })),
);
console.log(JSON.stringify({ rows }));
