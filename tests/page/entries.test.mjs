import assert from 'node:assert/strict';
import { test } from 'node:test';
import { GOOD } from '../browser/nonsense.mjs';
import { importModule } from './modules.mjs';
import { sound, spoiled } from './spoiled-entries.mjs';

const { isReadable } = await importModule('web/page/keep/entry.js');

test('every field of an entry is looked at when it is read', () => {
  assert.ok(isReadable(...sound));
  for (const one of spoiled) assert.ok(!isReadable(...one), one[1].id);
  const whole = {
    ...sound[1],
    brief: { ...GOOD, title: 'x', garment_knit: { name: 'x' }, strip_knit: { name: 'y' } },
    created: 'then',
    from: 'x',
    kept: { id: 'y', revision: 1 },
    source: 'z',
    sizes: {
      mode: 'growth',
      smaller: 1,
      larger: 1,
      names: { 0: 'M' },
      backs: { 0: 1 },
      growth: { front: { depth_mm: 2 }, back: {}, head_mm: 1 },
      readings: { 1: { front: {}, back: { depth_mm: 3 } } },
    },
    unplanned: { fresh: true, sheet: { title: 'x', edges: 0, 'garment.learned': [{}] }, texts: { title: 'x' } },
  };
  assert.ok(isReadable('drafts', whole));
  let tried = 0;
  const walk = (holder, key, path) => {
    const value = holder[key];
    for (const wrong of [{ an: {} }, [1], 10n, new Date(0), NaN, Infinity, () => 1, Symbol('x')]) {
      holder[key] = wrong;
      assert.ok(!isReadable('drafts', whole), `${path}: ${String(wrong)}`);
      tried += 1;
    }
    holder[key] = value;
    // What stands in a record is the core's to say.
    if (typeof value === 'object' && !key.endsWith('.learned'))
      for (const inner of Object.keys(value)) walk(value, inner, `${path}.${inner}`);
  };
  // A draft has no name; of its brief only what is shown in a list is looked at so early.
  for (const key of Object.keys(whole)) if (!['brief', 'name'].includes(key)) walk(whole, key, key);
  for (const key of ['schema', 'title']) walk(whole.brief, key, `brief.${key}`);
  for (const knit of ['garment_knit', 'strip_knit']) walk(whole.brief[knit], 'name', `brief.${knit}.name`);
  assert.ok(tried > 200, `${tried} tried`);
  assert.ok(isReadable('drafts', whole), 'and put back, it is one again');
});
