// The page in Debian's Firefox. Run after `bash web/build.sh`.

import { after, before } from 'node:test';
import puppeteer from 'puppeteer-core';
import { checkEngine } from './engine-checks.mjs';
import { serve } from './harness.mjs';

const firefoxPath = process.env.FIREFOX ?? '/usr/bin/firefox-esr';

let server;
let browser;
let driver;

before(async () => {
  server = await serve();
  browser = await puppeteer.launch({ browser: 'firefox', executablePath: firefoxPath, headless: true });
});
after(async () => {
  await browser?.close();
  await server?.close();
});

// Storage of its own for each check, so that each is a first visit.
async function load() {
  await driver?.context.close();
  const context = await browser.createBrowserContext();
  const page = await context.newPage();
  await page.setViewport({ width: 1280, height: 800 });
  const wrong = [];
  page.on('console', (message) => message.type() === 'error' && wrong.push(message.text()));
  page.on('pageerror', (error) => wrong.push(String(error)));
  page.on('requestfailed', (request) => wrong.push(`${request.url()} failed`));
  // Firefox tells of a violated policy neither as a message nor as an error.
  await page.exposeFunction('tellOfViolation', (text) => wrong.push(text));
  await page.evaluateOnNewDocument(() => {
    addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI }) =>
      globalThis.tellOfViolation(`${violatedDirective} ${blockedURI}`),
    );
  });
  await page.goto(server.url);
  driver = driverOf(context, page, wrong);
}

function driverOf(context, page, wrong) {
  return {
    context,
    load,
    wrong: () => wrong,
    run: (act, ...given) => page.evaluate(act, ...given),
    click: (selector) => page.click(selector),
    async enter(selector, text) {
      await page.focus(selector);
      await page.$eval(selector, (field) => field.select());
      await page.keyboard.type(text);
      await page.keyboard.press('Tab');
    },
    async drag([x, y], [toX, toY]) {
      await page.mouse.move(x, y);
      await page.mouse.down();
      await page.mouse.move(toX, toY, { steps: 6 });
      await page.mouse.up();
    },
  };
}

checkEngine(() => driver ?? { load });
