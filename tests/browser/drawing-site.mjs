// Serves the drawing's host page with the core's own plans behind it, under the page's own content security policy.

import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { extname } from 'node:path';
import { buildPlanner, planOf, root } from '../page/planner.mjs';
import { PATIENCE, launch, open, painted } from './harness.mjs';
import { portOf } from './hosted.mjs';

/** @type {Record<string, string>} */
const folders = { '/page/': 'web/page/', '/www/': 'www/', '/pages/': 'tests/browser/pages/', '/briefs/': 'tests/briefs/' };
/** @type {Record<string, string>} */
const types = { '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.json': 'application/json' };
const policy = "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self' data:";

/** @param {import('node:http').IncomingMessage} request */
async function body(request) {
  const parts = [];
  for await (const part of request) parts.push(part);
  return Buffer.concat(parts).toString();
}

/** @param {import('node:http').IncomingMessage} request @param {import('node:http').ServerResponse} response */
async function answer(request, response) {
  const { pathname } = new URL(request.url ?? '/', 'http://localhost');
  /** @param {string} type @param {string | Buffer} text */
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
  await new Promise((resolve) => {
    server.listen(0, '127.0.0.1', () => resolve(undefined));
  });
  const browser = await launch();
  return {
    browser,
    async open(query = '', options = {}) {
      const visit = await open(browser, `http://127.0.0.1:${portOf(server)}/pages/drawing.html?${query}`, options);
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
