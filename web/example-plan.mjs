// Writes the example's plans, as the built package reckons them, beside the package: node web/example-plan.mjs
// They travel with the page, so that a first visit sees a plan before the core has come: rounded, as it is only drawn and written.

import { readFile, writeFile } from 'node:fs/promises';
import { inches, metric } from './page/generated/example.js';
import { UNIT_MM } from './page/generated/lengths.js';

/** Decimals that are kept of a number: a thousandth of a millimetre, a hundredth of what is ever shown of a figure. */
const DECIMALS = 3;
/** Digits of what is less than one: directions and shares, which are drawn many millimetres long and not a metre. */
const DIGITS = 5;

/** Sixteenths of an inch stay whole: they are shown as what they are. */
const SIXTEENTH = UNIT_MM.in / 16;

/** @param {number} value */
const isSixteenths = (value) => Math.abs(Math.round(value / SIXTEENTH) * SIXTEENTH - value) < 1e-9;

/** @param {number} value */
function short(value) {
  if (isSixteenths(value)) return Number(value.toFixed(2 * DECIMALS));
  return Number(Math.abs(value) < 1 ? value.toPrecision(DIGITS) : value.toFixed(DECIMALS));
}

/** @param {string} _ @param {unknown} value */
const rounded = (_, value) => (typeof value === 'number' ? short(value) : value);

const folder = new URL('../target/pkg/', import.meta.url);
const core = await import(new URL('lieflat_web.js', folder).href);
core.initSync({ module: await readFile(new URL('lieflat_web_bg.wasm', folder)) });
for (const [name, example] of Object.entries({ 'example-plan': metric, 'example-plan-in': inches })) {
  const { plan, errors } = JSON.parse(core.plan(JSON.stringify(example)));
  if (!plan) throw new Error(`the example cannot be planned: ${JSON.stringify(errors)}`);
  await writeFile(new URL(`${name}.json`, folder), JSON.stringify(plan, rounded));
}
