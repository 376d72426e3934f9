// The schemas as they are published with the built site.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { filesUnder, keptFiles } from '../../web/precache.mjs';

const root = new URL('../../', import.meta.url);
const dist = new URL('target/dist/', root);
const ADDRESSES = ['schema/brief-1.json', 'schema/errors-1.json', 'schema/plan-1.json'];

test('the schemas stand on the site under addresses that stay, each by a name of its own', async () => {
  const names = new Set();
  for (const address of ADDRESSES) {
    const built = await readFile(new URL(address, dist), 'utf8');
    assert.equal(built, await readFile(new URL(`www/${address}`, root), 'utf8'), address);
    const { $id, $schema } = JSON.parse(built);
    assert.equal($schema, 'https://json-schema.org/draft/2020-12/schema');
    assert.match($id, /^urn:lieflat:\w+:1$/);
    names.add($id);
  }
  assert.equal(names.size, ADDRESSES.length);
});

test('no visitor fetches them for offline use', async () => {
  const folder = dist.pathname;
  const published = (await filesUnder(folder)).filter((name) => name.startsWith('schema/') && !name.endsWith('.br'));
  assert.deepEqual(published, ADDRESSES);
  assert.deepEqual(
    (await keptFiles(folder)).filter((name) => name.startsWith('schema/')),
    [],
  );
});
