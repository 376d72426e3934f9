// The page's look: a few named values of colour, type and space, each colour with its light and its dark, and no other.

import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { test } from 'node:test';
import { root } from './planner.mjs';

const COLOUR = /#[\da-f]{3,8}\b|\b(?:rgb|hsl|hwb|lab|lch|oklab|oklch|color)a?\([^)]*\)/gi;

/** The styles without their comments, by file. */
async function styles() {
  const names = (await readdir(`${root}www`)).filter((name) => name.endsWith('.css'));
  const texts = await Promise.all(names.map((name) => readFile(`${root}www/${name}`, 'utf8')));
  return Object.fromEntries(names.map((name, i) => [name, texts[i].replaceAll(/\/\*[\s\S]*?\*\//g, '')]));
}

/** What `:root` names: a custom property and its value. @param {string} text @returns {[name: string, value: string][]} */
const named = (text) =>
  [...text.matchAll(/:root \{([^}]*)\}/g)].flatMap(([, body]) =>
    [...body.matchAll(/(--[\w-]+):\s*([^;]+);/g)].map(([, name, value]) => /** @type {[string, string]} */ ([name, value])),
  );

test('no colour stands outside the named values', async () => {
  const all = await styles();
  assert.ok(named(all['style.css']).length > 20, 'style.css names its values');
  const names = new Set(named(all['style.css']).map(([name]) => name));
  for (const [name, text] of Object.entries(all)) {
    // A room that is bright or dark may tell a named value anew.
    const rest = text.replaceAll(/(--[\w-]+):[^;}]*;/g, (told, property) => (names.has(property) ? '' : told));
    assert.deepEqual(rest.match(COLOUR) ?? [], [], `${name} has colours of its own`);
  }
});

/** A length of its own: print.css, which is told in the paper's millimetres and points, has those. What is hidden has a pixel. */
const LENGTH = /(?<![\w.-])\d*\.?\d+(?:rem|px)\b/g;

test('no size of type, and no space between things, stands outside the named values', async () => {
  const all = await styles();
  let seen = 0;
  for (const name of Object.keys(all).filter((one) => one !== 'print.css')) {
    const text = all[name].replaceAll(/:root \{[^}]*\}/g, '');
    const told = [...text.matchAll(/(?<![\w-])(?:font|font-size|[a-z]*-?gap|(?:scroll-)?(?:margin|padding)[a-z-]*):\s*([^;}]+)/g)];
    seen += told.length;
    const own = told.flatMap(([rule, value]) => (value.match(LENGTH) ?? []).map((length) => ({ rule, length })));
    // What is centred on its point is moved by half of its own size.
    const unnamed = own.filter(({ rule, length }) => !['0px', '1px'].includes(length) && !/margin: -\d+px 0 0 -\d+px/.test(rule));
    assert.deepEqual(unnamed, [], `${name} has sizes of its own`);
  }
  assert.ok(seen > 100, 'the rules were found');
});

test('what is named is used, and what is used is named', async () => {
  const all = await styles();
  const text = Object.values(all).join('');
  // Set by the page's scripts, or by a rule for what stands in it.
  const local = new Set([...text.replaceAll(/:root \{[^}]*\}/g, '').matchAll(/(--[\w-]+):/g)].map(([, name]) => name));
  const scripts = (await readdir(`${root}web/page`, { recursive: true })).filter((name) => name.endsWith('.js'));
  const sources = await Promise.all(scripts.map((name) => readFile(`${root}web/page/${name}`, 'utf8')));
  const byScript = new Set([...sources.join('').matchAll(/setProperty\('(--[\w-]+)'/g)].map(([, name]) => name));
  const names = new Set(Object.values(all).flatMap((one) => named(one).map(([name]) => name)));
  const used = new Set([...text.matchAll(/var\((--[\w-]+)/g)].map(([, name]) => name));
  assert.deepEqual(
    [...names].filter((name) => !used.has(name)),
    [],
    'named and never used',
  );
  assert.deepEqual(
    [...used].filter((name) => !names.has(name) && !local.has(name) && !byScript.has(name)),
    [],
    'used and never named',
  );
});
