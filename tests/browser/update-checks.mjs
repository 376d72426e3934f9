// The next version of the page, in every browser: what must hold however updates fall together. Each browser's test gives a
// thin way of driving it.

import assert from 'node:assert/strict';
import { keptFiles } from '../../web/precache.mjs';
import { until } from './harness.mjs';
import { hosted, publish } from './hosted.mjs';

/**
 * A browser's driver.
 * @typedef {object} Driver
 * @property {(url: string) => Promise<void>} visit
 * @property {() => Promise<void>} reload
 * @property {(act: Function, ...given: any[]) => Promise<any>} ask runs a function in the page that answers by a promise
 */

/** @import { TestContext } from 'node:test' */
/** @import { Site } from './hosted.mjs' */

/**
 * Waits for what a page says that may be loaded anew meanwhile: then nobody answers.
 * @param {Driver} driver @param {string} what @param {Function} act @param {unknown[]} given
 */
const eventually = (driver, what, act, ...given) => until(what, () => driver.ask(act, ...given).catch(() => undefined));

/** @param {Driver} driver */
const isReady = (driver) => eventually(driver, 'the page is ready', async () => document.querySelector('#keep-panel > details') !== null);

/** @param {Driver} driver @param {string} mark */
const isOf = (driver, mark) =>
  eventually(
    driver,
    `the page is of ${mark}`,
    async (/** @type {string} */ wanted) => document.documentElement.dataset.mark === wanted,
    mark,
  );

/** Has the browser look for another version; that it is found is waited for otherwise. @param {Driver} driver */
const look = (driver) =>
  driver.ask(async () => {
    void (await navigator.serviceWorker.getRegistration())?.update();
  });

/** @param {Driver} driver */
const useItNow = (driver) =>
  eventually(driver, 'a new version is offered', async () => {
    const button = /** @type {HTMLElement | null} */ (document.querySelector('[data-notice=update] button'));
    button?.click();
    return Boolean(button);
  });

/** @param {Driver} driver @param {string} cache */
const countKept = (driver, cache) =>
  driver.ask(async (/** @type {string} */ name) => (await (await caches.open(name)).keys()).length, cache);

/** A page at whose side a worker keeps the first version. @param {TestContext} t @param {Driver} driver */
async function visited(t, driver) {
  const site = await hosted(t);
  const version = await publish(site, 'version one');
  await driver.visit(site.url);
  await isReady(driver);
  await eventually(driver, 'the worker has taken the page over', async () => navigator.serviceWorker.controller !== null);
  return { site, version };
}

/** Without the site, the page and a part of it that it never asked for are there. @param {Site} site @param {Driver} driver */
async function worksAlone(site, driver) {
  site.isDown = true;
  await driver.reload();
  await isReady(driver);
  await driver.ask(async () => /** @type {HTMLElement | null} */ (document.querySelector('#outcome-panel > details > summary'))?.click());
  await eventually(driver, 'another part comes', async () => document.querySelector('#outcome-panel .folded > *') !== null);
  site.isDown = false;
}

/** A version that is taken while the next is still being fetched. @param {TestContext} t @param {Driver} driver */
export async function checkUpdatesThatOverlap(t, driver) {
  const { site } = await visited(t, driver);
  await publish(site, 'version two');
  await look(driver);
  await eventually(driver, 'the second version waits', async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    return registration !== undefined && !registration.installing && registration.waiting !== null;
  });
  const held = site.hold('manifest.webmanifest');
  const three = await publish(site, 'version three');
  await look(driver);
  await held.asked;
  await useItNow(driver);
  await isOf(driver, 'version two');
  await isReady(driver);
  held.release();
  await useItNow(driver);
  await isOf(driver, 'version three');
  assert.equal(await countKept(driver, `lieflat-${three}`), (await keptFiles(site.folder)).length, 'all of it is kept');
  await worksAlone(site, driver);
}

/** Files that the browser took away under a running worker. @param {TestContext} t @param {Driver} driver */
export async function checkLostFiles(t, driver) {
  const { site, version } = await visited(t, driver);
  await driver.ask(async () => {
    for (const name of await caches.keys()) await caches.delete(name);
  });
  await driver.reload();
  await isReady(driver);
  const all = (await keptFiles(site.folder)).length;
  await until('every file is kept again', async () => (await countKept(driver, `lieflat-${version}`)) === all);
  await worksAlone(site, driver);
}
