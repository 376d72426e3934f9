// Serves the site from this browser once it has been visited. The build puts in
// PRECACHE: the version, and every file of it with its digest.
//
// All files of a version are fetched and checked before any is used, and a new
// version waits until a page asks for it: no visit ever meets files of two.
// The version that was in use before stays for pages that were open when the new
// one came: what they still ask for has its content in its name, so it cannot be
// mistaken.

/* global PRECACHE */
const { version, files } = PRECACHE;
const PREFIX = 'lieflat-';
const cacheName = PREFIX + version;
/** Where it stands which version is in use: others may have been fetched and never taken. */
const IN_USE = 'in-use';
const digests = new Map(files);
const scope = new URL(self.registration.scope);

self.addEventListener('install', (event) => event.waitUntil(fetchAll()));
self.addEventListener('activate', (event) => event.waitUntil(dropOld()));
self.addEventListener('message', ({ data }) => {
  if (data === 'take-over') void self.skipWaiting();
});
self.addEventListener('fetch', (event) => {
  const name = nameOf(event.request);
  if (name !== undefined) event.respondWith(answer(event.request, name));
});

async function fetchAll() {
  const isNew = !(await caches.has(cacheName));
  try {
    const cache = await caches.open(cacheName);
    // One after another: the page that is open has the first claim on the network.
    for (const [name, digest] of files) {
      const held = await findHashed(name);
      await cache.put(addressOf(name), held ?? (await checked(name, digest)));
    }
  } catch (error) {
    // Half a version is of no use to anybody.
    if (isNew) await caches.delete(cacheName);
    throw error;
  }
}

const addressOf = (name) => new URL(name, scope).href;

/** A file of the version before, where its name vouches for its content. */
async function findHashed(name) {
  if (!name.startsWith('page/')) return undefined;
  for (const other of await caches.keys()) {
    if (!other.startsWith(PREFIX)) continue;
    const found = await (await caches.open(other)).match(addressOf(name));
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

/** Keeps this version and the one in use before it. A first visit is taken over at once: no other version is open. */
async function dropOld() {
  const before = await inUse();
  await (await caches.open(IN_USE)).put(scope.href, new Response(cacheName));
  const others = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== cacheName);
  if (others.length === 0) await self.clients.claim();
  await Promise.all(others.filter((name) => name !== before).map((name) => caches.delete(name)));
}

/** The name of the version in use, where there is one. */
async function inUse() {
  const noted = await (await caches.open(IN_USE)).match(scope.href);
  return noted?.text();
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
  const cache = await caches.open(cacheName);
  const kept = digests.has(name) ? await cache.match(addressOf(name)) : await findHashed(name);
  return kept ?? fetch(request);
}
