// Makes target/dist of www/, web/page/ and target/pkg: every script and style
// bundled, minified and named by its content; pages rewritten to those names.
// Writes target/dist.files.json, which web/weigh.mjs reads: what a first visit loads.

import { existsSync } from 'node:fs';
import { cp, mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync } from 'node:zlib';
import { build } from 'esbuild';
import { askingAgain } from './again.mjs';
import { assets } from './assets.mjs';
import { filesUnder, writeServiceWorker } from './precache.mjs';

const root = fileURLToPath(new URL('../', import.meta.url));
const www = path.join(root, 'www');
const dist = process.env.LIEFLAT_DIST ? path.resolve(process.env.LIEFLAT_DIST) : path.join(root, 'target/dist');

/** Files of www/ that are built, not copied: by their ending. */
const built = /\.(?:html|js|mjs|css)$/;

/** Files whose text packs well: the rest is packed already. */
const smaller = /\.(?:html|js|css|json|wasm|svg|webmanifest)$/;

/** Hashed names live here, and only they: a server may keep the folder for good. */
const hashedFolder = 'page';

/**
 * Built files that the page fetches by itself before the person does anything: one language's words, the example's plan, and what
 * takes up the person's work and makes the sheets. A browser test holds this list to what a first visit really asks for.
 */
const atStart = [/^page\/en-\w+\.json$/, /^page\/example-plan-\w+\.json$/, /^page\/at-rest-\w+\.js$/];

/** Scripts that other sites name: they keep their name, and lead to the hashed one. */
const stable = ['embed.js', 'embed/height.js'];

/** @typedef {{ entryPoint?: string, inputs: string[], css: string | undefined, now: string[], later: string[] }} Output a file that the bundle made */
/** @typedef {{ outputs: Map<string, Output>, named: Map<string, string> }} Bundled every output, and which belongs to an address that was asked */

/** Where an address of the finished site comes from. @param {string} address */
function source(address) {
  const [first, ...rest] = address.split('/');
  if (first === 'page') return path.join(root, 'web/page', ...rest);
  if (first === 'pkg') return path.join(root, 'target/pkg', ...rest);
  return path.join(www, address);
}

/** The scripts and styles that a page asks for, as addresses of the site. @param {string} page @param {string} html @returns {string[]} */
function askedBy(page, html) {
  const tags = html.match(/<(?:script|link)\b[^>]*>/g) ?? [];
  return tags
    .flatMap((tag) => /\b(?:src|href)="([^"]+)"/.exec(tag)?.[1] ?? [])
    .filter((name) => /\.(?:js|css)$/.test(name) && !/^[a-z]+:|^\//i.test(name))
    .map((name) => path.posix.join(path.posix.dirname(page), name));
}

/**
 * Every part that the page fetches later comes to a page that is there, and says so to the bundler by an import of the page's own
 * script: what page and parts share then stays in one file with the page. Told nothing, the bundler cuts it into a file for each
 * set of parts that share it, a dozen small ones that pack badly and are asked for one by one.
 * @type {import('esbuild').Plugin}
 */
const parts = {
  name: 'parts',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /^\./ }, ({ kind, path: asked, resolveDir }) =>
      kind === 'dynamic-import' && asked.endsWith('.js') && !asked.includes('/pkg/')
        ? { path: path.join(resolveDir, asked), namespace: 'part' }
        : undefined,
    );
    onLoad({ filter: /.*/, namespace: 'part' }, ({ path: file }) => ({
      contents: `import ${JSON.stringify(source('page/main.js'))}; export * from ${JSON.stringify(file)};`,
      resolveDir: path.dirname(file),
    }));
  },
};

/** The Workers that modules of the page start: scripts of their own, which share nothing with it. */
const workers = ['page/bring/photo-worker.js', 'page/bring/files-worker.js'];

/**
 * A module names its Worker as it names a file that travels with it, and gets the address of the bundled script.
 * @param {Map<string, string>} named the Workers' files by their addresses @returns {import('esbuild').Plugin}
 */
const workersAt = (named) => ({
  name: 'workers',
  setup({ onLoad }) {
    onLoad({ filter: /-worker\.js$/, namespace: 'asset' }, ({ path: file }) => {
      const found = [...named].find(([address]) => source(address) === file);
      if (!found) throw new Error(`${file} is not among the Workers`);
      return { contents: `export default ${JSON.stringify(`./${path.basename(found[1])}`)};`, loader: 'js' };
    });
  },
});

/**
 * Bundles what belongs to one page; gives esbuild's metafile with paths inside dist.
 * @param {string[]} addresses @param {import('esbuild').Plugin[]} [plugins]
 */
async function bundle(addresses, plugins = []) {
  const names = new Set();
  const entryPoints = addresses.map((address) => {
    const name = address
      .replace(/^page\//, '')
      .replace(/\.(?:js|css)$/, '')
      .replaceAll('/', '-');
    const full = name + path.extname(address);
    if (names.has(full)) throw new Error(`two entries would be called ${full}`);
    names.add(full);
    return { in: source(address), out: name };
  });
  const { metafile } = await build({
    entryPoints,
    outdir: path.join(dist, hashedFolder),
    entryNames: '[name]-[hash]',
    chunkNames: '[name]-[hash]',
    assetNames: '[name]-[hash]',
    bundle: true,
    minify: true,
    splitting: true,
    format: 'esm',
    target: 'es2022',
    charset: 'utf8',
    legalComments: 'none',
    loader: { '.svg': 'file', '.png': 'file', '.woff2': 'file' },
    plugins: [parts, ...plugins, assets],
    metafile: true,
    absWorkingDir: root,
    logLevel: 'warning',
  });
  return metafile;
}

/**
 * What the bundle made: address asked for -> { file, imports, dynamic }.
 * @param {import('esbuild').Metafile} metafile @param {string[]} addresses @returns {Bundled}
 */
function outputsOf(metafile, addresses) {
  /** @param {string} output */
  const inside = (output) => path.relative(dist, path.join(root, output)).split(path.sep).join('/');
  /** @type {Map<string, Output>} */
  const outputs = new Map();
  for (const [output, { imports, entryPoint, inputs, cssBundle }] of Object.entries(metafile.outputs)) {
    /** @param {string} kind */
    const of = (kind) => imports.filter((one) => !one.external && one.kind === kind).map((one) => inside(one.path));
    outputs.set(inside(output), {
      entryPoint,
      inputs: Object.keys(inputs),
      css: cssBundle === undefined ? undefined : inside(cssBundle),
      now: of('import-statement').concat(of('url-token'), of('file-loader')),
      later: of('dynamic-import'),
    });
  }
  /** @type {Map<string, string>} */
  const named = new Map();
  for (const address of addresses) {
    const from = path.relative(root, source(address)).split(path.sep).join('/');
    const found = [...outputs].find(([, { entryPoint }]) => entryPoint === from);
    if (!found) throw new Error(`nothing was built from ${from}`);
    named.set(address, found[0]);
  }
  return { outputs, named };
}

/**
 * Everything that comes with a file at once: itself and what it imports. Words and styles that a script names it fetches by itself, of
 * the catalogues only one, the styles when a part that wants them comes.
 * @param {Map<string, Output>} outputs @param {string[]} files
 */
function closure(outputs, files) {
  /** @type {Set<string>} */
  const seen = new Set();
  const waiting = [...files];
  for (let file = waiting.pop(); file !== undefined; file = waiting.pop()) {
    if (seen.has(file)) continue;
    seen.add(file);
    waiting.push(...(outputs.get(file)?.now ?? []).filter((name) => !/\.(?:json|css)$/.test(name)));
  }
  return [...seen];
}

/**
 * A page with the built names in place of the asked ones, and what its script needs asked for early.
 * @param {string} page @param {string} html @param {Bundled} bundled
 */
function rewritten(page, html, { outputs, named }) {
  const up = path.posix.dirname(page);
  /** @param {string} file */
  const relative = (file) => path.posix.relative(up, file);
  /** @type {Set<string>} */
  const early = new Set();
  const text = html.replace(/\b(src|href)="([^"]+)"/g, (whole, attribute, name) => {
    const address = path.posix.join(up, name);
    const file = named.get(address);
    if (!file || stable.includes(address)) return whole;
    if (file.endsWith('.js')) for (const one of closure(outputs, [file])) if (one !== file) early.add(one);
    return `${attribute}="${relative(file)}"`;
  });
  const links = [...early].sort().map((file) => {
    if (file.endsWith('.js')) return `<link rel="modulepreload" href="${relative(file)}">`;
    // Where a page has a script that runs early, that one asks for the core when it is time.
    if (file.endsWith('.wasm') && !html.includes('page/early.js')) {
      return `<link rel="preload" as="fetch" type="application/wasm" crossorigin fetchpriority="low" href="${relative(file)}">`;
    }
    return '';
  });
  return text.replace('</head>', `${links.join('')}</head>`);
}

async function main() {
  const all = await filesUnder(www);
  const pages = all.filter((name) => name.endsWith('.html'));
  /** @type {Map<string, string>} */
  const html = new Map();
  for (const page of pages) html.set(page, await readFile(path.join(www, page), 'utf8'));

  await rm(dist, { recursive: true, force: true });
  await mkdir(dist, { recursive: true });
  for (const name of all.filter((name) => !built.test(name) && !name.startsWith('words/'))) {
    await cp(path.join(www, name), path.join(dist, name));
  }

  const asked = [...new Set(pages.flatMap((page) => askedBy(page, html.get(page) ?? '')))];
  const addresses = [...new Set([...asked, ...stable])].filter((address) => existsSync(source(address)) && !address.startsWith('pkg/'));
  // The page by itself: for what it shares with the calculator of other sites' pages a first visit would ask for one more file.
  const isPages = (/** @type {string} */ address) => address.startsWith('page');
  const apart = await bundle(workers);
  const workersNamed = outputsOf(apart, workers).named;
  const halves = [
    await bundle(addresses.filter(isPages), [workersAt(workersNamed)]),
    await bundle(addresses.filter((address) => !isPages(address))),
    apart,
  ];
  const result = outputsOf({ inputs: {}, outputs: Object.assign({}, ...halves.map(({ outputs }) => outputs)) }, addresses);
  for (const name of [...result.outputs.keys()].filter((one) => one.endsWith('.js'))) {
    const file = path.join(dist, name);
    await writeFile(file, askingAgain(await readFile(file, 'utf8')));
  }
  for (const address of stable) {
    const file = result.named.get(address);
    if (!file) continue;
    const up = path.posix.relative(path.posix.dirname(address), file);
    await mkdir(path.dirname(path.join(dist, address)), { recursive: true });
    await writeFile(path.join(dist, address), `import "${up.startsWith('.') ? up : `./${up}`}";\n`);
  }

  for (const page of pages) {
    // A page may ask early for the package's glue by its plain name; it comes inside a bundle.
    const text = (html.get(page) ?? '').replace(/\s*<link rel="modulepreload" href="(?:\.\.\/)*pkg\/[^"]*">/g, '');
    const file = path.join(dist, page);
    await mkdir(path.dirname(file), { recursive: true });
    await writeFile(file, rewritten(page, text, result));
  }
  await describe(result, html);
}

/** Puts a brotli copy beside every file that gains by it, for servers that send such copies in its stead. @param {string[]} files */
async function writeSmaller(files) {
  for (const name of files.filter((one) => smaller.test(one))) {
    const bytes = await readFile(path.join(dist, name));
    await writeFile(path.join(dist, `${name}.br`), brotliCompressSync(bytes));
  }
}

/**
 * Says for the weighing which files a first visit loads before the person does anything.
 * @param {Bundled} bundled @param {Map<string, string>} html
 */
async function describe({ outputs, named }, html) {
  const index = html.get('index.html') ?? '';
  const asked = askedBy('index.html', index).flatMap((address) => named.get(address) ?? []);
  const first = new Set(['index.html', ...closure(outputs, asked)]);
  // Fetched as soon as the page's script runs, whatever the person does.
  for (const address of atStart) {
    const files = [...outputs.keys()].filter((file) => address.test(file));
    for (const file of closure(outputs, files)) first.add(file);
  }
  const linked = [...index.matchAll(/<link\b[^>]*\bhref="([^":]+)"/g)].map(([, name]) => name);
  for (const name of linked) if (existsSync(path.join(dist, name))) first.add(name);
  const version = await writeServiceWorker(dist);
  const files = await filesUnder(dist);
  await writeSmaller(files);
  const listing = { version, files: files.map((name) => ({ name, first: first.has(name) })) };
  await writeFile(`${dist}.files.json`, `${JSON.stringify(listing, null, 1)}\n`);
}

await main();
