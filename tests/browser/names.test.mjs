// Words from outside that every object knows, such as `constructor`: in an address, an attribute, what a browser stored, a
// brief. None of them is a language, a unit, a finish or anything else, and none stops the page, the element or the frame.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { settled, start } from './harness.mjs';
import { profile } from './keep-site.mjs';
import { importModule } from '../page/modules.mjs';

const { encodeBrief } = await importModule('web/page/share/codec.js');
const worked = async (name) => JSON.parse(await readFile(new URL(`../briefs/${name}.json`, import.meta.url), 'utf8'));

/** ECMA-262, 20.1.3: what Object.prototype has; then what functions and promises have; then nearly what is wanted. */
const NAMES = [
  ...Object.getOwnPropertyNames(Object.prototype),
  'prototype',
  'length',
  'name',
  'then',
  '',
  ' ',
  'EN ',
  'null',
  'undefined',
  'NaN',
  '[object Object]',
];

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

async function opened(context, path = '') {
  const page = await context.newPage();
  page.problems = [];
  page.on('pageerror', (error) => page.problems.push(String(error.stack ?? error)));
  page.on('console', (message) => message.type() === 'error' && page.problems.push(message.text()));
  await page.goto(site.url + path);
  return page;
}

test('a catalogue has its own words alone', async () => {
  const context = await profile(site);
  const page = await opened(context, 'embed/frame.html');
  await page.locator('lieflat-neckline .cut').waitFor();
  const found = await page.evaluate((names) => {
    const { words } = document.querySelector('lieflat-neckline');
    const keys = names.flatMap((name) => [name, `${name}.name`, `outcome.${name}`, `outcome.${name}.name`, `outcome.lies_flat.${name}`]);
    return keys.filter((key) => words.has(key));
  }, NAMES);
  assert.deepEqual(found, []);
  await context.close();
});

test('as a stored or a browser’s own language, unit, scale or fold it is passed over', async () => {
  for (const name of NAMES) {
    const context = await profile(site);
    await context.addInitScript((word) => {
      for (const kept of ['language', 'unit', 'px_per_mm']) localStorage.setItem(`lieflat.${kept}`, word);
      for (const kept of ['draft', 'shared', 'work', 'open.keep', 'open.sizes'])
        sessionStorage.setItem(`lieflat.${kept}`, JSON.stringify(word));
      Object.defineProperty(navigator, 'languages', { get: () => [word, `${word}-GB`, 'es'] });
    }, name);
    const page = await opened(context);
    await page.waitForSelector('html.is-ready');
    await page.locator('#keep-panel > details').waitFor();
    await settled(page);
    assert.match(await page.locator('#cut-figure').innerText(), /^[\d,]+\scm × [\d,]+\scm$/, name);
    assert.equal(await page.getAttribute('html', 'lang'), 'es', name);
    await page.click('[data-ruler=garment]');
    assert.ok(await page.locator('dialog .primary').isDisabled(), `${name} sets no ruler true`);
    assert.deepEqual(page.problems, [], name);
    await context.close();
  }
});

test('as an attribute of the element or in the frame’s address it is none, and a right one mends it', async () => {
  const context = await profile(site);
  const page = await opened(context, 'embed/frame.html');
  const element = page.locator('lieflat-neckline');
  await element.locator('.cut').waitFor();
  for (const name of NAMES) {
    await page.evaluate((word) => {
      const [first] = document.querySelectorAll('lieflat-neckline');
      const fresh = document.createElement('lieflat-neckline');
      for (const attribute of ['lang', 'unit', 'finish']) fresh.setAttribute(attribute, word);
      first.replaceWith(fresh);
    }, name);
    await element.locator('.cut').waitFor();
    assert.match(await element.locator('.cut').innerText(), /^Cut \d+\smm × \d+\smm$/, name);
    if (name.trim() === '') continue;
    await element.evaluate((node, word) => node.setAttribute('brief', word), name);
    await element.getByRole('alert').waitFor();
    await element.evaluate((node) => node.removeAttribute('brief'));
    await element.locator('.cut').waitFor();
  }
  for (const name of NAMES) {
    // Another fragment alone is no new page: the frame follows it.
    await page.goto(
      `${site.url}embed/frame.html?${NAMES.indexOf(name)}#${new URLSearchParams({ lang: name, unit: name, finish: name, [name]: name })}`,
    );
    await element.locator('.cut').waitFor();
    assert.equal(await page.getAttribute('html', 'lang'), 'en', name);
  }
  assert.deepEqual(page.problems, []);
  await context.close();
});

/** Every place of a brief that takes one of a few words, as a change of a worked brief. */
const CHOICES = {
  finish: (brief, word) => {
    brief.finish = { [word]: { width_mm: 12 } };
  },
  'finish beside another': (brief, word) => {
    brief.finish = { ...brief.finish, [word]: { width_mm: 12 } };
  },
  layers: (brief, word) => {
    brief.finish = { band: { width_mm: 12, layers: word } };
  },
  point: (brief, word) => {
    brief.finish = { band: { width_mm: 12, point: word } };
  },
  readings_at: (brief, word) => {
    brief.neckline.readings_at = word;
  },
  outline: (brief, word) => {
    brief.neckline.front.outline = { [word]: Object.values(brief.neckline.front.outline)[0] };
  },
  shape: (brief, word) => {
    Object.values(brief.neckline.front.outline)[0].shape = { kind: word };
  },
  centre: (brief, word) => {
    brief.neckline.front.centre = word;
  },
  'centre as an object': (brief, word) => {
    brief.neckline.back.centre = { [word]: { allowance_mm: 5 } };
  },
  crosswise: (brief, word) => {
    brief.garment_knit.crosswise = { [word]: { stretch_percent: 50 } };
  },
  lengthwise: (brief, word) => {
    brief.garment_knit.lengthwise = { [word]: { rest_mm: 100 } };
  },
  strip_direction: (brief, word) => {
    brief.strip_direction = word;
  },
  stitch: (brief, word) => {
    brief.stitch = word;
  },
  'stitch as an object': (brief, word) => {
    brief.stitch = { [word]: { width_mm: 2, advance_mm: 2 } };
  },
  girth: (brief, word) => {
    brief.head.girth = { [word]: 560 };
  },
  adult: (brief, word) => {
    brief.head.girth = { adult: word };
  },
  child: (brief, word) => {
    brief.head.girth = { child: { group: word, age_months: 12 } };
  },
  rounding: (brief, word) => {
    brief.rounding = word;
  },
  'an edge': (brief, word) => {
    brief.stays = { edges: [{ name: 'x', part: word, length_mm: 100, direction: word, allowance_mm: 5 }] };
  },
  record: (brief, word) => {
    brief.garment_knit.learned = [{ finish: word, held_line_mm: 600, strip_mm: 600, outcome: word }];
  },
};

// A name set by a computed key is the object's own, as JSON.parse makes it too.
async function changedBrief(change, word) {
  const brief = await worked('tape-v');
  change(brief, word);
  return JSON.parse(JSON.stringify(brief));
}

test('in any place of a brief that a link, an embed or this browser brings it is refused, and the page goes on', async () => {
  const context = await profile(site);
  const page = await opened(context, 'embed/frame.html');
  const element = page.locator('lieflat-neckline');
  await element.locator('.cut').waitFor();
  let tried = 0;
  for (const [place, change] of Object.entries(CHOICES)) {
    for (const word of ['constructor', '__proto__', 'toString', 'hasOwnProperty']) {
      let text;
      try {
        text = encodeBrief(await changedBrief(change, word));
      } catch {
        continue;
      }
      await element.evaluate((node, given) => {
        node.setAttribute('brief', given);
      }, text);
      await page.waitForFunction(() => {
        const root = document.querySelector('lieflat-neckline').shadowRoot;
        return root.querySelector('[role=alert], .cut');
      });
      await element
        .getByRole('alert')
        .waitFor({ timeout: 5000 })
        .catch(() => assert.fail(`${place}: ${word} is taken`));
      tried += 1;
    }
  }
  assert.ok(tried >= 60, `${tried} briefs`);
  assert.deepEqual(page.problems, []);

  for (const [place, change] of Object.entries(CHOICES)) {
    const brief = await changedBrief(change, 'constructor');
    const visit = await profile(site);
    await visit.addInitScript(
      (work) => {
        if (sessionStorage.getItem('seen')) return;
        sessionStorage.setItem('seen', 'yes');
        localStorage.setItem('lieflat.work', JSON.stringify(work));
        localStorage.setItem(`lieflat.last.${work.id}`, JSON.stringify({ ...work, changed: '2026-01-01T00:00:00.000Z' }));
      },
      { id: 'draft-of-junk', brief },
    );
    const held = await opened(visit);
    await held.waitForSelector('html.is-ready');
    await held.locator('#keep-panel > details').waitFor();
    await settled(held);
    assert.match(await held.locator('#cut-figure').innerText(), /\d/, place);
    assert.deepEqual(held.problems, [], place);
    await visit.close();
  }
  await context.close();
});
