// Writes the example's plan, as the built package reckons it, beside the package: node web/example-plan.mjs
// The page carries it, so that a first visit sees a plan before the core has come.

import { readFile, writeFile } from 'node:fs/promises';
import example from './page/example.js';

const folder = new URL('../target/pkg/', import.meta.url);
const core = await import(new URL('lieflat_web.js', folder));
core.initSync({ module: await readFile(new URL('lieflat_web_bg.wasm', folder)) });
const { plan, errors } = core.plan(example);
if (!plan) throw new Error(`the example cannot be planned: ${JSON.stringify(errors)}`);
await writeFile(new URL('example_plan.json', folder), JSON.stringify(plan));
