// The Worker of files: it fetches the module that reads the kind of file it is given first, and that one hears and answers by itself
// once it has been started.

import startPdf from '../../pkg/lieflat_pdf.js';
import startText from '../../pkg/lieflat_text.js';

/** How far from its beginning a PDF says that it is one, bytes: as the modules look (kind.rs). */
const HEADER_WITHIN = 1024;

/** @param {Blob} file */
async function begin(file) {
  const head = new TextDecoder('latin1').decode(await file.slice(0, HEADER_WITHIN).arrayBuffer());
  await (head.includes('%PDF-') ? startPdf() : startText());
}

addEventListener(
  'message',
  ({ data }) =>
    begin(data).then(
      () => postMessage({ ready: true }),
      () => postMessage({ refused: { code: 'lost' } }),
    ),
  { once: true },
);
