// The form as data: its table of fields, the layout that places each of them, and a brief made of its values and read back.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { metric as example } from '../../web/page/generated/example.js';
import { FIELDS, fieldsOf, isAsked } from '../../web/page/form/fields.js';
import { layout } from '../../web/page/form/layout.js';
import { briefOf, valuesOf, withEdge } from '../../web/page/form/values.js';

/** An element that takes whatever is put in it: what is laid out here is looked at by no one. */
const element = () => ({ setAttribute() {}, append() {} });

test('the layout places every field once', () => {
  globalThis.document = { createElement: element };
  const placed = [];
  const parts = {
    entry(key) {
      placed.push(key);
      return element();
    },
    words: { t: (key) => key },
    tools: {},
    edges: element,
    isOpen: () => false,
  };
  for (const [, make] of layout(parts)) make();
  delete globalThis.document;
  assert.deepEqual(placed.sort(), FIELDS.map(({ key }) => key).sort());
});

/** Values beside which a field is asked, with as few other choices as will do. */
function askedIn(field, values, changes = 0) {
  if (isAsked(field, values)) return values;
  if (changes === 2) return undefined;
  for (const { key, options } of [...fieldsOf(values), { key: 'stays.shoulders', options: [true] }]) {
    for (const option of options ?? []) {
      const found = askedIn(field, { ...values, [key]: option }, changes + 1);
      if (found) return found;
    }
  }
  return undefined;
}

/** What may be chosen or typed in a field; 3 is in no field of the example. */
const trials = ({ kind, options }) => ({ choice: options, check: [false, true], text: ['typed'] })[kind] ?? [3];

test('a value in any field goes into the brief and comes back of it', () => {
  const start = withEdge({ ...valuesOf(example), 'stays.shoulders': true });
  let tried = 0;
  for (const field of fieldsOf(start)) {
    const values = askedIn(field, start);
    assert.ok(values, `${field.key} is asked somewhere`);
    for (const typed of trials(field)) {
      const brief = JSON.parse(JSON.stringify(briefOf({ ...values, [field.key]: typed })));
      // Read over values that have another there: what the brief does not say stays as it is.
      const read = valuesOf(brief, { ...values, [field.key]: 'another' });
      assert.equal(read[field.key], typed, field.key);
      tried += 1;
    }
  }
  assert.ok(tried > 150, `${tried} values were tried`);
});
