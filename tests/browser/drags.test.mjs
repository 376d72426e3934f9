// A line in the hand while the world goes on: more fingers than one, an end that the page never hears of, a window that
// changes its size, paper, and changes from elsewhere. A drag is one step or none, and the page is whole afterwards.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { painted, quiet, settled, start } from './harness.mjs';

let site;
before(async () => {
  site = await start();
});
after(() => site?.close());

async function opened(options = {}) {
  const visit = await site.open('', { locale: 'en-GB', serviceWorkers: 'block', ...options });
  const { page } = visit;
  await page.waitForSelector('html.is-ready');
  await page.locator('#keep-panel > details').waitFor();
  await settled(page);
  return visit;
}

const depth = (page) => page.inputValue('#front-depth');
const figure = (page) => page.locator('#cut-figure').innerText();

/** Takes a handle with the mouse and moves it down by some px; gives where it was taken. */
async function grasp(page, name, by) {
  const { x, y, width, height } = await page.getByRole('slider', { name }).boundingBox();
  const at = [x + width / 2, y + height / 2];
  await page.mouse.move(...at);
  await page.mouse.down();
  await page.mouse.move(at[0], at[1] + by, { steps: 3 });
  await page.locator('.draw-held').waitFor();
  return at;
}

/** Nothing is held, what the figure says is what the form says, and a plain change is planned as on a fresh page. */
async function isWhole(page, visit) {
  await settled(page);
  assert.equal(await page.locator('.draw-held').count(), 0, 'nothing is held');
  await page.evaluate(() => {
    const field = document.getElementById('band-width');
    field.value = '19';
    field.dispatchEvent(new Event('change', { bubbles: true }));
  });
  await page.waitForFunction(() => /× 61/.test(document.getElementById('cut-figure').innerText));
  assert.deepEqual(visit.pageErrors.concat(visit.consoleErrors), []);
  await visit.close();
}

/** Fingers on handles, as a touch screen sends them; the driver has but one. */
const touches = (page, list) =>
  page.evaluate((events) => {
    const nodes = [...document.querySelectorAll('[role=slider], .draw-point')];
    for (const [index, type, id, x, y] of events) {
      const node = nodes[index];
      // There is no such finger that the browser could catch.
      Object.assign(node, { setPointerCapture() {}, hasPointerCapture: () => false });
      node.dispatchEvent(
        new PointerEvent(type, {
          pointerId: id,
          pointerType: 'touch',
          clientX: x,
          clientY: y,
          button: 0,
          buttons: 1,
          bubbles: true,
          cancelable: true,
        }),
      );
    }
  }, list);

for (const end of ['pointerup', 'pointercancel', 'lostpointercapture']) {
  for (const way of ['measured', 'drafted', 'drawn']) {
    test(`of two fingers on two handles the first has it (${way}, ${end})`, async () => {
      const visit = await opened();
      const { page } = visit;
      await page.check(`#front-way-${way}`, { force: true });
      await settled(page);
      const steps = await page.locator('#undo').isEnabled();
      const before = await figure(page);
      await touches(page, [
        [0, 'pointerdown', 11, 100, 100],
        [1, 'pointerdown', 12, 200, 200],
        [0, 'pointermove', 11, 100, 104],
        [1, 'pointermove', 12, 200, 230],
        [1, 'pointerup', 12, 200, 230],
        [0, 'pointermove', 11, 103, 108],
        [0, end, 11, 103, 108],
      ]);
      await settled(page);
      if (end === 'pointercancel') assert.equal(await figure(page), before);
      assert.equal(await page.locator('#undo').isEnabled(), steps || end !== 'pointercancel');
      await isWhole(page, visit);
    });
  }
}

test('a drag far out of the window and back ends where the finger is, in one step', async () => {
  const visit = await opened();
  const { page } = visit;
  const [x, y] = await grasp(page, 'Front depth', 5);
  for (const [far, down] of [
    [x, -9000],
    [20000, 20000],
    [-20000, y],
    [x, y + 3],
  ])
    await page.mouse.move(far, down, { steps: 25 });
  await page.mouse.up();
  await settled(page);
  assert.ok(Math.abs(Number(await depth(page)) - 115) < 8, await depth(page));
  await page.click('#undo');
  // One step: the button follows the plan.
  await page.locator('#undo:disabled').waitFor();
  assert.equal(await depth(page), '115');
  await isWhole(page, visit);
});

test('let go where the page cannot hear it, a line is no longer held when the mouse comes back', async () => {
  const visit = await opened();
  const { page } = visit;
  const [x, y] = await grasp(page, 'Front depth', 6);
  // What a mouse sends that was let go over a menu of the system.
  await page.evaluate(
    ([cx, cy]) => {
      document
        .querySelector('.draw-held')
        .dispatchEvent(
          new PointerEvent('pointermove', { pointerId: 1, pointerType: 'mouse', buttons: 0, clientX: cx, clientY: cy + 60, bubbles: true }),
        );
    },
    [x, y],
  );
  await page.locator('#undo:enabled').waitFor();
  const held = await depth(page);
  assert.ok(Number(held) > 115 && Number(held) < 130, held);
  await page.mouse.move(x, y + 80, { steps: 3 });
  await page.mouse.up();
  assert.equal(await depth(page), held);
  // The same for the whole drawing.
  const place = () => page.locator('.draw-world').getAttribute('transform');
  await page.locator('.draw-canvas').evaluate((canvas) => {
    const send = (type, clientX, buttons) =>
      canvas.dispatchEvent(
        new PointerEvent(type, { pointerId: 1, pointerType: 'mouse', button: 0, buttons, clientX, clientY: 300, bubbles: true }),
      );
    canvas.setPointerCapture = () => {};
    send('pointerdown', 300, 1);
    send('pointermove', 330, 1);
  });
  await page.waitForFunction(() => document.querySelector('.draw-panning'));
  await page.evaluate(
    () =>
      new Promise((resolve) => {
        requestAnimationFrame(() => requestAnimationFrame(resolve));
      }),
  );
  const moved = await place();
  await page.locator('.draw-canvas').evaluate((canvas) => {
    for (const x2 of [360, 400])
      canvas.dispatchEvent(
        new PointerEvent('pointermove', { pointerId: 1, pointerType: 'mouse', buttons: 0, clientX: x2, clientY: 300, bubbles: true }),
      );
  });
  await page.evaluate(
    () =>
      new Promise((resolve) => {
        requestAnimationFrame(() => requestAnimationFrame(resolve));
      }),
  );
  assert.equal(await place(), moved);
  assert.equal(await page.locator('.draw-panning').count(), 0);
  await isWhole(page, visit);
});

test('the right and the middle button take hold of nothing', async () => {
  const visit = await opened();
  const { page } = visit;
  for (const button of ['right', 'middle']) {
    const { x, y, width, height } = await page.getByRole('slider', { name: 'Front depth' }).boundingBox();
    await page.mouse.move(x + width / 2, y + height / 2);
    await page.mouse.down({ button });
    await page.mouse.move(x + width / 2, y + height / 2 + 30, { steps: 3 });
    await page.mouse.up({ button });
    assert.equal(await depth(page), '115', button);
  }
  assert.ok(await page.locator('#undo').isDisabled());
  await isWhole(page, visit);
});

for (const way of ['measured', 'drafted', 'drawn']) {
  test(`a window that changes its size moves nothing that is held (${way})`, async () => {
    const visit = await opened();
    const { page } = visit;
    await page.check(`#front-way-${way}`, { force: true });
    await settled(page);
    const node = page.locator(way === 'drawn' ? '.draw-point' : '[role=slider]').first();
    const { x, y, width, height } = await node.boundingBox();
    await page.mouse.move(x + width / 2, y + height / 2);
    await page.mouse.down();
    await page.mouse.move(x + width / 2, y + height / 2 + 4, { steps: 3 });
    await page.locator('.draw-held').waitFor();
    const said = () => page.locator('.draw-readout').innerText();
    const values = async () =>
      (await said())
        .match(/-?\d+(?:\.\d+)?/g)
        .map(Number)
        .slice(-2);
    const before = await values();
    for (const [wide, high] of [
      [700, 600],
      [1280, 500],
      [390, 844],
    ]) {
      const stage = () =>
        page.locator('.draw-canvas').evaluate((canvas) => `${canvas.getAttribute('width')} ${canvas.getAttribute('height')}`);
      const was = await stage();
      await page.setViewportSize({ width: wide, height: high });
      await page.waitForFunction((old) => {
        const canvas = document.querySelector('.draw-canvas');
        return `${canvas.getAttribute('width')} ${canvas.getAttribute('height')}` !== old;
      }, was);
      await page.mouse.move(x + width / 2 + 1, y + height / 2 + 4);
      await page.mouse.move(x + width / 2, y + height / 2 + 4);
      const now = await values();
      for (const [i, value] of now.entries()) assert.ok(Math.abs(value - before[i]) <= 4, `${wide} × ${high}: ${before} and then ${now}`);
    }
    await page.mouse.up();
    await isWhole(page, visit);
  });
}

test('on paper a drag has come to its end: the figure has its ranges, and one step', async () => {
  const visit = await opened();
  const { page } = visit;
  await grasp(page, 'Front depth', 6);
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
  assert.match(await page.locator('#ticket').innerText(), /Length: between \d+\smm and \d+\smm/);
  assert.equal(await page.locator('.draw-held').count(), 0);
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  const printed = await depth(page);
  await page.mouse.move(400, 500, { steps: 3 });
  await page.mouse.up();
  assert.equal(await depth(page), printed, 'and goes no further');
  await page.click('#undo');
  assert.equal(await depth(page), '115');
  await isWhole(page, visit);
});

/** What may change the brief while a finger holds a line: another finger, a reader’s own commands, another part of the page. */
const ELSEWHERE = {
  'another finish': [
    (page) => page.evaluate(() => document.getElementById('finish-facing').click()),
    async (page) => {
      assert.ok(await page.isChecked('#finish-facing'));
      assert.match(await page.locator('#ticket').innerText(), /facing/);
      await page.evaluate(() => document.getElementById('finish-band').click());
    },
  ],
  'another way of telling': [
    (page) => page.evaluate(() => document.getElementById('front-way-drawn').click()),
    async (page) => assert.ok(await page.isChecked('#front-way-drawn')),
  ],
  'a reading': [
    (page) =>
      page.evaluate(() => {
        const field = document.getElementById('back-half-length');
        field.value = '112';
        field.dispatchEvent(new Event('change', { bubbles: true }));
      }),
    async (page) => assert.equal(await page.inputValue('#back-half-length'), '112'),
  ],
};

for (const [what, [act, check]] of Object.entries(ELSEWHERE)) {
  test(`${what} from elsewhere goes before what is held`, async () => {
    const visit = await opened();
    const { page } = visit;
    const [x, y] = await grasp(page, 'Front depth', 6);
    await act(page);
    await settled(page);
    await page.mouse.move(x, y + 20, { steps: 4 });
    await page.mouse.up();
    await settled(page);
    await check(page);
    await isWhole(page, visit);
  });
}

test('unit and language may change under the finger', async () => {
  const visit = await opened();
  const { page } = visit;
  const [x, y] = await grasp(page, 'Front depth', 6);
  await page.evaluate(() => {
    for (const unit of ['in', 'cm', 'in', 'mm', 'cm']) document.getElementById(`unit-${unit}`).click();
    for (const code of ['es', 'en', 'es']) {
      const list = document.getElementById('language');
      list.value = code;
      list.dispatchEvent(new Event('change'));
    }
  });
  await page.waitForSelector('html[lang=es]');
  await page.mouse.move(x, y + 9, { steps: 3 });
  // The readout follows a frame after the finger.
  await page.waitForFunction(() => /^Prof.*\d,?\d*\scm$/.test(document.querySelector('.draw-readout').innerText));
  await page.mouse.up();
  await page.click('#undo');
  assert.equal(await depth(page), '11,5');
  await page.evaluate(() => document.getElementById('unit-mm').click());
  await isWhole(page, visit);
});

const PLACES = [
  ['on a phone', { viewport: { width: 390, height: 844 }, hasTouch: true }],
  ['on a desk', { viewport: { width: 1280, height: 800 } }],
];

for (const [where, options] of PLACES) {
  test(`where the finger rests ticket, bar and drawing tell the same plan (${where})`, async () => {
    const visit = await opened(options);
    const { page } = visit;
    await page.getByRole('slider', { name: 'Front depth' }).scrollIntoViewIfNeeded();
    const [x, y] = await grasp(page, 'Front depth', 4);
    for (const by of [8, 13, 17, 22]) {
      await page.mouse.move(x, y + by);
      const depth = await page.getByRole('slider', { name: 'Front depth' }).getAttribute('aria-valuetext');
      // Each names it, the drawing over the strip: “Strip, cut 453 mm × 53 mm”.
      await page.waitForFunction(
        (told) => {
          const plain = (text) => text.replace(/\s+/g, ' ');
          const figure = plain(document.getElementById('cut-figure').innerText);
          const drawn = [...document.querySelectorAll('.draw-title')].map((text) => plain(text.textContent));
          const bar = document.getElementById('bar');
          return (
            plain(document.querySelector('.draw-readout').innerText).includes(plain(told)) &&
            drawn.some((text) => text.includes(figure)) &&
            (bar.hidden || plain(bar.innerText).includes(figure))
          );
        },
        depth,
        { timeout: 5000 },
      );
      assert.equal(await page.locator('.draw-held').count(), 1, 'it is held still');
    }
    assert.equal(await page.locator('#bar').isVisible(), where === 'on a phone', 'the ticket is out of sight on a phone alone');
    await page.mouse.up();
    await isWhole(page, visit);
  });
}

/** The names on the drawing, and where each stands. */
const names = (page) =>
  page.evaluate(() =>
    [...document.querySelectorAll('.draw-overlay text')].map((text) => `${text.textContent} ${JSON.stringify(text.getCTM())}`),
  );

for (const [where, options] of PLACES) {
  test(`where the finger rests each name stands where it stands once it is let go (${where})`, async () => {
    const visit = await opened(options);
    const { page } = visit;
    await page.getByRole('slider', { name: 'Front depth' }).scrollIntoViewIfNeeded();
    const before = await names(page);
    const [x, y] = await grasp(page, 'Front depth', 4);
    for (let by = 5; by <= 24; by += 1) await page.mouse.move(x, y + by);
    await page.waitForFunction(() => document.querySelector('#ticket .range')?.textContent.includes('let go'));
    await quiet(page, 1000);
    await painted(page);
    assert.equal(await page.locator('.draw-held').count(), 1, 'it is held still');
    const resting = await names(page);
    await page.mouse.up();
    await settled(page);
    assert.deepEqual(resting, await names(page));
    assert.notDeepEqual(resting, before, 'and that is elsewhere than before');
    await isWhole(page, visit);
  });

  test(`the figure follows a finger in each frame, the names within ten (${where})`, async () => {
    const visit = await opened(options);
    const { page } = visit;
    await page.getByRole('slider', { name: 'Front depth' }).scrollIntoViewIfNeeded();
    const [x, y] = await grasp(page, 'Front depth', 4);
    const seen = await page.evaluate(
      async ([clientX, clientY]) => {
        const handle = document.querySelector('.draw-held');
        const plain = (text) => text.replace(/\s+/g, ' ');
        const frames = [];
        for (let i = 0; i < 40; i += 1) {
          handle.dispatchEvent(
            new PointerEvent('pointermove', {
              pointerId: 1,
              pointerType: 'mouse',
              buttons: 1,
              clientX,
              clientY: clientY + (i % 20),
              bubbles: true,
            }),
          );
          await new Promise((resolve) => {
            requestAnimationFrame(() => setTimeout(resolve));
          });
          frames.push({
            figure: plain(document.getElementById('cut-figure').innerText),
            title: plain([...document.querySelectorAll('.draw-title')].map((text) => text.textContent).join()),
          });
        }
        return frames;
      },
      [x, y + 4],
    );
    const figures = seen.map(({ figure: one }) => one);
    assert.deepEqual(figures.slice(21), figures.slice(1, 20), 'the same place of the finger is told by the same figure at once');
    assert.ok(new Set(figures).size > 8, `${figures}`);
    for (const [i, { title }] of seen.entries())
      if (i > 10)
        assert.ok(
          figures.slice(i - 10, i + 1).some((one) => title.includes(one)),
          `${title} at ${i} of ${figures}`,
        );
    await page.mouse.up();
    await isWhole(page, visit);
  });
}

for (const [where, options] of PLACES) {
  test(`what stands below stays where it is while a line is dragged (${where})`, async () => {
    const visit = await opened(options);
    const { page } = visit;
    const place = () =>
      page.evaluate(() => {
        const top = (id) => document.getElementById(id).getBoundingClientRect().top + scrollY;
        return ['stage-tools', 'brief', 'answers'].map(top);
      });
    await page.getByRole('slider', { name: 'Front depth' }).scrollIntoViewIfNeeded();
    const before = await place();
    const [x, y] = await grasp(page, 'Front depth', 4);
    await page.waitForFunction(() => /let go/.test(document.getElementById('ticket').innerText));
    for (const by of [6, 7, 8]) {
      await page.mouse.move(x, y + by);
      await painted(page);
      assert.deepEqual(await place(), before);
    }
    // What grows is not cut off, nor laid over what stands below.
    // (By its height: what is put into it goes when the plan at rest is written.)
    await page.evaluate(() => {
      document.getElementById('ticket').style.minHeight = '50rem';
    });
    await page.waitForFunction(() => {
      const held = document.getElementById('ticket-place');
      return held.scrollHeight <= held.clientHeight && held.clientHeight > 700;
    });
    await page.mouse.up();
    await settled(page);
    assert.equal(await page.locator('#ticket-place').getAttribute('style'), '');
    await isWhole(page, visit);
  });
}
