// For a page that shows frames of this site and takes a script: gives each frame the
// height it asks for. Only messages of our own frames are heard: from this script's
// origin, sent by a window that one of the page's frames holds, of the one known type.

const home = new URL(import.meta.url).origin;
const LEAST = 120;
const MOST = 4000;

addEventListener('message', ({ origin, source, data }) => {
  if (origin !== home || data?.type !== 'lieflat:height' || !Number.isFinite(data.height)) return;
  const frame = [...document.querySelectorAll('iframe')].find(({ contentWindow }) => contentWindow === source);
  if (!frame) return;
  frame.height = Math.min(Math.max(Math.ceil(data.height), LEAST), MOST);
});

for (const { contentWindow, src } of document.querySelectorAll('iframe')) {
  if (src && new URL(src, document.baseURI).origin === home) contentWindow?.postMessage({ type: 'lieflat:ask-height' }, home);
}
