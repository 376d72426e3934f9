// IndexedDB's requests and transactions as promises.

/** What a request gives. @template Got @param {IDBRequest<Got>} request @returns {Promise<Got>} */
export const answer = (request) =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

/** Resolves once all of a transaction is stored. @param {IDBTransaction} transaction @returns {Promise<void>} */
export const done = (transaction) =>
  new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new DOMException('given up', 'AbortError'));
  });

/**
 * Opens a database.
 * @param {string} name
 * @param {number} version
 * @param {{ upgrade: (database: IDBDatabase) => void, blocking: () => void, terminated: () => void }} hears
 *   `blocking`: another page waits for this one to let go; `terminated`: the browser has closed it
 * @returns {Promise<IDBDatabase>}
 */
export async function openDatabase(name, version, { upgrade, blocking, terminated }) {
  const asked = indexedDB.open(name, version);
  asked.onupgradeneeded = () => upgrade(asked.result);
  const database = await answer(asked);
  database.onversionchange = blocking;
  database.onclose = terminated;
  return database;
}
