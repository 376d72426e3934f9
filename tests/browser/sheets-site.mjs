// The sheets' panel alone on a page, bundled as the build does it, with the module of WebAssembly that
// `bash web/build.sh` left in target/pkg and the core's own plans.

import { createServer } from 'node:http';
import { cp, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { assets, build } from '../../web/assets.mjs';
import { buildPlanner, planOf, root } from '../page/planner.mjs';
import { launch, open } from './harness.mjs';
import { portOf } from './hosted.mjs';

/** @type {Record<string, string>} */
const types = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.json': 'application/json',
  '.wasm': 'application/wasm',
};
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data:; connect-src 'self'";

/** @typedef {import('playwright-core').BrowserContextOptions & { unit?: string, language?: string }} Options */
/** @typedef {{ host: { show(what: object): void } }} Hosting the page that hosts the panel */

async function assemble() {
  const folder = await mkdtemp(path.join(tmpdir(), 'lieflat-sheets-'));
  await build({
    entryPoints: [path.join(root, 'tests/browser/pages/sheets-host.js')],
    outdir: folder,
    bundle: true,
    splitting: true,
    format: 'esm',
    target: 'es2022',
    logLevel: 'error',
    loader: { '.wasm': 'file' },
    plugins: [assets],
  });
  await cp(path.join(root, 'tests/browser/pages/sheets.html'), path.join(folder, 'index.html'));
  await cp(path.join(root, 'www/words'), path.join(folder, 'www/words'), { recursive: true });
  await cp(path.join(root, 'www/style.css'), path.join(folder, 'style.css'));
  return folder;
}

/** The server and the browser: `{ browser, open(query, options), close }`. */
export async function startSite() {
  await buildPlanner();
  const folder = await assemble();
  const server = createServer(async (request, response) => {
    const { pathname } = new URL(request.url ?? '/', 'http://localhost');
    const name = pathname === '/' ? 'index.html' : pathname.slice(1);
    try {
      if (name.includes('..')) throw new Error('outside');
      const body = await readFile(path.join(folder, name));
      response.writeHead(200, { 'content-type': types[path.extname(name)] ?? 'text/plain', 'content-security-policy': policy }).end(body);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise((resolve) => {
    server.listen(0, '127.0.0.1', () => resolve(undefined));
  });
  const browser = await launch();
  return {
    browser,
    /** Opens the panel on a brief and its plan, or its errors. @param {object} brief @param {Options} [options] */
    async open(brief, { unit = 'mm', language = 'en', ...options } = {}) {
      const visit = await open(browser, `http://127.0.0.1:${portOf(server)}/`, { acceptDownloads: true, ...options });
      const answer = await planOf(brief);
      await visit.page.waitForFunction(() => 'host' in window);
      await visit.page.evaluate((what) => /** @type {Hosting} */ (/** @type {unknown} */ (window)).host.show(what), {
        brief,
        answer,
        unit,
        language,
      });
      return visit;
    },
    async close() {
      await browser.close();
      server.close();
      server.closeAllConnections();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
