// How the build reads the page's modules: files that travel with a module, the WebAssembly packages, and the languages.

import { readFile, readdir } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../', import.meta.url));
const packages = path.join(root, 'tests/browser/node_modules');

/** A module's text with each new URL('name', import.meta.url) made into the name that the build gives that file. */
function withAssets(module) {
  let imports = '';
  let count = 0;
  const text = module.replace(/new URL\((['"])([^'"]+[^'"/])\1, import\.meta\.url\)/g, (_, quote, name) => {
    const variable = `lieflatAsset${count++}`;
    imports += `import ${variable} from ${JSON.stringify(`asset:${name}`)};`;
    return `new URL(${variable}, import.meta.url)`;
  });
  return imports + text;
}

// A module names a file that travels with it as new URL('name', import.meta.url).
// Such a file is copied under a hashed name, and the module gets that name. The
// glue of the WebAssembly packages is found wherever a module says it lies.
export const assets = {
  name: 'assets',
  setup(build) {
    build.onResolve({ filter: /(?:^|\/)pkg\/[a-z_]+\.js(?:on)?$/ }, ({ path: asked }) => ({
      path: path.join(root, 'target/pkg', path.basename(asked)),
    }));
    build.onResolve({ filter: /^built:catalogues$/ }, () => ({ path: path.join(root, 'www/words'), namespace: 'catalogues' }));
    build.onLoad({ filter: /.*/, namespace: 'catalogues' }, ({ path: folder }) => catalogues(folder));
    build.onResolve({ filter: /^asset:/ }, ({ path: asked, resolveDir }) => ({
      path: path.resolve(resolveDir, asked.slice('asset:'.length)),
      namespace: 'asset',
    }));
    build.onLoad({ filter: /.*/, namespace: 'asset' }, async ({ path: file }) => ({
      contents: await readFile(file),
      loader: 'file',
    }));
    build.onLoad({ filter: /\.js$/ }, async ({ path: file }) => {
      if (file.startsWith(packages)) return undefined;
      return { contents: withAssets(await readFile(file, 'utf8')), loader: 'js' };
    });
  },
};

/** A module of all languages: code -> { name, url }. A language is nothing but its file. */
async function catalogues(folder) {
  const files = (await readdir(folder)).filter((name) => name.endsWith('.json')).sort();
  const entries = await Promise.all(files.map(async (file) => {
    const { language_name: name } = JSON.parse(await readFile(path.join(folder, file), 'utf8'));
    if (!name) throw new Error(`${file} does not name its language`);
    return `${JSON.stringify(path.basename(file, '.json'))}: { name: ${JSON.stringify(name)}, url: new URL(${JSON.stringify(`./${file}`)}, import.meta.url) }`;
  }));
  return { contents: withAssets(`export default { ${entries.join(', ')} };`), loader: 'js', resolveDir: folder };
}
