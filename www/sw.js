// Serves the site from this browser once it has been visited. The build puts in
// PRECACHE: the version, and every file of it with its digest.
//
// All files of a version are fetched and checked before any is used, and a new
// version waits until a page asks for it: no visit ever meets files of two.
// The versions that were in use before stay for pages that were open when the new
// one came: what they still ask for has its content in its name, so it cannot be
// mistaken.
//
// A browser may take files away, and two versions may come at once: a version counts
// its files whenever it says that it is whole, and what is missing is fetched and kept
// again.

/* global PRECACHE */
const { version, files } = PRECACHE;
const PREFIX = 'lieflat-';
const cacheName = PREFIX + version;
/** Where the versions are noted by the order in which they came, and in which they were taken: clocks may be set back. */
const NOTES = 'in-use';
/** How often a version is filled up before it gives in to what empties it. */
const TRIES = 3;
const digests = new Map(files);
const scope = new URL(self.registration.scope);
const CAME = `${scope.href}?came`;
const TAKEN = scope.href;
/** Where the system's share sheet posts a file to, as the manifest says, and how long the file waits for the page to take it, ms. */
const SHARED = `${scope.href}shared`;
const WAITING = 60_000;

self.addEventListener('install', (event) => event.waitUntil(fetchAll()));
self.addEventListener('activate', (event) => event.waitUntil(dropOld()));
self.addEventListener('message', (event) => {
  if (event.data === 'take-over') event.waitUntil(takeOver(event.source));
  if (event.data === 'shared') event.source?.postMessage({ shared: takeShared() });
});
self.addEventListener('fetch', (event) => {
  if (event.request.method === 'POST' && event.request.url === SHARED) {
    event.respondWith(share(event));
    return;
  }
  const name = nameOf(event.request);
  if (name === undefined) return;
  event.respondWith(answer(event.request, name));
  // A visit is when there may be a network: what is missing of it all is fetched while there is.
  if (event.request.mode === 'navigate') event.waitUntil(fillUp().catch(() => {}));
});

async function fetchAll() {
  const isNew = !(await caches.has(cacheName));
  try {
    await noteArrival();
    await fillUp();
  } catch (error) {
    // Half a version is of no use to anybody.
    if (isNew) await caches.delete(cacheName);
    throw error;
  }
}

/** A page asked for this version: it is taken where it is whole, and else the page is told. */
async function takeOver(page) {
  try {
    await fillUp();
  } catch {
    page?.postMessage('not-whole');
    return;
  }
  void self.skipWaiting();
}

const addressOf = (name) => new URL(name, scope).href;

let filling;

/** Fetches what is missing of this version; refused where it cannot be had whole. One at a time. */
function fillUp() {
  filling ??= complete().finally(() => {
    filling = undefined;
  });
  return filling;
}

async function complete() {
  for (let tries = 0; tries < TRIES; tries++) {
    const missing = await findMissing();
    if (missing.length === 0) return;
    // One after another: the page that is open has the first claim on the network.
    for (const [name, digest] of missing) await keep(name, (await findHashed(name)) ?? (await checked(name, digest)));
  }
  if ((await findMissing()).length > 0) throw new Error(`version ${version} does not stay whole`);
}

/** The files of this version that are not kept, as they are counted now. */
async function findMissing() {
  const kept = new Set((await (await caches.open(cacheName)).keys()).map(({ url }) => url));
  return files.filter(([name]) => !kept.has(addressOf(name)));
}

/** Keeps a file, in the cache that has this version's name now: one that was deleted takes files and shows them to nobody. */
async function keep(name, response) {
  await (await caches.open(cacheName)).put(addressOf(name), response);
}

/** A file as a version keeps it. Where it keeps nothing, nothing is made by looking. */
const findIn = (cache, name) => caches.match(addressOf(name), { cacheName: cache });

const versions = async () => (await caches.keys()).filter((name) => name.startsWith(PREFIX));

/** A file of any version, where its name vouches for its content. */
async function findHashed(name) {
  if (!name.startsWith('page/')) return undefined;
  for (const other of await versions()) {
    const found = await findIn(other, name);
    if (found) return found;
  }
  return undefined;
}

/** A file as the server has it now, refused where it is not of this version. */
async function checked(name, digest) {
  const response = await fetch(addressOf(name), { cache: 'no-cache', credentials: 'same-origin' });
  if (!response.ok) throw new Error(`${name}: ${response.status}`);
  const bytes = await response.arrayBuffer();
  if ((await digestOf(bytes)) !== digest) throw new Error(`${name} is not of version ${version}`);
  const headers = new Headers({ 'Content-Type': response.headers.get('Content-Type') ?? 'application/octet-stream' });
  for (const kept of ['Content-Security-Policy', 'Access-Control-Allow-Origin', 'X-Content-Type-Options', 'Referrer-Policy']) {
    if (response.headers.has(kept)) headers.set(kept, response.headers.get(kept));
  }
  return new Response(bytes, { headers });
}

async function digestOf(bytes) {
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes)).subarray(0, 12);
  return Array.from(hash, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** A file that was shared to the page and waits to be taken: in memory alone, so that it is kept nowhere. */
let waiting;

/** Holds the file that came with a form, and has the page opened. */
async function share(event) {
  const form = await event.request.formData().catch(() => new FormData());
  const file = form.get('file');
  // Without something to do the browser would end this worker, and the file with it.
  event.waitUntil(
    new Promise((resolve) => {
      takeShared();
      const one = { file: file instanceof File ? file : undefined, resolve };
      waiting = one;
      setTimeout(() => waiting === one && takeShared(), WAITING);
    }),
  );
  return Response.redirect(`${scope.href}?shared`, 303);
}

/** The file that waits; it is forgotten here. */
function takeShared() {
  const { file, resolve } = waiting ?? {};
  waiting = undefined;
  resolve?.();
  return file;
}

/** The versions of a note, the earliest first. */
async function noted(key) {
  const note = await (await caches.open(NOTES)).match(key);
  return note ? (await note.text()).split('\n') : [];
}

/** Puts this version at the end of a note that holds those names. */
async function note(key, names) {
  const others = names.filter((name) => name !== cacheName);
  await (await caches.open(NOTES)).put(key, new Response([...others, cacheName].join('\n')));
}

/** Of the versions that are kept, this one came last. */
async function noteArrival() {
  const kept = await versions();
  const came = new Set([...(await noted(TAKEN)), ...(await noted(CAME))]);
  await note(
    CAME,
    [...came].filter((name) => kept.includes(name)),
  );
}

/**
 * Drops the versions that came before this one and that no page can be of. Those that came later are still being
 * fetched, or wait. On a first visit no other version is open, and the page is taken over at once.
 */
async function dropOld() {
  const taken = await noted(TAKEN);
  if (taken.length === 0) await self.clients.claim();
  // The page that asked for this version is loaded anew; any other may be of any that was taken before.
  const open = (await countPages()) > 1 ? taken : taken.slice(-1);
  await note(TAKEN, open);
  const came = await noted(CAME);
  const earlier = came.slice(0, Math.max(0, came.indexOf(cacheName)));
  await Promise.all(earlier.filter((name) => !open.includes(name)).map((name) => caches.delete(name)));
}

async function countPages() {
  const pages = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
  return pages.filter(({ url }) => url.startsWith(scope.href)).length;
}

/** The file of the site that a request asks for, where it asks for one. */
function nameOf(request) {
  const address = new URL(request.url);
  if (request.method !== 'GET' || address.origin !== scope.origin) return undefined;
  if (!address.pathname.startsWith(scope.pathname)) return undefined;
  const name = address.pathname.slice(scope.pathname.length);
  if (name === '' || name.endsWith('/')) return `${name}index.html`;
  return name;
}

async function answer(request, name) {
  // A store that fails must not keep from a page what the network has.
  const kept = await (digests.has(name) ? findIn(cacheName, name) : findHashed(name)).catch(() => undefined);
  return kept ?? (await fetchedAgain(name)) ?? fetch(request);
}

/** A file of this version that its cache has lost, kept again; nothing where the server has it no longer. */
async function fetchedAgain(name) {
  if (!digests.has(name)) return undefined;
  const response = await checked(name, digests.get(name)).catch(() => undefined);
  if (response) await keep(name, response.clone()).catch(() => {});
  return response;
}
