// Starts the WebAssembly. Everything else is in the Rust behind it.
import init, { start } from './pkg/lieflat_web.js';

try {
  await init();
  start();
} catch {
  document.getElementById('failed')?.removeAttribute('hidden');
}
