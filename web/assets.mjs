// How the build reads the page's modules: files that travel with a module, the WebAssembly packages, and the languages.

import { readFile, readdir } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { transform } from 'esbuild';
import { divided, keysIn } from './later-words.mjs';

// For the tests, which build parts of the page and have no packages for that themselves.
export { build } from 'esbuild';

const root = fileURLToPath(new URL('../', import.meta.url));
const packages = path.join(root, 'web/node_modules');
const catalogueFolder = path.join(root, 'www/words');

/** A module's text with each new URL('name', import.meta.url) made into the name that the build gives that file. @param {string} module */
function withAssets(module) {
  let imports = '';
  let count = 0;
  const text = module.replace(/new URL\((['"])([^'"]+[^'"/])\1, import\.meta\.url\)/g, (_whole, _quote, name) => {
    const variable = `lieflatAsset${count++}`;
    imports += `import ${variable} from ${JSON.stringify(`asset:${name}`)};`;
    return `new URL(${variable}, import.meta.url)`;
  });
  return imports + text;
}

/** @typedef {{ name: string, contents: Uint8Array | string }} Asset a file that travels with a module */

/**
 * How a file travels: copied under a hashed name, which the module gets.
 * @param {Asset} asset @returns {import('esbuild').OnLoadResult}
 */
const copied = ({ contents }) => ({ contents, loader: 'file' });

/**
 * A module names a file that travels with it as new URL('name', import.meta.url). The glue of the WebAssembly packages is found
 * wherever a module says it lies.
 * @param {(asset: Asset) => import('esbuild').OnLoadResult} travels gives the module whose default export is the file's address
 * @returns {import('esbuild').Plugin}
 */
export const assetsThat = (travels) => ({
  name: 'assets',
  setup(build) {
    build.onResolve({ filter: /(?:^|\/)pkg\/[a-z_]+\.js(?:on)?$/ }, ({ path: asked }) => ({
      path: path.join(root, 'target/pkg', path.basename(asked)),
    }));
    build.onResolve({ filter: /^built:catalogues$/ }, () => ({ path: 'catalogues', namespace: 'catalogues' }));
    build.onLoad({ filter: /.*/, namespace: 'catalogues' }, () => catalogues());
    build.onResolve({ filter: /^built:lost-words$/ }, () => ({ path: 'lost-words', namespace: 'lost-words' }));
    build.onLoad({ filter: /.*/, namespace: 'lost-words' }, () => lostWords());
    build.onResolve({ filter: /^words:/ }, ({ path: asked }) => ({ path: asked.slice('words:'.length), namespace: 'words' }));
    build.onLoad({ filter: /.*/, namespace: 'words' }, async ({ path: name }) => travels(await catalogueFile(name)));
    build.onResolve({ filter: /^asset:/ }, ({ path: asked, resolveDir }) => ({
      path: path.resolve(resolveDir, asked.slice('asset:'.length)),
      namespace: 'asset',
    }));
    build.onLoad({ filter: /.*/, namespace: 'asset' }, async ({ path: file }) => {
      const [name, contents] = [path.basename(file), await readFile(file)];
      if (!file.endsWith('.css')) return travels({ name, contents });
      const { code } = await transform(contents, { loader: 'css', minify: true, charset: 'utf8' });
      return travels({ name, contents: code });
    });
    build.onLoad({ filter: /\.js$/ }, async ({ path: file }) => {
      if (file.startsWith(packages)) return undefined;
      return { contents: withAssets(await readFile(file, 'utf8')), loader: 'js' };
    });
  },
});

/** As the site has them. */
export const assets = assetsThat(copied);

/**
 * A language's file in two: the words of a first visit under the language's code, and the rest. A language is nothing but its file.
 * @param {string} file
 */
async function wordsOf(file) {
  const words = JSON.parse(await readFile(path.join(catalogueFolder, file), 'utf8'));
  if (!words.language_name) throw new Error(`${file} does not name its language`);
  const html = await readFile(path.join(root, 'www/index.html'), 'utf8');
  const isMarkups = html.includes(`<html lang="${path.basename(file, '.json')}">`);
  return { name: words.language_name, ...divided(words, isMarkups ? keysIn(html) : []) };
}

const languageFiles = async () => (await readdir(catalogueFolder)).filter((name) => name.endsWith('.json')).sort();

/**
 * What is said where no catalogue can be fetched: code -> those words, taken from each language's own.
 * @returns {Promise<import('esbuild').OnLoadResult>}
 */
async function lostWords() {
  const said = await Promise.all(
    (await languageFiles()).map(async (file) => {
      const { embed, offline } = JSON.parse(await readFile(path.join(catalogueFolder, file), 'utf8'));
      return [path.basename(file, '.json'), { not_loaded: embed.not_loaded, again: offline.again }];
    }),
  );
  return { contents: JSON.stringify(Object.fromEntries(said)), loader: 'json' };
}

/**
 * A module of all languages: code -> { name, first, later }, the last two the addresses of its two files.
 * @returns {Promise<import('esbuild').OnLoadResult>}
 */
async function catalogues() {
  const parts = await Promise.all(
    (await languageFiles()).map(async (file, index) => {
      const code = path.basename(file, '.json');
      const { name } = await wordsOf(file);
      return {
        imports: `import first${index} from "words:${code}.json";import later${index} from "words:${code}-later.json";`,
        entry: `${JSON.stringify(code)}: { name: ${JSON.stringify(name)}, first: new URL(first${index}, import.meta.url), later: new URL(later${index}, import.meta.url) }`,
      };
    }),
  );
  const contents = `${parts.map(({ imports }) => imports).join('')}export default { ${parts.map(({ entry }) => entry).join(', ')} };`;
  return { contents, loader: 'js', resolveDir: catalogueFolder };
}

/** One of the two files made of a language's own, as `words:es-later.json` asks for it. @param {string} name @returns {Promise<Asset>} */
async function catalogueFile(name) {
  const later = name.endsWith('-later.json');
  const code = name.replace(/(?:-later)?\.json$/, '');
  const parts = await wordsOf(`${code}.json`);
  return { name, contents: JSON.stringify(later ? parts.later : parts.first) };
}
