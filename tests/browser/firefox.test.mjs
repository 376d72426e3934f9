// The page in Debian's Firefox. Run after `bash web/build.sh`.

import { after, before } from 'node:test';
import { checkEngine } from './engine-checks.mjs';
import { serve } from './harness.mjs';
import { launchFirefox, puppet } from './puppet.mjs';

let server;
let browser;

before(async () => {
  server = await serve();
  browser = await launchFirefox();
});
after(async () => {
  await browser?.close();
  await server?.close();
});

checkEngine(
  puppet(
    () => browser,
    () => server.url,
  ),
);
