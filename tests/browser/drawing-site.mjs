// Serves the drawing's host page with the core's own plans behind it, under the page's own content security policy.

import { execFile } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { extname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { PATIENCE, launch, open, painted } from './harness.mjs';

export const root = fileURLToPath(new URL('../../', import.meta.url));
const target = process.env.CARGO_TARGET_DIR ?? `${root}target`;
const run = promisify(execFile);
const folders = { '/page/': 'web/page/', '/www/': 'www/', '/pages/': 'tests/browser/pages/', '/briefs/': 'tests/briefs/' };
const types = { '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.json': 'application/json' };
const policy = "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self' data:";

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
    child.stdin.end(JSON.stringify(brief));
  });
}

export const briefOf = async (name) => JSON.parse(await readFile(`${root}tests/briefs/${name}.json`, 'utf8'));

async function body(request) {
  const parts = [];
  for await (const part of request) parts.push(part);
  return Buffer.concat(parts).toString();
}

async function answer(request, response) {
  const { pathname } = new URL(request.url, 'http://localhost');
  const send = (type, text) => response.writeHead(200, { 'content-type': type, 'content-security-policy': policy }).end(text);
  if (pathname === '/plan') return send(types['.json'], JSON.stringify(await planOf(JSON.parse(await body(request)))));
  const folder = Object.keys(folders).find((name) => pathname.startsWith(name));
  if (!folder || pathname.includes('..')) return response.writeHead(404).end();
  return send(types[extname(pathname)] ?? 'text/plain', await readFile(root + folders[folder] + pathname.slice(folder.length)));
}

/** The server and the browser: `{ open(query, options), close }`. */
export async function startSite() {
  await buildPlanner();
  const server = createServer((request, response) => {
    answer(request, response).catch(() => response.writeHead(404).end());
  });
  await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
  const browser = await launch();
  return {
    browser,
    async open(query = '', options = {}) {
      const visit = await open(browser, `http://127.0.0.1:${server.address().port}/pages/drawing.html?${query}`, options);
      await visit.page.waitForSelector('body[data-ready]', { timeout: PATIENCE }).catch((error) => {
        throw new Error(`${error.message} ${[...visit.pageErrors, ...visit.consoleErrors, ...visit.failures].join('; ')}`);
      });
      await painted(visit.page);
      return visit;
    },
    async close() {
      await browser.close();
      server.close();
      server.closeAllConnections();
    },
  };
}
