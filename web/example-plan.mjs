// Writes the example's plan, as the built package reckons it, beside the package: node web/example-plan.mjs
// The page carries it, so that a first visit sees a plan before the core has come: rounded, as it is only drawn and written.

import { readFile, writeFile } from 'node:fs/promises';
import example from './page/generated/example.js';

/** Decimals that are kept of a number: a thousandth of a millimetre, a hundredth of what is ever shown of a figure. */
const DECIMALS = 3;
/** Digits of what is less than one: directions and shares, which are drawn many millimetres long. */
const DIGITS = 6;

/** @param {number} value */
const short = (value) => Number(Math.abs(value) < 1 ? value.toPrecision(DIGITS) : value.toFixed(DECIMALS));

/** @param {string} _ @param {unknown} value */
const rounded = (_, value) => (typeof value === 'number' ? short(value) : value);

const folder = new URL('../target/pkg/', import.meta.url);
const core = await import(new URL('lieflat_web.js', folder).href);
core.initSync({ module: await readFile(new URL('lieflat_web_bg.wasm', folder)) });
const { plan, errors } = JSON.parse(core.plan(JSON.stringify(example)));
if (!plan) throw new Error(`the example cannot be planned: ${JSON.stringify(errors)}`);
await writeFile(new URL('example_plan.json', folder), JSON.stringify(plan, rounded));
