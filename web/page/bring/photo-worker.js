// The Worker of photos: its module hears and answers by itself once it has been started.

import start from '../../pkg/lieflat_photo.js';

start().then(
  () => postMessage({ ready: true }),
  () => postMessage({ refused: { code: 'lost' } }),
);
