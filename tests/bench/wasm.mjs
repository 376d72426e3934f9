// Times plans in WebAssembly, in Node; prints JSON.

import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { planRows, workedBriefs } from './plans.mjs';

const pkg = fileURLToPath(new URL('../../target/pkg/', import.meta.url));
const core = await import(`${pkg}lieflat_web.js`);
core.initSync({ module: await readFile(`${pkg}lieflat_web_bg.wasm`) });
console.log(JSON.stringify({ plans: planRows(core, await workedBriefs()) }));
