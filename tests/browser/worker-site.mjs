// A module alone in its Worker, one for each kind of file where there are several, as `bash web/build.sh` left it in target/pkg.

import { readdir, readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { launch, open } from './harness.mjs';
import { portOf } from './hosted.mjs';

export const pkg = fileURLToPath(new URL('../../target/pkg/', import.meta.url));
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; connect-src 'self'; worker-src 'self'";
const html =
  '<!doctype html><html lang="en"><title>Worker</title><link rel="icon" href="data:,"><script type="module" src="page.js"></script>';
const page = `
const worker = new Worker('worker.js' + location.search, { type: 'module' });
const waiting = [];
worker.onmessage = ({ data }) => waiting.shift()(data);
worker.onerror = ({ message }) => waiting.shift()?.({ broken: message });
const ready = new Promise((resolve) => waiting.push(resolve));
window.ask = async (message) => {
  await ready;
  return new Promise((resolve) => { waiting.push(resolve); worker.postMessage(message); });
};
window.fetched = async (name) => (await fetch(name)).blob();`;

/**
 * The server and the browser: `{ open(module), files, close() }`; what is put among `files` is served by its name.
 * @param {string[]} modules the packages' names; a page opens with the first unless another is named
 */
export async function startWorkerSite(...modules) {
  /** @type {Map<string, Buffer | string>} */
  const files = new Map([
    ['', html],
    [
      'worker.js',
      `const { default: start } = await import('./' + (location.search.slice(1) || '${modules[0]}') + '.js'); await start(); postMessage({ ready: true });`,
    ],
    ['page.js', page],
  ]);
  for (const name of modules.flatMap((module) => [`${module}.js`, `${module}_bg.wasm`]))
    files.set(name, await readFile(path.join(pkg, name)));
  /** @type {Record<string, string>} */
  const types = { '': 'text/html', '.js': 'text/javascript', '.wasm': 'application/wasm', '.png': 'image/png' };
  const server = createServer((request, response) => {
    const name = new URL(request.url ?? '/', 'http://localhost').pathname.slice(1);
    const body = files.get(name);
    const headers = { 'content-type': types[path.extname(name)] ?? 'application/octet-stream', 'content-security-policy': policy };
    if (body === undefined) response.writeHead(404).end();
    else response.writeHead(200, headers).end(body);
  });
  await new Promise((resolve) => {
    server.listen(0, '127.0.0.1', () => resolve(undefined));
  });
  const browser = await launch();
  return {
    files,
    open: (module = '') => open(browser, `http://127.0.0.1:${portOf(server)}/?${module}`),
    async close() {
      await browser.close();
      server.closeAllConnections();
      await new Promise((resolve) => {
        server.close(resolve);
      });
    },
  };
}

/** What the processor has done for this script's browser, ms, as Linux counts it: on a busy machine the clock tells too much. */
export async function worked() {
  const pids = (await readdir('/proc')).filter((name) => /^\d+$/.test(name));
  const rows = await Promise.all(pids.map((pid) => readFile(`/proc/${pid}/stat`, 'latin1').catch(() => '')));
  const told = rows.filter(Boolean).map((row) => {
    const rest = row.slice(row.lastIndexOf(')') + 2).split(' ');
    return { pid: Number.parseInt(row, 10), parent: Number(rest[1]), ticks: Number(rest[11]) + Number(rest[12]) };
  });
  /** @param {number} of @returns {number} */
  const below = (of) => told.filter(({ parent }) => parent === of).reduce((sum, { pid, ticks }) => sum + ticks + below(pid), 0);
  return below(process.pid) * 10;
}
