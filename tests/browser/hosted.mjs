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

/** @typedef {{ isAsked: () => void, free: Promise<void>, open: () => void }} Gate */
/** @typedef {{ asked: Promise<void>, release: () => void }} Held */
/** @typedef {{ folder: string, isDown: boolean, hold: (name: string) => Held }} Behind */
/** @typedef {Behind & { url: string }} Site */

/**
 * Serves a copy of the built site until the test ends.
 * @param {import('node:test').TestContext} t
 * @param {string} inside the folder of the site that the page lies in
 * @returns {Promise<Site>}
 */
export async function hosted(t, inside = '') {
  const top = await mkdtemp(path.join(tmpdir(), 'lieflat-site-'));
  const folder = path.join(top, inside);
  await cp(dist, folder, { recursive: true });
  const server = spawn('python3', [serveScript, '0', top], { stdio: ['ignore', 'pipe', 'ignore'] });
  /** @type {string} */
  const behind = await new Promise((resolve) => createInterface({ input: server.stdout }).once('line', resolve));
  /** @type {Map<string, Gate>} */
  const held = new Map();
  /** @type {Behind} */
  const site = { folder, isDown: false, hold: (name) => hold(held, name) };
  const door = await openDoor(site, held, new URL(behind).port);
  t.after(async () => {
    door.close();
    door.closeAllConnections();
    server.kill();
    await rm(top, { recursive: true, force: true });
  });
  return Object.assign(site, { url: `http://localhost:${portOf(door)}/${inside}` });
}

/** The port that a server listens on. @param {import('node:http').Server} server */
export function portOf(server) {
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('the server listens on no port');
  return address.port;
}

/** Holds a file back. Gives `asked`, which is kept once somebody asks for it, and `release`. @param {Map<string, Gate>} held @param {string} name @returns {Held} */
function hold(held, name) {
  /** @type {[() => void, () => void]} */
  let [isAsked, open] = [() => {}, () => {}];
  /** @type {Promise<void>} */
  const asked = new Promise((resolve) => {
    isAsked = resolve;
  });
  /** @type {Promise<void>} */
  const free = new Promise((resolve) => {
    open = resolve;
  });
  held.set(name, { isAsked, free, open });
  const release = () => {
    held.delete(name);
    open();
  };
  return { asked, release };
}

/**
 * What stands before the server: it passes requests on, late or not at all where the test says so.
 * @param {Behind} site @param {Map<string, Gate>} held @param {string} port
 */
async function openDoor(site, held, port) {
  const door = createServer(async (request, response) => {
    const gate = held.get(path.posix.basename(new URL(request.url ?? '/', 'http://localhost').pathname));
    gate?.isAsked();
    await gate?.free;
    if (site.isDown) {
      request.socket.destroy();
      return;
    }
    const passed = ask({ port, host: '127.0.0.1', path: request.url, method: request.method, headers: request.headers }, (answer) => {
      // As a host sends it (`web/HOSTING.md`): what may not be stored at all, a browser does not keep to go back to either.
      response.writeHead(answer.statusCode ?? 502, { ...answer.headers, 'cache-control': 'no-cache' });
      answer.pipe(response);
    });
    passed.once('error', () => response.destroy());
    request.pipe(passed);
  });
  await new Promise((resolve) => {
    door.listen(0, '127.0.0.1', () => resolve(undefined));
  });
  return door;
}

/**
 * Makes another version of the site: a mark that no script changes, and the worker's list. Gives the version.
 * @param {Site} site @param {string} mark
 */
export async function publish(site, mark) {
  const index = path.join(site.folder, 'index.html');
  const html = await readFile(index, 'utf8');
  await writeFile(index, html.replace(/<html lang="en"[^>]*>/, `<html lang="en" data-mark="${mark}">`));
  return writeServiceWorker(site.folder);
}
