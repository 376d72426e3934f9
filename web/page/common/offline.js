// The page without a network, and its next version: a new one waits until the
// person says so, so that old and new files never meet and nothing is lost.

/** @import { Notices } from './page-notices.js' */

/**
 * @param {Notices} notices
 * @param {() => Promise<unknown>} beforeReload writes the work in progress, and lets come what is on its way
 */
export function watchForUpdates(notices, beforeReload) {
  const { serviceWorker } = navigator;
  if (!serviceWorker) return;
  const begin = () => register(serviceWorker, notices, beforeReload);
  // Keeping the files for later must not slow the page that is opening.
  if (document.readyState === 'complete') whenIdle(begin);
  else addEventListener('load', () => whenIdle(begin), { once: true });
}

/** @param {() => void} work */
function whenIdle(work) {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(work, { timeout: 3000 });
  else setTimeout(work, 500);
}

/** @param {ServiceWorkerContainer} serviceWorker @param {Notices} notices @param {() => Promise<unknown>} beforeReload */
async function register(serviceWorker, notices, beforeReload) {
  let registration;
  try {
    registration = await serviceWorker.register('sw.js', { updateViaCache: 'none' });
  } catch {
    // Refused, or no network: the page works, only not offline.
    return;
  }
  // Where a browser's settings switch the worker off, nothing is registered and nothing is thrown.
  if (!registration) return;
  const offer = () => {
    if (registration.waiting && serviceWorker.controller && !notices.has('update')) offerUpdate(registration, notices, beforeReload);
  };
  registration.addEventListener('updatefound', () => {
    registration.installing?.addEventListener('statechange', offer);
  });
  offer();
  serviceWorker.addEventListener('message', ({ data }) => {
    if (data !== 'not-whole') return;
    notices.updating = false;
    offerUpdate(registration, notices, beforeReload, 'offline.not_whole');
  });
  // Another tab took the new version: this one still runs the old scripts, and goes on with them.
  let controlled = Boolean(serviceWorker.controller);
  serviceWorker.addEventListener('controllerchange', () => {
    if (notices.updating) location.reload();
    else if (controlled)
      notices.show('update', { key: 'offline.replaced', actions: [{ key: 'offline.reload', run: () => reload(beforeReload) }] });
    controlled = true;
  });
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') registration.update().catch(() => {});
  });
}

/**
 * @param {ServiceWorkerRegistration} registration @param {Notices} notices @param {() => Promise<unknown>} beforeReload @param {string} [key]
 */
function offerUpdate(registration, notices, beforeReload, key = 'offline.update') {
  notices.show('update', {
    key,
    actions: [{ key: 'offline.use_update', run: () => takeUpdate(registration, notices, beforeReload) }],
  });
}

/**
 * Asks the version that waits to take over: it does, and the page is loaded anew, or says that it is not whole.
 * @param {ServiceWorkerRegistration} registration @param {Notices} notices @param {() => Promise<unknown>} beforeReload
 */
async function takeUpdate(registration, notices, beforeReload) {
  notices.updating = true;
  await beforeReload();
  // None waits any more where another tab has taken it.
  if (registration.waiting) registration.waiting.postMessage('take-over');
  else location.reload();
}

/** @param {() => Promise<unknown>} beforeReload */
async function reload(beforeReload) {
  await beforeReload();
  location.reload();
}
