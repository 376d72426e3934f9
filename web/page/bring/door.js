// The way into the room where a pattern is brought: the room itself comes when it is opened.

import { fetched } from '../common/fetched.js';

/** @import { HalfName, Page, Room } from './room.js' */

/** @type {Room | undefined} */
let room;

/** @type {import('./room.js').Ways} */
const ways = {
  photo: async () => (await import('./photo-way.js')).PhotoWay,
  file: async () => (await import('./files-way.js')).FilesWay,
  more: async () => (await import('./files-more.js')).FilesMore,
};

/**
 * Opens the room; where it does not come, a place says so.
 * @param {Element} place @param {Page} page @param {HalfName} [half] @param {File} [file] what was handed to the page
 */
export async function openRoom(place, page, half, file) {
  const how = { key: 'offline.missing', words: page.words };
  const { createRoom } = await fetched(/** @type {HTMLElement} */ (place), () => import('./room.js'), how);
  room ??= createRoom(page, ways);
  room.open(half, file ?? (location.search === '?shared' ? await shared() : undefined));
}

/** A file that was shared to the page, as the service worker holds it; there is none where the browser has ended that meanwhile. */
async function shared() {
  history.replaceState(history.state, '', location.pathname);
  const { serviceWorker } = navigator;
  /** @type {File | undefined} */
  const file = await new Promise((resolve) => {
    serviceWorker?.addEventListener('message', ({ data }) => typeof data === 'object' && resolve(data.shared));
    if (serviceWorker?.controller) serviceWorker.controller.postMessage('shared');
    else resolve(undefined);
  });
  return file;
}
