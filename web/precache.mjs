// Writes the service worker of a built site: www/sw.js with the list of every
// file and its digest put in.   node web/precache.mjs FOLDER

import { createHash } from 'node:crypto';
import { readFile, readdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { transform } from 'esbuild';

const root = fileURLToPath(new URL('../', import.meta.url));

/** Not kept for offline use: the worker itself, what only servers, crawlers and other programs read, and packed copies of files. */
const left = /^(?:sw\.js|_headers|robots\.txt|schema\/.*)$|\.br$/;

/** The files under a folder, as addresses of the site. @param {string} folder */
export async function filesUnder(folder) {
  const entries = await readdir(folder, { withFileTypes: true, recursive: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath ?? entry.path, entry.name)))
    .map((name) => name.split(path.sep).join('/'))
    .sort();
}

/** @param {string | Uint8Array} bytes */
const digest = (bytes) => createHash('sha256').update(bytes).digest('hex').slice(0, 24);

/** The files of a built site that the worker keeps, as addresses of the site. @param {string} folder */
export const keptFiles = async (folder) => (await filesUnder(folder)).filter((name) => !left.test(name));

/** Writes sw.js into the folder of a built site; gives the version. @param {string} folder */
export async function writeServiceWorker(folder) {
  const files = await Promise.all((await keptFiles(folder)).map(async (name) => [name, digest(await readFile(path.join(folder, name)))]));
  const version = digest(JSON.stringify(files)).slice(0, 12);
  const source = await readFile(path.join(root, 'www/sw.js'), 'utf8');
  const { code } = await transform(source, {
    minify: true,
    format: 'iife',
    target: 'es2022',
    define: { PRECACHE: JSON.stringify({ version, files }) },
  });
  await writeFile(path.join(folder, 'sw.js'), code);
  return version;
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  if (!process.argv[2]) throw new Error('usage: node web/precache.mjs FOLDER');
  console.log(await writeServiceWorker(path.resolve(process.argv[2])));
}
