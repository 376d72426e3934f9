// The live drawing in Chromium, alone on its host page: node --test tests/browser/drawing.test.mjs

import assert from 'node:assert/strict';
import { createRequire } from 'node:module';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { briefOf, planOf } from '../page/planner.mjs';
import { startSite } from './drawing-site.mjs';
import { quiet, until } from './harness.mjs';

/** Longer than the drawing's pause before it is told in words (`web/page/drawing/drawing.js`), ms. */
const DESCRIBED = 400;
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
const axe = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

let site;
before(async () => {
  site = await startSite();
});
after(() => site?.close());

const edits = (page) => page.evaluate(() => window.host.edits.map(({ phase, label, cancelled }) => ({ phase, label, cancelled })));
const lastBrief = (page) => page.evaluate(() => window.host.edits.at(-1)?.brief);
const settled = (page) =>
  page.evaluate(async () => {
    await window.host.last;
    await new Promise(requestAnimationFrame);
    await new Promise(requestAnimationFrame);
  });
const scale = (page) => page.evaluate(() => document.querySelector('.draw-world').transform.baseVal[0].matrix.a);
const slider = (page, name) => page.getByRole('slider', { name, exact: true });
const centre = async (locator) => {
  const box = await locator.boundingBox();
  return [box.x + box.width / 2, box.y + box.height / 2];
};

async function drag(page, locator, dx, dy) {
  const [x, y] = await centre(locator);
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let i = 1; i <= 4; i += 1) await page.mouse.move(x + (dx * i) / 4, y + (dy * i) / 4);
  return [x + dx, y + dy];
}

test('is drawn to one true scale, strip and neckline alike', async () => {
  const visit = await site.open('brief=band-round');
  const { page } = visit;
  const measure = () =>
    page.evaluate(() => {
      const of = (selector) => document.querySelector(selector).getBoundingClientRect();
      const plan = window.host.plan;
      return {
        k: document.querySelector('.draw-world').transform.baseVal[0].matrix.a,
        strip: of('.draw-strip').width,
        tall: of('.draw-strip').height,
        cutLength: plan.strip.cut_length.exact_mm,
        cutWidth: plan.strip.cut_width.cut_mm,
        // The seam line, front and back, both sides: from the plan's points, not from the drawing.
        wide: Math.max(...[...document.querySelectorAll('.draw-layer-lines .draw-seam')].map((node) => node.getBoundingClientRect().width)),
        seam: 2 * Math.max(...[plan.seam_line.front, plan.seam_line.back].flatMap((half) => half.seam_line.map(([x]) => x))),
      };
    });
  for (let i = 0; i < 3; i += 1) {
    const m = await measure();
    assert.ok(Math.abs(m.strip / m.k - m.cutLength) < 0.05, `${m.strip / m.k} mm for ${m.cutLength}`);
    assert.ok(Math.abs(m.tall / m.k - m.cutWidth) < 0.05, `${m.tall / m.k} mm for ${m.cutWidth}`);
    assert.ok(Math.abs(m.wide / m.k - m.seam) < 0.05, `${m.wide / m.k} mm for ${m.seam}`);
    await page.getByRole('button', { name: 'Zoom in' }).click();
    await settled(page);
  }
  await visit.close();
});

for (const [language, said] of [
  ['en', /^drawn at (\d+) % of the neckline’s scale$/],
  ['es', /^a escala propia: el (\d+) % de la del escote$/],
])
  for (const brief of ['band-round', 'tape-v', 'facing-scoop'])
    test(`on a phone the neckline takes the width, what lies beneath has a scale of its own and says so (${brief}, ${language})`, async () => {
      const visit = await site.open(`brief=${brief}&language=${language}`, phone);
      const seen = await visit.page.evaluate(() => {
        const of = (selector) => [...document.querySelectorAll(selector)].map((node) => node.getBoundingClientRect());
        const { plan } = window.host;
        const shoulders = of('.draw-shoulder');
        const pieces =
          plan.facing && [...document.querySelectorAll('.draw-layer-facing path.draw-cut')].map((node) => node.getBBox().width);
        return {
          k: document.querySelector('.draw-world').transform.baseVal[0].matrix.a,
          texts: [...document.querySelectorAll('.draw-overlay text')].map((node) => node.textContent),
          stage: document.querySelector('.draw-stage').clientWidth,
          wide: Math.max(...shoulders.map(({ right }) => right)) - Math.min(...shoulders.map(({ left }) => left)),
          rulers: document.querySelectorAll('.draw-ruler').length,
          seam: Math.max(...[...document.querySelectorAll('.draw-layer-lines .draw-seam')].map((node) => node.getBBox().width)),
          trueSeam: 2 * Math.max(...[plan.seam_line.front, plan.seam_line.back].flatMap((half) => half.seam_line.map(([x]) => x))),
          beneath: pieces ?? [document.querySelector('.draw-strip').getBBox().width],
          truly: plan.facing
            ? ['front', 'back'].map((half) => Math.max(...plan.facing[half].cut_outline.map(([x]) => x)) * 2)
            : [plan.strip.cut_length.exact_mm * (plan.strip.pieces ?? 1)],
        };
      });
      const percents = seen.texts.map((text) => said.exec(text)?.[1]).filter(Boolean);
      assert.equal(percents.length, 1, seen.texts.join(' | '));
      // With a facing's depth and its pieces the stage's height may be the limit.
      assert.ok(seen.wide > (brief === 'facing-scoop' ? 0.8 : 0.88) * seen.stage, `${seen.wide} px of ${seen.stage}`);
      assert.equal(seen.rulers, 0);
      assert.ok(Math.abs(seen.seam - seen.trueSeam) < 0.05, 'the neckline is to the scale that the bar says');
      for (const [i, width] of seen.beneath.entries())
        assert.ok(
          Math.abs(width - (seen.truly[i] * Number(percents[0])) / 100) < 0.3,
          `${width} mm drawn for ${seen.truly[i]} at ${percents[0]} %`,
        );
      await visit.close();
    });

test('the ruler and the scale bar follow the zoom', async () => {
  const visit = await site.open('brief=band-round');
  const { page } = visit;
  const bar = () =>
    page.evaluate(() => {
      const path = document.querySelector('.draw-bar-line').getBoundingClientRect();
      return { px: path.width, mm: Number.parseFloat(document.querySelector('.draw-bar-line + text').textContent) };
    });
  for (const factor of [1, 1, 1]) {
    const { px, mm } = await bar();
    assert.ok(Math.abs(px / mm - (await scale(page))) < 0.02 * factor, `${px} px for ${mm} mm`);
    await page.getByRole('button', { name: 'Zoom out' }).click();
    await settled(page);
  }
  await page.evaluate(() => window.host.drawing.setUnit('in'));
  await page.getByRole('button', { name: 'Show all' }).click();
  for (let i = 0; i < 4; i += 1) await page.getByRole('button', { name: 'Zoom in' }).click();
  await settled(page);
  const figures = await page.locator('.draw-ruler-text').allTextContents();
  assert.ok(figures.some((text) => /^\d+( \d+\/\d+)?$/.test(text)) && figures.includes('in'), figures.join(' '));
  await visit.close();
});

test('a mouse drags the front depth, a frame at a time, and commits once', async () => {
  const visit = await site.open('brief=facing-scoop');
  const { page } = visit;
  const depth = slider(page, 'Front depth');
  const k = await scale(page);
  const [x, y] = await drag(page, depth, 0, 40);
  await settled(page);
  const [hx, hy] = await centre(depth);
  assert.ok(Math.abs(hx - x) < 2 && Math.abs(hy - y) < 1.5 * k + 2, 'the handle is under the mouse');
  await page.mouse.up();
  await settled(page);
  const told = await edits(page);
  assert.equal(told.filter(({ phase }) => phase === 'commit').length, 1);
  assert.equal(told.at(-1).phase, 'commit');
  assert.match(told.at(-1).label, /^Front depth: [12]\d\d mm$/);
  const before = (await briefOf('facing-scoop')).neckline.front.outline.drafted.depth_mm;
  const now = (await lastBrief(page)).neckline.front.outline.drafted.depth_mm;
  assert.ok(Math.abs(now - before - 40 / k) <= 1, `${before} to ${now}`);
  await visit.close();
});

test('a frame hears of a drag at most once', async () => {
  const visit = await site.open('brief=facing-scoop');
  const { page } = visit;
  const counts = await page.evaluate(async () => {
    const node = document.querySelector('[role=slider]');
    const { left, top } = node.getBoundingClientRect();
    const send = (type, x, y) =>
      node.dispatchEvent(new PointerEvent(type, { pointerId: 1, clientX: x, clientY: y, button: 0, bubbles: true }));
    node.setPointerCapture = () => {};
    const [x, y] = [left + 15, top + 15];
    send('pointerdown', x, y);
    const list = [];
    for (let frame = 0; frame < 5; frame += 1) {
      const before = window.host.edits.length;
      for (let i = 1; i <= 10; i += 1) send('pointermove', x + frame * 20 + i * 2, y);
      await new Promise((resolve) => {
        requestAnimationFrame(() => requestAnimationFrame(resolve));
      });
      list.push(window.host.edits.length - before);
    }
    send('pointerup', x, y);
    return list;
  });
  assert.deepEqual(counts, [1, 1, 1, 1, 1]);
  await visit.close();
});

test('Escape takes a drag back', async () => {
  const visit = await site.open('brief=facing-scoop');
  const { page } = visit;
  await drag(page, slider(page, 'Back half width'), 30, 0);
  await settled(page);
  await page.keyboard.press('Escape');
  await page.mouse.up();
  await settled(page);
  const told = await edits(page);
  assert.ok(!told.some(({ phase }) => phase === 'commit'), 'nothing was committed');
  assert.equal(told.at(-1).cancelled, true);
  assert.deepEqual(await lastBrief(page), await briefOf('facing-scoop'));
  await visit.close();
});

test('a finger drags a handle and the page does not scroll', async () => {
  const visit = await site.open('brief=facing-scoop&view=half', phone);
  const { page, context } = visit;
  const [x, y] = await centre(slider(page, 'Front depth'));
  const client = await context.newCDPSession(page);
  const touch = (type, points) => client.send('Input.dispatchTouchEvent', { type, touchPoints: points });
  await touch('touchStart', [{ x, y }]);
  for (let i = 1; i <= 5; i += 1) await touch('touchMove', [{ x, y: y - i * 8 }]);
  await touch('touchEnd', []);
  await settled(page);
  const told = await edits(page);
  assert.equal(told.at(-1)?.phase, 'commit');
  assert.ok((await lastBrief(page)).neckline.front.outline.drafted.depth_mm < 150);
  assert.equal(await page.evaluate(() => window.scrollY), 0);
  const size = await slider(page, 'Front depth').boundingBox();
  assert.ok(size.width >= 44 && size.height >= 44, 'room for a thumb');
  await visit.close();
});

test('two fingers zoom the drawing', async () => {
  const visit = await site.open('brief=band-round&view=half', phone);
  const { page, context } = visit;
  const before = await scale(page);
  const client = await context.newCDPSession(page);
  const touch = (type, points) => client.send('Input.dispatchTouchEvent', { type, touchPoints: points });
  const { x, y, width, height } = await page.locator('.draw-canvas').boundingBox();
  const [cx, cy] = [x + width / 2, y + height * 0.75];
  const pair = (gap) => [
    { x: cx - gap, y: cy, id: 0 },
    { x: cx + gap, y: cy, id: 1 },
  ];
  await touch('touchStart', pair(30));
  for (let gap = 35; gap <= 60; gap += 5) await touch('touchMove', pair(gap));
  await touch('touchEnd', []);
  await settled(page);
  const grown = (await scale(page)) / before;
  assert.ok(grown > 1.7 && grown < 2.3, `grown ${grown} times`);
  assert.equal(await page.evaluate(() => window.visualViewport.scale), 1, 'the page itself is not zoomed');
  await visit.close();
});

test('keys move a handle; holding one down is one change', async () => {
  const visit = await site.open('brief=facing-scoop');
  const { page } = visit;
  const depth = slider(page, 'Front depth');
  await depth.focus();
  assert.equal(await depth.getAttribute('aria-valuetext'), '150 mm');
  await page.keyboard.press('ArrowDown');
  await settled(page);
  assert.equal(await depth.getAttribute('aria-valuetext'), '151 mm');
  await page.keyboard.press('Shift+ArrowUp');
  await settled(page);
  assert.equal(await depth.getAttribute('aria-valuetext'), '141 mm');
  await page.keyboard.press('PageDown');
  await settled(page);
  assert.equal(await depth.getAttribute('aria-valuetext'), '151 mm');
  await page.keyboard.down('ArrowRight');
  await page.keyboard.down('ArrowRight');
  await page.keyboard.down('ArrowRight');
  await page.keyboard.up('ArrowRight');
  await settled(page);
  assert.equal(await depth.getAttribute('aria-valuetext'), '154 mm');
  assert.equal((await edits(page)).filter(({ phase }) => phase === 'commit').length, 4);
  await page.evaluate(() => window.host.drawing.setUnit('in'));
  await page.keyboard.press('ArrowRight');
  await settled(page);
  assert.match(await depth.getAttribute('aria-valuetext'), /^6 1\/8 in$/);
  await visit.close();
});

test('points that lie over each other can be told apart, and each is moved by itself', async () => {
  const visit = await site.open('brief=band-sweetheart');
  const { page } = visit;
  await page.locator('.draw-point').first().waitFor();
  // Both halves drawn: they meet at the neck point, which is a point of each.
  await page.evaluate(() => {
    const { brief } = window.host;
    const { front } = brief.neckline;
    const end = front.outline.drawn.path_mm
      .trim()
      .split(/[\s,]+/)
      .slice(-2);
    const back = { ...brief.neckline.back, outline: { drawn: { path_mm: `M 0 60 L ${end[0]} ${end[1]}` } } };
    return window.host.set({ ...brief, neckline: { ...brief.neckline, back } });
  });
  await page.waitForFunction(() => document.querySelectorAll('.draw-half')[1]?.querySelector('.draw-point'));
  const places = () =>
    page.locator('.draw-point').evaluateAll((nodes) =>
      nodes.map((node) => {
        const { left, top, width, height } = node.getBoundingClientRect();
        const [x, y] = [left + width / 2, top + height / 2];
        const isIts = document.elementFromPoint(x, y) === node;
        return { x, y, isIts, name: node.getAttribute('aria-label') };
      }),
    );
  const all = await places();
  assert.ok(all.length > 3, `${all.length} points`);
  for (const [i, one] of all.entries()) {
    assert.ok(one.isIts, `${one.name} is met where it is shown`);
    for (const other of all.slice(i + 1)) {
      const apart = Math.hypot(one.x - other.x, one.y - other.y);
      assert.ok(apart >= 12, `${one.name} and ${other.name} are ${apart.toFixed(0)} px apart`);
    }
  }
  await visit.close();
});

test('a page key leads a handle the way of its arrow, Home and End to the ends of its range', async () => {
  const visit = await site.open('brief=facing-scoop');
  const { page } = visit;
  const value = (handle) => handle.getAttribute('aria-valuenow').then(Number);
  for (const name of ['Front depth', 'Front half width', 'Front fullness', 'Back depth']) {
    const handle = slider(page, name);
    if (!(await handle.count())) continue;
    await handle.focus();
    for (const [arrow, paged] of [
      ['ArrowUp', 'PageUp'],
      ['ArrowDown', 'PageDown'],
    ]) {
      const ways = [];
      for (const key of [arrow, paged]) {
        const before = await value(handle);
        await page.keyboard.press(key);
        await settled(page);
        ways.push(Math.sign((await value(handle)) - before));
      }
      assert.ok(ways[0] !== 0 && ways[0] === ways[1], `${name}: ${arrow} and ${paged} go ${ways}`);
    }
    for (const [key, end] of [
      ['Home', 'aria-valuemin'],
      ['End', 'aria-valuemax'],
    ]) {
      const wanted = Number(await handle.getAttribute(end));
      // While the key is held: what lies at an end is often refused, and is no more than shown then.
      await page.keyboard.down(key);
      await settled(page);
      assert.equal(await value(handle), wanted, `${name}: ${key}`);
      await page.keyboard.press('Escape');
      await page.keyboard.up(key);
      await settled(page);
    }
  }
  await visit.close();
});

test('a measured half has handles for its width and depth alone', async () => {
  const visit = await site.open('brief=band-round');
  const { page } = visit;
  assert.deepEqual(await page.getByRole('slider').evaluateAll((nodes) => nodes.map((node) => node.getAttribute('aria-label'))), [
    'Front depth',
    'Back half width',
  ]);
  await slider(page, 'Back half width').focus();
  await page.keyboard.press('ArrowRight');
  await settled(page);
  const { measured } = (await lastBrief(page)).neckline.back.outline;
  assert.equal(measured.half_width_mm, 89);
  assert.equal(measured.half_length_mm, 108);
  await visit.close();
});

// A piece read at its cut edge, 80 mm from its own edge to the neck point, its centre seam 12 mm in from there.
test('with a centre seam the halves meet on the finished centre line, and what is read begins beyond it', async () => {
  const visit = await site.open('brief=tape-v');
  const { page } = visit;
  const brief = await briefOf('tape-v');
  brief.neckline.readings_at = 'cut_edge';
  brief.neckline.front = {
    outline: { drafted: { half_width_mm: 80, depth_mm: 170, shape: { kind: 'v' } } },
    centre: { seam: { allowance_mm: 12 } },
    shoulder_allowance_mm: 0,
    shoulder_slope_deg: 0,
  };
  // So small that no stay is given up.
  brief.head.girth = { own_mm: 300 };
  await page.evaluate(async (next) => {
    await window.host.set(next);
    window.host.drawing.show({ brief: next, plan: window.host.plan, view: 'half' });
  }, brief);
  await settled(page);
  const across = await page.evaluate(() => {
    const xs = (node) =>
      node
        .getAttribute('d')
        .match(/[ML](-?[\d.]+)/g)
        .map((text) => Number(text.slice(1)));
    const front = (name) =>
      [...document.querySelectorAll(`.draw-layer-lines .${name}`)]
        .map((node) => xs(node))
        .find((all) => all.length > 1 && all[0] < all[all.length - 1]);
    return { cut: front('draw-cut'), seam: front('draw-seam'), tapes: [...document.querySelectorAll('.draw-stay-tape')].flatMap(xs) };
  });
  assert.deepEqual([across.cut[0], across.cut.at(-1)], [-12, 68], 'from the piece’s own edge to 80 mm from it');
  assert.equal(across.seam[0], 0, 'the seam line begins on the centre line');
  assert.ok(across.tapes.length > 8, 'the tapes are drawn');
  assert.ok(Math.min(...across.tapes) >= 0, 'and none crosses the seam');
  assert.equal(await slider(page, 'Front half width').getAttribute('aria-valuenow'), '80');
  await visit.close();
});

test('the wheel scrolls the page until the drawing is asked to zoom', async () => {
  const visit = await site.open('brief=band-round', { viewport: { width: 1280, height: 500 } });
  const { page } = visit;
  const before = await scale(page);
  const [x, y] = await centre(page.locator('.draw-canvas'));
  await page.mouse.move(x, 300);
  await page.mouse.wheel(0, 100);
  await page.waitForFunction(() => window.scrollY > 0);
  assert.equal(await scale(page), before);
  await page.keyboard.down('Control');
  await page.mouse.wheel(0, -100);
  await page.keyboard.up('Control');
  await settled(page);
  const zoomed = await scale(page);
  assert.ok(zoomed > before);
  await page.locator('.draw-canvas').focus();
  await page.mouse.wheel(0, -100);
  await settled(page);
  assert.ok((await scale(page)) > zoomed, 'focused, the wheel zooms by itself');
  assert.ok(Number.isFinite(y));
  await visit.close();
});

test("text and lines keep their size at any zoom; text follows the reader's own size", async () => {
  const visit = await site.open('brief=band-round');
  const { page } = visit;
  const sizes = () =>
    page.evaluate(() => {
      const text = [...document.querySelectorAll('.draw-overlay text')].find((node) => node.textContent.startsWith('Strip, cut'));
      const seam = getComputedStyle(document.querySelector('.draw-cut'));
      return [text.getBoundingClientRect().height, seam.strokeWidth, seam.vectorEffect];
    });
  const before = await sizes();
  for (let i = 0; i < 2; i += 1) await page.getByRole('button', { name: 'Zoom out' }).click();
  await settled(page);
  assert.deepEqual(await sizes(), before);
  assert.equal(before[2], 'non-scaling-stroke');
  await page.evaluate(() => {
    document.documentElement.style.fontSize = '32px';
  });
  assert.ok((await sizes())[0] > before[0] * 1.8);
  await visit.close();
});

test('Tab goes through the front before the back, whatever was changed before', async () => {
  const visit = await site.open('brief=facing-scoop');
  const { page } = visit;
  await page.evaluate(async () => {
    const brief = structuredClone(window.host.brief);
    brief.neckline.front.outline.drafted.shape = { kind: 'v' };
    await window.host.set(brief);
  });
  await page.locator('.draw-canvas').focus();
  const names = [];
  for (let i = 0; i < 6; i += 1) {
    await page.keyboard.press('Tab');
    names.push(await page.evaluate(() => document.activeElement.getAttribute('aria-label')));
  }
  assert.deepEqual(names, ['Front half width', 'Front depth', 'Front leg hollow', 'Back half width', 'Back depth', 'Back roundness']);
  await visit.close();
});

test("in forced colours lines and patterns are drawn in the reader's own", async () => {
  const visit = await site.open('brief=band-round', { forcedColors: 'active' });
  const strokes = await visit.page.evaluate(() => {
    const probe = document.createElement('p');
    document.body.append(probe);
    const own = getComputedStyle(probe).color;
    return ['.draw-cut', '.draw-tile-line', '.draw-mark', '.draw-stay'].map(
      (name) => getComputedStyle(document.querySelector(name)).stroke === own,
    );
  });
  assert.deepEqual(strokes, [true, true, true, true]);
  await visit.close();
});

test('keys and a dragged canvas move the view', async () => {
  const visit = await site.open('brief=band-round');
  const { page } = visit;
  const place = () =>
    page.evaluate(() => {
      const { a, e, f } = document.querySelector('.draw-world').transform.baseVal[0].matrix;
      return [a, e, f];
    });
  const [k, x, y] = await place();
  await page.locator('.draw-canvas').focus();
  await page.keyboard.press('+');
  await settled(page);
  assert.ok((await place())[0] > k);
  await page.keyboard.press('0');
  await settled(page);
  assert.deepEqual(await place(), [k, x, y]);
  await page.keyboard.press('ArrowRight');
  await settled(page);
  assert.equal((await place())[1], x - 40);
  await page.mouse.move(200, 350);
  await page.mouse.down();
  await page.mouse.move(240, 370, { steps: 4 });
  await page.mouse.up();
  await settled(page);
  assert.deepEqual((await place()).slice(1), [x - 40 + 40, y + 20]);
  await visit.close();
});

test('spans are tied by letter, pattern and colour, and told in words', async () => {
  const visit = await site.open('brief=band-round');
  const { page } = visit;
  const chips = await page.locator('.draw-overlay .draw-chip-text').allTextContents();
  for (const letter of 'ABCD')
    assert.equal(chips.filter((text) => text === letter).length, 4, `${letter} twice on the neckline, twice on the strip`);
  const fills = await page.evaluate(() =>
    [...'0123'].map((i) => ({
      strip: document.querySelectorAll(`.draw-layer-strip .draw-body[fill$="span-${i})"]`).length,
      neckline: document.querySelectorAll(`.draw-ribbon[stroke$="span-${i})"]`).length,
    })),
  );
  for (const { strip, neckline } of fills) assert.deepEqual([strip, neckline], [1, 1], 'the same on strip and neckline');
  const told = await page.locator('.draw-legend-spans li').allTextContents();
  assert.equal(told.length, 4);
  const { spans } = (await planOf(await briefOf('band-round'))).strip;
  const whole = (name) => Math.round(spans[1][name]);
  const free = `${whole('free_edge_least_percent')} to ${whole('free_edge_most_percent')}`;
  assert.equal(
    told[1].trim(),
    `BB ✓ mark 1 to neck point: seam edge stretched by ${whole('seam_edge_percent')} %, free edge ${free} %; lies flat`,
  );
  await visit.close();
});

test('speaks both languages and tells the whole drawing in words', async () => {
  const visit = await site.open('brief=band-round');
  const { page } = visit;
  const described = () =>
    page.evaluate(() => {
      const canvas = document.querySelector('.draw-canvas');
      return canvas
        .getAttribute('aria-describedby')
        .split(' ')
        .map((id) => document.getElementById(id).textContent)
        .join(' ');
    });
  const describes = (text) => until(`it is described as ${text}`, async () => text.test(await described()));
  await describes(/The seam line is 532.9 mm all round.*cut 448 mm long.*neck point 88.6 mm/);
  // As the browser tells it to a reader, with the key folded.
  await page.locator('.draw-key').evaluate((key) => (key.open = false));
  const client = await visit.context.newCDPSession(page);
  const { nodes } = await client.send('Accessibility.getFullAXTree');
  const heard = nodes.find(({ name }) => /^Drawing of the neckline/.test(name?.value ?? ''))?.description?.value;
  assert.match(heard, /The seam line is 532.9 mm all round.*Keys: /);
  await page.evaluate(() => window.host.drawing.setWords(window.host.words.es));
  await describes(/La línea de costura mide 532,9 mm en total.*punto de cuello 88,6 mm/);
  assert.ok(await page.getByRole('button', { name: 'Ver todo' }).isVisible());
  const seen = (await page.locator('.draw-overlay text').allTextContents()).join('|');
  assert.match(seen, /línea de costura/);
  assert.match(seen, /Tira, cortar 448 mm × 53 mm/);
  assert.doesNotMatch(seen, /seam|fold|strip/);
  await visit.close();
});

for (const brief of ['band-round', 'tape-v', 'facing-scoop']) {
  test(`axe finds nothing (${brief})`, async () => {
    for (const options of [phone, { colorScheme: 'dark' }]) {
      const visit = await site.open(`brief=${brief}`, options);
      await visit.page.evaluate(await readFile(axe, 'utf8'));
      const { violations } = await visit.page.evaluate(() => window.axe.run());
      assert.deepEqual(
        violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`),
        [],
      );
      assert.deepEqual([...visit.pageErrors, ...visit.consoleErrors, ...visit.failures], []);
      await visit.close();
    }
  });
}

const drawn = 'M 0 120 C 40 120 70 100 80 60 C 85 40 88 20 90 0';

async function openDrawn(options) {
  const visit = await site.open('brief=facing-scoop', options);
  await visit.page.evaluate(async (path_mm) => {
    const brief = structuredClone(window.host.brief);
    brief.neckline.front.outline = { drawn: { path_mm } };
    await window.host.set(brief);
  }, drawn);
  await settled(visit.page);
  return visit;
}

const pathNow = async (page) => (await page.evaluate(() => window.host.brief)).neckline.front.outline.drawn.path_mm;

test('a drawn outline: a point is dragged, added, smoothed, deleted, all with the mouse', async () => {
  const visit = await openDrawn();
  const { page } = visit;
  const point = (n, count = 3) => page.getByRole('button', { name: new RegExp(`^Front, point ${n} of ${count}: `) });
  await drag(page, point(2), 15, 10);
  await page.mouse.up();
  await settled(page);
  assert.notEqual(await pathNow(page), drawn);
  assert.match(await pathNow(page), /^M 0 120 C .* 90 0$/);
  assert.equal((await edits(page)).at(-1).phase, 'commit');
  await page.getByRole('button', { name: 'Add a point' }).click();
  await settled(page);
  assert.equal(await page.locator('.draw-point').count(), 4);
  await page.getByRole('button', { name: 'Make a corner' }).click();
  await settled(page);
  assert.ok(await page.getByRole('button', { name: 'Make smooth' }).isVisible());
  await page.getByRole('button', { name: 'Delete' }).click();
  await settled(page);
  assert.equal(await page.locator('.draw-point').count(), 3);
  await visit.close();
});

test('a drawn outline: a click on the line adds a point and keeps the shape', async () => {
  const visit = await openDrawn();
  const { page } = visit;
  const spot = await page.evaluate(() => {
    const line = document.querySelector('.draw-outline');
    const { x, y } = line.getPointAtLength(line.getTotalLength() * 0.3).matrixTransform(line.getScreenCTM());
    return { x, y };
  });
  const length = () => page.evaluate(() => document.querySelector('.draw-outline').getTotalLength());
  const before = await length();
  await page.mouse.click(spot.x, spot.y);
  await settled(page);
  assert.equal(await page.locator('.draw-point').count(), 4);
  assert.ok(Math.abs((await length()) - before) < 0.05);
  await visit.close();
});

test('a drawn outline: everything by keys alone', async () => {
  const visit = await openDrawn();
  const { page } = visit;
  await page.getByRole('button', { name: /^Front, point 2 of 3/ }).focus();
  await page.keyboard.press('ArrowRight');
  await settled(page);
  assert.match(await pathNow(page), / 81 60 /);
  await page.keyboard.press('Shift+ArrowDown');
  await settled(page);
  assert.match(await pathNow(page), / 81 70 /);
  await page.keyboard.press('a');
  await settled(page);
  assert.match(
    await page.evaluate(() => document.activeElement.getAttribute('aria-label')),
    /^Front, point 3 of 4: .* out, .* down, smooth$/,
  );
  await page.keyboard.press('s');
  await settled(page);
  assert.match(await page.evaluate(() => document.activeElement.getAttribute('aria-label')), /corner$/);
  await page.keyboard.press('Tab');
  assert.match(await page.evaluate(() => document.activeElement.getAttribute('aria-label')), /^Front, point 3 of 4: handle before it$/);
  const before = await pathNow(page);
  await page.keyboard.press('ArrowLeft');
  await settled(page);
  assert.notEqual(await pathNow(page), before);
  await page.keyboard.press('Shift+Tab');
  await page.keyboard.press('Delete');
  await settled(page);
  assert.equal(await page.locator('.draw-point').count(), 3);
  assert.match(await page.evaluate(() => document.activeElement.getAttribute('aria-label')), /^Front, point 2 of 3/);
  await visit.close();
});

test('a drawn outline: the first point stays on the centre line', async () => {
  const visit = await openDrawn();
  const { page } = visit;
  await page.getByRole('button', { name: /^Front, point 1 of 3/ }).focus();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowDown');
  await settled(page);
  assert.match(await pathNow(page), /^M 0 121 C/);
  await visit.close();
});

test('a drawn outline: axe finds nothing, and all targets have room for a thumb', async () => {
  const visit = await openDrawn(phone);
  const { page } = visit;
  await page.getByRole('button', { name: /^Front, point 2 of 3/ }).focus();
  await page.evaluate(await readFile(axe, 'utf8'));
  const { violations } = await page.evaluate(() => window.axe.run());
  assert.deepEqual(
    violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`),
    [],
  );
  const small = await page.locator('.draw button, .draw [role=slider]').evaluateAll((nodes) =>
    nodes
      .map((node) => [node.getAttribute('aria-label') ?? node.textContent, node.getBoundingClientRect()])
      .filter(([, { width, height }]) => width < 44 || height < 44)
      .map(([name]) => name),
  );
  assert.deepEqual(small, []);
  await visit.close();
});

test('a drawn outline: the toolbar alone does it all, and says what it did', async () => {
  const visit = await openDrawn();
  const { page } = visit;
  const press = async (name) => {
    await page.getByRole('button', { name, exact: true }).click();
    await settled(page);
  };
  const said = () => page.locator('.draw [role=status]').textContent();
  await press('Next');
  await press('Next');
  assert.match(await said(), /^Front, point 2 of 3: 80 mm out, 60 mm down, smooth$/);
  await press('Move outward');
  await press('Move down');
  assert.match(await said(), /81 mm out, 61 mm down/);
  await press('Add a point');
  assert.match(await said(), /^Added a point to the front$/);
  await press('Delete');
  assert.match(await said(), /^Deleted a point of the front$/);
  assert.equal((await edits(page)).filter(({ phase }) => phase === 'commit').length, 4);
  await visit.close();
});

test('a title is never markup, and a named stay neither', async () => {
  const visit = await site.open('brief=band-round');
  const { page } = visit;
  await page.evaluate(async () => {
    const brief = structuredClone(window.host.brief);
    brief.title = '<img src=x onerror="window.pwned=1">';
    await window.host.set(brief);
    const plan = structuredClone(window.host.plan);
    plan.stays.zones[0].name = '<b onmouseover="window.pwned=1">edge</b>';
    window.host.drawing.show({ brief, plan, view: 'whole' });
  });
  await page.waitForFunction(() => document.querySelector('.draw-canvas').getAttribute('aria-label').includes('<img'));
  await quiet(page, DESCRIBED);
  assert.equal(await page.locator('.draw img, .draw b').count(), 0);
  assert.equal(await page.evaluate(() => window.pwned), undefined);
  assert.match(await page.locator('.draw-canvas').getAttribute('aria-label'), /<img/);
  await visit.close();
});

// What a reader of the stage sees go wrong: text over text, and text that a line runs through. Lines are walked a px at
// a time as they are on the screen, so nothing of how labels are placed is taken on trust.
function untidy() {
  const texts = [...document.querySelectorAll('.draw-overlay text')].map((node) => {
    const { left, right, top, bottom } = node.getBoundingClientRect();
    return {
      text: node.textContent,
      x0: left + 1,
      x1: right - 1,
      y0: top + 4,
      y1: bottom - 4,
      isChip: node.classList.contains('draw-chip-text'),
    };
  });
  const found = [];
  for (const [i, a] of texts.entries()) {
    for (const b of texts.slice(i + 1)) {
      if (Math.min(a.x1, b.x1) > Math.max(a.x0, b.x0) && Math.min(a.y1, b.y1) > Math.max(a.y0, b.y0)) found.push(`${a.text} on ${b.text}`);
    }
  }
  const layers = ['facing', 'lines', 'clips', 'marks', 'stays', 'strip'].map(
    (name) => `.draw-layer-${name} path[d]:not(.draw-body, .draw-strain, .draw-strain-free, [d=""])`,
  );
  for (const path of document.querySelectorAll(layers.join())) {
    const matrix = path.getScreenCTM();
    for (let s = 0; s <= path.getTotalLength(); s += 1 / matrix.a) {
      const { x, y } = path.getPointAtLength(s).matrixTransform(matrix);
      for (const { text, isChip, x0, x1, y0, y1 } of texts)
        if (!isChip && x > x0 && x < x1 && y > y0 && y < y1) found.push(`${text} under ${path.getAttribute('class')}`);
    }
  }
  return [texts.length, [...new Set(found)]];
}

for (const [name, options] of Object.entries({ phone, desk: { viewport: { width: 760, height: 800 } } })) {
  test(`no name is struck through by a line or lies on another, at fitted scale (${name})`, async () => {
    const visit = await site.open('brief=facing-scoop', options);
    const { page } = visit;
    const start = await briefOf('facing-scoop');
    const front = { v: { depth_mm: 190 }, square: { depth_mm: 120 }, scoop: { depth_mm: 150 }, round: { depth_mm: 100 } };
    const finishes = {
      facing: { width_mm: 55, understitch_mm: 1.6 },
      tape: { width_mm: 12 },
      bound: { width_mm: 8 },
      band: { width_mm: 20 },
    };
    for (const [kind, size] of Object.entries(front))
      for (const [finish, values] of Object.entries(finishes))
        for (const view of ['whole', 'half']) {
          const brief = structuredClone(start);
          brief.neckline.front.outline.drafted = { half_width_mm: 90, ...size, shape: { kind } };
          brief.finish = { [finish]: values };
          await page.evaluate(
            async ([next, how]) => {
              await window.host.set(next);
              window.host.drawing.show({ brief: next, plan: window.host.plan, view: how });
              window.host.drawing.fit();
            },
            [brief, view],
          );
          const [count, found] = await page.evaluate(untidy);
          assert.ok(count > 5, `${count} names`);
          assert.deepEqual(found, [], `${finish}, ${kind}, ${view}`);
        }
    await visit.close();
  });
}

// The ruler is 22 px wide; a phone has none.
for (const [name, options, clear] of [
  ['a window with rulers', { viewport: { width: 620, height: 844 } }, 20],
  ['a phone', phone, 8],
])
  test(`what outgrows the stage is fitted again, clear of its edge (${name})`, async () => {
    const visit = await site.open('brief=facing-scoop', options);
    const { page } = visit;
    for (const half_width_mm of [95, 120, 150, 190, 230]) {
      const left = await page.evaluate(async (width) => {
        const brief = structuredClone(window.host.brief);
        for (const half of ['front', 'back']) brief.neckline[half].outline.drafted.half_width_mm = width;
        brief.finish = { band: { width_mm: 20 } };
        await window.host.set(brief);
        return (
          document.querySelector('.draw-strip').getBoundingClientRect().left -
          document.querySelector('.draw-stage').getBoundingClientRect().left
        );
      }, half_width_mm);
      assert.ok(left >= clear, `${half_width_mm} mm: the strip begins ${left} px in`);
    }
    await visit.close();
  });

test('the facing’s pieces and their names stand together in the half view too', async () => {
  const visit = await site.open('brief=facing-scoop');
  const { page } = visit;
  await page.evaluate(() => window.host.drawing.show({ brief: window.host.brief, plan: window.host.plan, view: 'half' }));
  await settled(page);
  const gaps = await page.evaluate(() => {
    // In the order they are drawn: the front piece, then the back one.
    const pieces = [...document.querySelectorAll('.draw-layer-facing .draw-cut')].map((node) => node.getBoundingClientRect());
    return ['Front facing', 'Back facing'].map((text, i) => {
      const name = [...document.querySelectorAll('.draw-title')].find((node) => node.textContent === text).getBoundingClientRect();
      return [Math.abs((name.left + name.right - pieces[i].left - pieces[i].right) / 2), pieces[i].top - name.bottom];
    });
  });
  for (const [aside, above] of gaps) assert.ok(aside < 8 && above > -8 && above < 30, `${aside} px aside, ${above} px above`);
  await visit.close();
});

test('an error with a place is marked, the older plan stays and says so', async () => {
  const visit = await site.open('brief=band-round');
  const { page } = visit;
  await page.evaluate(() =>
    window.host.drawing.show({
      brief: window.host.brief,
      plan: window.host.plan,
      stale: true,
      view: 'whole',
      errors: [
        { field: 'neckline.front', problem: { cusp_at: { x_mm: 40, y_mm: 90 } } },
        { field: 'head.girth', problem: 'out_of_range' },
      ],
    }),
  );
  assert.ok(await page.locator('.draw-stale').isVisible());
  assert.equal(await page.locator('circle.draw-error').count(), 1);
  assert.match((await page.locator('.draw-error-text').allTextContents()).join(), /folds back on itself/);
  const ring = await page
    .locator('circle.draw-error')
    .evaluate((node) => [Number(node.getAttribute('cx')), Number(node.getAttribute('cy'))]);
  const lift = await page.evaluate(() => window.host.plan.seam_line.front.seam_line.at(-1)[1]);
  assert.ok(Math.abs(ring[0] - 40) < 1e-6 && Math.abs(ring[1] - (90 - lift)) < 1e-6);
  await page.evaluate(() => window.host.drawing.show({ brief: window.host.brief, plan: window.host.plan, view: 'whole' }));
  assert.ok(await page.locator('.draw-stale').isHidden());
  assert.equal(await page.locator('.draw-error').count(), 0);
  await visit.close();
});

test('showing again keeps the nodes it has', async () => {
  const visit = await site.open('brief=band-round');
  const { page } = visit;
  const changes = await page.evaluate(async () => {
    let added = 0;
    const watch = new MutationObserver((list) => {
      for (const { addedNodes } of list) added += [...addedNodes].filter((node) => node.nodeType === 1).length;
    });
    watch.observe(document.querySelector('.draw-world'), { childList: true, subtree: true });
    const brief = structuredClone(window.host.brief);
    brief.neckline.front.outline.measured.depth_mm += 2;
    await window.host.set(brief);
    watch.disconnect();
    return added;
  });
  assert.ok(changes <= 2, `${changes} elements were made anew`);
  await visit.close();
});

test('taken away, it leaves nothing behind', async () => {
  const visit = await site.open('brief=band-round');
  await visit.page.evaluate(() => window.host.drawing.destroy());
  assert.equal(await visit.page.locator('#drawing *').count(), 0);
  assert.deepEqual(visit.pageErrors, []);
  await visit.close();
});
