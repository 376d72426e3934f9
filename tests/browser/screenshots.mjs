// Pictures of the built page.
//   node tests/browser/screenshots.mjs            into target/screenshots
//   node tests/browser/screenshots.mjs --readme   the README's one picture

import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { start } from './harness.mjs';

const root = fileURLToPath(new URL('../../', import.meta.url));

const phone = { viewport: { width: 390, height: 844 } };
const desk = { viewport: { width: 1280, height: 800 } };

// A still picture: no half-done movement, no blinking caret.
async function shoot(site, path, options, fullPage) {
  const visit = await site.open('', { reducedMotion: 'reduce', ...options });
  await mkdir(dirname(path), { recursive: true });
  await visit.page.screenshot({ path, fullPage, animations: 'disabled', caret: 'hide' });
  await visit.close();
  console.log(path);
}

// Each size twice: what is seen on arrival, and the whole length of the page.
async function shootAll(site) {
  for (const options of [phone, desk]) {
    const { width, height } = options.viewport;
    const stem = `${root}target/screenshots/page-${width}x${height}`;
    await shoot(site, `${stem}.png`, options, false);
    await shoot(site, `${stem}-full.png`, options, true);
  }
}

// Small enough to live in the repository and to be read in a README's column.
async function shootReadme(site) {
  const options = { viewport: { width: 1000, height: 640 }, colorScheme: 'light' };
  await shoot(site, `${root}tests/screenshots/page.png`, options, false);
}

const site = await start();
try {
  await (process.argv.includes('--readme') ? shootReadme(site) : shootAll(site));
} finally {
  await site.close();
}
