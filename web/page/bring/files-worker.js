// The Worker of files: its module hears and answers by itself once it has been started.

import start from '../../pkg/lieflat_files.js';

start().then(
  () => postMessage({ ready: true }),
  () => postMessage({ refused: { code: 'lost' } }),
);
