// Makes target/lieflat.html: the whole page in one file, which opens by a double click, with no server and no network.
// Scripts and styles stand in the file itself, named to the browser by their content's hash; words, later styles and the
// WebAssembly packages are packed, and unpacked by the browser.

import { createHash } from 'node:crypto';
import { readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';
import { assetsThat } from './assets.mjs';

const root = fileURLToPath(new URL('../', import.meta.url));
const www = path.join(root, 'www');
const file = process.env.LIEFLAT_ONE_FILE ? path.resolve(process.env.LIEFLAT_ONE_FILE) : path.join(root, 'target/lieflat.html');

/** The most that it may weigh, bytes: with it a mail still passes. */
const MOST = 1_200_000;

const types = { json: 'application/json', css: 'text/css', wasm: 'application/wasm' };

/** A file's text in base 64, packed. @param {Uint8Array | string} contents */
const packed = (contents) => gzipSync(contents, { level: 9 }).toString('base64');

/**
 * A file that travels in the script, packed; its address is that of the unpacked copy.
 * @param {import('./assets.mjs').Asset} asset @returns {import('esbuild').OnLoadResult}
 */
function inside({ name, contents }) {
  const type = types[/** @type {keyof typeof types} */ (path.extname(name).slice(1))];
  if (!type) throw new Error(`${name} is of no kind that the one file can hold`);
  const text = `import { unpacked } from 'unpack:';export default await unpacked(${JSON.stringify(packed(contents))}, ${JSON.stringify(type)});`;
  return { contents: text, loader: 'js' };
}

/** @type {import('esbuild').Plugin} */
const unpack = {
  name: 'unpack',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /^unpack:$/ }, () => ({ path: path.join(root, 'web/page/common/unpacked.js') }));
    onResolve({ filter: /^whole:$/ }, () => ({ path: 'whole', namespace: 'whole' }));
    onLoad({ filter: /.*/, namespace: 'whole' }, () => ({
      contents: ['early', 'main'].map((name) => `import ${JSON.stringify(`./web/page/${name}.js`)};`).join(''),
      resolveDir: root,
    }));
  },
};

/** No Worker starts from a file without a server: the room where a pattern is brought, which needs one, is left out, and that is said in its place. */
const ROOM = /bring\/(?:room|photo-way|files-way|files-more)\.js$/;
const ELSEWHERE = '\n        <p class="hint" id="bring-elsewhere" data-t="page.bring_elsewhere"></p>';
const OFFERED = /\s*<p class="buttons"><button type="button" id="bring".*?<\/p>/;

/** @type {import('esbuild').Plugin} */
const withoutRoom = {
  name: 'without-room',
  setup({ onLoad }) {
    onLoad({ filter: ROOM }, () => ({
      contents: 'export const createRoom = undefined, PhotoWay = undefined, FilesWay = undefined, FilesMore = undefined;',
      loader: 'js',
    }));
  },
};

/** @param {string} entry @returns {Promise<string>} */
async function bundled(entry) {
  const { outputFiles } = await build({
    entryPoints: [entry],
    bundle: true,
    write: false,
    minify: true,
    format: 'esm',
    target: 'es2022',
    charset: 'utf8',
    legalComments: 'none',
    loader: { '.svg': 'dataurl', '.png': 'dataurl' },
    plugins: [unpack, withoutRoom, assetsThat(inside)],
    absWorkingDir: root,
    logLevel: 'warning',
  });
  return outputFiles[0].text;
}

/** What a policy calls a script or a style by. @param {string} text */
const hash = (text) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;

/** Only what the file itself holds. @param {string} script @param {string} style */
const policyOf = (script, style) =>
  [
    "default-src 'none'",
    `script-src ${hash(script)} 'wasm-unsafe-eval'`,
    `style-src ${hash(style)} blob:`,
    'img-src data: blob:',
    'connect-src blob:',
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');

/** Puts one text in place of the one place that a pattern finds. @param {string} text @param {RegExp} pattern @param {string} by */
function replaced(text, pattern, by) {
  if (!pattern.test(text)) throw new Error(`the page has no ${pattern}`);
  return text.replace(pattern, () => by);
}

const [page, icon, script, style] = await Promise.all([
  readFile(path.join(www, 'index.html'), 'utf8'),
  readFile(path.join(www, 'favicon.svg')),
  bundled('whole:'),
  bundled(path.join(www, 'page.css')),
]);
let html = replaced(page, /(?<=http-equiv="Content-Security-Policy" content=")[^"]*/, policyOf(script, style));
html = replaced(html, /\s*<link rel="manifest"[^>]*>/, '');
html = replaced(html, OFFERED, ELSEWHERE);
html = replaced(html, /\s*<script type="module" src="page\/early\.js"><\/script>/, '');
html = replaced(html, /(?<=<link rel="icon" href=")[^"]*/, `data:image/svg+xml;base64,${icon.toString('base64')}`);
html = replaced(html, /<link rel="stylesheet" href="page\.css">/, `<style>${style}</style>`);
html = replaced(html, /<script type="module" src="page\/main\.js"><\/script>/, `<script type="module">${script}</script>`);
const left = /\b(?:src|href)="(?!#|data:)[^"]*"/.exec(html.replace(script, '').replace(style, ''));
if (left) throw new Error(`the one file still asks for ${left[0]}`);
await writeFile(file, html);
const weight = Buffer.byteLength(html);
console.log(`${path.relative(root, file)}: ${weight} of ${MOST} bytes, as it is`);
if (weight > MOST) {
  console.error(`the one file is over its budget by ${weight - MOST} bytes`);
  process.exit(1);
}
