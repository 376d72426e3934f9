// Whose a key is: what is pressed in a field, a list or a dialog is theirs, wherever on the page it stands.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { settled, start } from './harness.mjs';
import { isReady, unfold } from './keep-site.mjs';

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

async function changed() {
  const visit = await site.open('', { locale: 'en-GB', serviceWorkers: 'block' });
  const { page } = visit;
  await page.waitForSelector('html.is-ready');
  await page.locator('#keep-panel > details').waitFor();
  // Not typed: in a text field the browser takes back what was typed last, in whatever field that was.
  await page.evaluate(() => {
    const field = document.getElementById('band-width');
    field.value = '17';
    field.dispatchEvent(new Event('change', { bubbles: true }));
  });
  await page.locator('#undo:enabled').waitFor();
  await settled(page);
  return visit;
}

const width = (page) => page.inputValue('#band-width');

test('undo in any field, list or dialog leaves the neckline alone', async () => {
  const visit = await changed();
  const { page } = visit;
  for (const panel of ['sizes', 'keep', 'share', 'outcome']) await unfold(page, `${panel}-panel`);
  await page.locator('details').evaluateAll((all) => {
    for (const one of all) one.open = true;
  });
  // Shown once there is much to search.
  await page.locator('input[type=search]').evaluateAll((all) => {
    for (const one of all) one.closest('.field').hidden = false;
  });
  // What an extension or a later part of the page may bring.
  await page.evaluate(() => {
    const made = document.createElement('div');
    made.contentEditable = 'true';
    made.textContent = 'a note of one’s own';
    const host = document.createElement('div');
    host.attachShadow({ mode: 'open' }).append(document.createElement('input'));
    document.querySelector('.about').append(made, host);
  });
  const fields = page.locator(
    'input:not([type=radio], [type=checkbox], [type=hidden]):visible, textarea:visible, select:visible, [contenteditable]',
  );
  const count = await fields.count();
  assert.ok(count > 40, `${count} fields`);
  const kinds = new Set();
  for (let i = 0; i < count; i += 1) {
    const field = fields.nth(i);
    const kind = await field.evaluate((node) => `${node.tagName} ${node.type ?? ''}`);
    await field.focus();
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+Shift+z');
    kinds.add(kind);
    assert.ok(await page.locator('#undo').isEnabled(), `${kind}, the ${i + 1}th`);
    assert.ok(await page.locator('#redo').isDisabled(), `${kind}, the ${i + 1}th`);
  }
  for (const kind of ['INPUT text', 'INPUT search', 'INPUT file', 'TEXTAREA textarea', 'SELECT select-one', 'DIV '])
    assert.ok(kinds.has(kind), `${kind} among ${[...kinds].join(', ')}`);
  await page.locator('.about input').focus();
  await page.keyboard.press('Control+z');
  assert.equal(await width(page), '17', 'a field within a part of its own');

  await page.click('[data-ruler=garment]');
  for (const place of ['dialog button', 'dialog summary', '#ruler-scale', '#ruler-rest']) {
    await page.focus(place);
    await page.keyboard.press('Control+z');
  }
  // Nothing has the focus where a person pressed beside what can have it.
  await page.evaluate(() => document.activeElement.blur());
  await page.keyboard.press('Control+z');
  assert.equal(await width(page), '17', 'beneath a dialog');
  await page.keyboard.press('Escape');
  await page.focus('#finish-band');
  await page.keyboard.press('Control+z');
  await settled(page);
  assert.equal(await width(page), '15', 'and beside them it is the page’s');
  await visit.close();
});

test('undo waits while a line is dragged, and then takes the drag back', async () => {
  const visit = await changed();
  const { page } = visit;
  const { x, y, width: wide, height } = await page.getByRole('slider', { name: 'Front depth' }).boundingBox();
  await page.mouse.move(x + wide / 2, y + height / 2);
  await page.mouse.down();
  await page.mouse.move(x + wide / 2, y + height / 2 + 8, { steps: 4 });
  await page.locator('.draw-held').waitFor();
  await page.keyboard.press('Control+z');
  assert.equal(await width(page), '17', 'what came before stays while a line is held');
  await page.mouse.up();
  await settled(page);
  assert.notEqual(await page.inputValue('#front-depth'), '115');
  await page.keyboard.press('Control+z');
  await settled(page);
  assert.equal(await page.inputValue('#front-depth'), '115');
  assert.equal(await width(page), '17');
  await visit.close();
});

test('where no text is written, the browser takes back nothing that was typed elsewhere', async () => {
  const visit = await changed();
  const { page } = visit;
  await page.focus('#front-half-length');
  await page.keyboard.type('9');
  const typed = await page.inputValue('#front-half-length');
  await page.click('[data-ruler=garment]');
  await page.locator('dialog button').first().focus();
  await page.keyboard.press('Control+z');
  assert.equal(await page.inputValue('#front-half-length'), typed, 'behind a dialog');
  await page.keyboard.press('Escape');
  await page.focus('#head');
  await page.keyboard.press('Control+z');
  assert.equal(await page.inputValue('#front-half-length'), typed, 'in a list');
  await visit.close();
});

test('the drawing’s own keys are none with Control, Meta or Alt', async () => {
  const visit = await changed();
  const { page } = visit;
  await page.check('#front-way-drawn', { force: true });
  await settled(page);
  const path = () => page.inputValue('#front-path');
  const points = page.locator('.draw-half').first().locator('.draw-point');
  const before = await path();
  for (const modifier of ['Control', 'Meta', 'Alt']) {
    for (const key of ['a', 's', 'Insert', 'Delete', 'Backspace', 'ArrowLeft', 'ArrowUp', 'PageDown']) {
      await points.nth(1).focus();
      // As the page hears it: what the browser itself would do with the key is not wanted here.
      const stopped = await points.nth(1).evaluate(
        (node, [name, held]) => {
          const event = new KeyboardEvent('keydown', {
            key: name,
            bubbles: true,
            cancelable: true,
            ctrlKey: held === 'Control',
            metaKey: held === 'Meta',
            altKey: held === 'Alt',
          });
          return !node.dispatchEvent(event);
        },
        [key, modifier],
      );
      assert.equal(stopped, false, `${modifier}+${key} is left to the browser`);
      await settled(page);
      assert.equal(await path(), before, `${modifier}+${key} changes nothing`);
    }
  }
  await page.click('[data-ruler=garment]');
  const scale = page.locator('#ruler-scale');
  const was = await scale.inputValue();
  const stopped = await scale.evaluate(
    (node) => !node.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowLeft', altKey: true, bubbles: true, cancelable: true })),
  );
  assert.equal(stopped, false, 'Alt and left is the browser’s way back');
  assert.equal(await scale.inputValue(), was);
  await visit.close();
});

test('a million letters pasted into any kind of field do not stop the page', async () => {
  const visit = await changed();
  const { page } = visit;
  for (const panel of ['sizes', 'keep', 'share']) await unfold(page, `${panel}-panel`);
  await page.locator('details').evaluateAll((all) => {
    for (const one of all) one.open = true;
  });
  await page.locator('.edges > button').click();
  for (const [id, text] of [
    ['edge0-name', 'x'],
    ['edge0-length', '120'],
  ]) {
    await page.fill(`#${id}`, text);
    await page.locator(`#${id}`).blur();
  }
  await settled(page);
  // As a paste does it; Hebrew is laid out the slowest.
  const paste = (id, text) =>
    page.evaluate(
      ([name, given]) => {
        const field = document.getElementById(name);
        field.value = given;
        for (const event of ['input', 'change']) field.dispatchEvent(new Event(event, { bubbles: true }));
      },
      [id, text],
    );
  for (const letter of ['W', 'א', '😀']) {
    for (const id of ['title', 'garment-name', 'edge0-name', 'front-half-length', 'garment-crosswise-stretched']) {
      const before = await page.inputValue(`#${id}`);
      await paste(id, letter.repeat(1_000_000 / letter.length));
      await settled(page);
      assert.equal((await page.inputValue(`#${id}`)).length, 1_000_000, 'what was pasted stays');
      // What the page itself lays out is a small part of it: in other places than the field no more than can be read.
      const longest = await page.evaluate(() => {
        const texts = [...document.querySelectorAll('body *')].flatMap((node) =>
          [...node.childNodes]
            .filter((one) => one.nodeType === Node.TEXT_NODE)
            .map((one) => one.data.length)
            .concat(node.getAttribute('aria-label')?.length ?? 0),
        );
        return Math.max(...texts.filter((length) => length > 0));
      });
      assert.ok(longest < 20_000, `${id}: ${longest} letters in one text`);
      await paste(id, before);
      await settled(page);
    }
  }
  assert.equal(await page.locator('#problems').isVisible(), false);
  await visit.close();
});

test('undo takes back what was said of the step too', async () => {
  const visit = await changed();
  const { page } = visit;
  await page.getByRole('slider', { name: 'Front depth' }).focus();
  await page.keyboard.press('ArrowDown');
  await settled(page);
  assert.match(await page.locator('.draw-readout').textContent(), /^Front depth: 116\smm$/);
  await page.click('#undo');
  await settled(page);
  assert.equal(await page.locator('.draw-readout').textContent(), '', 'it is 115 mm again');
  await visit.close();
  const other = await site.open();
  await isReady(other.page);
  await other.page.evaluate(() => document.getElementById('unit-in').click());
  await other.page.locator('#usual').waitFor();
  await other.page.click('#undo');
  await settled(other.page);
  assert.equal(await other.page.locator('#usual').count(), 0, 'the example is the metric one again');
  await other.close();
});
