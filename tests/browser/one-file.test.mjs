// The whole page in one file, opened from the disk with the network cut, in Chromium and Firefox. Run after `bash web/build.sh`.

import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import puppeteer from 'puppeteer-core';
import { CHECKS, IN_ROOM, checkEngine, figure, inPage, reload, unfoldAsks } from './engine-checks.mjs';
import { chromiumFlags, chromiumPath } from './harness.mjs';
import { launchFirefox, puppet } from './puppet.mjs';
import { importModule } from '../page/modules.mjs';
import { briefOf, root } from '../page/planner.mjs';

/** The room where a pattern is brought needs Workers, which a page without a server does without: there it is not offered. */
const inOneFile = Object.fromEntries(Object.entries(CHECKS).filter(([name]) => !IN_ROOM.includes(name)));
const WITHOUT_ROOM = {
  ...inOneFile,
  'no room is offered that would not open': async (/** @type {import('./engine-checks.mjs').Driver} */ driver) => {
    assert.equal(await driver.run(() => document.getElementById('bring')), null);
  },
};

const run = promisify(execFile);
const { encodeBrief } = await importModule('web/page/share/codec.js');

/** Nothing listens there: whatever is asked of a network fails. */
const NOWHERE = '127.0.0.1:9';
const launches = {
  Chromium: () =>
    puppeteer.launch({
      executablePath: chromiumPath,
      headless: 'shell',
      args: [...chromiumFlags, `--proxy-server=http://${NOWHERE}`, '--proxy-bypass-list=<-loopback>'],
    }),
  Firefox: () =>
    launchFirefox({
      extraPrefsFirefox: {
        'network.proxy.type': 1,
        'network.proxy.http': '127.0.0.1',
        'network.proxy.http_port': 9,
        'network.proxy.ssl': '127.0.0.1',
        'network.proxy.ssl_port': 9,
      },
    }),
};

let folder;
let file;

before(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'lieflat-one-'));
  // A name as a downloaded attachment may have it.
  file = path.join(folder, 'lieflat (1).html');
  await run('node', [`${root}web/one-file.mjs`], { env: { ...process.env, LIEFLAT_ONE_FILE: file } });
});
after(() => folder && rm(folder, { recursive: true, force: true }));

/** Opens a folded panel, once the page has it, which then shows its parts. @param {string} panel @param {string} part */
async function unfold(driver, panel, part) {
  const head = `#${panel} > details > summary`;
  await inPage(driver, `${panel} is there`, (wanted) => document.querySelector(wanted) !== null, head);
  await driver.click(head);
  await inPage(driver, `${part} is there`, (wanted) => document.querySelector(wanted) !== null, part);
}

const title = (driver) => driver.run(() => document.querySelector('[data-notice=shared]')?.textContent ?? '');

const OWN = {
  'asks for nothing but itself': async (driver) => {
    await driver.run(() => scrollTo(0, document.body.scrollHeight));
    await unfold(driver, 'share-panel', '#share-panel input');
    const asked = await driver.run(() =>
      performance.getEntriesByType('resource').map(({ name }) => name.replace(/^(data|blob):.*/, '$1:')),
    );
    assert.deepEqual(
      [...new Set(asked)].filter((name) => !/^(data|blob):$/.test(name)),
      [],
    );
    assert.doesNotMatch(await readFile(file, 'utf8'), /\b(?:src|href)="https?:/);
  },
  'says what it leaves out': async (driver) => {
    assert.equal(await driver.run(() => document.getElementById('bring')), null, 'a photo or file is not offered');
    const said = await driver.run(() => document.getElementById('bring-elsewhere').innerText);
    assert.match(said, /read on the page at its own address/);
  },
  'makes a PDF of the sheets': async (driver) => {
    await inPage(driver, 'the sheets can be made', () => document.querySelector('#sheets-panel .actions button') !== null);
    // What is saved is seen on its way.
    await driver.run(() => {
      const made = URL.createObjectURL;
      URL.createObjectURL = (blob) => {
        if (blob.type === 'application/pdf')
          blob
            .slice(0, 5)
            .text()
            .then((start) => Object.assign(globalThis, { pdfStart: start }));
        return made.call(URL, blob);
      };
    });
    await driver.run(() => document.querySelector('#sheets-panel .actions button').click());
    await inPage(driver, 'a PDF', () => Reflect.get(globalThis, 'pdfStart'));
    assert.equal(await driver.run(() => Reflect.get(globalThis, 'pdfStart')), '%PDF-');
  },
  'makes the pieces as DXF, and shows them by a projector': async (driver) => {
    await inPage(driver, 'the pieces can be made', () => document.querySelector('#sheets-panel .actions button') !== null);
    const press = (/** @type {number} */ which) =>
      driver.run((place) => document.querySelectorAll('#sheets-panel .actions button')[place].click(), which);
    await press(3);
    await inPage(driver, 'a DXF of each piece', () => document.querySelectorAll('#sheets-panel .files a[download$=".dxf"]').length === 3);
    await press(4);
    await inPage(driver, 'the projector’s view', () => document.querySelector('.projector [data-act=show]')?.disabled);
    const looks = await driver.run(() => getComputedStyle(document.querySelector('.projector')).position);
    assert.equal(looks, 'fixed', 'with its looks');
    await driver.run(() => document.querySelector('.projector [data-act=close]').click());
    await inPage(driver, 'the page again', () => !document.querySelector('.projector, [inert]'));
  },
  'what was typed is there again': async (driver) => {
    const example = await figure(driver);
    await unfoldAsks(driver);
    await driver.enter('#front-half-length', '164');
    await inPage(driver, 'it is planned', (was) => document.getElementById('cut-figure')?.innerText !== was, example);
    const before = await figure(driver);
    await reload(driver);
    await inPage(driver, 'the figure is the same', (was) => document.getElementById('cut-figure')?.innerText === was, before);
  },
  'hands a brief on as text, and opens one that is pasted': async (driver) => {
    await unfold(driver, 'share-panel', '#share-panel input');
    await inPage(driver, 'the text', () => document.querySelector('#share-panel input[readonly]')?.value);
    const text = await driver.run(() => document.querySelector('#share-panel input[readonly]').value);
    assert.match(text, /^1[\w-]+$/, 'no address of a file');
    assert.equal(await driver.run(() => document.querySelector('#share-panel textarea')), null, 'no snippet that leads to a file');
    const brief = { ...(await briefOf('tape-v')), title: 'Handed on' };
    for (const given of [encodeBrief(brief), `https://example.org/lieflat/#brief=${encodeBrief(brief)}`]) {
      await driver.run(() => {
        location.hash = '';
      });
      await driver.run((value) => {
        const field = document.querySelector('#share-panel input:not([readonly])');
        field.value = value;
        field.closest('.field').parentElement.querySelector('button').click();
      }, given);
      await inPage(driver, 'it is shown', () => document.querySelector('[data-notice=shared]') !== null);
      assert.match(await title(driver), /Handed on/);
    }
  },
};

for (const [name, launch] of Object.entries(launches)) {
  let browser;
  before(async () => {
    browser = await launch();
  });
  after(() => browser?.close());
  const driver = puppet(
    () => browser,
    () => pathToFileURL(file).href,
  );
  checkEngine(driver, { ...WITHOUT_ROOM, ...OWN }, ` (one file, ${name})`);
}

test('it weighs no more than a mail takes', async () => {
  assert.ok((await readFile(file)).length <= 1_200_000);
});
