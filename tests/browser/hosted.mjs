// The built site on a port of its own: a copy that can be changed, taken down, and made to hold files back.

import { spawn } from 'node:child_process';
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer, request as ask } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { writeServiceWorker } from '../../web/precache.mjs';
import { dist } from './harness.mjs';

const serveScript = fileURLToPath(new URL('../../web/serve.py', import.meta.url));

/**
 * Serves a copy of the built site until the test ends. @param {import('node:test').TestContext} t
 * @param {string} inside the folder of the site that the page lies in
 * @returns {Promise<{ folder: string, url: string, hold: Function, isDown: boolean }>}
 */
export async function hosted(t, inside = '') {
  const top = await mkdtemp(path.join(tmpdir(), 'lieflat-site-'));
  const folder = path.join(top, inside);
  await cp(dist, folder, { recursive: true });
  const server = spawn('python3', [serveScript, '0', top], { stdio: ['ignore', 'pipe', 'ignore'] });
  const behind = await new Promise((resolve) => createInterface({ input: server.stdout }).once('line', resolve));
  const site = { folder, isDown: false };
  const door = await openDoor(site, new URL(behind).port);
  t.after(async () => {
    door.close();
    door.closeAllConnections();
    server.kill();
    await rm(top, { recursive: true, force: true });
  });
  return Object.assign(site, { url: `http://localhost:${door.address().port}/${inside}` });
}

/** What stands before the server: it passes requests on, late or not at all where the test says so. */
async function openDoor(site, port) {
  const held = new Map();
  /** Holds a file back. Gives `asked`, which is kept once somebody asks for it, and `release`. */
  site.hold = (name) => {
    const gate = {};
    const asked = new Promise((resolve) => {
      gate.isAsked = resolve;
    });
    gate.free = new Promise((resolve) => {
      gate.open = resolve;
    });
    held.set(name, gate);
    const release = () => {
      held.delete(name);
      gate.open();
    };
    return { asked, release };
  };
  const door = createServer(async (request, response) => {
    const gate = held.get(path.posix.basename(new URL(request.url, 'http://localhost').pathname));
    gate?.isAsked();
    await gate?.free;
    if (site.isDown) return request.socket.destroy();
    const passed = ask({ port, host: '127.0.0.1', path: request.url, method: request.method, headers: request.headers }, (answer) => {
      // As a host sends it (`web/HOSTING.md`): what may not be stored at all, a browser does not keep to go back to either.
      response.writeHead(answer.statusCode, { ...answer.headers, 'cache-control': 'no-cache' });
      answer.pipe(response);
    });
    passed.once('error', () => response.destroy());
    return request.pipe(passed);
  });
  await new Promise((resolve) => door.listen(0, '127.0.0.1', resolve));
  return door;
}

/** Makes another version of the site: a mark that no script changes, and the worker's list. Gives the version. */
export async function publish(site, mark) {
  const index = path.join(site.folder, 'index.html');
  const html = await readFile(index, 'utf8');
  await writeFile(index, html.replace(/<html lang="en"[^>]*>/, `<html lang="en" data-mark="${mark}">`));
  return writeServiceWorker(site.folder);
}
