// The page's modules in Node: bundled as the build bundles them, then imported.

import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { assets, build } from '../../web/assets.mjs';

const root = fileURLToPath(new URL('../../', import.meta.url));

/** Imports a module by its path from the project's root. @param {string} name */
export async function importModule(name) {
  const folder = await mkdtemp(path.join(tmpdir(), 'lieflat-'));
  try {
    const outfile = path.join(folder, 'module.mjs');
    await build({
      entryPoints: [path.join(root, name)],
      outfile,
      bundle: true,
      format: 'esm',
      target: 'es2022',
      logLevel: 'error',
      loader: { '.wasm': 'file' },
      plugins: [assets],
    });
    return await import(pathToFileURL(outfile).href);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
