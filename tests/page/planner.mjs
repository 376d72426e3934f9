// Plans of the core for checks that run in Node.

import { execFile } from 'node:child_process';
import { readFile, readdir } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';

/** The project's folder, with the slash at its end. */
export const root = fileURLToPath(new URL('../../', import.meta.url));
const target = process.env.CARGO_TARGET_DIR ?? `${root}target`;
const run = promisify(execFile);

/** Builds the core's example, which prints a plan for a brief. */
export async function buildPlanner() {
  await run('cargo', ['build', '-q', '-p', 'lieflat', '--example', 'plan'], { cwd: root });
}

/** A brief's plan, or its errors, by the core. @param {object} brief */
export function planOf(brief) {
  return new Promise((resolve) => {
    const child = execFile(`${target}/debug/examples/plan`, ['-'], { maxBuffer: 1 << 25 }, (error, out, refused) => {
      resolve(JSON.parse(error ? refused : out));
    });
    child.stdin?.end(JSON.stringify(brief));
  });
}

/** @param {string} name */
export const briefOf = async (name) => JSON.parse(await readFile(`${root}tests/briefs/${name}.json`, 'utf8'));

/** Plans of the invented garments and of the worked briefs, by file. @returns {Promise<Map<string, any>>} */
export async function keptPlans() {
  await buildPlanner();
  const plans = new Map();
  for (const folder of ['tests/garments/', 'tests/briefs/'])
    for (const file of (await readdir(root + folder)).filter((name) => name.endsWith('.json') && !name.includes('.plan.')))
      plans.set(file, await planOf(JSON.parse(await readFile(root + folder + file, 'utf8'))));
  return plans;
}
